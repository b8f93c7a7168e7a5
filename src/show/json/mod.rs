//! A plan as JSON: the same figures, each key with its unit.

mod cautions;
mod dates;
mod drying;
mod keys;
mod mixing;
mod money;
mod supplies;
mod work;

use drying::{drying, room};

use keys::{
    AdviceJson, AssumptionJson, BandJson, BlankJson, ChanceJson, CoatingJson, CountsJson,
    CoverageJson, DrawnJson, FillJson, LinesJson, MixJson, PieceJson, PlanJson, SittingsJson,
    SplitJson, SpreadJson, StepJson, WarningJson,
};

use mixing::CupsJson;
use supplies::{FromStockJson, SizesJson, SupplyJson};

use super::{outline, words};
use crate::consumption::{CoatsNeeded, Lines, Part as MixPart, Split};
use crate::geometry::Dome;
use crate::plan::{
    Advice, BlankPlan, CoatingPlan, DrawnPlan, FillPlan, Fit, Further, PiecePlan, Plan, StepKind,
    StepPlan, TimeBand,
};
use crate::quantity::{Angle, Units};

/// The plan as JSON, indented, with a line end.
///
/// # Errors
/// What the encoder returns; a plan gives it no cause to.
pub fn plan(plan: &Plan) -> serde_json::Result<String> {
    let mut text = serde_json::to_string_pretty(&PlanJson::of(plan))?;
    text.push('\n');
    Ok(text)
}

/// The same as a value, for whoever shows its figures.
pub(super) fn value(plan: &Plan) -> serde_json::Result<serde_json::Value> {
    serde_json::to_value(PlanJson::of(plan))
}

/// Two plans side by side.
#[must_use]
pub fn beside(both: &super::Beside) -> [super::OneWay; 2] {
    both.ways()
}

impl<'p> PlanJson<'p> {
    fn of(plan: &'p Plan) -> Self {
        Self {
            name: &plan.header.name,
            batch_code: plan.batch.clone(),
            units: match plan.header.units {
                Units::Metric => "metric",
                Units::Us => "us",
            },
            ready_by: plan.header.ready_by.map(|when| when.to_string()),
            sure_percent: plan.header.sure.percent(),
            room: room(&plan.room),
            can_be_done: plan.can_be_done(),
            pieces: (plan.pieces.iter())
                .map(|one| piece(one, plan.header.units))
                .collect(),
            coatings: plan.coatings.iter().map(coating).collect(),
            drawn: plan.drawn.iter().map(drawn).collect(),
            blanks: plan.blanks.iter().map(blank).collect(),
            supplies: plan.supplies.iter().map(SupplyJson::of).collect(),
            from_stock: plan.from_stock.iter().map(FromStockJson::of).collect(),
            steps: (plan.steps.iter()).map(|it| step(it, plan)).collect(),
            trays: dates::trays(plan),
            calendar: dates::calendar(plan),
            undated: dates::undated(plan),
            money: money::money(plan),
            still_can: dates::still_can(plan),
            nothing_can: words::nothing_can(plan),
            advice: (plan.advice.iter())
                .map(|it| advice(it, plan.header.units))
                .collect(),
            warnings: plan
                .warnings
                .iter()
                .map(|warning| WarningJson {
                    code: warning.code(),
                    text: words::warning(warning, plan.header.units),
                    stops: warning.stops(),
                })
                .collect(),
            cautions: cautions::of(plan),
            assumptions: plan
                .assumptions
                .iter()
                .map(|assumed| AssumptionJson {
                    key: &assumed.key,
                    of: assumed.of.as_deref(),
                    value: assumed.told(plan.header.units),
                    why: assumed.why,
                })
                .collect(),
        }
    }
}

fn piece(piece: &PiecePlan, units: Units) -> PieceJson<'_> {
    let mut fills = piece.fills.iter().map(fill);
    PieceJson {
        name: &piece.name,
        count: piece.count,
        blank: &piece.blank_name,
        size: outline::described(&piece.on, units),
        lost_percent: piece.lost.percent(),
        start: piece.start,
        start_expected: piece.start_expected,
        fill: fills.next(),
        further_fills: fills.collect(),
    }
}

