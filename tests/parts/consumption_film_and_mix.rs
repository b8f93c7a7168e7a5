//! Brushed films by area and thickness, and two-part splits.
#![expect(
    clippy::cast_precision_loss,
    reason = "counts of runs and steps are far below 2^52"
)]

use brimful::consumption::{Brushed, MixRatio, Split, TwoPart, UseError, covers, wet_film};
use brimful::quantity::{Area, Density, Length, Mass, Ratio, Share, Volume};
use proptest::prelude::*;

const SQUARE_FOOT_M2: f64 = 0.3048 * 0.3048;

fn film(area: Area, wet_mm: f64, coats: u32, soak_mm: f64) -> Brushed {
    Brushed {
        area,
        wet: Length::from_mm(wet_mm),
        coats,
        soak: Length::from_mm(soak_mm),
    }
}

fn glaze(ratio: MixRatio) -> TwoPart {
    TwoPart {
        ratio,
        density_a: Density::from_g_per_ml(1.10),
        density_b: Density::from_g_per_ml(0.99),
    }
}

fn by_volume(a: f64, b: f64) -> MixRatio {
    MixRatio::ByVolume {
        a: Ratio::from_number(a),
        b: Ratio::from_number(b),
    }
}

fn by_weight(a: f64, b: f64) -> MixRatio {
    MixRatio::ByWeight {
        a: Ratio::from_number(a),
        b: Ratio::from_number(b),
    }
}

/// Case C01, to the printed tenth of a millilitre.
#[test]
fn a_level_film_over_a_tile_takes_what_makers_measured() {
    let tile = Area::from_mm2(108.0 * 108.0);
    for (mm, ml) in [(0.9, 10.5), (1.6, 18.7), (3.2, 37.3)] {
        let volume = film(tile, mm, 1, 0.0).volume().unwrap();
        assert!(
            (volume.total().ml() - ml).abs() <= 0.05,
            "{} at {mm} mm",
            volume.total().ml()
        );
        assert_eq!(volume.soak, Volume::ZERO);
    }
}

/// Case C02, to the printed digits: 2.38 m2, 25.6 square feet, 10 cm2.
/// 3.785 / 1.588 is 2.3835 m2, 25.66 square feet; the 25.6 comes of the rounded 2.38.
#[test]
fn a_gallon_covers_what_its_label_says() {
    let area = covers(Volume::from_ml(3785.0), Length::from_mm(1.588)).unwrap();
    assert!((area.m2() - 2.38).abs() <= 0.005, "{}", area.m2());
    assert!((area.m2() / SQUARE_FOOT_M2 - 25.6).abs() <= 0.1);
    let one = covers(Volume::from_ml(1.0), Length::from_mm(1.0)).unwrap();
    assert!((one.cm2() - 10.0).abs() < 1e-12);
}

/// Case C03: 3.2 ounces over one square foot at 0.89 mm closes only as a weight of a
/// 1.10 g/mL mix (82.5 mL), not as fluid ounces (94.6 mL).
#[test]
fn ounces_over_a_square_foot_close_only_as_weight() {
    let foot = Area::from_m2(SQUARE_FOOT_M2);
    let film = film(foot, 0.89, 1, 0.0).volume().unwrap().total();
    let as_weight = Mass::from_oz(3.2) / Density::from_g_per_ml(1.10);
    let as_fluid = Volume::from_us_fl_oz(3.2);
    // 0.89 is printed to half a hundredth: 0.6 %.
    assert!((as_weight / film - 1.0).abs() < 0.006);
    assert!((as_fluid / film - 1.0).abs() > 0.1);
    let wet = wet_film(as_weight, foot).unwrap();
    assert!((wet.mm() - 0.89).abs() < 0.005, "{}", wet.mm());
}

