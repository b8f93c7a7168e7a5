//! Domes that were solved already, so that each is solved once.

use std::collections::HashMap;
use std::hash::{Hash, Hasher};

use crate::geometry::{Ask, Blank, Dome, DomeError, EdgeAngles, FillWindow, Filling, Liquid};
use crate::quantity::{Angle, Length, Share, Volume};

/// A blank, told from others by its contents: equal blanks share their domes.
#[derive(Clone, PartialEq)]
pub(super) struct Contents(pub Blank);

// A blank is checked when made, so none of its numbers is unlike itself.
impl Eq for Contents {}

impl Hash for Contents {
    fn hash<H: Hasher>(&self, state: &mut H) {
        let Self(blank) = self;
        let outline = blank.outline();
        let [length, width] = outline.size();
        let lengths = [
            outline.perimeter(),
            length,
            width,
            blank.edge(),
            blank.wall(),
        ];
        outline.area().m2().to_bits().hash(state);
        lengths.map(|length| length.m().to_bits()).hash(state);
        outline.holes().len().hash(state);
    }
}

/// A blank and a coating, the coating told apart by the bits of its numbers.
#[derive(Clone, PartialEq, Eq, Hash)]
struct Key {
    blank: Contents,
    coating: [u64; 5],
}

impl Key {
    fn new(on: &Blank, coating: &crate::coating::Liquid) -> Self {
        Self {
            blank: Contents(on.clone()),
            coating: [
                coating.surface_tension.n_per_m().to_bits(),
                coating.density.kg_per_m3().to_bits(),
                coating.pull_back.rad().to_bits(),
                coating.target.rad().to_bits(),
                coating.brim.rad().to_bits(),
            ],
        }
    }
}

/// Domes by blank and coating.
#[derive(Default)]
pub(super) struct Domes {
    windows: HashMap<Key, FillWindow>,
    asked: HashMap<(Key, (u8, u64)), Result<Dome, DomeError>>,
    lies: HashMap<(Key, u64), Option<Lie>>,
    /// Lies that were worked out ahead and nobody asked for yet.
    ahead: HashMap<(Key, u64), Option<Lie>>,
    lies_are: Lies,
    /// The last filling, for a window and an asked dome of it come one after the other.
    last: Option<(Key, Filling)>,
}

/// How a fill lies on its blank, beside its measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lie {
    /// How far out of level, the worst way down, before the low side runs over.
    /// `None`: not up to [`MOST_TILT`](crate::geometry::MOST_TILT).
    pub runs_over: Option<Angle>,
    /// How far before the high side draws back. `None`: not before that.
    pub draws_back: Option<Angle>,
    /// Share of the edge that stands under the pull-back angle.
    pub thin: Share,
}

/// Whether it is worked out how fills lie.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum Lies {
    /// When it is asked.
    #[default]
    Now,
    /// Not yet, but it will be.
    Later,
    /// Never.
    LeftOut,
}

/// For so many kinds of fill that is worked out: it takes longer than all else.
pub(super) const MOST_LIES: usize = 100;

/// The geometry's liquid and angles of a coating.
pub(super) fn liquid(coating: &crate::coating::Liquid) -> (Liquid, EdgeAngles) {
    (
        Liquid {
            surface_tension: coating.surface_tension,
            density: coating.density,
        },
        EdgeAngles {
            pull_back: coating.pull_back,
            target: coating.target,
            brim: coating.brim,
        },
    )
}

/// A blank prepared with a coating, its sharp inner corners taken as rounded.
pub(super) fn filling<T>(
    on: &Blank,
    coating: &crate::coating::Liquid,
    prepare: impl FnOnce(&Blank, Liquid, EdgeAngles) -> Result<T, DomeError>,
) -> Result<T, DomeError> {
    let (liquid, angles) = liquid(coating);
    let eased = on.eased();
    let on = eased.as_ref().map_or(on, |eased| &eased.blank);
    prepare(on, liquid, angles)
}

impl Domes {
    /// Domes of which nobody asks how they lie.
    pub(super) fn without_lies() -> Self {
        Self {
            lies_are: Lies::LeftOut,
            ..Self::default()
        }
    }

