//! Coating amounts and bottles: outside quantiles, exact limits, and a
//! simulated workshop.
#![expect(
    clippy::cast_precision_loss,
    reason = "counts of runs and steps are far below 2^52"
)]

use brimful::consumption::{Bottle, Demand, Losses, Pour, Pours, UseError};
use brimful::quantity::{Ratio, Share, Volume};
use proptest::prelude::*;
use serde::Deserialize;

/// One row of `amount.csv`: amounts in units of one mean pour.
#[derive(Deserialize)]
struct Row {
    pour: String,
    pours: u64,
    scatter: f64,
    bias: f64,
    sure: f64,
    amount_over_mean_pour: f64,
    source: String,
}

fn pour(ml: f64, scatter: f64) -> Pour {
    Pour {
        each: Volume::from_ml(ml),
        scatter: Share::from_fraction(scatter),
        coats: 1,
    }
}

fn demand(started: u64, pour: Pour, bias: f64) -> Demand {
    let uses = vec![Pours { started, pour }];
    Demand {
        uses,
        bias: Share::from_fraction(bias),
        losses: Losses::NONE,
    }
}

fn bottle(ml: f64, have: f64) -> Bottle {
    Bottle {
        holds: Volume::from_ml(ml),
        have: Ratio::from_number(have),
    }
}

fn near(ours: f64, theirs: f64, relative: f64) -> bool {
    (ours - theirs).abs() <= relative * theirs.abs()
}

const LOSSES: Losses = Losses {
    drips: Share::from_fraction(0.2),
    tool: Volume::from_ml(10.0),
    sittings: 3,
    heel: Share::from_fraction(0.04),
};

/// A lognormal pour under a lognormal bias is exact. Gamma pours are another
/// law with the same mean and spread, so the difference there is the price of
/// the closed form: 4 % for a lone pour at scatter 30 %, 0.6 % for ten, 0.15 % from sixty.
#[test]
fn quantiles_agree_with_the_outside_distributions() {
    let rows: Vec<Row> = csv::Reader::from_reader(
        include_str!("../../data/reference/consumption/amount.csv").as_bytes(),
    )
    .deserialize()
    .collect::<Result<_, _>>()
    .unwrap();
    assert_eq!(rows.len(), 162);
    for row in rows {
        assert!(row.source.starts_with("scipy"));
        let amount = demand(row.pours, pour(1.0, row.scatter), row.bias)
            .amount()
            .unwrap();
        let ours = amount.mix_for(Share::from_fraction(row.sure)).unwrap().ml();
        let tolerance = match (row.pour.as_str(), row.pours) {
            ("lognormal", _) => 1e-10,
            (_, 1) => 0.04,
            (_, 10) => 0.006,
            _ => 0.0015,
        };
        let theirs = row.amount_over_mean_pour;
        assert!(
            near(ours, theirs, tolerance),
            "{ours} against {theirs}: {}",
            row.source
        );
        if row.pour == "lognormal" {
            let chance = amount.chance(Volume::from_ml(theirs)).fraction();
            assert!(
                (chance - row.sure).abs() < 1e-9,
                "{chance} against {}",
                row.sure
            );
        }
    }
}

/// A small generator of even numbers, `SplitMix64` (Steele, Lea and Flood 2014), from memory.
struct Random(u64);

impl Random {
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
    /// Box and Muller's normal.
    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.even()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.even()).cos()
    }
    /// Lognormal of mean 1.
    fn lognormal(&mut self, relative: f64) -> f64 {
        let s2 = (relative * relative).ln_1p();
        (self.normal() * s2.sqrt() - s2 / 2.0).exp()
    }
}