fn fill(fill: &FillPlan) -> FillJson<'_> {
    let Dome {
        outline_area,
        volume,
        mass,
        peak,
        edge_angle,
        surface_area,
        ..
    } = fill.dome;
    let runs_over = fill.lie.and_then(|lie| lie.runs_over);
    let draws_back = fill.lie.and_then(|lie| lie.draws_back);
    let in_a_metre = |tilt: Angle| 1000.0 * tilt.rad().tan();
    let rim = match fill.fit {
        Fit::BelowRim(rim) => Some(rim),
        _ => None,
    };
    let domed = rim.is_none();
    let up_to = |whole| fill.pour_up_to(whole).map(crate::quantity::Volume::ml);
    FillJson {
        step: &fill.step_name,
        coating: &fill.coating_name,
        fit: match fill.fit {
            Fit::Inside => "inside",
            Fit::UnderPullBack => "under pull-back",
            Fit::OverBrim(_) => "asked over the brim, planned at the target",
            Fit::BelowRim(_) => "below the rim: no dome",
            Fit::AlreadyFull => "already full",
        },
        outline_area_mm2: outline_area.mm2(),
        volume_ml: volume.ml(),
        mass_g: mass.g(),
        peak_mm: domed.then(|| peak.mm()),
        edge_angle_deg: domed.then(|| edge_angle.deg()),
        surface_area_mm2: domed.then(|| surface_area.mm2()),
        below_rim_mm: rim.map(|rim| rim.below.mm()),
        climb_mm: rim.map(|rim| rim.climb.mm()),
        sag_mm: rim.map(|rim| rim.sag.mm()),
        rim_ml: fill.rim.map(crate::quantity::Volume::ml),
        mean_height_mm: fill.mean_height.mm(),
        target_ml: fill.window.target.volume.ml(),
        pull_back_ml: fill.window.pull_back.volume.ml(),
        brim_ml: fill.window.brim.volume.ml(),
        pull_back_deg: fill.window.pull_back.edge_angle.deg(),
        brim_deg: fill.window.brim.edge_angle.deg(),
        faces: fill.faces.count(),
        poured_ml: fill.poured.ml(),
        pour_least_ml: up_to(fill.window.pull_back.volume),
        pour_rim_ml: fill.rim.and_then(up_to),
        pour_most_ml: up_to(fill.window.brim.volume),
        poured_g: fill.poured_mass.g(),
        soaks_in_ml: fill.soaks_in.ml(),
        dry_peak_mm: fill.dry_peak.mm(),
        dry_mean_mm: fill.dry_mean.mm(),
        solids_percent: fill.solids.percent(),
        level_limit_deg: runs_over.map(Angle::deg),
        level_limit_mm_per_m: runs_over.map(in_a_metre),
        draws_back_limit_deg: draws_back.map(Angle::deg),
        draws_back_limit_mm_per_m: draws_back.map(in_a_metre),
        thin_edge_share: fill.lie.map(|lie| lie.thin.fraction()),
        ten_gain_g: fill.ten_gain.g(),
        coats_needed: match fill.coats_needed {
            Some(CoatsNeeded::Coats(coats) | CoatsNeeded::PastTarget(coats)) => Some(coats),
            Some(CoatsNeeded::BeyondBrim) | None => None,
        },
    }
}

fn lines(lines: &Lines, soaks_in_ml: Option<f64>) -> LinesJson {
    LinesJson {
        on_pieces_ml: lines.on_pieces.ml(),
        soaks_in_ml,
        drips_ml: lines.drips.ml(),
        tool_ml: lines.tool.ml(),
        heel_ml: lines.heel.ml(),
    }
}

fn coating(coating: &CoatingPlan) -> CoatingJson<'_> {
    let bottles = coating.bottles.as_ref();
    CoatingJson {
        name: &coating.name,
        family: &coating.family,
        needed_ml: coating.needed.ml(),
        needed_sure_ml: coating.needed_sure.ml(),
        needed_g: coating.needed_mass.map(crate::quantity::Mass::g),
        bottles: bottles.map(|bottles| bottles.buy),
        bottles_expected: bottles.map(|bottles| bottles.expected),
        bottle_ml: coating.bottle.map(|bottle| bottle.holds.ml()),
        stock_bottles: coating.bottle.map(|bottle| bottle.have),
        stock_ml: bottles.map(|bottles| bottles.stock.ml()),
        sizes: coating.sizes.as_ref().map(SizesJson::of),
        price: coating.price.map(crate::quantity::Money::amount),
        lines: lines(&coating.lines, Some(coating.soaks_in.ml())),
        spread: SpreadJson {
            scatter_ml: coating.spread.scatter.ml(),
            bias_ml: coating.spread.bias.ml(),
        },
        chances: bottles
            .iter()
            .flat_map(|bottles| &bottles.chances)
            .map(|near| ChanceJson {
                bottles: near.bottles,
                chance_percent: near.chance.percent(),
            })
            .collect(),
        sittings: coating.sittings,
        sittings_by_step: (coating.sittings_by_step.iter())
            .map(|(step, sittings)| SittingsJson {
                step,
                sittings: *sittings,
            })
            .collect(),
        coverage: coating
            .coverage
            .iter()
            .map(|covered| CoverageJson {
                step: &covered.step,
                wet_film_mm: covered.wet_film.mm(),
                by_litre_m2: covered.by_litre.m2(),
                by_bottle_m2: covered.by_bottle.map(crate::quantity::Area::m2),
            })
            .collect(),
        mix: coating.mix.as_ref().map(|mix| MixJson {
            a_to_b_by_volume: mix.volume_ratio.number(),
            a_to_b_by_weight: mix.mass_ratio.number(),
            expected: split(&mix.expected),
            sure: split(&mix.sure),
            mixes: mix.each.map(|(many, _)| many),
            each: mix.each.as_ref().map(|(_, each)| split(each)),
            least: mix.unlike.as_ref().map(|[least, _]| split(least)),
            most: mix.unlike.as_ref().map(|[_, most]| split(most)),
            cups: mix.cups.as_ref().map(CupsJson::of),
        }),
    }
}