    /// What several have found, to be asked again: then all is known ahead.
    pub(super) fn of<'d>(parts: impl IntoIterator<Item = &'d Self>) -> Self {
        let mut all = Self::default();
        for part in parts {
            all.windows.extend(part.windows.clone());
            all.asked.extend(part.asked.clone());
            all.ahead.extend(part.ahead.clone());
            all.ahead.extend(part.lies.clone());
        }
        all
    }

    /// Whether to work out how fills lie, from now on.
    pub(super) fn lies_are(&mut self, lies: Lies) {
        self.lies_are = lies;
    }

    /// The fill window of a coating on a blank.
    pub(super) fn window(
        &mut self,
        on: &Blank,
        coating: &crate::coating::Liquid,
    ) -> Result<FillWindow, DomeError> {
        let key = Key::new(on, coating);
        if let Some(window) = self.windows.get(&key) {
            return Ok(*window);
        }
        let window = match &self.last {
            Some((of, filling)) if *of == key => filling.window()?,
            _ if self.lies_are == Lies::Later => {
                let (filling, window) = filling(&key.blank.0, coating, Filling::to_be_tilted)?;
                self.last = Some((key.clone(), filling));
                window
            }
            _ => self.filling(&key, coating)?.window()?,
        };
        self.windows.insert(key, window);
        Ok(window)
    }

    /// The dome asked for by one measure.
    pub(super) fn dome(
        &mut self,
        on: &Blank,
        coating: &crate::coating::Liquid,
        ask: Ask,
    ) -> Result<Dome, DomeError> {
        let key = Key::new(on, coating);
        let asked = (key, ask_key(ask));
        if let Some(dome) = self.asked.get(&asked) {
            return *dome;
        }
        let dome = self.filling(&asked.0, coating)?.dome(ask);
        self.asked.insert(asked, dome);
        dome
    }

    /// How a dome of that volume lies; `None` where that is not worked out, for
    /// there were too many kinds before it or the search was lost.
    pub(super) fn lie(
        &mut self,
        on: &Blank,
        coating: &crate::coating::Liquid,
        volume: Volume,
    ) -> Option<Lie> {
        let key = (Key::new(on, coating), volume.m3().to_bits());
        if let Some(lie) = self.lies.get(&key) {
            return *lie;
        }
        if self.lies_are != Lies::Now || self.lies.len() >= MOST_LIES {
            return None;
        }
        let found = match self.ahead.remove(&key) {
            Some(known) => known,
            None => self.found_lie(&key.0, coating, volume).ok(),
        };
        self.lies.insert(key, found);
        found
    }

    fn found_lie(
        &mut self,
        key: &Key,
        coating: &crate::coating::Liquid,
        volume: Volume,
    ) -> Result<Lie, DomeError> {
        let filling = self.filling(key, coating)?;
        let filled = filling.shape(Ask::Volume(volume))?;
        let limits = filling.level_limits(&filled)?;
        let walled = filling.blank().wall() > Length::ZERO;
        Ok(Lie {
            runs_over: limits.runs_over.map(|limit| limit.tilt),
            draws_back: limits.draws_back.map(|limit| limit.tilt),
            // A wall is wetted, so nothing draws back from it.
            thin: if walled {
                Share::ZERO
            } else {
                filled.shape().thin_share(coating.pull_back)
            },
        })
    }

    fn filling(
        &mut self,
        key: &Key,
        coating: &crate::coating::Liquid,
    ) -> Result<&Filling, DomeError> {
        let kept = self.last.take().filter(|(of, _)| of == key);
        let (_, filling) = if let Some(kept) = kept {
            self.last.insert(kept)
        } else {
            let filling = filling(&key.blank.0, coating, Filling::new)?;
            self.last.insert((key.clone(), filling))
        };
        Ok(filling)
    }
}

fn ask_key(ask: Ask) -> (u8, u64) {
    match ask {
        Ask::EdgeAngle(angle) => (0, angle.rad().to_bits()),
        Ask::Volume(volume) => (1, volume.m3().to_bits()),
        Ask::Peak(peak) => (2, peak.m().to_bits()),
        Ask::Mass(mass) => (3, mass.kg().to_bits()),
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::Contents;
    use crate::geometry::{Blank, Hole, Outline};
    use crate::quantity::Length;

    fn mm(mm: f64) -> Length {
        Length::from_mm(mm)
    }

    fn sail(corner: f64) -> Outline {
        let points = [[0.0, 0.0], [30.0, 0.0], [30.0, 10.0], [5.0, 40.0]];
        Outline::points(&points.map(|point| point.map(mm)), mm(corner)).unwrap()
    }

    fn pierced(at: f64) -> Outline {
        let hole = Hole {
            at: [mm(0.0), mm(at)],
            diameter: mm(3.0),
        };
        Outline::round(mm(38.0))
            .unwrap()
            .with_holes(&[hole])
            .unwrap()
    }

    /// Each is made twice over, as a file with many blanks alike would have it.
    #[test]
    #[expect(
        clippy::mutable_key_type,
        reason = "what an outline fills in later plays no part in its hash or equality"
    )]
    fn equal_blanks_share_their_domes_and_others_do_not() {
        let all = || {
            let sharp = [
                Outline::round(mm(38.1)).unwrap(),
                Outline::oval(mm(25.0), mm(18.0)).unwrap(),
                Outline::oval(mm(18.0), mm(25.0)).unwrap(),
                Outline::regular(6, mm(25.0), mm(0.0)).unwrap(),
                Outline::regular(6, mm(25.0), mm(1.0)).unwrap(),
                sail(0.0),
                sail(2.0),
                pierced(14.0),
                pierced(10.0),
            ];
            let sharp = sharp.map(|outline| (outline, 0.0, 0.0)).into_iter();
            let round = Outline::round(mm(38.0)).unwrap();
            let rims = [(0.0, 0.0), (0.3, 0.0), (0.0, 2.0)];
            sharp
                .chain(rims.map(|(edge, wall)| (round.clone(), edge, wall)))
                .map(|(outline, edge, wall)| {
                    Contents(Blank::new(outline, mm(edge), mm(wall)).unwrap())
                })
        };
        let known: HashSet<Contents> = all().collect();
        assert_eq!(known.len(), 12);
        assert!(all().all(|blank| known.contains(&blank)));
    }
}
