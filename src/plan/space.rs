//! Where wet pieces lie: how many on a tray, how many trays there is a level place for.

use super::drying::Among;
use super::{Notes, PiecePlan, PlanError, Warning};
use crate::cure::Enclosure;
use crate::cure::transfer;
use crate::quantity::{Area, Length};
use crate::run::{Lid, Run, Tray};
use crate::space::{self, Ground, How, Kind, Rows, SpaceError};

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
    pub holds: Vec<Option<Lies>>,
}

/// How a kind of piece lies on a tray.
#[derive(Debug, Clone, PartialEq)]
pub struct Lies {
    /// How many.
    pub count: u32,
    /// How.
    pub how: How,
    /// Their rows; none where they are mixed.
    pub rows: Option<Rows>,
    /// The tray, its margin and the gap between these pieces.
    pub ground: Ground,
    /// The sides of the piece's box.
    size: [Length; 2],
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
    /// How many of one kind of piece lie on each of so many trays of each kind, in the order of the
    /// kinds: full ones, and on the last what is left. `None`: which tray is not full is not laid down.
    #[must_use]
    pub fn on_each(&self, piece: usize, count: u64, trays: &[u32]) -> Option<Vec<u64>> {
        let mut each = Vec::new();
        for (tray, &used) in self.trays.iter().zip(trays) {
            if used > 0 {
                let full = u64::from(tray.holds.get(piece)?.as_ref()?.count);
                each.extend((0..used).map(|_| full));
            }
        }
        let spare = each.iter().sum::<u64>().checked_sub(count)?;
        let kinds = trays.iter().filter(|&&used| used > 0).count();
        let last = each.last_mut()?;
        if spare > 0 && (kinds > 1 || spare >= *last) {
            return None;
        }
        *last -= spare;
        Some(each)
    }

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

    /// The same with these pieces on its trays: full ones, or all pieces where they are fewer.
    pub(super) fn crowded_by(self, run: &Run, pieces: &[PiecePlan]) -> Result<Self, PlanError> {
        let started: u64 = pieces.iter().map(|piece| piece.start).sum();
        let started = u32::try_from(started).unwrap_or(u32::MAX);
        let apart = Among {
            tray: None,
            shut_in: run.room.shut_in,
        };
        let mut all = vec![apart; run.blanks.len()];
        for (index, piece) in pieces.iter().enumerate() {
            for (tray, plan) in run.trays.iter().zip(&self.trays) {
                let Some(lies) = &plan.holds[index] else {
                    continue;
                };
                let new = among(run, tray, lies.count.min(started))?;
                let known = &mut all[piece.blank];
                if crowd(&new) > crowd(known) {
                    *known = new;
                }
            }
        }
        Ok(Self { among: all, ..self })
    }

