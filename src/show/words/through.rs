//! What is done before a coat is dry through, in words.

use super::{list, span, stage};
use crate::drying::TimeBand;
use crate::stage::Stage;

/// That steps, or being ready, go by an early stage of a coat.
pub(super) fn before_through(
    (step, what, ready): (&str, &[String], bool),
    waits: (Stage, TimeBand),
    through: Option<(Stage, TimeBand)>,
) -> String {
    let after = |(of, band): (Stage, TimeBand)| format!("{} ({} here)", stage(of), span(&band));
    let mut names: Vec<String> = what.iter().map(|name| format!("\"{name}\"")).collect();
    if ready {
        names.push("the date it is ready".to_owned());
    }
    let (who, waiting) = match names.len() {
        1 => (names.concat(), "waits"),
        _ => (list(&names, 6), "wait"),
    };
    match through {
        Some(through) => format!(
            "{step}: the file has {who} {waiting} only until it is {}, before it is {}: until then it may dent, and stick to what touches it",
            after(waits),
            after(through)
        ),
        None => format!(
            "{step}: its label tells no time to be dry through, so {who} {waiting} only until it is {}; a deep coat may then still be soft inside: try one piece, or give the label a time for through or bag",
            after(waits)
        ),
    }
}
