//! What must hold of drying and curing over the whole range of rooms and coats.

use crate::common::cure::{epoxy, glaze, glaze_forming_at, tray};
use brimful::cure::air::Air;
use brimful::cure::compare::{Effect, Outcome};
use brimful::cure::law::{Law, Reached};
use brimful::cure::psychro::{same_vapour, vapour_pressure};
use brimful::cure::series::{Through, through};
use brimful::cure::situation::Spell;
use brimful::cure::transfer::{Exposure, Footprint, Tray};
use brimful::cure::water_film::{FilmProperties, WaterFilm};
use brimful::cure::{Case, Situation, compare, what_would_help};
use brimful::quantity::{
    Diffusivity, Humidity, Length, MolarEnergy, Pressure, Share, Speed, Temperature, Time,
};
use brimful::stage::Stage;
use proptest::prelude::*;

fn any_air() -> impl Strategy<Value = Air> {
    (-20.0..=60.0, 0.0..=100.0, 0.0..=5.0, 500.0..=1100.0).prop_map(|(t, h, v, p)| {
        Air::new(
            Temperature::from_celsius(t),
            Humidity::from_percent(h),
            Speed::from_m_per_s(v),
        )
        .unwrap()
        .with_pressure(Pressure::from_hpa(p))
        .unwrap()
    })
}

fn any_situation() -> impl Strategy<Value = Situation> {
    (any_air(), 0.01..=6.0, 5.0..=60.0, 1u32..40).prop_map(|(air, mm, across, pieces)| {
        let disc = Footprint::Disc {
            diameter: Length::from_mm(across),
        };
        let exposure = Exposure::among(disc, Tray { pieces, ..tray(1) }).unwrap();
        Situation::new(air, exposure, Length::from_mm(mm))
    })
}

fn any_film() -> impl Strategy<Value = WaterFilm> {
    (5.0..=95.0, -13.0..=-8.0f64, 0.0..=100.0, -20.0..=30.0).prop_map(|(s, d, e, m)| {
        WaterFilm::new(FilmProperties {
            solids: Share::from_percent(s),
            water_diffusivity: Diffusivity::from_m2_per_s(10f64.powf(d)),
            diffusion_energy: MolarEnergy::from_kj_per_mol(e),
            film_forming_minimum: Temperature::from_celsius(m),
        })
        .unwrap()
    })
}

