//! Words for a plan's mixes: all of it in one cup, and mixes too small to weigh.

use crate::cure;
use crate::plan::{AssumedMass, SmallMix, Warning};
use crate::quantity::show::{at_least, lasting};
use crate::quantity::{Show, Units};

/// What becomes of all of a coating's mix in one cup, or that no mix lasts.
pub(super) fn in_cup(warning: &Warning, units: Units) -> String {
    let Warning::AllAtOnce {
        coating,
        mixes,
        warning,
    } = warning
    else {
        return String::new();
    };
    let said = || crate::show::warning::warning(warning, units);
    match warning {
        cure::Warning::CupRunsAway { mass, gels } if *mixes < 2 => format!(
            "{coating}: its one mix of {}, left standing in its cup, may heat itself and gel within about {}: pour it out at once",
            mass.show(units),
            lasting(*gels)
        ),
        cure::Warning::PotLifeShort { .. } => format!("{coating}, for even one piece: {}", said()),
        _ => format!("{coating}, if all of it were mixed at once: {}", said()),
    }
}

/// That mixes are smaller than what is worth weighing, and what to do about it.
pub(super) fn too_small(coating: &str, small: &SmallMix, units: Units) -> String {
    let [coarse, fine] = small.least;
    let each = small.each.show(units);
    let mixes = match (small.small, small.mixes) {
        (_, 1) => format!("its one mix of about {each} is"),
        (some, many) if some == many && small.alike => {
            format!("its {many} mixes of about {each} each are")
        }
        (1, many) => format!("one of its {many} mixes, of about {each}, is"),
        (some, many) => format!("{some} of its {many} mixes, of about {each} at the least, are"),
    };
    let kitchen = at_least(coarse.mix, units);
    let [reads, reads_finer] = [coarse.scale, fine.scale].map(|scale| scale.show(units));
    let instead = if small.each < fine.mix {
        format!(
            ", and than the {} on one that reads {reads_finer}: measure by volume, or mix that much and let what is left cure",
            at_least(fine.mix, units)
        )
    } else {
        format!(": weigh on one that reads {reads_finer}")
    };
    format!(
        "{coating}: {mixes} less than the {kitchen} worth weighing on a scale that reads {reads}{instead}{}",
        small
            .assumed
            .map_or_else(String::new, |assumed| tell_mass(assumed, units))
    )
}

/// What telling the label's mass may change.
fn tell_mass(assumed: AssumedMass, units: Units) -> String {
    let serves = match assumed.plain {
        1 => "1 piece".to_owned(),
        many => format!("{many} pieces"),
    };
    format!(
        "; tell pot_life_mass: if the label means {} in a cup, one mix serves {serves} instead of {}",
        assumed.mass.show(units),
        assumed.worst
    )
}
