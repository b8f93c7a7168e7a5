//! Whole runs at random: their calendars hold, their figures add up, and what helps never hurts.

use crate::common::calendar::{check, count, list, minute, moment, number, told};
use crate::common::random_run::{Choice, choice};
use brimful::plan::plan;
use brimful::run::Run;
use brimful::show::{json, text};
use proptest::prelude::*;
use serde_json::Value;

/// The plan's JSON; its text must be there too.
fn planned(file: &str) -> Result<Value, TestCaseError> {
    let run = Run::read(file, "random.toml")
        .map_err(|faults| TestCaseError::fail(format!("{faults}\n{file}")))?;
    let plan = plan(&run).map_err(|why| TestCaseError::fail(format!("{why}\n{file}")))?;
    prop_assert!(
        text::plan(&plan)
            .lines()
            .all(|line| line.chars().count() <= 100)
    );
    let told = json::plan(&plan).map_err(|why| TestCaseError::fail(why.to_string()))?;
    serde_json::from_str(&told).map_err(|why| TestCaseError::fail(why.to_string()))
}

/// Whether two sums agree but for rounding.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

fn sum(of: &Value, key: &str) -> f64 {
    list(of).iter().map(|one| number(&one[key])).sum()
}

fn amounts_add_up(plan: &Value) -> Result<(), TestCaseError> {
    for coating in list(&plan["coatings"]) {
        let line = |key: &str| number(&coating["lines"][key]);
        let lines = ["on_pieces_ml", "drips_ml", "tool_ml", "heel_ml"];
        let all: f64 = lines.into_iter().map(line).sum();
        prop_assert!(same(all, number(&coating["needed_ml"])), "{}", coating);
        prop_assert!(line("soaks_in_ml") <= line("on_pieces_ml") + 1e-9);
        let sure = number(&coating["needed_sure_ml"]);
        prop_assert!(sure >= number(&coating["needed_ml"]) - 1e-9);
        if let Some(bottles) = coating["bottles"].as_f64() {
            // what can be got out of the bottles, the stock's heel being off already, is at least
            // what is surely mixed
            let comes_out = 1.0 - line("heel_ml") / number(&coating["needed_ml"]);
            let bought = bottles * number(&coating["bottle_ml"]) * comes_out;
            let there = bought + number(&coating["stock_ml"]);
            prop_assert!(
                there >= sure * comes_out - 1e-6,
                "{} mL of {}",
                there,
                coating
            );
            let mut chances = list(&coating["chances"]).iter();
            let own = chances
                .find(|chance| chance["bottles"] == coating["bottles"])
                .unwrap();
            let wanted = number(&plan["sure_percent"]);
            prop_assert!(
                number(&own["chance_percent"]) >= wanted - 1e-6,
                "{}",
                coating
            );
        }
    }
    for blank in list(&plan["blanks"]) {
        let bought = count(&blank["packs"]) * count(&blank["pack_of"]);
        prop_assert_eq!(count(&blank["bought"]), bought);
        prop_assert!(bought >= count(&blank["buy"]));
        let pieces = list(&plan["pieces"]).iter();
        let on_it = pieces.filter(|piece| piece["blank"] == blank["name"]);
        let start: u64 = on_it.map(|piece| count(&piece["start"])).sum();
        prop_assert_eq!(start, count(&blank["start"]));
        prop_assert!(count(&blank["have"]) + bought >= start, "{}", blank);
        let sure = number(&plan["sure_percent"]);
        prop_assert!(number(&blank["chance_percent"]) >= sure - 1e-6, "{}", blank);
    }
    Ok(())
}

fn money_adds_up(plan: &Value) -> Result<(), TestCaseError> {
    let money = &plan["money"];
    if money.is_null() {
        return Ok(());
    }
    let fixed = number(&money["fixed"]);
    prop_assert!(
        same(sum(&money["fixed_lines"], "amount"), fixed),
        "{}",
        money
    );
    let card = number(&money["card_fee_percent"]) / 100.0;
    let tax = number(&money["sales_tax_percent"]) / 100.0;
    let fee = number(&money["sale_fee"]) / number(&money["pieces_per_sale"]);
    let kept_of = |price: f64| price / (1.0 + tax) - card * price - fee;
    for piece in list(&money["pieces"]) {
        for basis in ["used", "bought"] {
            let sunk = sum(&piece["started_lines"], basis) + number(&piece["labour_per_started"]);
            prop_assert!(
                same(sunk, number(&piece["sunk_per_started"][basis])),
                "{}",
                piece
            );
            let good = 1.0 - number(&piece["lost_percent"]) / 100.0;
            let v = sunk / good + sum(&piece["fitted_lines"], basis);
            prop_assert!(same(v, number(&piece["variable_cost"][basis])), "{}", piece);
        }
        let v = number(&piece["variable_cost"]["used"]);
        let (floor, exact) = (number(&piece["floor"]), number(&piece["floor_exact"]));
        prop_assert!((kept_of(exact) - v).abs() < 1e-6, "{}", piece);
        prop_assert!(
            exact <= floor + 1e-9 && floor < exact + 0.01 + 1e-9,
            "{}",
            piece
        );
        let Some(price) = piece["price"].as_f64() else {
            continue;
        };
        let left = kept_of(price) - v;
        prop_assert!(
            (left - number(&piece["contribution"])).abs() < 1e-6,
            "{}",
            piece
        );
        match piece["break_even_alone"].as_f64() {
            // so many pay for the fair, and one fewer do not
            Some(n) => {
                prop_assert!(left > 0.0 && n * left >= fixed - 1e-6, "{}", piece);
                prop_assert!(n < 1.0 || (n - 1.0) * left < fixed + 1e-6, "{}", piece);
            }
            None => prop_assert!(left <= 1e-9, "{}", piece),
        }
    }
    hours_add_up(plan)
}