/// Pours one by one, two uses under one bias, with drips and tool: share of
/// 100 000 simulated runs that a volume is enough for. Four standard errors
/// of a share are 4 sqrt(0.25 / 100 000) = 0.0063 at most; the closed form's own error
/// on sums of lognormals is far less here.
#[test]
fn a_simulated_workshop_agrees() {
    const RUNS: usize = 100_000;
    let uses = vec![
        Pours {
            started: 12,
            pour: pour(2.0, 0.25),
        },
        Pours {
            started: 5,
            pour: Pour {
                coats: 2,
                ..pour(3.5, 0.15)
            },
        },
    ];
    let plan = Demand {
        uses,
        bias: Share::from_fraction(0.12),
        losses: LOSSES,
    };
    let amount = plan.amount().unwrap();
    let mut random = Random(20_270_417);
    let mixes: Vec<f64> = (0..RUNS)
        .map(|_| {
            let first: f64 = (0..12).map(|_| 2.0 * random.lognormal(0.25)).sum();
            let second: f64 = (0..10).map(|_| 3.5 * random.lognormal(0.15)).sum();
            (first + second) * random.lognormal(0.12) / 0.8 + 30.0
        })
        .collect();
    for sure in [0.05, 0.3, 0.5, 0.8, 0.95, 0.99] {
        let enough = amount.mix_for(Share::from_fraction(sure)).unwrap().ml();
        let share = mixes.iter().filter(|&&mix| mix <= enough).count() as f64 / RUNS as f64;
        assert!(
            (share - sure).abs() < 4.0 * (sure * (1.0 - sure) / RUNS as f64).sqrt(),
            "{share} {sure}"
        );
    }
    let mean = mixes.iter().sum::<f64>() / RUNS as f64;
    let variance = mixes.iter().map(|mix| (mix - mean).powi(2)).sum::<f64>() / RUNS as f64;
    let spread = amount.spread();
    // The spread is of the needed amount, which is the mix over 1 - h.
    let ours = spread.scatter.ml().hypot(spread.bias.ml()) * 0.96;
    // Standard errors: of the mean sd/sqrt(n) = 0.03 mL; of the sd about 0.25 %.
    assert!((mean - amount.lines().mix_now().ml()).abs() < 4.0 * ours / (RUNS as f64).sqrt());
    assert!(
        near(variance.sqrt(), ours, 0.01),
        "{} against {ours}",
        variance.sqrt()
    );
}

#[test]
fn bias_does_not_average_out_and_scatter_does() {
    let parts = |started| {
        let amount = demand(started, pour(2.0, 0.3), 0.08).amount().unwrap();
        let total = amount.lines().needed();
        (
            amount.spread().scatter / total,
            amount.spread().bias / total,
        )
    };
    let (one, bias_of_one) = parts(1);
    // sqrt(0.3^2 (1 + 0.08^2))
    assert!(near(one, 0.3 * 1.0064_f64.sqrt(), 1e-12));
    let (many, bias_of_many) = parts(10_000);
    assert!(near(many, one / 100.0, 1e-12), "falls as 1 / sqrt(N)");
    assert!(near(bias_of_one, 0.08, 1e-12) && near(bias_of_many, 0.08, 1e-12));
    assert!(
        near(many.hypot(bias_of_many), 0.08, 1e-3),
        "the whole tends to the bias"
    );
}

/// Case C05: 237 mL meant for the pieces, 437 mL gone. With a fifth dripped, three
/// sittings at 10 mL and a 4 % heel each loss stands on its own line; by hand
/// 237 / 0.8 = 296.25, + 30 = 326.25, / 0.96 = 339.84.
#[test]
fn every_loss_is_a_line_of_its_own() {
    let plan = Demand {
        losses: LOSSES,
        ..demand(100, pour(2.37, 0.0), 0.0)
    };
    let lines = plan.amount().unwrap().lines();
    for (line, ml) in [
        (lines.on_pieces, 237.0),
        (lines.drips, 59.25),
        (lines.tool, 30.0),
        (lines.heel, 13.593_75),
        (lines.mix_now(), 326.25),
        (lines.needed(), 339.843_75),
    ] {
        assert!(near(line.ml(), ml, 1e-12), "{} against {ml}", line.ml());
    }
}

#[test]
fn without_spread_the_amount_is_exact_and_the_chance_a_step() {
    let amount = demand(60, pour(2.0, 0.0), 0.0).amount().unwrap();
    for sure in [0.01, 0.5, 0.999] {
        assert!(near(
            amount.needed_for(Share::from_fraction(sure)).unwrap().ml(),
            120.0,
            1e-12
        ));
    }
    let bottles = amount
        .bottles(&bottle(60.0, 0.0), Share::from_fraction(0.95))
        .unwrap();
    assert_eq!(
        (bottles.buy, bottles.expected),
        (2, 2),
        "120 mL is two bottles of 60, not three"
    );
    let chances: Vec<_> = bottles
        .chances
        .iter()
        .map(|c| (c.bottles, c.chance.fraction()))
        .collect();
    assert_eq!(chances, [(0, 0.0), (1, 0.0), (2, 1.0), (3, 1.0), (4, 1.0)]);
}

