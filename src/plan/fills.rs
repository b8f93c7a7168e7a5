//! One flood coat on one piece: what lies under it, what is asked, what is poured.

use super::fit::{Asked, BelowRim, Fit};
use super::made::{Domes, liquid};
use crate::consumption::{CoatsNeeded, Heights, coats_needed};
use crate::geometry::{Ask, Blank, Dome, DomeError, FillWindow};
use crate::quantity::{Length, Share, Volume};
use crate::run::{self, Fill};

/// What the dry coats under a flood coat come to.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Under {
    pub volume: Volume,
    pub peak: Length,
}

/// A flood coat that is to be worked out.
#[derive(Debug, Clone, Copy)]
pub(super) struct Flood<'r> {
    pub on: &'r Blank,
    pub dome: &'r run::Dome,
    /// Solids by volume.
    pub solids: Share,
    pub under: Under,
    /// The wet peak that an asked dry height comes to over all of this step's
    /// coats on the piece; only for a fill asked by dry height.
    pub dry_height_peak: Option<Length>,
}

/// A flood coat, worked out.
#[derive(Debug, Clone, Copy)]
pub(super) struct Flooded {
    pub window: FillWindow,
    /// The wet surface that the plan goes on with, dry coats under it included;
    /// a level film where it lies below a wall's rim.
    pub dome: Dome,
    pub fit: Fit,
    pub coats_needed: Option<CoatsNeeded>,
    /// What the dry coats under it leave room for, up to the brim; less than nothing where they are over it.
    pub room: Volume,
    /// What goes on in this coat.
    pub poured: Volume,
    /// Wet depth of this coat at its deepest place.
    pub depth: Length,
    /// What lies there once this coat is dry.
    pub after: Under,
}

impl Flood<'_> {
    pub(super) fn work_out(&self, domes: &mut Domes) -> Result<Flooded, DomeError> {
        let window = domes.window(self.on, &self.dome.liquid)?;
        let coats_needed = match self.dome.fill {
            Fill::DryHeight(dry) => Some(coats_needed(
                dry,
                Heights {
                    target: window.target.peak,
                    brim: window.brim.peak,
                },
                self.solids,
            )),
            _ => None,
        };
        let (dome, mut fit) = self.surface(&window, domes)?;
        let mut poured = dome.volume - self.under.volume;
        let mut depth = dome.peak - self.under.peak;
        if poured.m3() <= 0.0 || depth.m() <= 0.0 {
            (poured, depth) = (Volume::ZERO, Length::ZERO);
            if !matches!(fit, Fit::OverBrim(_)) {
                fit = Fit::AlreadyFull;
            }
        }
        Ok(Flooded {
            window,
            dome,
            fit,
            coats_needed,
            room: window.brim.volume - self.under.volume,
            poured,
            depth,
            after: Under {
                volume: self.under.volume + poured * self.solids.fraction(),
                peak: self.under.peak + depth * self.solids.fraction(),
            },
        })
    }

    /// The wet surface to go on with, and how what was asked fits.
    fn surface(&self, window: &FillWindow, domes: &mut Domes) -> Result<(Dome, Fit), DomeError> {
        let Some(ask) = self.ask(window) else {
            return Ok((window.target, Fit::Inside));
        };
        if let Ask::Peak(peak) = ask
            && peak <= self.under.peak
        {
            return Ok((window.target, Fit::AlreadyFull));
        }
        let dome = match domes.dome(self.on, &self.dome.liquid, ask) {
            Ok(dome) => Some(dome),
            Err(DomeError::TooMuch { .. }) => None,
            Err(DomeError::BelowRim {
                depth,
                below,
                climb,
                sag,
            }) => {
                let rim = BelowRim { below, climb, sag };
                return Ok((self.level(depth), Fit::BelowRim(rim)));
            }
            Err(other) => return Err(other),
        };
        // One part in a billion, for a share of 100 % is the brim itself.
        let most = window.brim.volume * (1.0 + 1e-9);
        match dome {
            Some(dome) if dome.volume <= most => {
                // A wall's rim holds what stands lower too.
                let open = self.on.wall() == Length::ZERO;
                let fit = if open && dome.volume < window.pull_back.volume {
                    Fit::UnderPullBack
                } else {
                    Fit::Inside
                };
                Ok((dome, fit))
            }
            over => Ok((window.target, Fit::OverBrim(self.asked(over)))),
        }
    }

    /// A film inside the wall, this deep everywhere.
    fn level(&self, depth: Length) -> Dome {
        let (liquid, _) = liquid(&self.dome.liquid);
        Dome::level(self.on.outline().area(), depth, liquid)
    }

    /// What to ask of the geometry; nothing where the target itself is asked for.
    fn ask(&self, window: &FillWindow) -> Option<Ask> {
        Some(match self.dome.fill {
            Fill::Target => return None,
            Fill::DryHeight(_) => Ask::Peak(self.dry_height_peak?),
            Fill::Weight(mass) => Ask::Volume(self.under.volume + mass / self.dome.liquid.density),
            Fill::ShareOfBrim(share) => Ask::Volume(window.brim.volume * share.fraction()),
            Fill::Volume(volume) => Ask::Volume(self.under.volume + volume),
            Fill::EdgeAngle(angle) => Ask::EdgeAngle(angle),
            Fill::Peak(peak) => Ask::Peak(peak),
        })
    }

    fn asked(&self, dome: Option<Dome>) -> Asked {
        let mut asked = Asked {
            dome,
            dry_height: None,
            volume: None,
            peak: None,
        };
        match self.dome.fill {
            Fill::DryHeight(dry) => asked.dry_height = Some(dry),
            Fill::Weight(mass) => asked.volume = Some(mass / self.dome.liquid.density),
            Fill::Volume(volume) => asked.volume = Some(volume),
            Fill::Peak(peak) => asked.peak = Some(peak),
            Fill::Target | Fill::ShareOfBrim(_) | Fill::EdgeAngle(_) => {}
        }
        asked
    }
}
