//! A dome as it was poured, and the answer that is read off it.

use super::care::care;
use super::dome::CORNER_PLACE;
use super::dome_coats::{DryHeight, SLIP, wall};
use super::dome_piece::OneFace;
use super::{
    BelowRim, By, DomeAnswer, DomeQuestion, DomeRefusal, DomeWarning, Dried, FigureSource, Filled,
    LevelAnswer, ThinAnswer, Total, Verdict, WayOut, Window,
};
use crate::coating::{Key, Law, edge_may_draw_back, may_saucer};
use crate::consumption::{CoatsNeeded, Heights, MOST_COATS, coats_needed, hole_troubles};
use crate::geometry::{Filled as OnBlank, Filling, Form, Liquid, Outline};
use crate::quantity::{Angle, Area, Density, Length, Mass, Measured, Share, Volume};

/// Density of water that leaves, near 20 °C (textbook).
const WATER: Density = Density::from_kg_per_m3(998.0);

/// Density of solvent that leaves (typical, from memory).
const SOLVENT: Density = Density::from_kg_per_m3(870.0);

/// An edge angle this near a limit is at it: the solver's own rounding.
const AT_LIMIT: Angle = Angle::from_deg(1e-4);

/// Everything that an answer is made of.
pub(super) struct Poured<'a> {
    pub question: &'a DomeQuestion,
    pub liquid: Liquid,
    pub window: Window,
    pub dry_height: Option<DryHeight>,
    pub stands: Stands<'a>,
    /// The radius that sharp inner corners were taken to have.
    pub inner_corners: Option<Length>,
    pub level: LevelAnswer,
    pub thin: ThinAnswer,
    /// What was asked of the geometry beside the fill, and not found.
    pub unknown: Vec<&'static str>,
}

/// Where the coating comes to rest.
pub(super) enum Stands<'a> {
    /// As a dome, perhaps past the brim limit.
    Domed(Box<OnBlank<'a>>),
    /// Inside a wall, no higher than its rim.
    BelowRim {
        depth: Length,
        below: Length,
        climb: Length,
        sag: Length,
    },
    /// On no edge at all.
    Nowhere,
}

