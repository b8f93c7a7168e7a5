//! Two ways of doing a run, side by side.

use serde::Serialize;

use super::words;
use crate::plan::Plan;
use crate::quantity::{Show, Time};

/// Two plans and what their files are called.
#[derive(Debug, Clone, Copy)]
pub struct Beside<'p> {
    /// The files' names.
    pub names: [&'p str; 2],
    /// Their plans.
    pub plans: [&'p Plan; 2],
}

/// What is set side by side of one plan.
#[derive(Debug, Clone, Serialize)]
pub struct OneWay {
    /// The file.
    pub file: String,
    /// The run's name.
    pub run: String,
    /// Whether it can be done as asked.
    pub can_be_done: bool,
    /// When to begin at the latest, to be as sure as wanted.
    pub latest_start: Option<String>,
    /// When it is begun in this plan.
    pub start: Option<String>,
    /// When its last piece is ready.
    pub ready: Option<String>,
    /// In time, from 0 to 1.
    pub chance_ready: Option<f64>,
    /// How long a run without a date takes, hours: begun on the best day of a week and on the worst.
    pub takes_h: Option<[f64; 2]>,
    /// Hands-on time, hours.
    pub hands_on_h: Option<f64>,
    /// Coats and how long each waits before it may be handled.
    pub waits: Vec<String>,
    /// What has to be bought.
    pub buy: Vec<String>,
    /// What has to be paid for that. `None`: the run says nothing of selling.
    pub to_buy: Option<f64>,
    /// Trays in use at the busiest, of those that can be used.
    pub trays: Option<[u32; 2]>,
    /// Waves.
    pub waves: Option<usize>,
    /// What to be careful of, by kind of coating.
    pub cautions: Vec<String>,
    /// What to watch for, in short.
    pub warnings: Vec<&'static str>,
}

impl OneWay {
    fn of(name: &str, plan: &Plan) -> Self {
        let (calendar, undated) = (plan.dates.calendar(), plan.dates.undated());
        let by = calendar.and_then(|calendar| calendar.by.as_ref());
        let mut warnings: Vec<&'static str> = plan
            .warnings
            .iter()
            .map(crate::plan::Warning::code)
            .collect();
        warnings.sort_unstable();
        warnings.dedup();
        Self {
            file: name.to_owned(),
            run: plan.header.name.clone(),
            can_be_done: plan.can_be_done(),
            latest_start: by.and_then(|by| Some(by.sure_start?.to_string())),
            start: calendar.map(|calendar| calendar.start.to_string()),
            ready: calendar.map(|calendar| calendar.ready.to_string()),
            chance_ready: by.and_then(|by| Some(by.chance.as_ref()?.ready.fraction())),
            takes_h: undated.map(|undated| [undated.shortest.h(), undated.longest.h()]),
            hands_on_h: plan.dates.hands_on().map(Time::h),
            waits: waits(plan),
            buy: super::text::to_buy(plan),
            to_buy: plan.money.as_ref().map(|money| money.to_buy.amount()),
            trays: (calendar.and_then(|calendar| calendar.busiest.as_ref()))
                .map(|(_, trays)| trays)
                .or_else(|| undated?.busiest.as_ref())
                .map(|trays| {
                    let usable = plan.space.trays.iter().map(|tray| tray.usable).sum();
                    [trays.iter().sum(), usable]
                }),
            waves: (calendar.map(|calendar| calendar.waves)).or_else(|| Some(undated?.waves)),
            cautions: (plan.cautions.iter())
                .map(|family| format!("{}: {}", family.key, family.cautions.lines[0].say))
                .collect(),
            warnings,
        }
    }
}

fn waits(plan: &Plan) -> Vec<String> {
    let dried = plan.steps.iter().filter(|step| step.coating.is_some());
    dried
        .map(|step| match step.until_handled {
            Some(band) => format!("{}: {}", step.name, words::span(&band)),
            None => format!("{}: not told", step.name),
        })
        .collect()
}

impl Beside<'_> {
    /// Both ways.
    #[must_use]
    pub fn ways(&self) -> [OneWay; 2] {
        let [a, b] = self.names;
        let [of_a, of_b] = self.plans;
        [OneWay::of(a, of_a), OneWay::of(b, of_b)]
    }

    /// Lines to set side by side: what they are about, and both ways' words.
    #[must_use]
    pub fn rows(&self) -> Vec<(&'static str, [Vec<String>; 2])> {
        let ways = self.ways();
        let both = |told: &dyn Fn(&OneWay, &Plan) -> Vec<String>| {
            [0, 1].map(|way| told(&ways[way], self.plans[way]))
        };
        let none = || "not told".to_owned();
        vec![
            (
                "Can be",
                both(&|way, _| {
                    vec![
                        if way.can_be_done {
                            "done"
                        } else {
                            "not done as asked"
                        }
                        .to_owned(),
                    ]
                }),
            ),
            ("Start", both(&|_, plan| vec![start(plan)])),
            (
                "Ready",
                both(&|_, plan| vec![ready(plan).unwrap_or_else(none)]),
            ),
            (
                "Work",
                both(&|_, plan| vec![plan.dates.hands_on().map_or_else(none, words::work)]),
            ),
            ("Wait", both(&|way, _| way.waits.clone())),
            ("Buy", both(&|way, _| way.buy.clone())),
            ("Money", both(&|_, plan| money(plan))),
            ("Space", both(&|way, plan| vec![space(way, plan)])),
            (
                "Watch",
                both(&|way, _| way.warnings.iter().map(|code| short(code)).collect()),
            ),
            ("Care", both(&|way, _| way.cautions.clone())),
        ]
    }
}

