//! The check from first principles of how long a coat takes, in words.

use super::ask_dry::hours;
use crate::ask::{Agreement, DryAnswer};

/// What first principles say, and how that stands to the label, which may be
/// no more than a rule of thumb.
pub(super) fn first_principles(answer: &DryAnswer) -> Option<String> {
    let check = answer.first_principles?;
    let here = check
        .here
        .map_or_else(String::new, |here| format!(" ({} here)", hours(here)));
    let gone = format!(
        "from first principles the water is gone after {} at the label's conditions{here}",
        hours(check.label)
    );
    let (Some(told), Some(agreement)) = (check.told, check.agreement) else {
        return Some(format!("{gone}: good to a factor of 2"));
    };
    let told = hours(told);
    Some(match agreement {
        Agreement::Agrees => format!(
            "{gone}, which agrees with the label's {told} within the factor of 2 that it is good to"
        ),
        Agreement::Sooner => format!(
            "{gone}, long before the label's {told}: only the water is reckoned, not the film growing together and hardening after it, nor what the label adds to be careful; plan with the label"
        ),
        Agreement::Later => format!(
            "{gone}, long after the label's {told}: the label may mean a thinner coat or moving air; look again at what it says"
        ),
    })
}