/// All the hands-on time of the calendar is somebody's.
fn hours_add_up(plan: &Value) -> Result<(), TestCaseError> {
    let Some(hours) = plan["calendar"]["hands_on_h"].as_f64() else {
        return Ok(());
    };
    let each = list(&plan["money"]["pieces"])
        .iter()
        .zip(list(&plan["pieces"]));
    let minutes = each
        .map(|(money, piece)| number(&money["labour_min_per_started"]) * number(&piece["start"]));
    let minutes: f64 = minutes.sum();
    prop_assert!(
        (minutes - 60.0 * hours).abs() < 1e-6 * minutes,
        "{} {}",
        minutes,
        hours
    );
    Ok(())
}

/// The dates told beside the calendar agree with it and with each other.
fn dates_agree(choice: &Choice, plan: &Value) -> Result<(), TestCaseError> {
    let calendar = &plan["calendar"];
    if calendar["start"].is_null() {
        return Ok(());
    }
    let late = minute(&calendar["ready"]) > minute(&plan["ready_by"]);
    prop_assert_eq!(calendar["too_late"].as_bool(), Some(late), "{}", calendar);
    prop_assert!(late || list(&plan["still_can"]).is_empty());
    if let Some(sure) = calendar["latest_start"].as_str() {
        let likely = &calendar["latest_start_likely"];
        prop_assert!(
            minute(&calendar["latest_start"]) <= minute(likely),
            "{}",
            calendar
        );
        if choice.start.is_none() {
            prop_assert_eq!(calendar["start"].as_str(), Some(sure));
            let wanted = number(&plan["sure_percent"]) / 100.0;
            prop_assert!(
                number(&calendar["chance_ready"]) >= wanted - 1e-9,
                "{}",
                calendar
            );
        }
    }
    if let Some(both) = calendar["chance_both"].as_f64() {
        let [ready, enough] = ["chance_ready", "chance_enough"].map(|key| number(&calendar[key]));
        prop_assert!(both <= ready.min(enough) + 1e-9, "{}", calendar);
        prop_assert!(both >= ready + enough - 1.0 - 1e-9, "{}", calendar);
        let when = list(&calendar["ready_in_5_50_95_percent"]).iter();
        let when: Vec<i64> = when.filter(|at| at.is_string()).map(minute).collect();
        prop_assert!(when.is_sorted(), "{}", calendar);
    }
    for order in list(&calendar["order_by"]) {
        // the file's deliveries take three days
        let by: jiff::civil::Date = order["by"].as_str().unwrap().parse().unwrap();
        let wanted = moment(&order["wanted"]);
        prop_assert!(
            wanted.date() - by == jiff::Span::new().days(3).fieldwise(),
            "{}",
            order
        );
        prop_assert!(wanted >= moment(&calendar["start"]));
    }
    Ok(())
}

/// What a change does must not be worse: no earlier latest start, no later ready.
fn no_worse(what: &str, before: &Choice, after: &Choice) -> Result<(), TestCaseError> {
    let (old, new) = (planned(&before.file())?, planned(&after.file())?);
    if after.night.is_none() {
        // in a room that changes the waits go by the hour, which the verifier does not know
        check(&after.file(), &new).map_err(TestCaseError::fail)?;
    }
    let key = if before.ready_by {
        "latest_start_likely"
    } else {
        "ready"
    };
    let at = |plan: &Value| {
        let at = &plan["calendar"][key];
        at.is_string().then(|| minute(at))
    };
    let Some(was) = at(&old) else { return Ok(()) };
    let Some(is) = at(&new) else {
        return Err(TestCaseError::fail(format!(
            "{what}: no date any more\n{}",
            before.file()
        )));
    };
    let better = if before.ready_by {
        is >= was
    } else {
        is <= was
    };
    prop_assert!(
        better,
        "{what}: {key} {} min later\n{}",
        is - was,
        before.file()
    );
    Ok(())
}

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        max_shrink_iters: 40,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(config(24))]

    #[test]
    fn any_run_has_a_calendar_that_holds_and_figures_that_add_up(choice in choice()) {
        let file = choice.file();
        let plan = planned(&file)?;
        check(&file, &plan).map_err(|why| TestCaseError::fail(format!("{why}\n{file}")))?;
        dates_agree(&choice, &plan)?;
        amounts_add_up(&plan)?;
        money_adds_up(&plan)?;
        let pieces: Vec<u64> = list(&plan["still_can"]).iter().map(|way| count(&way["pieces"])).collect();
        prop_assert!(pieces.is_sorted_by(|a, b| a >= b), "{pieces:?}");
    }
}