/// By hand: half a 60 mL bottle with a 5 % heel gives 30 - 3 = 27 mL, a new one 57;
/// 139 mL less 27 is 112, two bottles of 57 are 114.
#[test]
fn stock_counts_and_keeps_its_heel() {
    let losses = Losses {
        heel: Share::from_percent(5.0),
        ..Losses::NONE
    };
    let amount = Demand {
        losses,
        ..demand(1, pour(139.0, 0.0), 0.0)
    }
    .amount()
    .unwrap();
    let sure = Share::from_percent(95.0);
    let bottles = amount.bottles(&bottle(60.0, 0.5), sure).unwrap();
    assert!(near(bottles.stock.ml(), 27.0, 1e-12));
    assert_eq!(bottles.buy, 2);
    assert!(near(bottles.bought.ml(), 120.0, 1e-12));
    let dregs = amount.bottles(&bottle(60.0, 0.04), sure).unwrap();
    assert_eq!((dregs.stock, dregs.buy), (Volume::ZERO, 3));
    assert_eq!(amount.bottles(&bottle(60.0, 9.0), sure).unwrap().buy, 0);
}

#[test]
fn nothing_to_coat_needs_no_bottle() {
    let nothing = Demand {
        uses: vec![],
        ..demand(0, pour(0.0, 0.0), 0.1)
    };
    let bottles = nothing
        .amount()
        .unwrap()
        .bottles(&bottle(60.0, 0.0), Share::from_percent(95.0));
    let bottles = bottles.unwrap();
    assert_eq!((bottles.buy, bottles.chances.len()), (0, 3));
    assert!(
        bottles
            .chances
            .iter()
            .all(|c| c.chance == Share::from_fraction(1.0))
    );
}

/// By hand: 3 full bottles of 60 mL at a 4 % heel give 172.8 mL; 142.8 after the
/// tool; 114.24 on the pieces after drips; 57 pieces of 2 mL.
#[test]
fn the_stock_makes_so_many_pieces() {
    let none = Demand {
        losses: LOSSES,
        uses: vec![],
        bias: Share::ZERO,
    };
    let sure = Share::from_percent(95.0);
    assert_eq!(
        none.most_started(&pour(2.0, 0.0), &bottle(60.0, 3.0), sure),
        Ok(57)
    );
    assert_eq!(
        none.most_started(&pour(2.0, 0.0), &bottle(60.0, 0.1), sure),
        Ok(0)
    );
    let other = Demand {
        uses: vec![Pours {
            started: 7,
            pour: pour(2.0, 0.0),
        }],
        ..none.clone()
    };
    assert_eq!(
        other.most_started(&pour(2.0, 0.0), &bottle(60.0, 3.0), sure),
        Ok(50)
    );
    assert!(
        none.most_started(&pour(0.0, 0.0), &bottle(60.0, 3.0), sure)
            .is_err()
    );
    let drop = Pour {
        each: Volume::from_mm3(1e-3),
        ..pour(1.0, 0.0)
    };
    let many = none.most_started(&drop, &bottle(1e6, 3.0), sure);
    assert!(matches!(
        many,
        Err(UseError::TooMany {
            most: 1_000_000_000,
            ..
        })
    ));
}

