//! Figures of a plan's JSON, each marked with where it stands there.

use jiff::civil::{Date, DateTime};
use maud::{Markup, html};
use serde_json::Value;

use super::SheetError;
use crate::quantity::show::digits_told;
use crate::quantity::{Length, Mass, Money, Share, Show, Temperature, Time, Units, Volume};
use crate::show::draw::clean;
use crate::show::draw::figure::{digits_apart, significant};
use crate::show::{mixing, words, work};

/// A piece of the page, or why it can't be made.
pub(super) type Part = Result<Markup, SheetError>;

/// The plan's JSON, and the units to show it in.
pub(super) struct Figures {
    root: Value,
    pub units: Units,
    /// Whether dates have to say their year.
    years: bool,
}

impl Figures {
    pub fn new(root: Value, units: Units, years: bool) -> Self {
        Self { root, units, years }
    }

    fn get(&self, at: &str) -> Option<&Value> {
        self.root.pointer(at).filter(|found| !found.is_null())
    }

    /// Whether something stands there.
    pub fn has(&self, at: &str) -> bool {
        self.get(at).is_some()
    }

    /// Whether it is a yes.
    pub fn is(&self, at: &str) -> bool {
        self.get(at).and_then(Value::as_bool).unwrap_or(false)
    }

    /// The words that stand there; none where there are none.
    pub fn said(&self, at: &str) -> &str {
        self.get(at).and_then(Value::as_str).unwrap_or_default()
    }

    /// Where the items of a list stand, in order.
    pub fn each(&self, at: &str) -> Vec<String> {
        let count = self.get(at).and_then(Value::as_array).map_or(0, Vec::len);
        (0..count).map(|index| format!("{at}/{index}")).collect()
    }

    fn text(&self, at: &str) -> Result<&str, SheetError> {
        let missing = || SheetError::Missing(at.to_owned());
        self.get(at).and_then(Value::as_str).ok_or_else(missing)
    }

    /// The number that stands there.
    pub fn number(&self, at: &str) -> Result<f64, SheetError> {
        let missing = || SheetError::Missing(at.to_owned());
        self.get(at).and_then(Value::as_f64).ok_or_else(missing)
    }

    /// A figure in words, with its own number beside it.
    fn shown(&self, at: &str, words: impl FnOnce(f64) -> String) -> Part {
        let value = self.number(at)?;
        let raw = self.get(at).map(Value::to_string).unwrap_or_default();
        Ok(html! { data value=(raw) data-from=(at) { (words(value)) } })
    }

    /// A whole number.
    pub fn count(&self, at: &str) -> Part {
        self.shown(at, |count| format!("{count:.0}"))
    }

    /// A number as the maker gave it.
    pub fn plain(&self, at: &str) -> Part {
        self.shown(at, |number| number.to_string())
    }

    /// From millilitres, as the maker gave it: what a bottle holds.
    pub fn holds(&self, at: &str) -> Part {
        self.shown(at, |ml| Volume::from_ml(ml).show(self.units))
    }

    /// A box's volume from litres.
    pub fn litres(&self, at: &str) -> Part {
        self.shown(at, |l| Volume::from_l(l).show(self.units))
    }

    /// From millilitres, worked out.
    pub fn volume(&self, at: &str) -> Part {
        self.shown(at, |ml| worked_out(&Volume::from_ml(ml).show(self.units)))
    }

    /// From millilitres, a fill: told by as many digits as the syringe of its piece tells it.
    pub fn fill(&self, at: &str, beside: &[String]) -> Part {
        let in_unit = |ml: f64| match self.units {
            Units::Metric => ml,
            Units::Us => Volume::from_ml(ml).us_fl_oz(),
        };
        let unit = match self.units {
            Units::Metric => "mL",
            Units::Us => "fl oz",
        };
        let beside = beside.iter().filter_map(|at| self.get(at)?.as_f64());
        let beside: Vec<f64> = beside.map(in_unit).collect();
        let digits = digits_apart(&beside);
        self.shown(at, |ml| {
            let value = in_unit(ml);
            format!("{} {unit}", significant(value, digits_told(value, digits)))
        })
    }

    /// From grams, worked out.
    pub fn mass(&self, at: &str) -> Part {
        self.shown(at, |g| worked_out(&Mass::from_g(g).show(self.units)))
    }

    /// From grams, a part of a mix.
    pub fn part_weighed(&self, at: &str) -> Part {
        self.shown(at, |g| mixing::part_weighed(Mass::from_g(g), self.units))
    }

    /// From grams, a part of what one piece takes of a mix.
    pub fn part_finely_weighed(&self, at: &str) -> Part {
        self.shown(at, |g| {
            mixing::part_finely_weighed(Mass::from_g(g), self.units)
        })
    }

    /// From millilitres, a part of what one piece takes of a mix.
    pub fn part_finely_measured(&self, at: &str) -> Part {
        self.shown(at, |ml| {
            mixing::part_finely_measured(Volume::from_ml(ml), self.units)
        })
    }

