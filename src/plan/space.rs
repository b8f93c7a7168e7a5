//! Where wet pieces lie: how many on a tray, how many trays there is a level place for.

use super::drying::Among;
use super::{Notes, PiecePlan, PlanError, Warning};
use crate::cure::Enclosure;
use crate::cure::transfer;
use crate::quantity::{Area, Length};
use crate::run::{Lid, Run, Shelf, Tray};
use crate::space::layout::{Board, Layout, layout};
use crate::space::shelf;

/// The trays of a run, and what lies on them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SpacePlan {
    /// The kinds of tray, in the run's order; none where pieces lie apart.
    pub trays: Vec<TrayPlan>,
    /// What the pieces of each blank lie among, on the tray that crowds them most.
    among: Vec<Among>,
}

/// One kind of tray.
#[derive(Debug, Clone, PartialEq)]
pub struct TrayPlan {
    /// What the maker calls it.
    pub name: String,
    /// Its two sides.
    pub size: [Length; 2],
    /// How many there are.
    pub count: u32,
    /// How many can be used at once.
    pub usable: u32,
    /// What keeps the others from being used. `None`: all can be.
    pub kept_by: Option<KeptBy>,
    /// Level places for it on the shelves. `None`: the run names no shelf.
    pub places: Option<u32>,
    /// Shelf that one takes up.
    pub area: Area,
    /// How each kind of piece lies on it; as many as the run has pieces. `None`: not one fits.
    pub holds: Vec<Option<Layout>>,
}

/// Why not all trays can be used at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeptBy {
    /// There are fewer lids.
    Lids,
    /// There are fewer level places.
    Places,
}

impl SpacePlan {
    /// What the pieces on a blank lie among.
    pub(super) fn among(&self, blank: usize) -> Among {
        self.among[blank]
    }

    /// The same for some of the pieces.
    pub(super) fn only(&self, kept: &[bool]) -> Self {
        let trays = self.trays.iter().map(|tray| TrayPlan {
            holds: (tray.holds.iter().zip(kept))
                .filter(|(_, kept)| **kept)
                .map(|(lies, _)| lies.clone())
                .collect(),
            ..tray.clone()
        });
        Self {
            trays: trays.collect(),
            among: self.among.clone(),
        }
    }

    /// The most of a kind of piece that one tray holds. `None`: no trays are told of.
    #[must_use]
    pub fn per_tray(&self, piece: usize) -> Option<u32> {
        self.trays
            .iter()
            .map(|tray| tray.holds[piece].as_ref().map_or(0, |lies| lies.count))
            .max()
    }
}

/// Lays every kind of piece on every kind of tray.
pub(super) fn plan(
    run: &Run,
    pieces: &[PiecePlan],
    notes: &mut Notes,
) -> Result<SpacePlan, PlanError> {
    let mut levels: Vec<(&Shelf, u32)> = run
        .shelves
        .iter()
        .map(|shelf| (shelf, shelf.levels * shelf.count))
        .collect();
    let trays = run
        .trays
        .iter()
        .map(|tray| one(run, tray, &mut levels))
        .collect::<Result<Vec<_>, PlanError>>()?;
    let apart = Among {
        tray: None,
        shut_in: run.room.shut_in,
    };
    let mut space = SpacePlan {
        trays,
        among: vec![apart; run.blanks.len()],
    };
    for (index, piece) in pieces.iter().enumerate() {
        if space.per_tray(index) == Some(0) {
            notes.warnings.push(Warning::FitsNoTray {
                piece: piece.name.clone(),
            });
        }
        let crowds = (run.trays.iter().zip(&space.trays))
            .filter_map(|(tray, plan)| Some((tray, plan.holds[index].as_ref()?)))
            .max_by(|(a, on_a), (b, on_b)| covered(a, on_a).total_cmp(&covered(b, on_b)));
        if let Some((tray, lies)) = crowds {
            let new = among(run, tray, lies);
            let known = &mut space.among[piece.blank];
            if crowd(&new) > crowd(known) {
                *known = new;
            }
        }
    }
    Ok(space)
}

