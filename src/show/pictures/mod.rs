//! The pictures that go with a plan.

mod bottles;
mod calendar;
mod cost;
mod cupboard;
mod depth;
mod name;
mod pour;
mod rooms;
mod section;
mod tray;

pub use bottles::bottles;
pub use calendar::calendar;
pub use cost::cost;
pub use cupboard::cupboard;
pub use depth::depth;
pub use pour::pour;
pub use rooms::rooms;
pub use section::{section, window};
pub use tray::tray;

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
    let mut all = All::default();
    for cut in &pictured.sections {
        all.of(&cut.piece, "section", section(cut, plan)?);
    }
    for map in &pictured.depths {
        all.of(&map.piece, "depth", depth(map, plan)?);
    }
    for layout in &pictured.layouts {
        all.of(&layout.piece, "tray", tray(layout, plan)?);
    }
    for map in &pictured.rooms {
        all.of(&map.coating, "room", rooms(map, plan)?);
    }
    for own in &pictured.pours {
        all.of(&own.step, "day", pour(own, plan)?);
    }
    for shut in &pictured.cupboards {
        let thing = shut.tray.as_deref().unwrap_or("room");
        all.of(thing, "cupboard", cupboard(shut, plan)?);
    }
    for amount in &pictured.amounts {
        all.of(&amount.coating, "bottles", bottles(amount, plan)?);
    }
    all.whole("calendar", calendar(pictured.days.as_ref(), plan)?);
    all.whole("cost", cost(&pictured.costs, plan)?);
    Ok(all.named)
}

/// Pictures as they are gathered.
#[derive(Default)]
struct All {
    names: Names,
    named: Vec<Named>,
}

impl All {
    /// Adds a picture of something that the maker named.
    fn of(&mut self, thing: &str, kind: &str, picture: Picture) {
        let name = self.names.of(thing, kind);
        self.named.push(Named { name, picture });
    }

    /// Adds a picture of the whole run, if there is one.
    fn whole(&mut self, name: &str, picture: Option<Picture>) {
        self.named.extend(picture.map(|picture| Named {
            name: name.to_owned(),
            picture,
        }));
    }
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
