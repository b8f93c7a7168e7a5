//! The pictures that go with a plan.

mod cupboard;
mod name;
mod pour;
mod rooms;
mod section;

pub use cupboard::cupboard;
pub use pour::pour;
pub use rooms::rooms;
pub use section::section;

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
    for map in &pictured.rooms {
        all.push(Named {
            name: names.of(&map.coating, "room"),
            picture: rooms(map, plan)?,
        });
    }
    for own in &pictured.pours {
        all.push(Named {
            name: names.of(&own.step, "day"),
            picture: pour(own, plan)?,
        });
    }
    for shut in &pictured.cupboards {
        all.push(Named {
            name: names.of(shut.tray.as_deref().unwrap_or("room"), "cupboard"),
            picture: cupboard(shut, plan)?,
        });
    }
    Ok(all)
}