/// When it is ready, or how long after its start.
fn ready(plan: &Plan) -> Option<String> {
    let calendar = plan.dates.calendar();
    let at = calendar.map(|calendar| super::text::moment(calendar.ready, plan));
    at.or_else(|| {
        let lasts = words::lasts(plan.dates.undated()?);
        Some(format!("{lasts} after the first step"))
    })
}

fn start(plan: &Plan) -> String {
    let Some(calendar) = plan.dates.calendar() else {
        return "no date".to_owned();
    };
    let begun = super::text::moment(calendar.start, plan);
    let by = calendar.by.as_ref();
    let chance = by.and_then(|by| by.chance.as_ref());
    let chance = chance.map_or_else(String::new, |chance| {
        format!(", in time {}", words::percent(chance.ready))
    });
    let latest = by.and_then(|by| by.sure_start);
    let latest = latest.filter(|latest| *latest != calendar.start);
    let latest = latest.map_or_else(String::new, |latest| {
        let sure = plan.header.sure.show(plan.header.units);
        format!(
            "; to be {sure} sure by {}",
            super::text::moment(latest, plan)
        )
    });
    format!("{begun}{chance}{latest}")
}

/// A warning by its code, in a few words that stand by themselves.
fn short(code: &str) -> String {
    match code {
        "before-through" => "worked on before dry through",
        "box-slows" => "the closed box slows drying",
        "box-stalls" => "drying stops in the closed box",
        "box-not-counted" => "the closed box is not counted",
        "closed-in" => "coat closed in between two faces",
        "film-forming" => "too cold for the film to fuse",
        "dew-point" => "dew may form on the coat",
        "blush-high" | "blush-raised" | "blush-low" => "the air may turn the coat cloudy",
        "needs-vapour" => "cures by the vapour of the air",
        "no-vapour" => "too little vapour to cure",
        "not-within" => "not hard in the time looked at",
        "unchecked-depth" => "deeper than the model is checked for",
        "cold-later" => "too cold in later hours",
        "fan-does-little" => "a fan does little",
        "stale" => "stock past its best-before",
        "stale-later" => "stock past its best-before at the latest start",
        "order-too-late" => "goods ordered on the day of the start keep the work waiting",
        "not-used" => "something in the file is not used",
        "saucer" => "may dry to a saucer",
        "hole" => "a hole may close or break out",
        "no-time" => "a time can't be told",
        "over-brim" => "a fill runs over",
        "under-pull-back" => "a fill draws back",
        "deep-coat" => "a coat deeper than is prudent",
        "bare-porous" => "coated on bare porous ground",
        "may-warp" => "a blank may warp",
        "magnets" => "magnets on the trays",
        "not-worked-out" => "a pen's time is not worked out for this room",
        plain => return plain.replace('-', " "),
    }
    .to_owned()
}

fn money(plan: &Plan) -> Vec<String> {
    let units = plan.header.units;
    let Some(money) = &plan.money else {
        return Vec::new();
    };
    let mut told: Vec<String> = (money.pieces.iter())
        .map(|piece| {
            format!(
                "{}: {} a good one",
                piece.name,
                piece.variable.each.used.show(units)
            )
        })
        .collect();
    told.push(format!(
        "{} to pay for what is bought",
        money.to_buy.show(units)
    ));
    if let Some(left) = &money.outcome {
        let an_hour = left.pay_per_hour.map_or_else(String::new, |pay| {
            format!(", {} an hour", words::gain(pay, units))
        });
        told.push(format!(
            "the fair leaves {}{an_hour}",
            words::gain(left.in_hand, units)
        ));
    }
    told
}

fn space(way: &OneWay, plan: &Plan) -> String {
    match (way.trays, way.waves) {
        (Some([used, usable]), Some(1)) => format!("{used} of {usable} trays, all at once"),
        (Some([used, usable]), Some(waves)) => format!("{used} of {usable} trays, {waves} waves"),
        (Some([used, usable]), None) => format!("{used} of {usable} trays"),
        (None, _) if plan.space.trays.is_empty() => "no trays told of".to_owned(),
        (None, Some(_)) => "no tray is needed".to_owned(),
        (None, None) => {
            let usable: u32 = plan.space.trays.iter().map(|tray| tray.usable).sum();
            let noun = if usable == 1 { "tray" } else { "trays" };
            format!("{usable} {noun}; how many at once is not told, for there are no dates")
        }
    }
}
