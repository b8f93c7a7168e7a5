//! What a maker should be told about a coat in its room. The words are here
//! and nowhere else.

use super::blush::{Blush, Reason, Risk};
use crate::quantity::{AirChanges, AirFlow, Humidity, Length, Mass, Share, Temperature, Time};
use std::fmt;

/// A warning, with the figures behind it. Show it with `{}`.
#[derive(Debug, Clone, PartialEq)]
pub enum Warning {
    /// The piece is nearly cold enough for dew: less than 3 K above the dew point.
    DewPoint {
        /// Temperature of the piece.
        surface: Temperature,
        /// Dew point of the air.
        dew_point: Temperature,
    },
    /// The wet film is colder than its film-forming minimum.
    FilmForming {
        /// Temperature of the wet film.
        film: Temperature,
        /// The film-forming minimum.
        minimum: Temperature,
        /// Air this warm, with the same water in it, would do.
        warm_enough: Option<Temperature>,
    },
    /// Blush or haze is to be expected more than usual.
    Blush(Blush),
    /// Air so damp that drying is very slow.
    VeryDamp {
        /// Relative humidity of the air.
        humidity: Humidity,
        /// Above this it would not dry at all.
        will_not_dry_above: Humidity,
    },
    /// Air in which the coat will not dry properly.
    WillNotDry {
        /// Relative humidity of the air.
        humidity: Humidity,
        /// It dries below this.
        dries_below: Humidity,
    },
    /// Too cold for the resin to cure, however long one waits.
    TooColdToCure {
        /// Temperature of the air.
        air: Temperature,
        /// No time is promised below this.
        below: Temperature,
        /// Move it to at least this.
        move_to: Temperature,
    },
    /// The coat is outside the depths the model was checked at.
    UncheckedDepth {
        /// Wet film thickness.
        depth: Length,
    },
    /// Once its surface is there, hours come that are too cold for the film to form.
    ColdLater {
        /// How long the surface stays open.
        open: Time,
        /// How long after the pour the cold begins.
        cold: Time,
    },
    /// It lies in a box, which is not worked out for this kind of coating.
    BoxNotCounted,
    /// It is not there when the record of the room's air ends.
    NotWithin {
        /// How long the record lasts from the pour on.
        lasts: Time,
    },
    /// Some hours of the room's air bring this.
    During {
        /// The worst of it.
        worst: Box<Self>,
        /// How long after the pour it first does.
        first: Time,
        /// For how long in all.
        lasts: Time,
        /// Of how long.
        of: Time,
    },
    /// The pieces are colder than air that is heated around them.
    PiecesStayCold {
        /// Temperature of the pieces before they warm.
        pieces: Temperature,
        /// Dew point of the air, which heating leaves as it is.
        dew_point: Temperature,
    },
    /// A mix that, left in its cup, comes to make heat faster than it can lose it.
    CupRunsAway {
        /// How much was mixed.
        mass: Mass,
        /// When it gels in the cup.
        gels: Time,
    },
    /// A mix that can't be worked with as long as is wanted.
    PotLifeShort {
        /// How long it can be worked with.
        working: Time,
        /// How long is wanted.
        wanted: Time,
        /// The most to mix at once so that it would be enough, if any mix would do.
        at_most: Option<Mass>,
    },
    /// Deeper than the lamp's light reaches in any sensible time.
    BeyondTheLamp {
        /// Wet film thickness.
        depth: Length,
    },
    /// Air keeps a thin layer of a lamp-cured coat tacky.
    TackyLayer,
    /// What a lamp's light does not reach does not cure.
    LightMustReach,
    /// A coat that vapour cures, in air so damp that it may foam.
    MayFoam {
        /// Relative humidity of the air.
        humidity: Humidity,
    },
    /// A coat that vapour cures must lie open to it.
    NeedsVapour,
    /// A coat that vapour cures, in air that holds none.
    NoVapour,
    /// A coat that vapour cures, where none gets to it.
    ClosedIn,
    /// A sealed box whose air takes up no more water long before the coat is dry.
    BoxStalls {
        /// Share of its water that stays in the coat.
        share_left: Share,
        /// Water that the air in the box takes up in all.
        takes_up: Mass,
    },
    /// A box that keeps much of the vapour of its pieces.
    BoxSlows {
        /// How many times longer the wet stage takes in it, `[1]`.
        times: f64,
        /// Relative humidity it comes to while the pieces are wet.
        humidity: Humidity,
        /// Fewest air changes for a quarter longer at most.
        least: AirChanges,
        /// The same as a flow of fresh air.
        fresh: AirFlow,
    },
    /// Moving air does little for a coat this thick and may skin it over.
    FanDoesLittle {
        /// Share of the time that it saves.
        saves: Share,
    },
}

