//! How a full tray of each kind of piece lies.

use crate::geometry::Outline;
use crate::plan::{Dates, PiecePlan, Plan, PlanError};
use crate::quantity::{Angle, Length};
use crate::run::Run;
use crate::space::{Ground, How, Place, lay};

/// A full tray of one kind of piece.
#[derive(Debug, Clone, PartialEq)]
pub struct TrayLayout {
    /// The piece's name.
    pub piece: String,
    /// What the maker calls the tray.
    pub tray: String,
    /// The coating that is poured on the piece. `None`: none is.
    pub coating: Option<String>,
    /// The outline of its blank.
    pub outline: Outline,
    /// Whether the gap is one for magnets, that they don't jump together.
    pub magnet: bool,
    /// The tray, its margin and the gap between pieces.
    pub ground: Ground,
    /// How they lie.
    pub how: How,
    /// Where each lies; at least one.
    pub places: Vec<Place>,
    /// How many pieces are started.
    pub started: u64,
    /// Trays that all of them together fill.
    pub trays: u64,
    /// Pieces on the last of those.
    pub on_last: u64,
    /// Trays of this kind that can be used at once.
    pub usable: u32,
    /// How far out of level such a tray may lie. `None`: it was not worked out, or
    /// nothing runs over or draws back up to the most that is looked at.
    pub level: Option<Angle>,
}

/// Full trays of a run's pieces: for each kind of piece every kind of tray that its
/// calendar lays it on; without a calendar the first that holds any.
///
/// # Errors
/// [`PlanError::Space`] where pieces can't be laid out.
pub fn layouts(run: &Run, plan: &Plan) -> Result<Vec<TrayLayout>, PlanError> {
    let mut layouts = Vec::new();
    for (index, piece) in plan.pieces.iter().enumerate() {
        for (kind, tray) in plan.space.trays.iter().enumerate() {
            let Some(lies) = &tray.holds[index] else {
                continue;
            };
            let first = plan.space.trays[..kind]
                .iter()
                .all(|tray| tray.holds[index].is_none());
            if !used(plan, &piece.name, kind).unwrap_or(first) {
                continue;
            }
            let outline = piece.on.outline();
            let full = lay(outline, &lies.ground).map_err(|why| PlanError::Space {
                what: piece.name.clone(),
                why,
            })?;
            let each = u64::from(lies.count);
            let trays = piece.start.div_ceil(each);
            layouts.push(TrayLayout {
                piece: piece.name.clone(),
                tray: tray.name.clone(),
                coating: coating(run, plan, index),
                outline: outline.clone(),
                magnet: run.pieces[index].magnet,
                ground: lies.ground,
                how: full.how,
                places: full.places,
                started: piece.start,
                trays,
                on_last: piece.start - trays.saturating_sub(1) * each,
                usable: tray.usable,
                level: level(piece),
            });
        }
    }
    Ok(layouts)
}

/// Whether a calendar lays a piece on a kind of tray; `None` where there is none.
fn used(plan: &Plan, piece: &str, kind: usize) -> Option<bool> {
    let Dates::Told(calendar) = &plan.dates else {
        return None;
    };
    let lies = calendar.sittings.iter().any(|sitting| {
        let here = sitting.pieces.iter().any(|(name, _)| name == piece);
        here && sitting.trays.get(kind).is_some_and(|&trays| trays > 0)
    });
    Some(lies)
}

/// The coating of a piece's first fill, or else the first that it gets.
fn coating(run: &Run, plan: &Plan, piece: usize) -> Option<String> {
    let poured = plan.pieces[piece].fills.first();
    let first = || {
        let mut steps = run.pieces[piece].steps.iter();
        let coating = steps.find_map(|step| run.steps[*step].work.coating());
        coating.map(|coating| run.coatings[coating].name.clone())
    };
    poured.map(|fill| fill.coating_name.clone()).or_else(first)
}

/// The least tilt at which a fill of a piece runs over or draws back.
fn level(piece: &PiecePlan) -> Option<Angle> {
    let lies = piece.fills.iter().filter_map(|fill| fill.lie);
    let tilts = lies.flat_map(|lie| [lie.runs_over, lie.draws_back]);
    tilts
        .flatten()
        .reduce(|least, tilt| if tilt < least { tilt } else { least })
}

impl TrayLayout {
    /// What that comes to over the tray's longer side.
    #[must_use]
    pub fn fall(&self) -> Option<Length> {
        let [length, width] = self.ground.size;
        let longer = if length > width { length } else { width };
        self.level.map(|tilt| longer * tilt.rad().tan())
    }
}
