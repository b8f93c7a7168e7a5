//! A verifier of calendars that shares no code with the planner: it reads the run file's own text
//! and the plan's JSON, and says what does not agree. Rooms must be steady, for a wait is then the
//! same at every hour; `[hours]` must be told, and each step's hands-on time and what it takes
//! before and after a sitting.
#![allow(dead_code, reason = "each test file uses some of these")]

mod file;
pub mod said;

use std::collections::BTreeMap;

use brimful::plan::plan;
use brimful::run::Run;
use brimful::show::json;
use jiff::civil::DateTime;
use serde_json::Value;
use toml::Table;

use file::{Week, stops};

/// What does not agree.
pub type Checked = Result<(), String>;

macro_rules! ensure {
    ($holds:expr, $($words:tt)+) => {
        // a comparison with no number is no agreement
        let holds: bool = $holds;
        if !holds {
            return Err(format!($($words)+));
        }
    };
}

/// A run file's plan as JSON.
pub fn told(file: &str) -> Value {
    let run = Run::read(file, "test.toml").unwrap_or_else(|faults| panic!("{faults}\n{file}"));
    let plan = plan(&run).unwrap_or_else(|why| panic!("{why}\n{file}"));
    serde_json::from_str(&json::plan(&plan).unwrap()).unwrap()
}

/// Minutes since 2000 began.
pub fn minute(at: &Value) -> i64 {
    moment(at)
        .duration_since(DateTime::constant(2000, 1, 1, 0, 0, 0, 0))
        .as_mins()
}

/// A moment of the JSON.
pub fn moment(at: &Value) -> DateTime {
    at.as_str()
        .unwrap_or_else(|| panic!("{at} is no moment"))
        .parse()
        .unwrap()
}

/// The entries of a list; none where there is none.
pub fn list(of: &Value) -> &[Value] {
    of.as_array().map_or(&[], Vec::as_slice)
}

/// A number, wherever it must be.
pub fn number(of: &Value) -> f64 {
    of.as_f64().unwrap_or_else(|| panic!("{of} is no number"))
}

/// A count, wherever it must be.
pub fn count(of: &Value) -> u64 {
    of.as_u64().unwrap_or_else(|| panic!("{of} is no count"))
}

/// Minutes of a calendar as a number.
#[expect(
    clippy::cast_precision_loss,
    reason = "minutes since 2000 are far below 2^53"
)]
pub fn real(minutes: i64) -> f64 {
    minutes as f64
}

/// Whole minutes of a time, the last begun one counted.
fn whole(got: i64, minutes: f64) -> bool {
    // a hair's breadth over a whole minute may go either way
    let got = real(got);
    got >= minutes - 1e-6 && got < minutes + 1.0 + 1e-6
}

/// Checks a calendar; nothing where the plan has no dates.
pub fn check(file: &str, plan: &Value) -> Checked {
    let calendar = &plan["calendar"];
    if calendar["start"].is_null() {
        return Ok(());
    }
    let file: Table = file.parse().unwrap();
    let week = Week::of(&file);
    let sittings = list(&calendar["sittings"]);
    in_hours(&week, calendar, sittings)?;
    let mut waves: BTreeMap<u64, Vec<&Value>> = BTreeMap::new();
    for sitting in sittings {
        waves
            .entry(count(&sitting["wave"]))
            .or_default()
            .push(sitting);
    }
    let mut ready = i64::MIN;
    let mut reached: BTreeMap<(&str, usize), u64> = BTreeMap::new();
    let mut taken: Vec<(i64, i64, u64)> = Vec::new();
    for wave in waves.values() {
        ready = ready.max(one_wave(&file, plan, &week, wave)?);
        for (stop, sitting) in wave.iter().enumerate() {
            for some in list(&sitting["pieces"]) {
                let name = some["piece"].as_str().unwrap();
                *reached.entry((name, stop)).or_default() += count(&some["count"]);
            }
        }
        taken.extend(stays(wave));
    }
    ensure!(
        ready == minute(&calendar["ready"]),
        "the last wave is not ready when the run is"
    );
    trays(plan, &taken)?;
    add_up(&file, plan, &reached, waves.len())
}

