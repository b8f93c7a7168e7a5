//! When to look for bubbles in a coat that was poured.

use super::NoTime;
use crate::coating::{Applied, Coating, Law as LawName};
use crate::cure::bubbles::{BubbleCheck, Layer, Sets};
use crate::cure::law::{Law, Reached};
use crate::cure::situation::Situation;
use crate::cure::viscosity::Viscosity;
use crate::quantity::Time;
use crate::stage::Stage;

/// When to look for bubbles, in the air of the pour. `None` for a coat that is not
/// poured, or of which too little is known.
pub(super) fn for_bubbles(
    coating: &Coating,
    law: &dyn Law,
    (label, here): (&Situation, &Situation),
) -> Result<Option<BubbleCheck>, NoTime> {
    let poured = coating.family().applied == Applied::Flooded;
    let (Some(at_23), Some(energy), Some(density), true) = (
        coating.viscosity(),
        coating.viscosity_energy(),
        coating.density(),
        poured,
    ) else {
        return Ok(None);
    };
    let surface = surface(coating, law, label, here)?;
    let sets = match (coating.law(), surface) {
        (LawName::Lamp, _) => Sets::UnderTheLamp,
        (LawName::Epoxy, Some(gel)) => Sets::Gels(gel),
        (LawName::WaterFilm | LawName::MoistureCure, Some(skin)) => Sets::Skins(skin),
        _ => return Ok(None),
    };
    let viscosity = Viscosity { at_23, energy }.at(here.air().temperature());
    let layer = Layer::new(here.wet_depth(), density, viscosity)?;
    Ok(Some(BubbleCheck::of(&layer, sets)?))
}

/// How long the surface stays open: by the law's own clock where that is time, and
/// otherwise by the label's, a stage that it names being so many times the law's.
fn surface(
    coating: &Coating,
    law: &dyn Law,
    label: &Situation,
    here: &Situation,
) -> Result<Option<Time>, NoTime> {
    let open = match law.reach(Stage::TackFree, here)? {
        Reached::After(lapse) => lapse,
        Reached::Never(_) => return Ok(None),
    };
    if law.tells_time() {
        return Ok(Some(open));
    }
    let Some((&stage, told)) = coating.label().times.first_key_value() else {
        return Ok(None);
    };
    Ok(match law.reach(stage, label)? {
        Reached::After(lapse) => Some(told.time * (open / lapse)),
        Reached::Never(_) => None,
    })
}
