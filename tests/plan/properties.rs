//! Runs at random: a plan comes out, and what it says adds up.

use brimful::plan::{Plan, PlanError, plan};
use brimful::run::Run;
use brimful::show::{json, text};
use proptest::prelude::*;

fn outline() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => (3.0..150.0f64).prop_map(|d| format!("{{ round = \"{d} mm\" }}")),
        // Meshed outlines cost more, so there are fewer.
        1 => (6.0..40.0f64, 6.0..40.0f64, 0.0..1.0f64).prop_map(|(a, b, share)| {
            let corner = share * a.min(b) / 2.0;
            format!("{{ rectangle = [\"{a} mm\", \"{b} mm\"], corner = \"{corner} mm\" }}")
        }),
        1 => (6.0..40.0f64, 0.3..1.0f64)
            .prop_map(|(a, share)| format!("{{ oval = [\"{a} mm\", \"{} mm\"] }}", a * share)),
    ]
}

fn fill() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("\"safe\"".to_owned()),
        (0.05..6.0f64).prop_map(|h| format!("{{ dry_height = \"{h} mm\" }}")),
        (0.01..30.0f64).prop_map(|m| format!("{{ weight = \"{m} g\" }}")),
        (1.0..100.0f64).prop_map(|s| format!("{{ share = \"{s} %\" }}")),
        (0.01..30.0f64).prop_map(|v| format!("{{ volume = \"{v} mL\" }}")),
        (0.5..89.0f64).prop_map(|a| format!("{{ edge_angle = \"{a} deg\" }}")),
        (0.05..9.0f64).prop_map(|p| format!("{{ peak = \"{p} mm\" }}")),
    ]
}

prop_compose! {
    fn run()(
        outline in outline(),
        fill in fill(),
        flood in prop_oneof![Just("water-based dome glaze"), Just("two-part dome epoxy")],
        count in 1u32..2000,
        domes in 1usize..4,
        seals in 0usize..2,
        porous in any::<bool>(),
        bad in 0.0..60.0f64,
        spoilage in 0.0..60.0f64,
        sure in 50.0..99.9f64,
        holds in 5.0..2000.0f64,
        have in 0.0..20.0f64,
        air in (-20.0..60.0f64, 0.0..100.0f64, 0.0..4.9f64),
    ) -> String {
        let (celsius, humid, speed) = air;
        let steps: Vec<&str> = ["\"ink\"", "\"seal\""].into_iter().take(1 + seals)
            .chain(std::iter::repeat_n("\"dome\"", domes)).collect();
        format!(r#"
[run]
sure = "{sure} %"
[[piece]]
name = "a"
count = {count}
blank = "b"
steps = [{}]
[[piece]]
name = "plain"
count = 3
blank = "b"
steps = ["dome"]
[[blank]]
name = "b"
outline = {outline}
porous = {porous}
bad = "{bad} %"
[[coating]]
name = "flood"
family = "{flood}"
bottle = {{ holds = "{holds} mL", have = {have} }}
[[coating]]
name = "sealer"
family = "water-based sealer"
[[coating]]
name = "pen"
family = "permanent ink"
[[step]]
name = "ink"
coating = "pen"
[[step]]
name = "seal"
coating = "sealer"
coats = 2
[[step]]
name = "dome"
coating = "flood"
fill = {fill}
spoilage = "{spoilage} %"
[room]
temperature = "{celsius} C"
humidity = "{humid} %"
air = "{speed} m/s"
"#, steps.join(", "))
    }
}

fn adds_up(plan: &Plan) -> Result<(), TestCaseError> {
    for coating in &plan.coatings {
        let lines = coating.lines;
        let sum = lines.on_pieces.ml() + lines.drips.ml() + lines.tool.ml() + lines.heel.ml();
        prop_assert!((sum - coating.needed.ml()).abs() <= 1e-9 * sum);
        prop_assert!(coating.soaks_in.ml() <= lines.on_pieces.ml() * (1.0 + 1e-9));
    }
    // What is poured on the started pieces is what the flood coating's line says.
    let poured: f64 = plan
        .pieces
        .iter()
        .flat_map(|piece| piece.fills.iter().map(move |fill| (piece, fill)))
        .map(|(piece, fill)| {
            f64::from(u32::try_from(piece.start).unwrap()) * (fill.poured.ml() + fill.soaks_in.ml())
        })
        .sum();
    let flood = plan.coatings.iter().find(|coating| coating.name == "flood");
    let told = flood.map_or(0.0, |flood| flood.lines.on_pieces.ml());
    prop_assert!(
        (poured - told).abs() <= 1e-6 * poured.max(1e-9),
        "{poured} {told}"
    );
    for blank in &plan.blanks {
        prop_assert!(blank.start >= blank.wanted && blank.bought >= blank.buy);
        prop_assert_eq!(blank.bought, blank.packs * u64::from(blank.pack_of));
    }
    for piece in &plan.pieces {
        for fill in &piece.fills {
            prop_assert!(fill.poured.ml() >= 0.0);
            // A coat never dries higher than its own wet surface.
            let higher = fill.dry_peak > fill.dome.peak * (1.0 + 1e-9);
            prop_assert!(!higher || fill.poured.ml() == 0.0);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, max_global_rejects: 12, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_good_run_is_planned_without_a_panic_and_adds_up(file in run()) {
        let run = Run::read(&file, "random.toml").map_err(|faults| TestCaseError::fail(faults.to_string()))?;
        let plan = match plan(&run) {
            Ok(plan) => plan,
            // An outline that no mesh can be made for is refused in words. A run of
            // them would be a fault, so such cases are rejected and counted, not passed.
            Err(why @ PlanError::Dome { .. }) => return Err(TestCaseError::reject(why.to_string())),
            Err(why) => return Err(TestCaseError::fail(why.to_string())),
        };
        adds_up(&plan)?;
        let told = json::plan(&plan).map_err(|why| TestCaseError::fail(why.to_string()))?;
        prop_assert!(serde_json::from_str::<serde_json::Value>(&told).is_ok());
        prop_assert!(text::plan(&plan).lines().all(|line| line.chars().count() <= 100));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 8, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_run_is_planned_alike_each_time(file in run()) {
        let run = Run::read(&file, "random.toml").map_err(|faults| TestCaseError::fail(faults.to_string()))?;
        prop_assert_eq!(plan(&run), plan(&run));
    }
}
