//! The pictures that go with a plan.

mod bottles;
mod calendar;
mod cost;
mod name;
mod section;

pub use bottles::bottles;
pub use calendar::calendar;
pub use cost::cost;
pub use section::{section, window};

use name::Names;

use super::draw::{DrawError, Picture};
use crate::plan::{Pictured, Plan};

/// A picture and what its files are called, without what follows the point.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// Small letters, digits and hyphens; no other picture of the plan has the same.
    pub name: String,
    /// The picture.
    pub picture: Picture,
}

/// Every picture of a plan, in the order of the work.
///
/// # Errors
/// [`DrawError`] of the first that can't be drawn.
pub fn all(plan: &Plan, pictured: &Pictured) -> Result<Vec<Named>, DrawError> {
    let mut names = Names::default();
    let mut all = Vec::new();
    for cut in &pictured.sections {
        all.push(Named {
            name: names.of(&cut.piece, "section"),
            picture: section(cut, plan)?,
        });
    }
    for amount in &pictured.amounts {
        all.push(Named {
            name: names.of(&amount.coating, "bottles"),
            picture: bottles(amount, plan)?,
        });
    }
    if let Some(picture) = calendar(pictured.days.as_ref(), plan)? {
        all.push(Named {
            name: "calendar".to_owned(),
            picture,
        });
    }
    if let Some(picture) = cost(&pictured.costs, plan)? {
        all.push(Named {
            name: "cost".to_owned(),
            picture,
        });
    }
    Ok(all)
}

/// The fill window of each kind of piece, small, for the run sheet.
///
/// # Errors
/// [`DrawError`] of the first that can't be drawn.
pub fn windows(plan: &Plan, pictured: &Pictured) -> Result<Vec<Named>, DrawError> {
    let mut names = Names::default();
    let each = pictured.sections.iter().map(|cut| {
        Ok(Named {
            name: names.of(&cut.piece, "window"),
            picture: window(cut, plan)?,
        })
    });
    each.collect()
}
