//! What to take care of with a family of coatings.

use serde::Serialize;

use crate::coating::{Family, When, cautions};

/// One thing to take care of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CautionAnswer {
    /// What it is for.
    pub about: About,
    /// What to say.
    pub say: &'static str,
    /// The rule or text behind it; none for the line that says what comes first.
    pub behind: Option<&'static str>,
}

/// What a caution is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum About {
    /// What comes before this list: the product's own papers and local rules.
    First,
    /// The family, before the work starts.
    Before,
    /// The family, while the work goes on.
    While,
    /// The family, after the work.
    After,
    /// Every coated piece, whichever the family.
    Every,
    /// This piece, for what it is.
    Piece,
}

impl From<When> for About {
    fn from(when: When) -> Self {
        match when {
            When::Before => Self::Before,
            When::While => Self::While,
            When::After => Self::After,
        }
    }
}

/// What to take care of: what comes first, the family's own lines, then what
/// holds for every coated piece.
pub(super) fn care(family: &Family) -> Vec<CautionAnswer> {
    let Some(cautions) = cautions(&family.cautions) else {
        return Vec::new();
    };
    let first = CautionAnswer {
        about: About::First,
        say: cautions.first,
        behind: None,
    };
    let own = cautions.lines.iter().map(|line| CautionAnswer {
        about: line.when.into(),
        say: &line.say,
        behind: Some(&line.behind),
    });
    let every = cautions.general.iter().map(|line| CautionAnswer {
        about: About::Every,
        say: &line.say,
        behind: Some(&line.behind),
    });
    std::iter::once(first).chain(own).chain(every).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coating::families;

    #[test]
    fn every_family_has_its_three_lines_after_what_comes_first() {
        assert!(!families().is_empty());
        for family in families() {
            let care = care(family);
            let about: Vec<_> = care.iter().take(4).map(|line| line.about).collect();
            let wanted = [About::First, About::Before, About::While, About::After];
            assert_eq!(about, wanted, "{}", family.name);
            assert!(care[4..].iter().all(|line| line.about == About::Every));
        }
    }
}