/// Case C04: bare softwood drinks before it films; the soak is a line of its own, taken once.
#[test]
fn bare_wood_takes_a_soak_once() {
    let board = Area::from_cm2(100.0);
    let volume = film(board, 0.1, 2, 0.05).volume().unwrap();
    // 0.01 m2 x 0.1 mm x 2 = 2 mL; 0.01 m2 x 0.05 mm = 0.5 mL
    assert!((volume.film.ml() - 2.0).abs() < 1e-12 && (volume.soak.ml() - 0.5).abs() < 1e-12);
    assert!((volume.total().ml() - 2.5).abs() < 1e-12);
    assert_eq!(
        film(board, 0.1, 0, 0.05).volume().unwrap().total(),
        Volume::ZERO
    );
}

/// Case C13, exactly: 1.10 to 0.99 is 100 to 90.
#[test]
fn one_to_one_by_volume_is_a_hundred_to_ninety_by_weight() {
    let split = glaze(by_volume(1.0, 1.0))
        .split_mass(Mass::from_g(190.0))
        .unwrap();
    assert!((split.a.mass.g() - 100.0).abs() < 1e-10 && (split.b.mass.g() - 90.0).abs() < 1e-10);
    assert!((split.a.volume / split.b.volume - 1.0).abs() < 1e-12);
    let back = glaze(by_weight(100.0, 90.0))
        .split(Volume::from_ml(200.0))
        .unwrap();
    assert!(
        (back.a.volume.ml() - 100.0).abs() < 1e-10 && (back.b.volume.ml() - 100.0).abs() < 1e-10
    );
}

/// Case C14: 3 g on a scale that reads whole grams may be a third out.
#[test]
fn a_mix_too_small_to_weigh_says_how_far_out() {
    let even = TwoPart {
        density_b: Density::from_g_per_ml(1.10),
        ..glaze(by_volume(1.0, 1.0))
    };
    let split = even.split_mass(Mass::from_g(3.0)).unwrap();
    let out = split.weighing_error(Mass::from_g(1.0)).unwrap();
    assert!((out.fraction() - 1.0 / 3.0).abs() < 1e-12);
    let nothing = even.split(Volume::ZERO).unwrap();
    assert!(nothing.weighing_error(Mass::from_g(1.0)).is_err());
}

/// Case C14: how much is worth weighing on that scale, and that such a mix is out by
/// just the share: for a part within 5 %, half a gram is 5 % of 10 g, so 20 g even and
/// 40 g at 3:1 by weight (worked by hand).
#[test]
fn the_smallest_mix_worth_weighing_keeps_the_smaller_part_within_a_share() {
    let step = Mass::from_g(1.0);
    let share = Share::from_percent(5.0);
    let least = |a: f64, b: f64| {
        glaze(by_weight(a, b))
            .smallest_worth_weighing(step, share)
            .unwrap()
    };
    assert!((least(1.0, 1.0).g() - 20.0).abs() < 1e-9);
    assert!((least(3.0, 1.0).g() - 40.0).abs() < 1e-9);
    assert!((least(1.0, 3.0).g() - 40.0).abs() < 1e-9);
    let mix = glaze(by_volume(2.0, 1.0));
    let smallest = mix.smallest_worth_weighing(step, share).unwrap();
    let out = mix
        .split_mass(smallest)
        .unwrap()
        .weighing_error(step)
        .unwrap();
    assert!((out.percent() - 5.0).abs() < 1e-9, "{out:?}");
    assert!(mix.smallest_worth_weighing(Mass::ZERO, share).is_err());
    assert!(
        mix.smallest_worth_weighing(step, Share::from_percent(0.0))
            .is_err()
    );
}

#[test]
fn steps_of_a_scale_add_up() {
    let split = glaze(by_volume(1.0, 1.0))
        .split(Volume::from_ml(48.3))
        .unwrap();
    // 24.15 x 1.10 = 26.565 g, 24.15 x 0.99 = 23.9085 g, together 50.4735 g
    assert_eq!(split.scale_steps(Mass::from_g(0.1)), Ok([266, 239, 505]));
    assert_eq!(split.cup_steps(Volume::from_ml(5.0)), Ok([5, 5, 10]));
    assert!(split.scale_steps(Mass::ZERO).is_err());
    let fine = split.cup_steps(Volume::from_ml(1e-12));
    assert!(matches!(fine, Err(UseError::TooMany { .. })));
}

