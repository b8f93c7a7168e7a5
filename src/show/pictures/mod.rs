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

/// A picture that is still to be drawn: pictures know nothing of each other, so each can be drawn
/// on whichever core is free.
pub struct Sketch<'p> {
    name: String,
    draw: Box<dyn Fn() -> Result<Option<Picture>, DrawError> + Sync + 'p>,
}

impl Sketch<'_> {
    /// The picture with its name; `None` where the plan has nothing that it would show.
    ///
    /// # Errors
    /// [`DrawError`] if it can't be drawn.
    pub fn drawn(&self) -> Result<Option<Named>, DrawError> {
        let named = |picture| Named {
            name: self.name.clone(),
            picture,
        };
        Ok((self.draw)()?.map(named))
    }
}

/// Every picture of a plan, in the order of the work.
///
/// # Errors
/// [`DrawError`] of the first that can't be drawn.
pub fn all(plan: &Plan, pictured: &Pictured) -> Result<Vec<Named>, DrawError> {
    let sketches = sketches(plan, pictured);
    let drawn = sketches.iter().map(Sketch::drawn);
    drawn.filter_map(Result::transpose).collect()
}

/// The same, still to be drawn.
#[must_use]
pub fn sketches<'p>(plan: &'p Plan, pictured: &'p Pictured) -> Vec<Sketch<'p>> {
    let mut all = Sketches::default();
    for cut in &pictured.sections {
        all.of(&cut.piece, "section", move || section(cut, plan));
    }
    for map in &pictured.depths {
        all.of(&map.piece, "depth", move || depth(map, plan));
    }
    for layout in &pictured.layouts {
        all.of(&layout.piece, "tray", move || tray(layout, plan));
    }
    for map in &pictured.rooms {
        all.of(&map.coating, "room", move || rooms(map, plan));
    }
    for own in &pictured.pours {
        all.of(&own.step, "day", move || pour(own, plan));
    }
    for shut in &pictured.cupboards {
        let thing = shut.tray.as_deref().unwrap_or("room");
        all.of(thing, "cupboard", move || cupboard(shut, plan));
    }
    for amount in &pictured.amounts {
        all.of(&amount.coating, "bottles", move || bottles(amount, plan));
    }
    all.whole("calendar", move || calendar(pictured.days.as_ref(), plan));
    all.whole("cost", move || cost(&pictured.costs, plan));
    all.sketches
}

/// Sketches as they are gathered.
#[derive(Default)]
struct Sketches<'p> {
    names: Names,
    sketches: Vec<Sketch<'p>>,
}

impl<'p> Sketches<'p> {
    /// Adds a picture of something that the maker named.
    fn of(
        &mut self,
        thing: &str,
        kind: &str,
        draw: impl Fn() -> Result<Picture, DrawError> + Sync + 'p,
    ) {
        let name = self.names.of(thing, kind);
        self.add(name, move || draw().map(Some));
    }

    /// Adds a picture of the whole run, if there is one.
    fn whole(
        &mut self,
        name: &str,
        draw: impl Fn() -> Result<Option<Picture>, DrawError> + Sync + 'p,
    ) {
        self.add(name.to_owned(), draw);
    }

    fn add(
        &mut self,
        name: String,
        draw: impl Fn() -> Result<Option<Picture>, DrawError> + Sync + 'p,
    ) {
        let draw = Box::new(draw);
        self.sketches.push(Sketch { name, draw });
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
