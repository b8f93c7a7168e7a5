//! Which weeks of a record are fit to coat in.

use super::over_time::later;
use super::{Coat, Drier, NoTime};
use crate::cure::psychro::{saturation_pressure, vapour_pressure};
use crate::cure::series::Promise;
use crate::cure::situation::Spell;
use crate::cure::starts::{Fit, fitness};
use crate::quantity::{Humidity, Share, Temperature, Time};
use crate::stage::Stage;
use jiff::civil::{Date, DateTime};

/// How long a coat may take in a week that counts as fit, as a multiple of its label's time.
pub const SLOWEST_FIT: f64 = 1.5;

/// The weeks of a record.
#[derive(Debug, Clone, PartialEq)]
pub struct Season {
    /// The stage that must be reached.
    pub stage: Stage,
    /// In no more than this.
    pub within: Time,
    /// Every week in which a coat can be laid and told of, in order.
    pub weeks: Vec<Week>,
}

/// One week of a record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Week {
    /// Its Monday.
    pub monday: Date,
    /// Hours at which a coat could be laid and the record lasts long enough to tell.
    pub hours: Time,
    /// Share of them from which a coat is there in time and unspoilt.
    pub fit: Share,
    /// Share of them from which it is in time, but dew, blush or cold spoils it.
    pub spoilt: Share,
    /// Mean temperature of the room.
    pub temperature: Temperature,
    /// Its humidity at that temperature: that of the mean vapour.
    pub humidity: Humidity,
}

/// A stretch of a record without a gap: when it begins, and its spells.
pub type Stretch = (DateTime, Vec<Spell>);

impl Drier<'_> {
    /// Which weeks of a record are fit to lay this coat in. `None` where the label has
    /// no time to hold it against.
    ///
    /// # Errors
    /// [`NoTime`] where the coat is outside what its law covers.
    pub fn season(&self, coat: &Coat, record: &[Stretch]) -> Result<Option<Season>, NoTime> {
        let Some((stage, takes)) = self.ruling() else {
            return Ok(None);
        };
        let (label, here) = self.situations(coat)?;
        let promise = Promise {
            stage,
            takes,
            at: label,
        };
        let surface = promise.of_surface(self.law(), self.surface_time())?;
        let within = takes * SLOWEST_FIT;
        let mut sums: Vec<(Date, Sum)> = Vec::new();
        for (begins, spells) in record {
            let fits = fitness(self.law(), &promise, &surface, within, (&here, spells))?;
            let mut passed = Time::ZERO;
            for (spell, fit) in spells.iter().zip(fits) {
                let monday = monday(*begins, passed);
                if sums.last().is_none_or(|(last, _)| *last != monday) {
                    sums.push((monday, Sum::default()));
                }
                if let Some((_, sum)) = sums.last_mut() {
                    sum.add(spell, fit);
                }
                passed = passed + spell.lasts;
            }
        }
        let weeks = sums
            .into_iter()
            .filter_map(|(monday, sum)| sum.week(monday));
        Ok(Some(Season {
            stage,
            within,
            weeks: weeks.collect(),
        }))
    }
}

/// The Monday of the week that a moment lies in.
fn monday(begins: DateTime, passed: Time) -> Date {
    let date = later(begins, passed).unwrap_or(begins).date();
    let days = i64::from(date.weekday().to_monday_zero_offset());
    date.checked_sub(jiff::Span::new().days(days))
        .unwrap_or(date)
}

/// What adds up over a week.
#[derive(Debug, Clone, Copy, Default)]
struct Sum {
    told: f64,
    fit: f64,
    spoilt: f64,
    all: f64,
    celsius: f64,
    vapour: f64,
}

impl Sum {
    fn add(&mut self, spell: &Spell, fit: Fit) {
        let lasts = spell.lasts.s();
        self.all += lasts;
        self.celsius += lasts * spell.air.temperature().celsius();
        self.vapour += lasts * vapour_pressure(&spell.air).pa();
        if fit != Fit::Untold {
            self.told += lasts;
        }
        match fit {
            Fit::Fit => self.fit += lasts,
            Fit::Spoilt => self.spoilt += lasts,
            Fit::Slow | Fit::Untold => {}
        }
    }

    fn week(&self, monday: Date) -> Option<Week> {
        let temperature = Temperature::from_celsius(self.celsius / self.all);
        let vapour = self.vapour / self.all;
        (self.told > 0.0).then(|| Week {
            monday,
            hours: Time::from_s(self.told),
            fit: Share::from_fraction(self.fit / self.told),
            spoilt: Share::from_fraction(self.spoilt / self.told),
            temperature,
            // the mean of damp airs may hold more than air of their mean temperature
            humidity: Humidity::from_fraction(
                (vapour / saturation_pressure(temperature).pa()).min(1.0),
            ),
        })
    }
}