impl Poured<'_> {
    fn volume(&self) -> Option<Volume> {
        match (&self.stands, self.question.by) {
            (Stands::Domed(shape), _) => Some(shape.dome.volume),
            (_, By::Volume(volume)) => Some(volume),
            (_, By::Mass(mass)) => Some(mass / self.liquid.density),
            (Stands::BelowRim { depth, .. }, _) => Some(self.area() * *depth),
            (Stands::Nowhere, _) => None,
        }
    }

    pub(super) fn shape(&self) -> Option<&OnBlank<'_>> {
        match &self.stands {
            Stands::Domed(shape) => Some(shape),
            Stands::BelowRim { .. } | Stands::Nowhere => None,
        }
    }

    /// Works out how the fill lies. What is not found of that leaves the rest of
    /// the answer as it is, and is remarked on.
    pub(super) fn lie(&mut self, filling: &Filling, pull_back: Angle) {
        let verdict = self.verdict();
        let Some(filled) = self.shape().filter(|_| verdict != Verdict::RunsOver) else {
            return;
        };
        let mut unknown = Vec::new();
        let mut thin = ThinAnswer::of(filling, filled, pull_back);
        if thin.share.is_some() {
            let mending = filling.mending_corner().unwrap_or_else(|_| {
                unknown
                    .push("which corner radius would mend its thin places could not be worked out");
                None
            });
            // No more than the corners have already is no mend.
            let corners = filling.blank().outline().corners();
            let widest = corners.iter().map(|c| c.radius.mm()).fold(0.0, f64::max);
            thin.mending = mending.filter(|radius| radius.mm() > 1.02 * widest);
        }
        // Tilts are searched for from inside the window only.
        let inside = verdict == Verdict::Holds && !self.is_low(filled);
        let level = inside.then(|| LevelAnswer::of(filling, filled));
        let level = level.and_then(|level| {
            level
                .inspect_err(|_| {
                    unknown.push("how level the shelf must be could not be worked out");
                })
                .ok()
        });
        (self.level, self.thin) = (level.unwrap_or_default(), thin);
        self.unknown = unknown;
    }

    fn below_rim(&self) -> Option<BelowRim> {
        match self.stands {
            Stands::BelowRim {
                below, climb, sag, ..
            } => Some(BelowRim { below, climb, sag }),
            Stands::Domed(_) | Stands::Nowhere => None,
        }
    }

    fn wall(&self) -> Length {
        self.question.blank.wall()
    }

    fn peak(&self) -> Option<Length> {
        match (&self.stands, self.question.by) {
            (Stands::Domed(shape), _) => Some(shape.dome.peak),
            (Stands::Nowhere, By::Peak(peak)) => Some(peak),
            (Stands::Nowhere, By::DryHeight(_)) => self.dry_height.map(|dry| dry.surface()),
            // a wetted wall leaves the middle lower than what is told
            (Stands::BelowRim { .. } | Stands::Nowhere, _) => None,
        }
    }

    fn area(&self) -> Area {
        self.outline().area()
    }

    fn outline(&self) -> &Outline {
        self.question.blank.outline()
    }

    /// What all the coats on one face take, over what the first does.
    fn times_the_first(&self) -> f64 {
        self.dry_height.map_or(1.0, |dry| dry.times_the_first())
    }

    /// Volume and mass of all the coats on one face.
    fn in_all(&self) -> Option<(Volume, Mass)> {
        let volume = self.volume()? * self.times_the_first();
        Some((volume, volume * self.liquid.density))
    }

    pub(super) fn verdict(&self) -> Verdict {
        let shape = match &self.stands {
            Stands::Domed(shape) => shape,
            Stands::BelowRim { .. } => return Verdict::BelowRim,
            Stands::Nowhere => return Verdict::RunsOver,
        };
        if shape.dome.edge_angle > self.window.brim.edge_angle + AT_LIMIT {
            Verdict::RunsOver
        } else if self.is_low(shape) && self.wall() == Length::ZERO {
            // a wall's rim holds what stands lower too
            Verdict::PullsBack
        } else {
            Verdict::Holds
        }
    }

    /// Whether a dome's edge stands under the pull-back angle.
    pub(super) fn is_low(&self, shape: &OnBlank) -> bool {
        shape.dome.edge_angle + AT_LIMIT < self.window.pull_back.edge_angle
    }

    /// Height near a rectangle's corner, as a share of the peak.
    fn corner(&self) -> Option<Share> {
        let Form::Rectangle { length, width, .. } = *self.outline().form() else {
            return None;
        };
        let shape = self.shape()?;
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
        let (target, brim) = (self.window.target, self.window.brim);
        let asked_by_height = matches!(self.question.by, By::Peak(_) | By::DryHeight(_));
        // in the middle or on average, by what was asked
        let (asked, edge) = match (self.volume(), self.peak()) {
            (Some(volume), _) if !asked_by_height => (
                volume / self.area(),
                Heights {
                    target: target.mean_height,
                    brim: brim.mean_height,
                },
            ),
            (_, Some(peak)) => (
                peak,
                Heights {
                    target: target.peak,
                    brim: brim.peak,
                },
            ),
            _ => return None,
        };
        let few = |coats: u32| (2..=MOST_COATS).contains(&coats);
        // only coats need the solids; a wall does without
        let coats = self.question.solids().and_then(|solids| {
            match coats_needed(asked * solids.fraction(), edge, solids) {
                CoatsNeeded::Coats(coats) if few(coats) => Some((coats, Filled::Target)),
                CoatsNeeded::PastTarget(coats) if few(coats) => Some((coats, Filled::PastTarget)),
                _ => None,
            }
        });
        Some(WayOut {
            wall: wall(asked - edge.target),
            coats: coats.map(|(coats, _)| coats),
            filled: coats.map(|(_, filled)| filled),
        })
    }

    /// What is left when all coats on one face are dry.
    fn dry(&self) -> Option<Dried> {
        let solids = self.question.solids()?.fraction();
        let (wet, mass) = self.in_all()?;
        // m_dry = m - (1 - s) V rho, of water or of solvent
        let leaves = match self.question.coating.law() {
            Law::WaterFilm => WATER,
            Law::Airing | Law::Epoxy | Law::Lamp | Law::MoistureCure => SOLVENT,
        };
        let mass = mass - wet * (1.0 - solids) * leaves;
        let volume = wet * solids;
        Some(Dried {
            volume,
            peak: self
                .peak()
                .map(|peak| peak * (self.times_the_first() * solids)),
            mean_height: volume / self.area(),
            mass: (mass > Mass::ZERO).then_some(mass),
        })
    }

    fn warnings(&self) -> Vec<DomeWarning> {
        let question = self.question;
        let depth = self.peak().or_else(|| Some(self.volume()? / self.area()));
        let deep = depth.and_then(|depth| {
            let prudent = question.coating.prudent_coat()?;
            prudent
                .is_passed_by(depth)
                .then_some(DomeWarning::DeepCoat { depth, prudent })
        });
        let saucer = question
            .solids()
            .filter(|&solids| may_saucer(solids))
            .map(|solids| DomeWarning::Saucer { solids });
        let holes = hole_troubles(self.outline(), Some(self.liquid.capillary_length()));
        let holes = holes.into_iter().map(DomeWarning::Hole);
        let thin = self.thin.share.filter(|&share| edge_may_draw_back(share));
        let thin = thin.map(|share| DomeWarning::ThinEdge { share });
        deep.into_iter()
            .chain(saucer)
            .chain(thin)
            .chain(holes)
            .collect()
    }

    /// So deep a fill is a slip of unit, most likely.
    fn slip(&self) -> Option<String> {
        let mean = self.volume()? / self.area();
        (mean - self.wall() > SLIP).then(|| {
            format!(
                "so much is {:.0} times the target and no dome any more: was another unit meant?",
                mean / self.window.target.mean_height
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
            self.question.piece.odd_drop(),
        ]
        .into_iter()
        .flatten()
        .chain(self.unknown.iter().map(|words| (*words).to_owned()))
        .collect()
    }
}

/// Where the figures come from that the dome rests on.
fn figures(question: &DomeQuestion) -> Vec<FigureSource> {
    let own = question.overrides;
    let given = |key| match key {
        Key::SurfaceTension => own.surface_tension.is_some(),
        Key::Density => own.density.is_some(),
        Key::Solids => own.solids.is_some(),
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

pub(super) fn answer(poured: &Poured) -> Result<DomeAnswer, DomeRefusal> {
    let window = poured.window;
    let area = poured.area();
    let volume = poured.volume();
    let mean_height = volume.map(|volume| volume / area);
    let mass = volume.map(|volume| volume * poured.liquid.density);
    let in_all = poured.in_all();
    let dry = poured.dry();
    let surface = poured.shape().map(|shape| shape.dome);
    let question = poured.question;
    let face = OneFace {
        pour: volume,
        in_all,
    };
    let piece = question
        .piece
        .answer(poured.outline(), &question.coating, face)?;
    let faces = f64::from(question.piece.faces.count());
    let mut cautions = care(question.coating.family());
    cautions.extend(question.piece.cautions());
    Ok(DomeAnswer {
        coating: question.coating.family().name.clone(),
        blank: question.blank.clone(),
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
        rim: (poured.wall() > Length::ZERO).then(|| area * poured.wall()),
        below_rim: poured.below_rim(),
        window,
        verdict: poured.verdict(),
        share_of_brim: volume.map(|volume| Share::from_fraction(volume / window.brim.volume)),
        dry,
        dry_height: poured
            .dry_height
            .map(|dry| dry.answer(volume, poured.liquid.density, &question.coating)),
        warnings: poured.warnings(),
        piece,
        ten_gain: mass.map(|mass| mass * 10.0),
        ten_gain_dry: dry.and_then(|dry| dry.mass).map(|mass| mass * 10.0),
        total: question
            .count
            .zip(in_all)
            .map(|(count, (volume, mass))| Total {
                count,
                volume: volume * faces * f64::from(count),
                mass: mass * faces * f64::from(count),
            }),
        level: poured.level,
        thin: poured.thin,
        corner_height_share: poured.corner(),
        inner_corners: poured.inner_corners,
        way_out: poured.way_out(),
        surface_tension: poured.liquid.surface_tension,
        density: poured.liquid.density,
        solids: question.solids(),
        capillary_length: poured.liquid.capillary_length(),
        figures: figures(question),
        remarks: poured.remarks(),
        cautions,
    })
}