/// Sittings are one after another, inside of the maker's hours.
fn in_hours(week: &Week, calendar: &Value, sittings: &[Value]) -> Checked {
    ensure!(!sittings.is_empty(), "a calendar without a sitting");
    ensure!(
        calendar["start"] == sittings[0]["begins"],
        "it does not start with its first sitting"
    );
    for pair in sittings.windows(2) {
        let (ends, begins) = (minute(&pair[0]["ends"]), minute(&pair[1]["begins"]));
        ensure!(
            ends <= begins,
            "two sittings at once: {} and {}",
            pair[0],
            pair[1]
        );
    }
    let mut work = 0;
    for sitting in sittings {
        let (begins, ends) = (moment(&sitting["begins"]), moment(&sitting["ends"]));
        ensure!(begins <= ends, "it ends before it begins: {sitting}");
        ensure!(week.works(begins, ends), "out of hours: {sitting}");
        work += minute(&sitting["ends"]) - minute(&sitting["begins"]);
        for look in list(&sitting["look_for_bubbles"]) {
            ensure!(
                week.awake(moment(look)),
                "nobody is awake to look: {sitting}"
            );
        }
    }
    let told = number(&calendar["hands_on_h"]) * 60.0;
    ensure!(
        (told - real(work)).abs() < 1e-6,
        "{told} min of work are told, {work} laid out"
    );
    Ok(())
}

/// One wave goes through its stops in order and waits at each; when it is ready.
fn one_wave(file: &Table, plan: &Value, week: &Week, wave: &[&Value]) -> Result<i64, String> {
    let kinds = list(&wave[0]["pieces"]);
    let stops = stops(file, plan, kinds[0]["piece"].as_str().unwrap());
    ensure!(
        stops.len() == wave.len(),
        "{} stops, {} sittings",
        stops.len(),
        wave.len()
    );
    let slower = match file["hours"]
        .get("first_run")
        .and_then(toml::Value::as_bool)
    {
        Some(true) => 3.0,
        _ => 1.0,
    };
    let mut ready = i64::MIN;
    let mut through = f64::NEG_INFINITY;
    let mut handled = f64::NEG_INFINITY;
    for (place, (sitting, stop)) in wave.iter().zip(&stops).enumerate() {
        let (begins, ends) = (minute(&sitting["begins"]), minute(&sitting["ends"]));
        ensure!(sitting["what"] == stop.what, "not {}: {sitting}", stop.what);
        ensure!(begins >= ready, "begun before its wait is over: {sitting}");
        ready = minute(&sitting["next_from"]);
        through = stop
            .through
            .map_or(through, |wait| through.max(real(ends) + wait));
        let next = stops.get(place + 1);
        let wait = if next.is_none_or(|next| next.after_through) {
            stop.wait.max(through - real(ends))
        } else {
            stop.wait
        };
        handled = (stop.lift).map_or(handled, |wait| handled.max(real(ends) + wait));
        let wait = if stop.as_it_lies {
            wait
        } else {
            wait.max(handled - real(ends))
        };
        ensure!(
            whole(ready - ends, wait),
            "it should wait {wait} min: {sitting}"
        );
        match (stop.lift, sitting["lifted"].is_null()) {
            (None, true) => {}
            (Some(lift), false) => {
                let lifted = moment(&sitting["lifted"]);
                let lain = real(minute(&sitting["lifted"]) - ends);
                ensure!(lain >= lift - 1e-6, "lifted wet: {sitting}");
                let all = handled - real(ends);
                ensure!(lain >= all - 1e-6, "a coat below is wet: {sitting}");
                let there = DateTime::checked_add(lifted, jiff::Span::new().minutes(1)).unwrap();
                ensure!(week.works(lifted, there), "lifted by nobody: {sitting}");
                one_kind(plan, sitting)?;
            }
            _ => return Err(format!("dries or not: {sitting}")),
        }
        let looks: Vec<i64> = list(&sitting["look_for_bubbles"])
            .iter()
            .map(minute)
            .collect();
        if let Some(look) = stop.look {
            // the first piece is poured once all is set up, the last before the cleaning; each a
            // minute more where those are no whole minutes
            let [each, before, after] = stop.takes.map(|seconds| seconds / 60.0);
            let near = |at: i64, right: f64| (real(at) - right).abs() < 2.0 + 1e-6;
            let right = match looks[..] {
                [first, last] => {
                    near(first, real(begins) + before + look)
                        && near(last, real(ends) - after + look)
                }
                [only] => near(only, real(begins) + before + look) && each < 1.0,
                _ => false,
            };
            ensure!(right, "not {look} min after the pours: {sitting}");
        } else {
            ensure!(looks.is_empty(), "a look for nothing: {sitting}");
        }
        if let [only] = list(&sitting["pieces"]) {
            let [each, before, after] = stop.takes;
            let mixes = sitting["mixes"].as_f64().unwrap_or(1.0);
            let takes = each * slower * number(&only["count"]) + before * mixes + after;
            ensure!(
                whole(ends - begins, takes / 60.0),
                "it should take {takes} s: {sitting}"
            );
        }
    }
    Ok(ready)
}