    /// From millilitres, a part of a mix.
    pub fn part_measured(&self, at: &str) -> Part {
        self.shown(at, |ml| {
            mixing::part_measured(Volume::from_ml(ml), self.units)
        })
    }

    /// From millimetres, worked out.
    pub fn height(&self, at: &str) -> Part {
        self.shown(at, |mm| worked_out(&Length::from_mm(mm).show(self.units)))
    }

    /// From millimetres, as the maker gave it.
    pub fn length(&self, at: &str) -> Part {
        self.shown(at, |mm| Length::from_mm(mm).show(self.units))
    }

    /// From degrees Celsius.
    pub fn temperature(&self, at: &str) -> Part {
        self.shown(at, |c| Temperature::from_celsius(c).show(self.units))
    }

    /// From minutes, the longest that a mix may be worked with.
    pub fn at_most(&self, at: &str) -> Part {
        self.shown(at, |min| mixing::lasting(Time::from_min(min)))
    }

    /// From minutes.
    pub fn minutes(&self, at: &str) -> Part {
        self.shown(at, |min| Time::from_min(min).show(self.units))
    }

    /// From per cent.
    pub fn percent(&self, at: &str) -> Part {
        self.shown(at, |percent| Share::from_percent(percent).show(self.units))
    }

    /// A chance from 0 to 1, never told as nothing or as certain.
    pub fn chance(&self, at: &str) -> Part {
        self.shown(at, |chance| words::percent(Share::from_fraction(chance)))
    }

    /// In the run's currency.
    pub fn money(&self, at: &str) -> Part {
        self.shown(at, |amount| Money::from_amount(amount).show(self.units))
    }

    /// The same of what is left, which may be a loss.
    pub fn gain(&self, at: &str) -> Part {
        self.shown(at, |amount| {
            words::gain(Money::from_amount(amount), self.units)
        })
    }

    /// A name, which keeps its own direction of writing.
    pub fn name(&self, at: &str) -> Part {
        Ok(html! { bdi data-from=(at) { (clean(self.text(at)?)) } })
    }

    /// The letter that a kind of piece goes by in lists. `None`: there are few kinds with short
    /// names and few rows of work, so that they go by name, or more than letters.
    pub fn mark(&self, name: &str) -> Option<Markup> {
        let pieces = self.each("/pieces");
        let names = || pieces.iter().map(|at| self.said(&format!("{at}/name")));
        let rows = self.each("/calendar/work").len();
        if !work::by_letters(names(), rows) {
            return None;
        }
        let index = names().position(|known| known == name)?;
        let letter = char::from(b'a' + u8::try_from(index).ok().filter(|index| *index < 26)?);
        Some(html! { span.mark { (letter) } })
    }

    /// A kind of piece in a list: its letter, or its name.
    pub fn piece(&self, at: &str) -> Part {
        self.mark(self.text(at)?).map_or_else(|| self.name(at), Ok)
    }

    /// Words of the plan's own.
    pub fn words(&self, at: &str) -> Part {
        Ok(html! { span dir="auto" data-from=(at) { (clean(self.text(at)?)) } })
    }

    fn time(&self, at: &str, how: &str) -> Part {
        let text = self.text(at)?;
        let missing = |_| SheetError::Missing(at.to_owned());
        let when: DateTime = text.parse().map_err(missing)?;
        Ok(html! { time datetime=(text) data-from=(at) { (when.strftime(how)) } })
    }

    /// "Saturday 17 April 2027, 08:00".
    pub fn date(&self, at: &str) -> Part {
        self.time(at, "%A %-d %B %Y, %H:%M")
    }

    /// "Thu 8 Apr 18:30".
    pub fn moment(&self, at: &str) -> Part {
        let [short, long] = ["%a %-d %b %H:%M", "%a %-d %b %Y %H:%M"];
        self.time(at, if self.years { long } else { short })
    }

    /// "Thu 8 Apr", of a moment.
    pub fn day(&self, at: &str) -> Part {
        let [short, long] = ["%a %-d %b", "%a %-d %b %Y"];
        self.time(at, if self.years { long } else { short })
    }

    /// "18:30".
    pub fn clock(&self, at: &str) -> Part {
        self.time(at, "%H:%M")
    }

    /// The day that a moment lies on.
    pub fn date_of(&self, at: &str) -> Option<Date> {
        let when: DateTime = self.text(at).ok()?.parse().ok()?;
        Some(when.date())
    }
}

/// A figure that was worked out keeps its last nought, so that those of one column, and of a
/// picture beside it, read alike: two figures under ten and three above.
fn worked_out(shown: &str) -> String {
    let Some((figure, unit)) = shown.split_once(' ') else {
        return shown.to_owned();
    };
    let Ok(value) = figure.parse::<f64>() else {
        return shown.to_owned();
    };
    let wanted = if value.abs() < 9.95 { 2 } else { 3 };
    let digits = figure.chars().filter(char::is_ascii_digit);
    let has = digits.skip_while(|digit| *digit == '0').count();
    if value == 0.0 || has >= wanted {
        return shown.to_owned();
    }
    format!("{} {unit}", significant(value, wanted))
}
