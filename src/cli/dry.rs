//! `brimful dry`: how long a coat takes in this room.

use std::collections::BTreeMap;
use std::io::Write;

use super::blank::Top;
use super::counts::whole;
use super::dry_lamp::LampArgs;
use super::failure::{Failure, wrong};
use super::room::{RecordArgs, climate, clock, day_and_night};
use crate::ask::{self, DryQuestion, family_named};
use crate::coating::{Coating, Family, Label, Source, StageTime};
use crate::cure::Enclosure;
use crate::cure::air::Draught;
use crate::cure::transfer::Tray;
use crate::drying::{EVENING, Recorded, Room, footprint};
use crate::quantity::{AirChanges, Length, Time, Units, Volume};
use crate::show::{dry_text, no_date};
use crate::stage::Stage;
use jiff::civil::Time as Clock;

const EXAMPLES: &str = r#"Examples:
  brimful dry --coating "water-based dome glaze" --at "12 C" "70 %"
  brimful dry --coating "water-based sealer" --at "60 F" "75 %" --air fan --us
  brimful dry --coating "two-part dome epoxy" --at "19 C" "75 %" --handle "18 h"
  brimful dry --coating "water-based dome glaze" --at "22 C" "55 %" --night "14 C" "75 %" --pour 19:00
  brimful dry --coating "water-based dome glaze" --logger loft.csv --within "36 h"
  brimful dry --coating "water-based dome glaze" --weather town.epw --month 11 --heated "18 C"
  brimful dry --coating "lamp-cured dome resin" --at "20 C" "50 %" --light "8 mW/cm2" --light-at "50 mm" --held-at "80 mm" --pass "60 s"

The exit code is 1 where the coat never gets there in this room."#;

/// Asks how long a coat takes in this room, and what would help.
#[derive(Debug, clap::Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Args {
    /// The coating; `brimful coatings` lists them
    #[arg(long, value_name = "NAME")]
    coating: String,
    /// The room's temperature and relative humidity, such as "12 C" "70 %"
    #[arg(long, required_unless_present = "record", conflicts_with = "record", num_args = 2, value_names = ["TEMPERATURE", "HUMIDITY"], allow_hyphen_values = true)]
    at: Option<Vec<String>>,
    /// The same from 20:00 to 8:00, where the nights differ; --at is then the day
    #[arg(long, requires = "at", num_args = 2, value_names = ["TEMPERATURE", "HUMIDITY"], allow_hyphen_values = true)]
    night: Option<Vec<String>>,
    #[command(flatten)]
    record: RecordArgs,
    /// Wet depth of the coat, such as "1.5 mm"; left out, 2 mm for a dome, or the family's usual film
    #[arg(long, allow_hyphen_values = true)]
    depth: Option<Length>,
    /// Wet depth that the label's times are for; left out, the family's usual depth, or a thinner --depth where that is sooner here
    #[arg(long, value_name = "DEPTH", allow_hyphen_values = true)]
    label_depth: Option<Length>,
    #[command(flatten)]
    top: Top,
    /// Temperature and humidity that the label's times are for, such as "23 C" "50 %"
    #[arg(long, num_args = 2, value_names = ["TEMPERATURE", "HUMIDITY"], allow_hyphen_values = true)]
    label: Option<Vec<String>>,
    /// The label's time until dust-free, such as "40 min"
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    dust_free: Option<Time>,
    /// The label's time until tack-free, such as "4 h"
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    tack_free: Option<Time>,
    /// The label's time until dry to handle
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    handle: Option<Time>,
    /// The label's time until the next coat
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    recoat: Option<Time>,
    /// The label's latest time for the next coat
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    recoat_until: Option<Time>,
    /// The label's time until pieces may lie in a bag
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    bag: Option<Time>,
    /// The label's time until full hardness
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    hard: Option<Time>,
    /// The label's time until dry through
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    through: Option<Time>,
    /// The tray that the piece shares: its two sides and how many lie on it, such as "300 mm" "400 mm" 24
    #[arg(long, num_args = 3, value_names = ["LENGTH", "WIDTH", "PIECES"], allow_hyphen_values = true)]
    tray: Option<Vec<String>>,
    /// The cupboard or lidded tub that it is shut in: what it holds, such as "60 L"; needs --air-changes
    #[arg(
        long,
        value_name = "VOLUME",
        requires = "air_changes",
        allow_hyphen_values = true
    )]
    shut_in: Option<Volume>,
    /// How many times an hour the box's air is changed, 0 for a lid that is on; needs --shut-in
    #[arg(
        long,
        value_name = "NUMBER",
        requires = "shut_in",
        allow_hyphen_values = true
    )]
    air_changes: Option<f64>,
    /// Wet pieces in the box; left out, those on the tray, or one. Needs --shut-in and --air-changes
    #[arg(long, value_name = "NUMBER", requires = "shut_in", allow_hyphen_values = true, value_parser = whole(1..=1_000_000))]
    pieces: Option<u32>,
    #[command(flatten)]
    lamp: LampArgs,
    /// The clock time at which coats are laid; where the room changes, 19:00 if it is left out
    #[arg(long, value_name = "TIME", value_parser = clock)]
    pour: Option<Clock>,
    /// When you go to sleep, such as 22:00, so that the look for bubbles comes before
    #[arg(long, value_name = "TIME", value_parser = clock)]
    asleep: Option<Clock>,
    /// Ask which room would have it done in this time, such as "36 h"
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    within: Option<Time>,
    /// Show degrees Fahrenheit and inches
    #[arg(long)]
    us: bool,
    /// Write JSON, each key with its unit
    #[arg(long)]
    json: bool,
}