fn one(run: &Run, tray: &Tray, levels: &mut [(&Shelf, u32)]) -> Result<TrayPlan, PlanError> {
    let holds = run
        .pieces
        .iter()
        .map(|piece| {
            let board = Board {
                size: tray.size,
                margin: tray.margin,
                gap: if piece.magnet {
                    tray.magnet_gap
                } else {
                    tray.gap
                },
            };
            let lies = layout(run.blanks[piece.blank].top.outline(), &board).map_err(|why| {
                PlanError::Space {
                    what: piece.name.clone(),
                    why,
                }
            })?;
            Ok(Some(lies).filter(|lies| lies.count > 0))
        })
        .collect::<Result<Vec<_>, PlanError>>()?;
    let places = (!levels.is_empty()).then(|| places(tray, levels));
    let lids = tray.lid.and_then(|lid| lid.count).unwrap_or(u32::MAX);
    let usable = tray.count.min(lids).min(places.unwrap_or(u32::MAX));
    let kept_by = if usable == tray.count {
        None
    } else if usable == lids {
        Some(KeptBy::Lids)
    } else {
        Some(KeptBy::Places)
    };
    Ok(TrayPlan {
        name: tray.name.clone(),
        size: tray.size,
        count: tray.count,
        usable,
        kept_by,
        places,
        area: surface(tray.size),
        holds,
    })
}

/// Level places for a kind of tray; those that its trays take are gone for the next.
fn places(tray: &Tray, levels: &mut [(&Shelf, u32)]) -> u32 {
    let mut found = 0;
    for (shelf, left) in levels {
        let on_one = shelf::on_level(shelf.size, tray.size);
        if on_one == 0 {
            continue;
        }
        found += on_one * *left;
        let wanted = tray.count.saturating_sub(found - on_one * *left);
        *left -= wanted.div_ceil(on_one).min(*left);
    }
    found
}

/// What a piece lies among on its full tray.
fn among(run: &Run, tray: &Tray, lies: &Layout) -> Among {
    let [length, width] = tray.size;
    let shut_in = match tray.lid {
        Some(lid) => under_lid(lid, tray, lies.count).or(run.room.shut_in),
        None => run.room.shut_in,
    };
    Among {
        tray: Some(transfer::Tray {
            length,
            width,
            pieces: lies.count,
        }),
        shut_in,
    }
}

/// The air under a lid with a full tray.
fn under_lid(lid: Lid, tray: &Tray, pieces: u32) -> Option<Enclosure> {
    Enclosure::new(surface(tray.size) * lid.height, lid.air_changes, pieces).ok()
}

fn surface([length, width]: [Length; 2]) -> Area {
    Area::from_m2(length.m() * width.m())
}

/// Pieces for every square metre of a tray.
fn covered(tray: &Tray, lies: &Layout) -> f64 {
    f64::from(lies.count) / surface(tray.size).m2()
}

/// The same of what a piece lies among.
fn crowd(among: &Among) -> f64 {
    among.tray.map_or(0.0, |tray| {
        f64::from(tray.pieces) / surface([tray.length, tray.width]).m2()
    })
}

impl TrayPlan {
    /// Takes as many of the pieces left as lie on so many of these trays, and tells how many
    /// trays those are. Kinds share a tray row by row.
    pub(super) fn take(&self, most: u32, left: &mut Vec<(usize, u64)>) -> u32 {
        let mut full = 0_u64;
        let most = u64::from(most);
        // the share of the last tray that is taken, in rows
        let mut open = 1.0_f64;
        left.retain_mut(|(piece, count)| {
            let Some(lies) = &self.holds[*piece] else {
                return true;
            };
            let per_tray = u64::from(lies.count);
            let whole = (*count / per_tray).min(most.saturating_sub(full));
            full += whole;
            *count -= whole * per_tray;
            if *count == 0 {
                return false;
            }
            if *count < per_tray {
                let rows = count.div_ceil(u64::from(lies.per_row));
                let share = ratio(rows, u64::from(lies.rows)).min(1.0);
                if open + share > 1.0 + 1e-9 {
                    if full >= most {
                        return true;
                    }
                    full += 1;
                    open = 0.0;
                }
                open += share;
                return false;
            }
            true
        });
        u32::try_from(full).unwrap_or(u32::MAX)
    }
}

#[expect(clippy::cast_precision_loss, reason = "rows of a tray")]
fn ratio(a: u64, b: u64) -> f64 {
    a as f64 / b as f64
}