#[test]
fn nonsense_is_refused() {
    let good = Demand {
        losses: LOSSES,
        ..demand(10, pour(2.0, 0.1), 0.1)
    };
    let sure = Share::from_percent(95.0);
    let with = |losses: Losses| Demand {
        losses,
        ..good.clone()
    };
    let full = Share::from_percent(100.0);
    let over = Share::from_percent(101.0);
    for bad in [
        with(Losses {
            drips: full,
            ..LOSSES
        }),
        with(Losses {
            heel: full,
            ..LOSSES
        }),
        with(Losses {
            tool: Volume::from_ml(-1.0),
            ..LOSSES
        }),
        Demand {
            bias: over,
            ..good.clone()
        },
        Demand {
            bias: Share::from_fraction(f64::NAN),
            ..good.clone()
        },
        demand(10, pour(-2.0, 0.1), 0.1),
        demand(10, pour(f64::INFINITY, 0.1), 0.1),
        demand(10, pour(2.0, 1.01), 0.1),
    ] {
        assert!(
            matches!(bad.amount(), Err(UseError::OutOfRange { .. })),
            "{bad:?}"
        );
    }
    assert!(matches!(
        demand(u64::MAX, pour(2.0, 0.1), 0.1).amount(),
        Err(UseError::TooMany { .. })
    ));
    let amount = good.amount().unwrap();
    for sure in [0.0, 1.0, -1.0, f64::NAN] {
        assert!(amount.needed_for(Share::from_fraction(sure)).is_err());
    }
    for (ml, have) in [(0.0, 0.0), (-1.0, 0.0), (60.0, -0.5), (60.0, f64::NAN)] {
        assert!(amount.bottles(&bottle(ml, have), sure).is_err());
    }
    let thimble = amount.bottles(&bottle(1e-12, 0.0), sure);
    assert!(matches!(
        thimble,
        Err(UseError::TooMany {
            most: 1_000_000_000,
            ..
        })
    ));
}

proptest! {
    #[test]
    fn surer_needs_more_and_more_bottles_are_likelier(
        started in 0_u64..500, ml in 0.01..20.0_f64, scatter in 0.0..1.0_f64, bias in 0.0..1.0_f64,
        drips in 0.0..0.9_f64, heel in 0.0..0.9_f64, have in 0.0..5.0_f64,
        sure in 0.01..0.98_f64, step in 0.001..0.01_f64,
    ) {
        let losses = Losses { drips: Share::from_fraction(drips), heel: Share::from_fraction(heel), ..LOSSES };
        let amount = Demand { losses, ..demand(started, pour(ml, scatter), bias) }.amount().unwrap();
        let at = Share::from_fraction(sure);
        let surer = Share::from_fraction(sure + step);
        prop_assert!(amount.needed_for(surer).unwrap() >= amount.needed_for(at).unwrap());
        let bottle = bottle(60.0, have);
        let bottles = amount.bottles(&bottle, at).unwrap();
        prop_assert!(amount.bottles(&bottle, surer).unwrap().buy >= bottles.buy);
        prop_assert!(bottles.chances.windows(2).all(|two|
            two[1].bottles == two[0].bottles + 1 && two[1].chance >= two[0].chance));
        for near in &bottles.chances {
            // The answer is the least number that reaches the sureness.
            let reaches = near.chance.fraction() >= sure - 1e-6;
            prop_assert!(reaches || near.bottles < bottles.buy);
            prop_assert!(near.bottles >= bottles.buy || near.chance.fraction() < sure + 1e-6);
        }
    }

    #[test]
    fn the_chance_undoes_the_amount(
        started in 1_u64..500, scatter in 0.01..1.0_f64, bias in 0.01..1.0_f64, sure in 0.001..0.999_f64,
    ) {
        let amount = Demand { losses: LOSSES, ..demand(started, pour(2.0, scatter), bias) }.amount().unwrap();
        let mix = amount.mix_for(Share::from_fraction(sure)).unwrap();
        prop_assert!((amount.chance(mix).fraction() - sure).abs() < 1e-9);
    }

    #[test]
    fn the_stock_covers_its_pieces_and_not_one_more(
        ml in 0.1..5.0_f64, scatter in 0.0..0.6_f64, bias in 0.0..0.3_f64, have in 0.0..9.0_f64,
        sure in 0.5..0.999_f64,
    ) {
        let sure = Share::from_fraction(sure);
        let none = Demand { uses: vec![], bias: Share::from_fraction(bias), losses: LOSSES };
        let most = none.most_started(&pour(ml, scatter), &bottle(60.0, have), sure).unwrap();
        let to_buy = |started| {
            let plan = Demand { losses: LOSSES, ..demand(started, pour(ml, scatter), bias) };
            plan.amount().unwrap().bottles(&bottle(60.0, have), sure).unwrap().buy
        };
        prop_assert!(most == 0 || to_buy(most) == 0);
        prop_assert!(to_buy(most + 1) > 0);
    }
}