/// Pieces of one kind on trays of one kind take as many as hold them.
fn one_kind(plan: &Value, sitting: &Value) -> Checked {
    let ([only], [_]) = (list(&sitting["pieces"]), list(&plan["trays"]["kinds"])) else {
        return Ok(());
    };
    let mut holds = list(&plan["trays"]["per_tray"]).iter();
    let per = holds.find(|holds| holds["piece"] == only["piece"]).unwrap();
    let wanted = count(&only["count"]).div_ceil(count(&per["pieces"]));
    ensure!(
        count(&sitting["trays"]) == wanted,
        "it should take {wanted} trays: {sitting}"
    );
    Ok(())
}

/// From when to when a wave holds trays, and how many. Coats that follow before the last is
/// lifted keep the same ones.
fn stays(wave: &[&Value]) -> Vec<(i64, i64, u64)> {
    let mut stays: Vec<(i64, i64, u64)> = Vec::new();
    for sitting in wave.iter().filter(|sitting| !sitting["lifted"].is_null()) {
        let (from, until) = (minute(&sitting["begins"]), minute(&sitting["lifted"]));
        match stays.last_mut() {
            Some(last) if from < last.1 => last.1 = until,
            _ => stays.push((from, until, count(&sitting["trays"]))),
        }
    }
    stays
}

/// No more trays are ever taken than can be used, and the busiest is as told.
fn trays(plan: &Value, taken: &[(i64, i64, u64)]) -> Checked {
    let kinds = list(&plan["trays"]["kinds"]);
    if kinds.is_empty() {
        return Ok(());
    }
    let usable: u64 = kinds.iter().map(|kind| count(&kind["usable"])).sum();
    let at = |now: i64| -> u64 {
        let held = taken
            .iter()
            .filter(|(from, until, _)| *from <= now && now < *until);
        held.map(|(_, _, trays)| trays).sum()
    };
    let most = taken.iter().map(|(from, ..)| at(*from)).max().unwrap_or(0);
    ensure!(most <= usable, "{most} trays are taken of {usable}");
    let used = plan["trays"]["used"].as_u64().unwrap_or(0);
    ensure!(
        most == used,
        "{used} trays are told at the busiest, {most} are taken"
    );
    for step in list(&plan["trays"]["over_time"]) {
        let (told, here) = (count(&step["trays"]), at(minute(&step["from"])));
        ensure!(
            told == here,
            "{told} trays are told from {}, {here} are taken",
            step["from"]
        );
    }
    Ok(())
}

/// All that are started go through every stop, and after the looks the good ones and those fit as
/// seconds go on.
fn add_up(
    file: &Table,
    plan: &Value,
    reached: &BTreeMap<(&str, usize), u64>,
    waves: usize,
) -> Checked {
    let inspect = file
        .get("inspect")
        .and_then(|inspect| inspect.get("seconds"));
    let seconds = inspect.map_or(0.0, |words| {
        let percent = words.as_str().unwrap().trim_end_matches(" %");
        percent.parse::<f64>().unwrap() / 100.0
    });
    for piece in list(&plan["pieces"]) {
        let name = piece["name"].as_str().unwrap();
        let (start, lost) = (
            count(&piece["start"]),
            number(&piece["lost_percent"]) / 100.0,
        );
        for (place, stop) in stops(file, plan, name).iter().enumerate() {
            let here = reached.get(&(name, place)).copied().unwrap_or(0);
            if stop.all {
                ensure!(here == start, "{here} of {start} × {name} at {}", stop.what);
            } else {
                // each wave rounds up; scrap found at the first look still counts at the second
                let good = f64::from(u32::try_from(start).unwrap()) * (1.0 - lost);
                let came = f64::from(u32::try_from(here).unwrap());
                let fits = came >= good - 1e-6 && here <= start;
                let waves = f64::from(u32::try_from(waves).unwrap());
                let few =
                    stop.what.starts_with("look") || came <= good / (1.0 - seconds) + waves + 1e-6;
                ensure!(
                    fits && few,
                    "{here} × {name} at {}, {good} are good",
                    stop.what
                );
            }
        }
    }
    Ok(())
}
