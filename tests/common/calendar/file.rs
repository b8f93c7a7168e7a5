//! What the run file asks of a calendar: the maker's week, and the sittings of a piece.

use jiff::civil::{Date, DateTime};
use serde_json::Value;
use toml::Table;

use super::{count, list};

const DAYS: [&str; 7] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
];

/// The maker's week as the file writes it.
pub struct Week {
    days: [Vec<(i64, i64)>; 7],
    off: Vec<Date>,
    awake: (i64, i64),
}

/// "18:30-21:30" as minutes after midnight.
fn span(words: &str) -> (i64, i64) {
    let clock = |words: &str| {
        let (hours, minutes) = words.split_once(':').unwrap();
        60 * hours.parse::<i64>().unwrap() + minutes.parse::<i64>().unwrap()
    };
    let (from, to) = words.split_once('-').unwrap();
    (clock(from), clock(to))
}

impl Week {
    /// Reads `[hours]`.
    pub fn of(file: &Table) -> Self {
        let hours = file["hours"].as_table().unwrap();
        let spans = |key: &str| -> Option<Vec<(i64, i64)>> {
            let all = hours.get(key)?.as_array().unwrap().iter();
            let mut all: Vec<_> = all.map(|words| span(words.as_str().unwrap())).collect();
            all.sort_unstable();
            // one that begins where another ends goes on from it
            let mut joined: Vec<(i64, i64)> = Vec::new();
            for (from, to) in all {
                match joined.last_mut() {
                    Some(last) if last.1 == from => last.1 = to,
                    _ => joined.push((from, to)),
                }
            }
            Some(joined)
        };
        let day = |index: usize| {
            let common = if index < 5 { "weekdays" } else { "weekend" };
            spans(DAYS[index])
                .or_else(|| spans(common))
                .unwrap_or_default()
        };
        let off = hours.get("off").and_then(toml::Value::as_array);
        let off = off
            .into_iter()
            .flatten()
            .map(|date| date.to_string().parse().unwrap());
        let awake = hours
            .get("awake")
            .map_or("07:00-22:30", |awake| awake.as_str().unwrap());
        Self {
            days: std::array::from_fn(day),
            off: off.collect(),
            awake: span(awake),
        }
    }

    /// Whether all of a stretch lies in one spell of work.
    pub fn works(&self, begins: DateTime, ends: DateTime) -> bool {
        let date = begins.date();
        let weekday = usize::try_from(date.weekday().to_monday_zero_offset()).unwrap();
        let clock = |at: DateTime| i64::from(at.hour()) * 60 + i64::from(at.minute());
        let end = if ends.date() == date {
            clock(ends)
        } else {
            clock(ends) + 1440
        };
        !self.off.contains(&date)
            && (self.days[weekday].iter()).any(|&(from, to)| from <= clock(begins) && end <= to)
    }

    /// Whether somebody is awake.
    pub fn awake(&self, at: DateTime) -> bool {
        let clock = i64::from(at.hour()) * 60 + i64::from(at.minute());
        self.awake.0 <= clock && clock < self.awake.1
    }
}

/// One sitting that a piece must go through.
pub struct Stop {
    pub what: String,
    /// Until the next, `[min]`.
    pub wait: f64,
    /// Until it may be lifted, off its tray where it lies on one, `[min]`; none where nothing dries.
    pub lift: Option<f64>,
    /// Until its coat is dry through, `[min]`; none where it lays none.
    pub through: Option<f64>,
    /// Whether all coats before it must be dry through.
    pub after_through: bool,
    /// Whether the next coat goes on as it lies: else all coats so far must be dry to handle.
    pub as_it_lies: bool,
    /// From a pour to the look for bubbles, `[min]`.
    pub look: Option<f64>,
    /// Whether all that were started come here.
    pub all: bool,
    /// Hands-on for one piece, before and after, `[s]`.
    pub takes: [f64; 3],
}

/// "50 s", "10 min", "1 h" as seconds; nothing where it is not said.
fn seconds(of: &Table, key: &str) -> f64 {
    let Some(words) = of.get(key) else { return 0.0 };
    let (figure, unit) = words.as_str().unwrap().split_once(' ').unwrap();
    let unit = match unit {
        "s" => 1.0,
        "min" => 60.0,
        "h" => 3600.0,
        other => panic!("the verifier reads no {other}"),
    };
    figure.parse::<f64>().unwrap() * unit
}

