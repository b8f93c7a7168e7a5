//! How much one blank holds.

use super::care::care;
use super::coats::coats;
use super::{Blank, DomeAnswer, Dried, FigureSource, Total, Verdict, WayOut, Window};
use crate::coating::{Coating, Key};
use crate::geometry::{Ask, DomeError, EdgeAngles, Liquid, OutlineError, Shape, Top};
use crate::quantity::{
    Angle, Area, Density, Length, Mass, Measured, Share, SurfaceTension, Volume,
};

/// What a blank holds, asked of one coating.
#[derive(Debug, Clone, PartialEq)]
pub struct DomeQuestion {
    /// The blank.
    pub blank: Blank,
    /// The coating.
    pub coating: Coating,
    /// How many pieces, for a total.
    pub count: Option<u32>,
    /// The measure that it is asked by.
    pub by: By,
    /// The maker's own figures.
    pub overrides: Overrides,
}

/// The measure that a fill is asked by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum By {
    /// The coating's own target edge angle.
    Target,
    /// An edge angle, above 0 and up to 150 degrees on a round blank, 90 on a
    /// rectangle: a question about the shape.
    EdgeAngle(Angle),
    /// Wet height in the middle.
    Peak(Length),
    /// Wet volume on one piece.
    Volume(Volume),
    /// Wet mass on one piece.
    Mass(Mass),
}

/// The maker's own figures for a coating: any positive value, for a dome
/// without gravity is a fair question; an unbelievable one is remarked on.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Overrides {
    /// Surface tension of the wet coating.
    pub surface_tension: Option<SurfaceTension>,
    /// Density of the wet coating.
    pub density: Option<Density>,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DomeRefusal {
    /// The shape is none.
    #[error(transparent)]
    Outline(#[from] OutlineError),
    /// The coating is not one that is flooded.
    #[error(
        "{coating} is not flooded as a dome (it has no {}); ask about a dome glaze or a dome epoxy",
        lacks.join(", ")
    )]
    NoDome {
        /// The coating.
        coating: String,
        /// The properties that a dome needs and it has not.
        lacks: Vec<&'static str>,
    },
    /// So high a coat is a slip of unit.
    #[error(
        "no edge holds a coat {} mm high: a free edge holds 2 to 3 mm; were millimetres meant?",
        (.0.mm() * 1000.0).round() / 1000.0
    )]
    Height(Length),
    /// There is no such dome.
    #[error(transparent)]
    Dome(#[from] DomeError),
}

/// How far in from both sides a corner is looked at.
pub const CORNER_PLACE: Length = Length::from_mm(2.0);

/// Density of water that leaves, near 20 °C (textbook).
const WATER: Density = Density::from_kg_per_m3(998.0);

/// A coat deeper than this on an edge that does not hold it is a slip of unit.
const SLIP: Length = Length::from_mm(10.0);

/// An edge angle this near a limit is at it: the solver's own rounding.
const AT_LIMIT: Angle = Angle::from_deg(1e-4);

/// What one blank holds of one coating.
///
/// # Errors
/// [`DomeRefusal`] where the blank or the coating is none that can carry a
/// dome, or the question makes no sense. Asking for more than an edge can hold
/// is answered, with what would make it possible.
pub fn dome(question: &DomeQuestion) -> Result<DomeAnswer, DomeRefusal> {
    let outline = question.blank.outline()?;
    let coating = &question.coating;
    let wet = coating.liquid().ok_or_else(|| DomeRefusal::NoDome {
        coating: coating.family().name.clone(),
        lacks: coating.lacks_for_dome(),
    })?;
    let own = question.overrides;
    let liquid = Liquid {
        surface_tension: own.surface_tension.unwrap_or(wet.surface_tension),
        density: own.density.unwrap_or(wet.density),
    };
    let top = Top::new(&outline, liquid)?;
    let window = top.window(EdgeAngles {
        pull_back: wet.pull_back,
        target: wet.target,
        brim: wet.brim,
    })?;
    let ask = match question.by {
        By::Target => Ask::EdgeAngle(wet.target),
        By::EdgeAngle(angle) => Ask::EdgeAngle(angle),
        By::Peak(peak) => Ask::Peak(peak),
        By::Volume(volume) => Ask::Volume(volume),
        By::Mass(mass) => Ask::Mass(mass),
    };
    let shape = match top.shape(ask) {
        Ok(shape) => Some(shape),
        // more than any edge holds is an answer, not a mistake
        Err(DomeError::TooMuch { .. }) => match question.by {
            By::Peak(peak) if peak > SLIP => return Err(DomeRefusal::Height(peak)),
            _ => None,
        },
        Err(other) => return Err(other.into()),
    };
    let window = Window {
        pull_back: window.pull_back.into(),
        target: window.target.into(),
        brim: window.brim.into(),
    };
    Ok(answer(&Poured {
        question,
        area: outline.area(),
        liquid,
        window,
        shape,
    }))
}

/// Everything that an answer is made of.
struct Poured<'a> {
    question: &'a DomeQuestion,
    area: Area,
    liquid: Liquid,
    window: Window,
    shape: Option<Shape<'a>>,
}