fn split(split: &Split) -> SplitJson {
    let part = |part: &MixPart| (part.volume.ml(), part.mass.g());
    let ((a_ml, a_g), (b_ml, b_g)) = (part(&split.a), part(&split.b));
    SplitJson {
        a_ml,
        a_g,
        b_ml,
        b_g,
    }
}

fn drawn(pen: &DrawnPlan) -> DrawnJson<'_> {
    DrawnJson {
        name: &pen.name,
        family: &pen.family,
        steps: &pen.steps,
        pieces: pen.pieces,
        have: pen.have,
        stale: pen.stale.map(supplies::stale),
    }
}

fn blank(blank: &BlankPlan) -> BlankJson<'_> {
    BlankJson {
        name: &blank.name,
        wanted: blank.wanted,
        start: blank.start,
        buy: blank.buy,
        packs: blank.packs,
        pack_of: blank.pack_of,
        bought: blank.bought,
        have: blank.have,
        bad_percent: blank.bad.percent(),
        price: blank.price.map(crate::quantity::Money::amount),
        chance_percent: blank.chance.percent(),
        expected: CountsJson {
            start: blank.expected.start,
            buy: blank.expected.buy,
            packs: blank.expected.packs,
        },
    }
}

fn step<'p>(step: &'p StepPlan, plan: &'p Plan) -> StepJson<'p> {
    let left = step.left_alone;
    let barred = plan.not_laid_in(&step.name);
    let further = |further: Option<Further>| match further {
        Some(Further::After(band)) => Some(hours(band)),
        Some(Further::No | Further::Never) | None => None,
    };
    StepJson {
        hands_off_h: left.map(|left| hours(left.hands_off)),
        next_coat_until_h: left.and_then(|left| Some(left.next_until?.h())),
        next_coat_h: further(left.map(|left| left.next_coat)),
        dry_through_h: further(left.map(|left| left.through)),
        hands_off: left.map(|left| words::span(&left.hands_off)),
        next_coat: left.as_ref().and_then(words::next_coat),
        dry_through: left.as_ref().and_then(words::dry_through),
        not_laid_h: barred.map_or(&[], |barred| &barred.spells),
        not_laid: barred.map(words::not_laid),
        name: &step.name,
        kind: match step.kind {
            StepKind::Dome => "dome",
            StepKind::Brush => "brush",
            StepKind::Draw => "draw",
            StepKind::Bare => "no coating",
        },
        coating: step.coating.as_deref(),
        pieces: &step.pieces,
        coats: step.coats,
        faces: step.faces.count(),
        depth_mm: step.depth.map(crate::quantity::Length::mm),
        slowest_on: step.slowest_on.as_deref(),
        hands_on_s: step.hands_on.map(crate::quantity::Time::s),
        spoilage_percent: step.spoilage.percent(),
        until_handled_h: step.until_handled.map(hours),
        until_handled: step.until_handled.as_ref().map(words::span),
        drying: drying(&step.drying, plan.header.units),
    }
}

fn advice(advice: &Advice, units: Units) -> AdviceJson<'_> {
    AdviceJson {
        what: "seal coat",
        part_of_the_run: false,
        before: &advice.before,
        pieces: &advice.pieces,
        coating: &advice.coating,
        coating_is_in_the_run: advice.from_the_run,
        wet_film_mm: advice.wet_film.mm(),
        needed_ml: advice.lines.needed().ml(),
        needed_sure_ml: advice.needed_sure.ml(),
        lines: lines(&advice.lines, None),
        until_recoat_h: advice.until_recoat.map(hours),
        drying: drying(&advice.drying, units),
    }
}

fn hours(band: TimeBand) -> BandJson {
    BandJson {
        low: band.low.h(),
        likely: band.likely.h(),
        high: band.high.h(),
    }
}