fn named<'f>(file: &'f Table, kind: &str, name: &str) -> &'f Table {
    let all = file[kind].as_array().unwrap().iter();
    let mut all = all.map(|one| one.as_table().unwrap());
    all.find(|one| one["name"].as_str() == Some(name)).unwrap()
}

/// How long each mix of a step's coating is stirred, `[s]`: 3 min where the file does not say.
fn stirring(file: &Table, step: &Table) -> f64 {
    let Some(name) = step.get("coating") else {
        return 0.0;
    };
    let coating = named(file, "coating", name.as_str().unwrap());
    match coating["family"].as_str() {
        Some("two-part dome epoxy") if !coating.contains_key("stirring") => 180.0,
        _ => seconds(coating, "stirring"),
    }
}

/// The stops of a piece: a coat dries until the next, until it may be turned over, or for good.
pub fn stops(file: &Table, plan: &Value, piece: &str) -> Vec<Stop> {
    let own = named(file, "piece", piece)["steps"].as_array().unwrap();
    let own: Vec<&str> = own.iter().map(|step| step.as_str().unwrap()).collect();
    let coated = |step: &str| named(file, "step", step).contains_key("coating");
    let last = own.iter().rposition(|step| coated(step));
    let mut stops = Vec::new();
    for (place, &name) in own.iter().enumerate() {
        let step = named(file, "step", name);
        let mut takes = ["hands_on", "set_up", "clean_up"].map(|key| seconds(step, key));
        takes[1] = takes[1].max(stirring(file, step));
        let after = last.is_some_and(|last| place > last) && file.contains_key("inspect");
        let needs = step.get("needs").map(|needs| needs.as_str().unwrap());
        let finished = !own[place..].iter().any(|step| coated(step));
        let one = |wait, lift, through, look| Stop {
            what: name.to_owned(),
            wait,
            lift,
            through,
            after_through: !coated(name) && needs.map_or(finished, |needs| needs == "through"),
            look,
            as_it_lies: false,
            all: !after,
            takes,
        };
        if !coated(name) {
            stops.push(one(0.0, None, None, None));
            continue;
        }
        let told = list(&plan["steps"])
            .iter()
            .find(|told| told["name"] == name)
            .unwrap();
        let hours = |stage: &str| told["hours"][stage].as_f64().map(|hours| 60.0 * hours);
        let handle = hours("handle");
        let recoat = hours("recoat").or(handle).unwrap_or(0.0);
        let through = ["through", "bag"].into_iter().filter_map(hours);
        let through = through.reduce(f64::max);
        let lift = handle;
        let handle = handle.unwrap_or(0.0);
        let (coats, faces) = (count(&told["coats"]), count(&told["faces"]));
        let of = coats * faces;
        for coat in 1..=of {
            let wait = if coat < of && coat % coats != 0 {
                recoat
            } else if coat < of {
                handle
            } else if as_it_lies(file, &own, place) {
                recoat
            } else if own[place + 1..].iter().any(|later| coated(later)) {
                handle.max(recoat)
            } else {
                handle
            };
            let look = told["look_for_bubbles_min"].as_f64();
            let stays =
                (coat < of && coat % coats != 0) || (coat == of && as_it_lies(file, &own, place));
            stops.push(Stop {
                as_it_lies: stays,
                ..one(wait, lift, through, look)
            });
        }
        if Some(place) == last {
            looks(file, &mut stops);
        }
    }
    if last.is_none() {
        looks(file, &mut stops);
    }
    stops
}

/// Whether the next coat goes on the face that lies up, with no work before it.
fn as_it_lies(file: &Table, own: &[&str], place: usize) -> bool {
    let both = |name: &&str| {
        let step = named(file, "step", name);
        step.get("faces").and_then(toml::Value::as_str) == Some("both")
    };
    own.get(place + 1).is_some_and(|next| {
        let coated = named(file, "step", next).contains_key("coating");
        coated && !(both(next) && own[..=place].iter().any(both))
    })
}

fn looks(file: &Table, stops: &mut Vec<Stop>) {
    let Some(inspect) = file.get("inspect").and_then(toml::Value::as_table) else {
        return;
    };
    for (what, wait) in [
        (
            "look every piece over",
            seconds(inspect, "again_after") / 60.0,
        ),
        ("look every piece over again", 0.0),
    ] {
        stops.push(Stop {
            what: what.to_owned(),
            wait,
            lift: None,
            through: None,
            after_through: false,
            as_it_lies: false,
            look: None,
            all: wait > 0.0,
            takes: [seconds(inspect, "hands_on"), 0.0, 0.0],
        });
    }
}