/// Hours to the last stage, or infinity.
fn hours(film: &WaterFilm, stage: Stage, situation: &Situation) -> f64 {
    match film.reach(stage, situation).unwrap() {
        Reached::After(lapse) => lapse.h(),
        Reached::Never(_) => f64::INFINITY,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_room_gives_finite_times_or_a_typed_never(film in any_film(), here in any_situation()) {
        let label = here.in_air(Air::REFERENCE);
        let comparison = compare(&film, &label, &here).unwrap();
        let mut product = 1.0;
        let mut stopped = false;
        for part in &comparison.factor.parts {
            match part.effect {
                Effect::Times(times) => {
                    prop_assert!(times.is_finite() && times > 0.0, "{part:?}");
                    product *= times;
                }
                Effect::Stops(_) | Effect::AlreadyStopped => stopped = true,
            }
        }
        if let Outcome::Times(band) = comparison.factor.whole {
            prop_assert!(!stopped);
            prop_assert!((product / band.likely - 1.0).abs() < 1e-9, "{product} {band:?}");
            prop_assert!(band.low <= band.likely && band.likely <= band.high);
        }
        for stage in &comparison.stages {
            if let Outcome::Times(band) = stage.outcome {
                prop_assert!(band.low.is_finite() && band.low > 0.0, "{stage:?}");
                prop_assert!(band.low <= band.likely && band.likely <= band.high);
            }
        }
        for warning in &comparison.warnings {
            prop_assert!(!warning.to_string().contains("NaN"));
        }
        what_would_help(&Case::steady(&film, &label, &here)).unwrap();
        compare(&epoxy(), &label, &here).unwrap();
    }

    #[test]
    fn any_series_of_air_leaves_a_film_between_bone_dry_and_fresh(
        film in any_film(),
        here in any_situation(),
        airs in proptest::collection::vec((any_air(), 0.01..500.0), 1..12),
    ) {
        let spells = airs.iter().map(|&(air, h)| Spell { air, lasts: Time::from_h(h) });
        // twice over, so that some films rest at balance and start again from it
        let spells: Vec<_> = spells.flat_map(|spell| [spell, spell]).collect();
        let total: f64 = spells.iter().map(|s| s.lasts.h()).sum();
        match through(&film, 0.02, &here, spells).unwrap() {
            Through::Reached(time) => prop_assert!(time.h() > 0.0 && time.h() <= total),
            Through::Left(x) => prop_assert!((0.0..=film.start(&here)).contains(&x), "{x}"),
        }
    }

    #[test]
    fn parts_multiply_to_the_factor(
        label in any_situation(), here in any_situation(),
        dry in 0.0..84.0, drier in 0.0..84.0,
    ) {
        let dried = |s: Situation, h| s.in_air(s.air().with_humidity(Humidity::from_percent(h)).unwrap());
        let (label, here) = (dried(label, dry), dried(here, drier));
        let film = glaze_forming_at(-20.0);
        let factor = compare(&film, &label, &here).unwrap().factor;
        let product: f64 = factor.parts.iter().map(|p| match p.effect {
            Effect::Times(times) => times,
            other => panic!("{other:?}"),
        }).product();
        if let Some(whole) = factor.whole.likely() {
            prop_assert!((product / whole - 1.0).abs() < 1e-9, "{product} {whole}");
        }
    }

    #[test]
    fn warmer_air_with_the_same_vapour_dries_sooner(here in any_situation(), by in 0.5..20.0) {
        let warm = Temperature::from_celsius(here.air().temperature().celsius() + by);
        prop_assume!(warm.celsius() <= 60.0);
        let heated = here.in_air(same_vapour(&here.air(), warm).unwrap());
        prop_assert!((vapour_pressure(&heated.air()) / vapour_pressure(&here.air()) - 1.0).abs() < 1e-9
            || here.air().humidity() == Humidity::ZERO);
        for stage in [Stage::TackFree, Stage::Through] {
            let (cold, warm) = (hours(&glaze(), stage, &here), hours(&glaze(), stage, &heated));
            prop_assert!(warm < cold || cold.is_infinite(), "{stage:?} {cold} {warm}");
        }
    }

    #[test]
    fn damper_air_dries_later(here in any_situation(), by in 0.5..20.0) {
        let percent = here.air().humidity().percent() + by;
        prop_assume!(percent <= 100.0);
        let damper = here.in_air(here.air().with_humidity(Humidity::from_percent(percent)).unwrap());
        for stage in [Stage::TackFree, Stage::Through] {
            let (dry, damp) = (hours(&glaze(), stage, &here), hours(&glaze(), stage, &damper));
            prop_assert!(damp > dry || dry.is_infinite(), "{stage:?} {dry} {damp}");
        }
    }

    #[test]
    fn deeper_and_more_crowded_coats_dry_later(here in any_situation(), more in 1.05..2.0) {
        let depth = here.wet_depth() * more;
        prop_assume!(depth < WaterFilm::THICKEST);
        let (thin, thick) = (hours(&glaze(), Stage::Through, &here), hours(&glaze(), Stage::Through, &here.at_depth(depth)));
        prop_assert!(thick > thin || thin.is_infinite(), "{thin} {thick}");
        let alone = hours(&glaze(), Stage::Through, &here.exposed(here.exposure().without_neighbours()));
        prop_assert!(alone <= thin * (1.0 + 1e-9), "{alone} {thin}");
    }
}
