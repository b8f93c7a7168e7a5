//! The warnings in words.

use super::super::blush::{Blush, Reason, Risk};
use super::Warning;
use crate::quantity::show::{at_most, lasting};
use crate::quantity::{Show, Temperature, Time, Units};
use std::fmt;

/// A temperature to one decimal, for warnings.
struct Warm(Temperature);

impl fmt::Display for Warm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.1} °C", self.0.celsius())
    }
}

/// A time in whole hours or days, for warnings.
struct Long(Time);

impl fmt::Display for Long {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.h() < 72.0 {
            write!(f, "{:.0} h", self.0.h().max(1.0))
        } else {
            write!(f, "{:.0} days", self.0.days())
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::DewPoint { surface, dew_point } => write!(
                f,
                "the piece at {} is less than 3 K above the dew point of {}: dew may settle on it; warm the piece or dry the air",
                Warm(*surface),
                Warm(*dew_point)
            ),
            Self::FilmForming {
                film,
                minimum,
                warm_enough,
            } => {
                write!(
                    f,
                    "the wet film cools to {}, below the {} it needs to fuse: it may dry white or cracked, and later warmth does not mend it; ",
                    // rounded down, for it is below the minimum
                    Warm(Temperature::from_celsius(
                        (film.celsius() * 10.0).floor() / 10.0
                    )),
                    Warm(*minimum)
                )?;
                match warm_enough {
                    // rounded up, for "at least" must not be less
                    Some(air) => {
                        let tenths = (air.celsius() * 10.0).ceil() / 10.0;
                        write!(f, "warm the room to at least {tenths:.1} °C")
                    }
                    None => write!(f, "no room temperature up to 60 °C would do"),
                }
            }
            Self::Blush(blush) => blush_words(blush, f),
            Self::VeryDamp {
                humidity,
                will_not_dry_above,
            } => write!(
                f,
                "at {:.0} % drying is very slow, and above about {:.0} % the coat would not dry",
                humidity.percent(),
                will_not_dry_above.percent()
            ),
            Self::WillNotDry {
                humidity,
                dries_below,
            } => write!(
                f,
                "at {:.0} % the coat will not dry properly; it needs air below {:.0} %",
                humidity.percent(),
                dries_below.percent()
            ),
            Self::TooColdToCure { .. } | Self::HardlyCures { .. } => cold_words(self, f),
            Self::UncheckedDepth { depth } => write!(
                f,
                "a wet film of {:.2} mm is outside the 0.05 to 3 mm the drying model was checked at",
                depth.mm()
            ),
            Self::PiecesStayCold { pieces, dew_point } => write!(
                f,
                "pieces still at {} may catch dew (dew point {}): warm them with the room and before the pour, by a heater that sends its fumes outdoors",
                Warm(*pieces),
                Warm(*dew_point)
            ),
            Self::ColdLater { open, cold } => write!(
                f,
                "the surface stays open for about {}, and {} after the pour the room gets too cold for the film to form: it must be past that by then, so pour no later, better sooner",
                Long(*open),
                Long(*cold)
            ),
            Self::NotWithin { lasts } => write!(
                f,
                "it is not there when the record of the room's air ends, {} after the pour",
                Long(*lasts)
            ),
            Self::During { .. } => during_words(self, f),
            Self::CupRunsAway { .. } | Self::PotLifeShort { .. } => pot_words(self, f),
            Self::BeyondTheLamp { .. }
            | Self::TackyLayer
            | Self::LightMustReach
            | Self::MayFoam { .. }
            | Self::NeedsVapour
            | Self::NoVapour
            | Self::BoxNotCounted
            | Self::ClosedIn => cure_words(self, f),
            Self::BoxStalls { .. } | Self::BoxSlows { .. } => box_words(self, f),
            Self::FanDoesLittle { saves } => write!(
                f,
                "moving air saves only {:.0} % on a coat this thick, for the water has to come through it; it may skin over early, wrinkle and hold bubbles",
                saves.percent()
            ),
        }
    }
}

/// Of air too cold for a resin.
fn cold_words(warning: &Warning, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match warning {
        Warning::TooColdToCure {
            air,
            below,
            move_to,
        } => write!(
            f,
            "at {} the resin turns glassy before it has cured, and below {} no time past the gel can be promised: waiting does not help, move it to {} or warmer",
            Warm(*air),
            Warm(*below),
            Warm(*move_to)
        ),
        Warning::HardlyCures {
            air,
            below,
            move_to,
        } => write!(
            f,
            "at {} the resin hardly cures on, and if it stayed below {} it would not get past the gel in any time that can be promised: keep it at {} or warmer through those hours",
            Warm(*air),
            Warm(*below),
            Warm(*move_to)
        ),
        _ => Ok(()),
    }
}