    /// Whether pieces lie as crowded as in another plan of the same blanks.
    pub(super) fn as_crowded_as(&self, other: &Self) -> bool {
        self.among == other.among
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
    let mut levels: Vec<space::Shelf> = (run.shelves.iter())
        .map(|shelf| space::Shelf {
            size: shelf.size,
            levels: shelf.levels.saturating_mul(shelf.count),
        })
        .collect();
    let trays = run
        .trays
        .iter()
        .map(|tray| one(run, tray, &mut levels))
        .collect::<Result<Vec<_>, PlanError>>()?;
    let space = SpacePlan {
        trays,
        among: Vec::new(),
    };
    for (index, piece) in pieces.iter().enumerate() {
        if space.per_tray(index) == Some(0) {
            notes.warnings.push(Warning::FitsNoTray {
                piece: piece.name.clone(),
            });
        }
    }
    space.crowded_by(run, pieces)
}

fn one(run: &Run, tray: &Tray, left: &mut [space::Shelf]) -> Result<TrayPlan, PlanError> {
    let holds = run
        .pieces
        .iter()
        .map(|piece| {
            let outline = run.blanks[piece.blank].top.outline();
            let ground = Ground {
                size: tray.size,
                margin: tray.margin,
                gap: if piece.magnet {
                    tray.magnet_gap
                } else {
                    tray.gap
                },
            };
            let lies = space::lay(outline, &ground).map_err(of(&piece.name))?;
            Ok((lies.count > 0).then(|| Lies {
                count: lies.count,
                how: lies.how,
                rows: lies.rows,
                ground,
                size: outline.size(),
            }))
        })
        .collect::<Result<Vec<_>, PlanError>>()?;
    let places = if left.is_empty() {
        None
    } else {
        Some(places(tray, left).map_err(of(&tray.name))?)
    };
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

fn of(what: &str) -> impl FnOnce(SpaceError) -> PlanError {
    let what = what.to_owned();
    move |why| PlanError::Space { what, why }
}

/// Level places for a kind of tray; the levels that its trays take are gone for the next.
fn places(tray: &Tray, left: &mut [space::Shelf]) -> Result<u32, SpaceError> {
    let mut found = 0_u32;
    for shelf in left {
        let one = space::Shelf {
            levels: 1,
            ..*shelf
        };
        let on_level = u32::try_from(one.trays(tray.size)?).unwrap_or(u32::MAX);
        if on_level == 0 {
            continue;
        }
        let wanted = tray.count.saturating_sub(found).div_ceil(on_level);
        found = found.saturating_add(on_level.saturating_mul(shelf.levels));
        shelf.levels -= wanted.min(shelf.levels);
    }
    Ok(found)
}

/// What a piece lies among on a tray of so many.
fn among(run: &Run, tray: &Tray, pieces: u32) -> Result<Among, PlanError> {
    let [length, width] = tray.size;
    let shut_in = match tray.lid {
        Some(lid) => Some(under_lid(lid, tray, pieces)?),
        None => run.room.shut_in,
    };
    Ok(Among {
        tray: Some(transfer::Tray {
            length,
            width,
            pieces,
        }),
        shut_in,
    })
}

/// The air under a lid with so many pieces.
fn under_lid(lid: Lid, tray: &Tray, pieces: u32) -> Result<Enclosure, PlanError> {
    let air = surface(tray.size) * lid.height;
    Enclosure::new(air, lid.air_changes, pieces).map_err(|why| PlanError::Lid {
        tray: tray.name.clone(),
        why,
    })
}

fn surface([length, width]: [Length; 2]) -> Area {
    Area::from_m2(length.m() * width.m())
}

/// Pieces for every square metre of what a piece lies on.
fn crowd(among: &Among) -> f64 {
    among.tray.map_or(0.0, |tray| {
        f64::from(tray.pieces) / surface([tray.length, tray.width]).m2()
    })
}

impl TrayPlan {
    /// Takes as many of the pieces left as lie on so many of these trays, and tells how many
    /// trays those are. Kinds share trays.
    pub(super) fn take(&self, most: u32, left: &mut Vec<(usize, u64)>) -> u32 {
        let here: Vec<(usize, u64)> = (left.iter().copied())
            .filter(|&(piece, count)| count > 0 && self.holds[piece].is_some())
            .collect();
        // what can't be shared out lies kind by kind
        if let Some(all) = self.shared(&here).filter(|&all| all <= u64::from(most)) {
            left.retain(|&(piece, count)| count > 0 && self.holds[piece].is_none());
            return u32::try_from(all).unwrap_or(u32::MAX);
        }
        // no room for all: whole trays of one kind after another
        let mut taken = 0;
        for (piece, count) in left {
            let Some(lies) = &self.holds[*piece] else {
                continue;
            };
            let per_tray = u64::from(lies.count);
            let trays = count.div_ceil(per_tray).min(u64::from(most - taken));
            *count = count.saturating_sub(trays * per_tray);
            taken += u32::try_from(trays).unwrap_or(u32::MAX);
        }
        taken
    }

    /// Trays that several kinds take together; those that lie wider apart lie by themselves.
    fn shared(&self, pieces: &[(usize, u64)]) -> Option<u64> {
        let mut grounds: Vec<(Ground, Vec<Kind>)> = Vec::new();
        for &(piece, count) in pieces {
            let lies = self.holds[piece].as_ref()?;
            let kind = Kind {
                per_ground: lies.count,
                size: lies.size,
                pieces: count,
            };
            match grounds
                .iter_mut()
                .find(|(ground, _)| *ground == lies.ground)
            {
                Some((_, kinds)) => kinds.push(kind),
                None => grounds.push((lies.ground, vec![kind])),
            }
        }
        let trays =
            |(ground, kinds): &(Ground, Vec<Kind>)| Some(space::share(kinds, ground).ok()?.grounds);
        grounds.iter().map(trays).sum()
    }
}
