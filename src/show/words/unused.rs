//! What the file tells of and no piece uses.

use crate::plan::Unused;

/// That nothing comes of it, and what to do.
pub(super) fn not_used(what: Unused, name: &str) -> String {
    let (uses, put) = match what {
        Unused::Blank => (
            "no piece uses it, so none of these blanks is counted or bought",
            "name it as the blank of a piece",
        ),
        Unused::Coating => (
            "no piece uses it, so none of this coating is counted or bought",
            "name it as the coating of a step that some piece goes through",
        ),
        Unused::Supply => (
            "no piece uses it, so none of this supply is counted or bought",
            "name it among the supplies of a step that some piece goes through",
        ),
        Unused::Step => (
            "no piece uses it, so this step is left out",
            "name it among the steps of a piece",
        ),
    };
    format!("{name}: {uses}; {put}, or take it out of the file")
}