fn blush_words(blush: &Blush, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    let risk = match blush.risk() {
        Risk::High => "high",
        Risk::Raised => "raised",
        Risk::Low => "low",
    };
    write!(f, "risk of blush (a greasy haze) is {risk}")?;
    let reasons = blush.reasons();
    for (i, reason) in reasons.iter().enumerate() {
        f.write_str(if i == 0 { ": " } else { "; " })?;
        reason_words(reason, f)?;
    }
    if reasons.iter().any(|r| matches!(r, Reason::Damp { .. })) {
        f.write_str(" (sources differ on where damp air begins to matter, between 70 % and 85 %)")?;
    }
    Ok(())
}

fn reason_words(reason: &Reason, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match reason {
        Reason::NearDewPoint { margin, limit, .. } => write!(
            f,
            "the piece is {:.1} K above the dew point, less than {:.0} K",
            margin.k(),
            limit.k()
        ),
        Reason::Damp {
            humidity, limit, ..
        } => write!(
            f,
            "the air is at {:.0} %, {:.0} % or more",
            humidity.percent(),
            limit.percent()
        ),
        Reason::Cold { air, limit, .. } => {
            write!(f, "the air is at {}, below {}", Warm(*air), Warm(*limit))
        }
        Reason::Fumes => f.write_str("the heater burns into the room"),
        Reason::Cooling => f.write_str("the room cools while the resin sets"),
    }
}

fn during_words(warning: &Warning, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    let Warning::During {
        worst,
        first,
        lasts,
        of,
    } = warning
    else {
        return Ok(());
    };
    if (*of - *lasts).s().abs() < 1.0 {
        return write!(f, "all the while, at the worst: {worst}");
    }
    let first = if first.h() < 0.5 {
        "from the pour on".to_owned()
    } else {
        format!("beginning {} after the pour", Long(*first))
    };
    write!(
        f,
        "{first}, for {} of {} in all: at the worst, {worst}",
        Long(*lasts),
        Long(*of)
    )
}

fn box_words(warning: &Warning, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match warning {
        Warning::BoxStalls {
            share_left,
            takes_up,
        } => write!(
            f,
            "in this sealed box drying stalls with {:.0} % of the water still in the coat, for its air takes up only {:.2} g: never close a lid over wet water-based work",
            share_left.percent(),
            takes_up.g()
        ),
        Warning::BoxSlows {
            times,
            humidity,
            least,
            fresh,
        } => write!(
            f,
            "the box comes to {:.0} % and makes the wet stage {times:.1} times as long: for a quarter longer at most it needs {} air changes an hour or more, which is {} L of fresh air a minute",
            humidity.percent(),
            // rounded up, for it is the least
            least.per_h().ceil(),
            fresh.l_per_min().ceil()
        ),
        _ => Ok(()),
    }
}

fn pot_words(warning: &Warning, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match warning {
        Warning::CupRunsAway { mass, gels } => write!(
            f,
            "{} left in its cup heats itself faster than the heat gets away and gels within about {}: it may crack, smoke or burn; mix less at a time, pour it at once or spread it in a flat tray, and never leave a full cup standing",
            mass.show(Units::Metric),
            lasting(*gels)
        ),
        Warning::PotLifeShort {
            working,
            wanted,
            at_most: most,
        } => {
            write!(
                f,
                "the mix can be worked with for about {}, not the {} that are wanted from when its parts meet; ",
                lasting(*working),
                wanted.show(Units::Metric)
            )?;
            match most {
                Some(mass) => write!(f, "mix {} at a time or less", at_most(*mass, Units::Metric)),
                None => write!(
                    f,
                    "smaller mixes do not mend it: work in a cooler room or plan shorter spells"
                ),
            }
        }
        _ => Ok(()),
    }
}

/// Of coats that a lamp or the moisture of the air cures.
fn cure_words(warning: &Warning, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match warning {
        Warning::BeyondTheLamp { depth } => write!(
            f,
            "{:.1} mm is deeper than the lamp's light reaches: cure it in thinner layers",
            depth.mm()
        ),
        Warning::TackyLayer => f.write_str(
            "a thin layer stays tacky and uncured where air was, however long under the lamp: wipe it off with a gloved hand, as the product's data sheet says",
        ),
        Warning::LightMustReach => f.write_str(
            "the times are times under the lamp, and only what its light reaches cures: opaque prints, pigments, deep shade and the far side of a piece are not covered",
        ),
        Warning::MayFoam { humidity } => write!(
            f,
            "at {:.0} % a coating with isocyanate may foam and hold bubbles as it cures, so no more speed is promised than at 80 %: dry the air a little or lay thinner coats",
            humidity.percent()
        ),
        Warning::NeedsVapour => f.write_str(
            "it cures by the vapour of the room's air: leave it open to that, for in a closed box it stops when the vapour is used up, and between two faces of metal or glass none gets in",
        ),
        Warning::BoxNotCounted => f.write_str(
            "what a closed box does to this kind of coating is not worked out, so the times are those of the open room; take it out of the box, or leave it well open",
        ),
        Warning::NoVapour => {
            f.write_str("it gets no vapour to cure by and stays wet: take it out of a closed box, or into damper air")
        }
        Warning::ClosedIn => f.write_str(
            "between two faces of metal or glass no vapour gets in: it stays wet inside, and waiting does not help",
        ),
        _ => Ok(()),
    }
}
