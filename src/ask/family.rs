//! Finding a coating family by the name a maker types.

use crate::coating::{Family, families, family};

/// No family is called that.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("no coating is called \"{read}\"; {}", advice(nearest.as_deref(), known))]
pub struct NoSuchFamily {
    /// The name that was read.
    pub read: String,
    /// The name that was probably meant, where one is near.
    pub nearest: Option<String>,
    /// Every name there is.
    pub known: Vec<&'static str>,
}

fn advice(nearest: Option<&str>, known: &[&str]) -> String {
    nearest.map_or_else(
        || {
            let known: Vec<_> = known.iter().map(|name| format!("\"{name}\"")).collect();
            format!("there is {}", known.join(", "))
        },
        |nearest| format!("did you mean \"{nearest}\"?"),
    )
}

/// The family called `name`, whatever its case and spacing.
///
/// ```
/// use brimful::ask::family_named;
/// assert!(family_named("Two-Part Dome Epoxy").is_ok());
/// let slip = family_named("water-based dome glase").unwrap_err();
/// assert_eq!(slip.nearest.as_deref(), Some("water-based dome glaze"));
/// ```
///
/// # Errors
/// [`NoSuchFamily`], with the nearest name.
pub fn family_named(name: &str) -> Result<&'static Family, NoSuchFamily> {
    let tidy = name.split_whitespace().collect::<Vec<_>>().join(" ");
    let tidy = tidy.to_lowercase();
    family(&tidy).ok_or_else(|| NoSuchFamily {
        read: name.chars().take(LONGEST).collect(),
        nearest: nearest(&tidy).map(str::to_owned),
        known: families()
            .iter()
            .map(|family| family.name.as_str())
            .collect(),
    })
}

/// A name is repeated and compared up to this many letters.
const LONGEST: usize = 80;

/// The only name with these words in it, or else the nearest in spelling: one
/// slip, and one more in every four letters.
fn nearest(read: &str) -> Option<&'static str> {
    let letters = read.chars().take(LONGEST + 1).count();
    if letters > LONGEST || letters == 0 {
        return None;
    }
    let names = || families().iter().map(|family| family.name.as_str());
    let mut within = names().filter(|name| read.split(' ').all(|word| name.contains(word)));
    if let (Some(only), None) = (within.next(), within.next()) {
        return Some(only);
    }
    names()
        .map(|name| (strsim::damerau_levenshtein(read, name), name))
        .filter(|&(steps, name)| steps <= 1 + letters.min(name.len()) / 4)
        .min_by_key(|&(steps, _)| steps)
        .map(|(_, name)| name)
}