proptest! {
    #![proptest_config(config(16))]

    #[test]
    fn more_trays_longer_hours_and_no_days_off_never_hurt(mut choice in choice(), from_start in any::<bool>(), night in prop::option::of(1u32..7)) {
        choice.night = night;
        choice.ready_by = !from_start;
        choice.start = from_start.then_some(20);
        let mut other = choice.clone();
        if let Some(tray) = &mut other.tray {
            tray.1 += 1 + tray.1 / 2;
            no_worse("more trays", &choice, &other)?;
        }
        let mut other = choice.clone();
        other.longer = true;
        no_worse("longer hours", &choice, &other)?;
        let mut other = choice.clone();
        other.off = 0;
        no_worse("no days off", &choice, &other)?;
    }

    #[test]
    fn warmer_and_drier_air_never_hurts_what_is_water_based(mut choice in choice(), from_start in any::<bool>(), night in prop::option::of(1u32..7)) {
        choice.night = night;
        choice.ready_by = !from_start;
        choice.start = from_start.then_some(20);
        choice.without_resin();
        let mut other = choice.clone();
        other.celsius += 4;
        other.humidity -= 12;
        no_worse("warmer and drier", &choice, &other)?;
    }

    #[test]
    fn more_in_stock_never_buys_more(choice in choice(), blanks in 1u32..60, bottles in 1u32..4) {
        let mut other = choice.clone();
        other.blanks_in_stock += blanks;
        other.bottles_in_stock += bottles;
        let (before, after) = (planned(&choice.file())?, planned(&other.file())?);
        for (kind, keys) in [("blanks", ["buy", "packs"]), ("coatings", ["bottles", "bottles_expected"])] {
            for (old, new) in list(&before[kind]).iter().zip(list(&after[kind])) {
                prop_assert_eq!(&old["name"], &new["name"]);
                for key in keys {
                    prop_assert!(count(&new[key]) <= count(&old[key]), "{} of {} {}", key, old, new);
                }
            }
        }
        if !before["money"].is_null() {
            prop_assert!(number(&after["money"]["to_buy"]) <= number(&before["money"]["to_buy"]) + 1e-9);
        }
    }
}

/// The verifier sees each kind of fault put into a good calendar.
#[test]
fn a_calendar_with_a_fault_put_in_is_not_passed() {
    let file = include_str!("../../data/demo.toml");
    let good = told(file);
    check(file, &good).unwrap();
    let all = list(&good["calendar"]["sittings"]);
    let poured = all.iter().position(|one| one["what"] == "dome").unwrap();
    let tampered = |why: &str, tamper: &dyn Fn(&mut Value)| {
        let mut bad = good.clone();
        tamper(&mut bad);
        let seen = check(file, &bad).expect_err(why);
        assert!(seen.contains(why), "{why}: {seen}");
    };
    let set = |key: &'static str, to: Value| {
        move |plan: &mut Value| plan["calendar"]["sittings"][poured][key] = to.clone()
    };
    let earlier = all[poured - 1]["begins"].clone();
    tampered("two sittings at once", &set("begins", earlier));
    let dawn = format!(
        "{}T05:00:00",
        &all[poured]["begins"].as_str().unwrap()[..10]
    );
    tampered("two sittings at once", &|plan| {
        plan["calendar"]["sittings"][poured + 1]["begins"] = all[poured]["begins"].clone();
    });
    tampered("out of hours", &|plan| {
        let before = format!("{}T05:00:00", &all[0]["begins"].as_str().unwrap()[..10]);
        plan["calendar"]["start"] = before.clone().into();
        plan["calendar"]["sittings"][0]["begins"] = before.into();
    });
    tampered(
        "nobody is awake",
        &set("look_for_bubbles", vec![dawn.clone(); 2].into()),
    );
    tampered(
        "not ",
        &set(
            "look_for_bubbles",
            vec![all[poured]["ends"].clone(); 2].into(),
        ),
    );
    tampered(
        "it should wait",
        &set("next_from", all[poured]["ends"].clone()),
    );
    tampered("lifted wet", &set("lifted", all[poured]["ends"].clone()));
    tampered("trays", &set("trays", 9.into()));
    tampered("tide magnet at dome", &|plan| {
        for sitting in plan["calendar"]["sittings"].as_array_mut().unwrap() {
            if sitting["what"] == "dome" && sitting["pieces"].as_array().unwrap().len() > 1 {
                sitting["pieces"][0]["count"] = 1.into();
            } else if sitting["what"] == "dome" && sitting["pieces"][0]["piece"] == "tide magnet" {
                sitting["pieces"] = Value::Array(vec![
                    serde_json::json!({ "piece": "tide magnet", "count": 1 }),
                    serde_json::json!({ "piece": "tide magnet", "count": 1 }),
                ]);
            }
        }
    });
}