impl Args {
    pub(super) fn run(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let family = family_named(&self.coating).map_err(wrong)?;
        let label = self.read_label(family)?;
        let pour = self.pour.unwrap_or(EVENING);
        let recorded = self.record.read(pour)?;
        let notices = recorded
            .as_ref()
            .map(|recorded| recorded.notices.clone())
            .unwrap_or_default();
        let question = DryQuestion {
            coating: Coating::with(family, [], label).map_err(wrong)?,
            room: self.room(recorded)?,
            depth: self.depth,
            label_depth: self.label_depth,
            blank: self.top.outline()?.map(|top| footprint(&top)),
            tray: self.tray()?,
            shut_in: self.shut_in()?,
            lamp: self.lamp.read(),
            within: self.within,
            notices,
            poured: self.pour.or(self.record.is_named().then_some(EVENING)),
            asleep: self.asleep,
        };
        let answer = ask::dry(&question).map_err(wrong)?;
        let units = if self.us { Units::Us } else { Units::Metric };
        if self.json {
            super::json(out, &answer)?;
        } else {
            out.write_all(dry_text(&answer, units).as_bytes())?;
        }
        no_date(&answer, units).map_or(Ok(()), |why| Err(Failure::CannotBeDone(why)))
    }

    /// The room: steady, by day and night, or as a record has it.
    fn room(&self, recorded: Option<Recorded>) -> Result<Room, Failure> {
        if let Some(recorded) = recorded {
            return Ok(recorded.room);
        }
        let (temperature, humidity) = climate("--at", self.at.as_deref().unwrap_or_default())?;
        let day = self.record.air(temperature, humidity)?;
        let Some(night) = &self.night else {
            return Ok(Room::Steady(day));
        };
        let (temperature, humidity) = climate("--night", night)?;
        let night = self.record.air(temperature, humidity)?;
        day_and_night(day, night, self.pour.unwrap_or(EVENING))
    }

    /// The box that it is shut in.
    fn shut_in(&self) -> Result<Option<Enclosure>, Failure> {
        let (Some(volume), Some(changes)) = (self.shut_in, self.air_changes) else {
            return Ok(None);
        };
        let on_tray = self.tray()?.map_or(1, |tray| tray.pieces);
        let pieces = self.pieces.unwrap_or(on_tray);
        // a cupboard's air moves as on a sheltered shelf, a sealed tub's less
        let inside = if changes > 0.0 {
            Draught::Sheltered
        } else {
            Draught::ClosedBox
        };
        Enclosure::new(volume, AirChanges::from_per_h(changes), pieces)
            .and_then(|shut| shut.with_air_inside(inside))
            .map(Some)
            .map_err(wrong)
    }

    /// The tray that the piece shares.
    fn tray(&self) -> Result<Option<Tray>, Failure> {
        let Some(read) = &self.tray else {
            return Ok(None);
        };
        let [length, width, pieces] = read.as_slice() else {
            return Err(wrong(
                "--tray takes its two sides and how many pieces lie on it",
            ));
        };
        let side = |text: &str| {
            text.parse::<Length>()
                .map_err(|fault| wrong(format!("--tray: {fault}")))
        };
        let pieces = pieces.trim().parse().map_err(|_| {
            wrong(format!(
                "--tray: read \"{pieces}\", expected how many pieces lie on it, such as 24"
            ))
        })?;
        Ok(Some(Tray {
            length: side(length)?,
            width: side(width)?,
            pieces,
        }))
    }

    /// The family's label with the maker's own air; where one of the times is
    /// the maker's own, the family's are left out.
    fn read_label(&self, family: &Family) -> Result<Label, Failure> {
        let mut label = family.label.clone();
        if let Some(at) = &self.label {
            (label.temperature, label.humidity) = climate("--label", at)?;
            label.at_source = as_given();
        }
        let own = [
            (Stage::DustFree, self.dust_free),
            (Stage::TackFree, self.tack_free),
            (Stage::Handle, self.handle),
            (Stage::Recoat, self.recoat),
            (Stage::RecoatUntil, self.recoat_until),
            (Stage::Through, self.through),
            (Stage::Bag, self.bag),
            (Stage::Hard, self.hard),
        ];
        let own: BTreeMap<Stage, Time> = own
            .into_iter()
            .filter_map(|(stage, time)| Some((stage, time?)))
            .collect();
        if own.is_empty() {
            return Ok(label);
        }
        for (stage, time) in &own {
            if *time <= Time::ZERO {
                let words = format!(
                    "the label's time for {} must be more than nothing",
                    stage.name()
                );
                return Err(wrong(words));
            }
            let sooner = own
                .iter()
                .find(|(later, after)| stage.precedes(**later) && *after < time);
            if let Some((later, _)) = sooner {
                let (later, stage) = (later.name(), stage.name());
                let words = format!(
                    "a coat does not reach {later} before {stage}: the label's times must rise"
                );
                return Err(wrong(words));
            }
        }
        label.times = own
            .into_iter()
            .map(|(stage, time)| {
                let source = as_given();
                (stage, StageTime { time, source })
            })
            .collect();
        Ok(label)
    }
}

/// The source of what stands on the command line.
fn as_given() -> Source {
    Source::Published("as given".to_owned())
}
