//! A change tried on a coat whose label can be taken in two ways.

use super::case::Case;
use super::help::Change;
use crate::stage::Stage;

/// A change and the case that it makes.
pub(super) type Trial<'a> = (Change, Case<'a>);

/// Another way to take the label of the same coat. With each change that holds by which the coat is
/// sooner there, whichever it was before.
#[derive(Debug, Clone, Copy)]
pub struct OrTaken<'c, 'a> {
    /// The coat by it.
    pub case: &'c Case<'a>,
    /// The stage by which the two are held against each other.
    pub by: Stage,
}

impl<'a> OrTaken<'_, 'a> {
    /// Of a trial and the same one by this way that by which the coat is sooner there.
    pub(super) fn or(
        self,
        one: Trial<'a>,
        same: impl Fn(&Case<'a>) -> Option<Trial<'a>>,
    ) -> Trial<'a> {
        match same(self.case) {
            Some(other) if other.1.is_sooner(&one.1, self.by) => other,
            _ => one,
        }
    }
}

/// A trial by the way to take the label that is sooner there with it.
pub(super) fn sooner<'a>(
    case: &Case<'a>,
    or: Option<OrTaken<'_, 'a>>,
    trial: impl Fn(&Case<'a>) -> Option<Trial<'a>>,
) -> Option<Trial<'a>> {
    let one = trial(case)?;
    Some(match or {
        Some(or) => or.or(one, trial),
        None => one,
    })
}