impl Warning {
    /// A short fixed name, for machine-readable output.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::DewPoint { .. } => "dew-point",
            Self::FilmForming { .. } => "film-forming",
            Self::Blush(blush) => match blush.risk() {
                Risk::High => "blush-high",
                Risk::Raised => "blush-raised",
                Risk::Low => "blush-low",
            },
            Self::VeryDamp { .. } => "very-damp",
            Self::WillNotDry { .. } => "will-not-dry",
            Self::TooColdToCure { .. } => "too-cold-to-cure",
            Self::UncheckedDepth { .. } => "unchecked-depth",
            Self::NotWithin { .. } => "not-within",
            Self::BoxNotCounted => "box-not-counted",
            Self::ColdLater { .. } => "cold-later",
            Self::PiecesStayCold { .. } => "pieces-stay-cold",
            Self::During { worst, .. } => worst.code(),
            Self::CupRunsAway { .. } => "cup-runs-away",
            Self::PotLifeShort { .. } => "pot-life-short",
            Self::BeyondTheLamp { .. } => "beyond-the-lamp",
            Self::TackyLayer => "tacky-layer",
            Self::LightMustReach => "light-must-reach",
            Self::MayFoam { .. } => "may-foam",
            Self::NeedsVapour => "needs-vapour",
            Self::NoVapour => "no-vapour",
            Self::ClosedIn => "closed-in",
            Self::BoxStalls { .. } => "box-stalls",
            Self::BoxSlows { .. } => "box-slows",
            Self::FanDoesLittle { .. } => "fan-does-little",
        }
    }

    /// Whether it is of a coat that is still wet: dew, or a high risk of blush.
    pub(super) fn is_of_wet_coats(&self) -> bool {
        match self {
            Self::DewPoint { .. } => true,
            Self::Blush(blush) => blush.risk() == Risk::High,
            Self::During { worst, .. } => worst.is_of_wet_coats(),
            _ => false,
        }
    }

    /// How bad it is among warnings of its own kind: more is worse.
    pub(super) fn severity(&self) -> f64 {
        match self {
            Self::DewPoint { surface, dew_point } => (*dew_point - *surface).k(),
            Self::FilmForming { film, minimum, .. } => (*minimum - *film).k(),
            Self::VeryDamp { humidity, .. }
            | Self::WillNotDry { humidity, .. }
            | Self::MayFoam { humidity } => humidity.fraction(),
            Self::TooColdToCure { air, below, .. } => (*below - *air).k(),
            Self::Blush(blush) => blush.severity(),
            Self::BoxStalls { share_left, .. } => share_left.fraction(),
            Self::BoxSlows { times, .. } => *times,
            Self::UncheckedDepth { .. }
            | Self::FanDoesLittle { .. }
            | Self::BeyondTheLamp { .. }
            | Self::TackyLayer
            | Self::LightMustReach
            | Self::NeedsVapour
            | Self::NoVapour
            | Self::BoxNotCounted
            | Self::ClosedIn
            | Self::NotWithin { .. }
            | Self::ColdLater { .. }
            | Self::PiecesStayCold { .. }
            | Self::CupRunsAway { .. }
            | Self::PotLifeShort { .. }
            | Self::During { .. } => 0.0,
        }
    }
}

/// A mass of two figures, rounded down, for it is the most.
struct AtMost(Mass);

impl fmt::Display for AtMost {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let grams = self.0.g();
        if grams < 10.0 {
            write!(f, "{:.1} g", (grams * 10.0).floor() / 10.0)
        } else {
            let step = 10f64.powf(grams.log10().floor() - 1.0);
            write!(f, "{:.0} g", (grams / step).floor() * step)
        }
    }
}

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
            Self::TooColdToCure {
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
            "{:.0} g left in its cup heats itself faster than the heat gets away and gels within about {:.0} min: it may crack, smoke or burn; mix less at a time, pour it at once or spread it in a flat tray, and never leave a full cup standing",
            mass.g(),
            gels.min()
        ),
        Warning::PotLifeShort {
            working,
            wanted,
            at_most,
        } => {
            write!(
                f,
                "the mix can be worked with for about {:.0} min, not the {:.0} min that are wanted; ",
                working.min(),
                wanted.min()
            )?;
            match at_most {
                Some(mass) => write!(f, "mix {} at a time or less", AtMost(*mass)),
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
            f.write_str("the air holds no vapour for it to cure by: it stays wet until there is some")
        }
        Warning::ClosedIn => f.write_str(
            "between two faces of metal or glass no vapour gets in: it stays wet inside, and waiting does not help",
        ),
        _ => Ok(()),
    }
}