impl Poured<'_> {
    fn volume(&self) -> Option<Volume> {
        match (&self.shape, self.question.by) {
            (Some(shape), _) => Some(shape.dome.volume),
            (None, By::Volume(volume)) => Some(volume),
            (None, By::Mass(mass)) => Some(mass / self.liquid.density),
            (None, By::Target | By::EdgeAngle(_) | By::Peak(_)) => None,
        }
    }

    fn peak(&self) -> Option<Length> {
        match (&self.shape, self.question.by) {
            (Some(shape), _) => Some(shape.dome.peak),
            (None, By::Peak(peak)) => Some(peak),
            (None, _) => None,
        }
    }

    fn verdict(&self) -> Verdict {
        let Some(shape) = &self.shape else {
            return Verdict::RunsOver;
        };
        let angle = shape.dome.edge_angle;
        if angle > self.window.brim.edge_angle + AT_LIMIT {
            Verdict::RunsOver
        } else if angle + AT_LIMIT < self.window.pull_back.edge_angle {
            Verdict::PullsBack
        } else {
            Verdict::Holds
        }
    }

    /// Height near a rectangle's corner, as a share of the peak.
    fn corner(&self) -> Option<Share> {
        let Blank::Rectangle { length, width, .. } = self.question.blank else {
            return None;
        };
        let shape = self.shape.as_ref()?;
        let (x, y) = (length / 2.0 - CORNER_PLACE, width / 2.0 - CORNER_PLACE);
        if x <= Length::ZERO || y <= Length::ZERO {
            return None;
        }
        let height = shape.height_at(x, y)?;
        Some(Share::from_fraction(height / shape.dome.peak))
    }

    /// What would make this fill possible, where it runs over.
    fn way_out(&self) -> Option<WayOut> {
        if self.verdict() != Verdict::RunsOver {
            return None;
        }
        let target = self.window.target;
        let asked_by_height = matches!(self.question.by, By::Peak(_));
        let (wall, times) = match (self.volume(), self.peak()) {
            (Some(volume), _) if !asked_by_height => {
                ((volume - target.volume) / self.area, volume / target.volume)
            }
            (_, Some(peak)) => (peak - target.peak, peak / target.peak),
            _ => return None,
        };
        let solids = self.question.coating.solids()?;
        Some(WayOut {
            wall: (Length::ZERO..=SLIP).contains(&wall).then_some(wall),
            coats: coats(solids, times),
        })
    }

    /// What is left when dry.
    fn dry(&self, volume: Volume, mean_height: Length) -> Option<Dried> {
        let solids = self.question.coating.solids()?.fraction();
        // what leaves is water: m_dry = m - (1 - s) V rho_w
        let mass = volume * self.liquid.density - volume * (1.0 - solids) * WATER;
        Some(Dried {
            volume: volume * solids,
            peak: self.peak().map(|peak| peak * solids),
            mean_height: mean_height * solids,
            mass: (mass > Mass::ZERO).then_some(mass),
        })
    }

    /// So deep a fill is a slip of unit, most likely.
    fn slip(&self) -> Option<String> {
        let mean = self.volume()? / self.area;
        (mean > SLIP).then(|| {
            format!(
                "so much is {:.0} times the target and no dome any more: was another unit meant?",
                mean / (self.window.target.volume / self.area)
            )
        })
    }

    fn remarks(&self) -> Vec<String> {
        let own = self.question.overrides;
        let odd = |key: Key, value: Option<Measured>| {
            let says = key.check(value?).err()?;
            Some(format!("taken as it was given, though {says}"))
        };
        [
            odd(Key::SurfaceTension, own.surface_tension.map(Into::into)),
            odd(Key::Density, own.density.map(Into::into)),
            self.slip(),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

/// Where the figures come from that the dome rests on.
fn figures(question: &DomeQuestion) -> Vec<FigureSource> {
    let own = question.overrides;
    let given = |key| match key {
        Key::SurfaceTension => own.surface_tension.is_some(),
        Key::Density => own.density.is_some(),
        _ => false,
    };
    let keys = [
        Key::SurfaceTension,
        Key::Density,
        Key::PullBackAngle,
        Key::TargetAngle,
        Key::BrimAngle,
        Key::Solids,
    ];
    keys.into_iter()
        .filter_map(|key| {
            let property = question.coating.property(key)?;
            Some(FigureSource {
                figure: key.name(),
                source: if given(key) {
                    "as given".to_owned()
                } else {
                    property.source.to_string()
                },
            })
        })
        .collect()
}

fn answer(poured: &Poured) -> DomeAnswer {
    let window = poured.window;
    let area = poured.area;
    let volume = poured.volume();
    let mean_height = volume.map(|volume| volume / area);
    let mass = volume.map(|volume| volume * poured.liquid.density);
    let dry = volume
        .zip(mean_height)
        .and_then(|(volume, mean)| poured.dry(volume, mean));
    let surface = poured.shape.as_ref().map(|shape| shape.dome);
    let question = poured.question;
    DomeAnswer {
        coating: question.coating.family().name.clone(),
        blank: question.blank,
        by: question.by,
        outline_area: area,
        volume,
        mass,
        peak: poured.peak(),
        mean_height,
        edge_angle: surface.map(|dome| dome.edge_angle),
        surface_area: surface.map(|dome| dome.surface_area),
        pull_back: window.pull_back.volume,
        target: window.target.volume,
        brim: window.brim.volume,
        window,
        verdict: poured.verdict(),
        share_of_brim: volume.map(|volume| Share::from_fraction(volume / window.brim.volume)),
        dry,
        ten_gain: mass.map(|mass| mass * 10.0),
        ten_gain_dry: dry.and_then(|dry| dry.mass).map(|mass| mass * 10.0),
        total: question.count.zip(volume).map(|(count, volume)| Total {
            count,
            volume: volume * f64::from(count),
            mass: volume * poured.liquid.density * f64::from(count),
        }),
        corner_height_share: poured.corner(),
        way_out: poured.way_out(),
        surface_tension: poured.liquid.surface_tension,
        density: poured.liquid.density,
        solids: question.coating.solids(),
        capillary_length: poured.liquid.capillary_length(),
        figures: figures(question),
        remarks: poured.remarks(),
        cautions: care(question.coating.family()),
    }
}