#[test]
fn nonsense_is_refused() {
    let tile = Area::from_cm2(100.0);
    for bad in [-1.0, f64::NAN, f64::INFINITY] {
        assert!(film(Area::from_m2(bad), 1.0, 1, 0.0).volume().is_err());
        assert!(film(tile, bad, 1, 0.0).volume().is_err());
        assert!(film(tile, 1.0, 1, bad).volume().is_err());
        assert!(covers(Volume::from_ml(bad), Length::from_mm(1.0)).is_err());
        assert!(wet_film(Volume::from_ml(1.0), Area::from_m2(bad)).is_err());
        assert!(
            glaze(by_volume(bad, 1.0))
                .split(Volume::from_ml(1.0))
                .is_err()
        );
        assert!(
            glaze(by_weight(1.0, bad))
                .split(Volume::from_ml(1.0))
                .is_err()
        );
        assert!(
            glaze(by_volume(1.0, 1.0))
                .split(Volume::from_ml(bad))
                .is_err()
        );
        assert!(
            glaze(by_volume(1.0, 1.0))
                .split_mass(Mass::from_g(bad))
                .is_err()
        );
        let heavy = TwoPart {
            density_a: Density::from_g_per_ml(bad),
            ..glaze(by_volume(1.0, 1.0))
        };
        assert!(heavy.split(Volume::from_ml(1.0)).is_err());
    }
    assert!(covers(Volume::from_ml(1.0), Length::ZERO).is_err());
    assert!(wet_film(Volume::from_ml(1.0), Area::ZERO).is_err());
    assert!(
        glaze(by_volume(0.0, 1.0))
            .split(Volume::from_ml(1.0))
            .is_err()
    );
}

/// Whether two splits agree to rounding.
fn same(one: &Split, other: &Split) -> bool {
    let near = |x: Mass, y: Mass| (x.g() - y.g()).abs() <= 1e-9 * y.g().abs();
    near(one.a.mass, other.a.mass) && near(one.b.mass, other.b.mass)
}

proptest! {
    #[test]
    fn thickness_and_area_undo_each_other(ml in 0.01..5000.0_f64, mm in 0.001..50.0_f64) {
        let area = covers(Volume::from_ml(ml), Length::from_mm(mm)).unwrap();
        let back = film(area, mm, 1, 0.0).volume().unwrap().total().ml();
        prop_assert!((back / ml - 1.0).abs() < 1e-12);
        prop_assert!((wet_film(Volume::from_ml(ml), area).unwrap().mm() / mm - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_parts_make_the_whole(ml in 0.01..1e5_f64, a in 0.01..100.0_f64, b in 0.01..100.0_f64) {
        let mix = glaze(by_volume(a, b));
        let split = mix.split(Volume::from_ml(ml)).unwrap();
        // One rounding in the last place is all that floating point may leave.
        prop_assert!((split.volume().ml() - ml).abs() <= 2.0 * f64::EPSILON * ml);
        prop_assert!((split.a.volume / split.b.volume / (a / b) - 1.0).abs() < 1e-10);
        prop_assert!(same(&mix.split_mass(split.mass()).unwrap(), &split));
        // The same mix said by weight.
        let weights = by_weight(split.a.mass.g(), split.b.mass.g());
        prop_assert!(same(&glaze(weights).split(Volume::from_ml(ml)).unwrap(), &split));
        let [part_a, part_b, whole] = split.scale_steps(Mass::from_g(0.1)).unwrap();
        prop_assert_eq!(part_a + part_b, whole);
        prop_assert!((part_b as f64 * 0.1 - split.b.mass.g()).abs() <= 0.1 + 1e-6);
    }
}
