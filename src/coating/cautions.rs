//! Cautions that go with a coating family.
//!
//! They add to the product's own label and safety data sheet and to local
//! rules, which come first; each line names the rule or text behind it.

use std::sync::LazyLock;

use serde::Deserialize;

const CAUTIONS: &str = include_str!("../../data/cautions.toml");

/// The moment that a caution is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum When {
    /// Before the work starts.
    Before,
    /// While it goes on.
    While,
    /// After it is done.
    After,
}

/// How bad it may be, the worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// It may harm for life, or kill.
    Lasting,
    /// It may hurt, and heal.
    Hurt,
    /// It spoils work, things or water.
    Spoils,
}

/// One caution of a family.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// The moment that it is for.
    pub when: When,
    /// How bad it may be.
    pub severity: Severity,
    /// What to say to the maker.
    pub say: String,
    /// The same in a few words, for labels and pictures.
    pub short: String,
    /// The rule or text behind it.
    pub behind: String,
}

/// A caution for every coated piece, whichever the family.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GeneralCaution {
    /// What it is about, in a word or two.
    pub concern: String,
    /// How bad it may be.
    pub severity: Severity,
    /// What to say to the maker.
    pub say: String,
    /// The same in a few words, for labels and pictures.
    pub short: String,
    /// The rule or text behind it.
    pub behind: String,
}

/// What a piece must hold for a caution to its buyer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Holds {
    /// Whatever it is made of.
    #[serde(rename = "anything")]
    Anything,
    /// A magnet.
    #[serde(rename = "a magnet")]
    Magnet,
    /// Cord, chain or wire.
    #[serde(rename = "a cord")]
    Cord,
}

/// A caution to who buys a piece.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BuyerCaution {
    /// What it is about, in a word or two.
    pub concern: String,
    /// Which pieces it is for.
    pub holds: Holds,
    /// How bad it may be.
    pub severity: Severity,
    /// What to say to the buyer.
    pub say: String,
    /// The same in a few words.
    pub short: String,
    /// The rule or text behind it.
    pub behind: String,
}

/// What calls for a caution about handling.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Concern {
    /// Magnets among the pieces.
    Magnets,
    /// A thin blank that drinks, as wood, cork and card do, coated on one face only.
    ThinWood,
    /// A coat that loses so much that it may dry to a saucer.
    Saucer,
    /// A fill that leaves a good part of the edge under the pull-back angle.
    ThinEdge,
    /// A coat deeper than is prudent, of a coating that something leaves.
    DeepDryingCoat,
    /// A coat deeper than is prudent, of a coating that reacts.
    DeepCuringCoat,
    /// The same of a coating that a lamp cures.
    DeepLampCoat,
    /// The same of a coating that moisture cures.
    DeepMoistureCoat,
}

/// A caution for a certain piece or pour, whichever the family.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Handling {
    /// What to say to the maker.
    pub say: String,
    /// The rule or text behind it.
    pub behind: String,
}

impl Handling {
    /// What to say, without its full stop.
    #[must_use]
    pub fn clause(&self) -> &str {
        self.say.trim_end_matches('.')
    }
}

/// The cautions for one family.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cautions {
    /// What comes before all else: the product's own papers and local rules.
    pub first: &'static str,
    /// The family's own three lines: before, while, after.
    pub lines: &'static [Caution; 3],
    /// What holds for every coated piece.
    pub general: &'static [GeneralCaution],
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    first: String,
    short_first: String,
    family: Vec<FamilyTable>,
    general: Vec<GeneralCaution>,
    buyer: Vec<BuyerCaution>,
    handling: HandlingTable,
}

/// One caution for each [`Concern`].
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HandlingTable {
    magnets: Handling,
    thin_wood: Handling,
    saucer: Handling,
    thin_edge: Handling,
    deep_drying_coat: Handling,
    deep_curing_coat: Handling,
    deep_lamp_coat: Handling,
    deep_moisture_coat: Handling,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FamilyTable {
    key: String,
    lines: [Caution; 3],
}

// The embedded file can't change after the build and a test reads it, so a fault in it can't reach a user.
static FILE: LazyLock<File> =
    LazyLock::new(|| toml::from_str(CAUTIONS).expect("the embedded cautions are read by a test"));

/// The cautions under `key`, which is a family's [`cautions`](super::Family::cautions).
///
/// ```
/// let epoxy = brimful::coating::cautions("two-part epoxy").unwrap();
/// assert!(epoxy.lines[0].say.contains("gloves"));
/// ```
#[must_use]
pub fn cautions(key: &str) -> Option<Cautions> {
    let family = FILE.family.iter().find(|family| family.key == key)?;
    Some(Cautions {
        first: &FILE.first,
        lines: &family.lines,
        general: &FILE.general,
    })
}

/// What comes before all cautions, in a few words: the product's own papers and local rules.
#[must_use]
pub fn comes_first() -> &'static str {
    &FILE.short_first
}

/// What the buyer of a piece is told, whichever the coating.
///
/// ```
/// use brimful::coating::for_buyers;
/// assert!(for_buyers().iter().any(|line| line.short.contains("under three")));
/// ```
#[must_use]
pub fn for_buyers() -> &'static [BuyerCaution] {
    &FILE.buyer
}

/// The caution about handling that a concern calls for.
///
/// ```
/// use brimful::coating::{Concern, handling};
/// assert!(handling(Concern::Magnets).say.contains("wider gap"));
/// ```
#[must_use]
pub fn handling(concern: Concern) -> &'static Handling {
    let all = &FILE.handling;
    match concern {
        Concern::Magnets => &all.magnets,
        Concern::ThinWood => &all.thin_wood,
        Concern::Saucer => &all.saucer,
        Concern::ThinEdge => &all.thin_edge,
        Concern::DeepDryingCoat => &all.deep_drying_coat,
        Concern::DeepCuringCoat => &all.deep_curing_coat,
        Concern::DeepLampCoat => &all.deep_lamp_coat,
        Concern::DeepMoistureCoat => &all.deep_moisture_coat,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_family_is_told_what_comes_first_and_three_moments() {
        assert_eq!(FILE.family.len(), 5);
        for family in &FILE.family {
            let told = cautions(&family.key).unwrap();
            assert!(told.first.contains("safety data sheet") && told.first.contains("come first"));
            let moments = told.lines.each_ref().map(|line| line.when);
            assert_eq!(moments, [When::Before, When::While, When::After]);
            assert!(told.lines.iter().all(|line| !line.behind.is_empty()));
            assert!(comes_first().contains("safety data sheet"));
            let short = told.lines.iter().map(|line| &line.short);
            let short = short.chain(told.general.iter().map(|line| &line.short));
            let short = short.chain(FILE.buyer.iter().map(|line| &line.short));
            for words in short {
                assert!((8..=66).contains(&words.chars().count()), "{words}");
            }
        }
    }

    #[test]
    fn nothing_is_called_safe() {
        let words = CAUTIONS.to_lowercase().replace("safety data sheet", "");
        assert!(
            !words
                .split(|c: char| !c.is_alphanumeric())
                .any(|word| word == "safe")
        );
    }
}
