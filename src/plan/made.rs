//! Domes that were solved already, so that each is solved once.

use std::collections::HashMap;

use crate::geometry::{
    Ask, Dome, DomeError, EdgeAngles, FillWindow, Liquid, Outline, OutlineError, Top,
};
use crate::run;

/// A blank's outline and a coating, told apart by the bits of their numbers.
type Key = [u64; 9];

/// Domes by blank and coating.
#[derive(Default)]
pub(super) struct Domes {
    windows: HashMap<Key, FillWindow>,
    asked: HashMap<(Key, (u8, u64)), Result<Dome, DomeError>>,
    /// The last top, for a window and an asked dome on it come one after the other.
    last: Option<(Key, Top)>,
}

/// Why no dome could be told.
pub(super) enum NoDome {
    Outline(OutlineError),
    Dome(DomeError),
}

/// The geometry's outline of a blank.
pub(super) fn outline(outline: run::Outline) -> Result<Outline, OutlineError> {
    match outline {
        run::Outline::Round { diameter } => Outline::round(diameter),
        run::Outline::Rectangle {
            length,
            width,
            corner,
        } => {
            // Half an inch written in mm may miss half of an inch by a rounding.
            let shorter = if length < width { length } else { width };
            let half = shorter / 2.0;
            let corner = if corner > half { half } else { corner };
            Outline::rectangle(length, width, corner)
        }
    }
}

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

impl Domes {
    /// The fill window of a coating on an outline.
    pub(super) fn window(
        &mut self,
        on: run::Outline,
        coating: &crate::coating::Liquid,
    ) -> Result<FillWindow, NoDome> {
        let key = key(on, coating);
        if let Some(window) = self.windows.get(&key) {
            return Ok(*window);
        }
        let (_, angles) = liquid(coating);
        let window = self
            .top(key, on, coating)?
            .window(angles)
            .map_err(NoDome::Dome)?;
        self.windows.insert(key, window);
        Ok(window)
    }

    /// The dome asked for by one measure.
    pub(super) fn dome(
        &mut self,
        on: run::Outline,
        coating: &crate::coating::Liquid,
        ask: Ask,
    ) -> Result<Dome, NoDome> {
        let key = key(on, coating);
        let asked = (key, ask_key(ask));
        if let Some(dome) = self.asked.get(&asked) {
            return dome.map_err(NoDome::Dome);
        }
        let dome = self.top(key, on, coating)?.dome(ask);
        self.asked.insert(asked, dome);
        dome.map_err(NoDome::Dome)
    }

    fn top(
        &mut self,
        key: Key,
        on: run::Outline,
        coating: &crate::coating::Liquid,
    ) -> Result<&Top, NoDome> {
        let kept = self.last.take().filter(|(of, _)| *of == key);
        let (_, top) = if let Some(kept) = kept {
            self.last.insert(kept)
        } else {
            let outline = outline(on).map_err(NoDome::Outline)?;
            let top = Top::new(&outline, liquid(coating).0).map_err(NoDome::Dome)?;
            self.last.insert((key, top))
        };
        Ok(top)
    }
}

fn key(on: run::Outline, coating: &crate::coating::Liquid) -> Key {
    let (kind, [a, b, c]) = match on {
        run::Outline::Round { diameter } => (0, [diameter.m(), 0.0, 0.0]),
        run::Outline::Rectangle {
            length,
            width,
            corner,
        } => (1, [length.m(), width.m(), corner.m()]),
    };
    [
        kind,
        a.to_bits(),
        b.to_bits(),
        c.to_bits(),
        coating.surface_tension.n_per_m().to_bits(),
        coating.density.kg_per_m3().to_bits(),
        coating.pull_back.rad().to_bits(),
        coating.target.rad().to_bits(),
        coating.brim.rad().to_bits(),
    ]
}

fn ask_key(ask: Ask) -> (u8, u64) {
    match ask {
        Ask::EdgeAngle(angle) => (0, angle.rad().to_bits()),
        Ask::Volume(volume) => (1, volume.m3().to_bits()),
        Ask::Peak(peak) => (2, peak.m().to_bits()),
        Ask::Mass(mass) => (3, mass.kg().to_bits()),
    }
}
