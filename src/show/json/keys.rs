//! The keys of a plan's JSON, each with its unit.

use serde::Serialize;

use super::dates::{CalendarJson, StillCanJson, TraysJson, UndatedJson};
use super::mixing::CupsJson;
use super::money::MoneyJson;
use super::supplies::{FromStockJson, SizesJson, SupplyJson};

#[derive(Serialize)]
pub(super) struct PlanJson<'p> {
    pub(super) name: &'p str,
    /// The name's first letters and the day on which work begins.
    pub(super) batch_code: String,
    /// The units of all words: "metric" or "us". Keys carry their own.
    pub(super) units: &'static str,
    pub(super) ready_by: Option<String>,
    pub(super) sure_percent: f64,
    pub(super) room: RoomJson<'p>,
    pub(super) can_be_done: bool,
    pub(super) pieces: Vec<PieceJson<'p>>,
    pub(super) coatings: Vec<CoatingJson<'p>>,
    pub(super) drawn: Vec<DrawnJson<'p>>,
    pub(super) blanks: Vec<BlankJson<'p>>,
    pub(super) supplies: Vec<SupplyJson<'p>>,
    pub(super) from_stock: Vec<FromStockJson<'p>>,
    pub(super) steps: Vec<StepJson<'p>>,
    pub(super) trays: Option<TraysJson<'p>>,
    pub(super) calendar: Option<CalendarJson<'p>>,
    /// Where no date is named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) undated: Option<UndatedJson>,
    pub(super) money: Option<MoneyJson<'p>>,
    pub(super) still_can: Vec<StillCanJson>,
    /// That it is empty though it is too late; left out where that is not so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) nothing_can: Option<&'static str>,
    pub(super) advice: Vec<AdviceJson<'p>>,
    pub(super) warnings: Vec<WarningJson>,
    pub(super) cautions: Vec<CautionsJson<'p>>,
    pub(super) assumptions: Vec<AssumptionJson<'p>>,
}

#[derive(Serialize)]
pub(super) struct RoomJson<'p> {
    pub(super) temperature_c: Option<f64>,
    pub(super) humidity_percent: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) night_temperature_c: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) night_humidity_percent: Option<f64>,
    pub(super) air_m_per_s: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) record: Option<&'p str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) from: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) to: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) pour: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) shut_in_l: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) air_changes_per_h: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) shut_in_pieces: Option<u32>,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    pub(super) notices: &'p [String],
}

#[derive(Serialize)]
pub(super) struct PieceJson<'p> {
    pub(super) name: &'p str,
    pub(super) count: u32,
    pub(super) blank: &'p str,
    /// The blank in words.
    pub(super) size: String,
    pub(super) lost_percent: f64,
    pub(super) start: u64,
    pub(super) start_expected: u64,
    pub(super) fill: Option<FillJson<'p>>,
    /// Flood coats after the first.
    pub(super) further_fills: Vec<FillJson<'p>>,
}

#[derive(Serialize)]
pub(super) struct FillJson<'p> {
    pub(super) step: &'p str,
    pub(super) coating: &'p str,
    pub(super) fit: &'static str,
    pub(super) outline_area_mm2: f64,
    pub(super) volume_ml: f64,
    pub(super) mass_g: f64,
    /// These three are a dome's: none where the fill stays below a wall's rim.
    pub(super) peak_mm: Option<f64>,
    pub(super) edge_angle_deg: Option<f64>,
    pub(super) surface_area_mm2: Option<f64>,
    /// Of a fill that stays below a wall's rim.
    pub(super) below_rim_mm: Option<f64>,
    pub(super) climb_mm: Option<f64>,
    pub(super) sag_mm: Option<f64>,
    /// What fills a walled blank level with its rim.
    pub(super) rim_ml: Option<f64>,
    pub(super) mean_height_mm: f64,
    pub(super) target_ml: f64,
    pub(super) pull_back_ml: f64,
    pub(super) brim_ml: f64,
    pub(super) pull_back_deg: f64,
    pub(super) brim_deg: f64,
    pub(super) faces: u32,
    pub(super) poured_ml: f64,
    /// How much this coat must and may add to the dry ones under it: at the least, up to a wall's
    /// rim, at the most. None where the dry ones reach as far.
    pub(super) pour_least_ml: Option<f64>,
    pub(super) pour_rim_ml: Option<f64>,
    pub(super) pour_most_ml: Option<f64>,
    pub(super) poured_g: f64,
    pub(super) soaks_in_ml: f64,
    pub(super) dry_peak_mm: f64,
    pub(super) dry_mean_mm: f64,
    pub(super) solids_percent: f64,
    pub(super) level_limit_deg: Option<f64>,
    pub(super) level_limit_mm_per_m: Option<f64>,
    pub(super) draws_back_limit_deg: Option<f64>,
    pub(super) draws_back_limit_mm_per_m: Option<f64>,
    pub(super) thin_edge_share: Option<f64>,
    pub(super) ten_gain_g: f64,
    pub(super) coats_needed: Option<u32>,
}

#[derive(Serialize)]
pub(super) struct CoatingJson<'p> {
    pub(super) name: &'p str,
    pub(super) family: &'p str,
    pub(super) needed_ml: f64,
    pub(super) needed_sure_ml: f64,
    pub(super) needed_g: Option<f64>,
    pub(super) bottles: Option<u64>,
    pub(super) bottles_expected: Option<u64>,
    pub(super) bottle_ml: Option<f64>,
    pub(super) stock_bottles: Option<f64>,
    pub(super) stock_ml: Option<f64>,
    pub(super) sizes: Option<SizesJson>,
    pub(super) price: Option<f64>,
    pub(super) lines: LinesJson,
    pub(super) spread: SpreadJson,
    pub(super) chances: Vec<ChanceJson>,
    pub(super) sittings: u32,
    pub(super) sittings_by_step: Vec<SittingsJson<'p>>,
    pub(super) coverage: Vec<CoverageJson<'p>>,
    pub(super) mix: Option<MixJson<'p>>,
}

#[derive(Serialize)]
#[expect(clippy::struct_field_names, reason = "each key carries its unit")]
pub(super) struct LinesJson {
    pub(super) on_pieces_ml: f64,
    pub(super) soaks_in_ml: Option<f64>,
    pub(super) drips_ml: f64,
    pub(super) tool_ml: f64,
    pub(super) heel_ml: f64,
}

#[derive(Serialize)]
pub(super) struct SpreadJson {
    pub(super) scatter_ml: f64,
    pub(super) bias_ml: f64,
}

#[derive(Serialize)]
pub(super) struct ChanceJson {
    pub(super) bottles: u64,
    pub(super) chance_percent: f64,
}

/// How often a step sits, or its cup is mixed.
#[derive(Serialize)]
pub(super) struct SittingsJson<'p> {
    pub(super) step: &'p str,
    pub(super) sittings: u32,
}

/// A pen, of which no amount is worked out.
#[derive(Serialize)]
pub(super) struct DrawnJson<'p> {
    pub(super) name: &'p str,
    pub(super) family: &'p str,
    pub(super) steps: &'p [String],
    pub(super) pieces: u64,
    pub(super) have: Option<f64>,
    pub(super) stale: Option<f64>,
}

#[derive(Serialize)]
pub(super) struct CoverageJson<'p> {
    pub(super) step: &'p str,
    pub(super) wet_film_mm: f64,
    pub(super) by_litre_m2: f64,
    pub(super) by_bottle_m2: Option<f64>,
}

#[derive(Serialize)]
pub(super) struct MixJson<'p> {
    pub(super) a_to_b_by_volume: f64,
    pub(super) a_to_b_by_weight: f64,
    pub(super) expected: SplitJson,
    pub(super) sure: SplitJson,
    /// How many mixes, and what is in each were all alike; null where nobody can tell.
    pub(super) mixes: Option<u32>,
    pub(super) each: Option<SplitJson>,
    /// The least and the most in one, where they are unlike.
    pub(super) least: Option<SplitJson>,
    pub(super) most: Option<SplitJson>,
    pub(super) cups: Option<CupsJson<'p>>,
}

#[derive(Serialize)]
pub(super) struct SplitJson {
    pub(super) a_ml: f64,
    pub(super) a_g: f64,
    pub(super) b_ml: f64,
    pub(super) b_g: f64,
}

#[derive(Serialize)]
pub(super) struct BlankJson<'p> {
    pub(super) name: &'p str,
    pub(super) wanted: u64,
    pub(super) start: u64,
    pub(super) buy: u64,
    pub(super) packs: u64,
    pub(super) pack_of: u32,
    pub(super) bought: u64,
    pub(super) have: u32,
    pub(super) bad_percent: f64,
    pub(super) price: Option<f64>,
    pub(super) chance_percent: f64,
    pub(super) expected: CountsJson,
}

#[derive(Serialize)]
pub(super) struct CountsJson {
    pub(super) start: u64,
    pub(super) buy: u64,
    pub(super) packs: u64,
}

#[derive(Serialize)]
pub(super) struct StepJson<'p> {
    pub(super) name: &'p str,
    pub(super) kind: &'static str,
    pub(super) coating: Option<&'p str>,
    pub(super) pieces: &'p [String],
    pub(super) coats: u32,
    pub(super) faces: u32,
    pub(super) depth_mm: Option<f64>,
    pub(super) slowest_on: Option<&'p str>,
    pub(super) hands_on_s: Option<f64>,
    pub(super) spoilage_percent: f64,
    /// How long each coat is left alone: hands off, and where more is waited for until the next coat
    /// and until it is dry through.
    pub(super) hands_off_h: Option<BandJson>,
    pub(super) next_coat_h: Option<BandJson>,
    /// The latest for the next coat, by the label.
    pub(super) next_coat_until_h: Option<f64>,
    pub(super) dry_through_h: Option<BandJson>,
    /// The same in words, as each way of showing tells it.
    pub(super) hands_off: Option<String>,
    pub(super) next_coat: Option<String>,
    pub(super) dry_through: Option<String>,
    /// From which full hours of the clock to which no coat is laid, in 24 h past midnight.
    pub(super) not_laid_h: &'p [[u8; 2]],
    /// The same in words, as each way of showing tells it.
    pub(super) not_laid: Option<String>,
    pub(super) until_handled_h: Option<BandJson>,
    /// The same in words, as each way of showing tells it.
    pub(super) until_handled: Option<String>,
    #[serde(flatten)]
    pub(super) drying: DryingJson,
}

#[derive(Serialize, Default)]
pub(super) struct DryingJson {
    pub(super) factor: Option<f64>,
    pub(super) factor_band: Option<BandJson>,
    pub(super) pace: Option<&'static str>,
    pub(super) hours: HoursJson,
    pub(super) label_hours: HoursJson,
    pub(super) stages: Vec<StageJson>,
    pub(super) parts: Vec<PartJson>,
    pub(super) pot_life_min: Option<BandJson>,
    pub(super) look_for_bubbles_min: Option<f64>,
    pub(super) look_not_later_min: Option<f64>,
    /// Whether it sets under a lamp alone, and is put there once bubbles were looked for.
    pub(super) under_a_lamp: bool,
    pub(super) in_worse_room: Option<WorseRoomJson>,
    pub(super) days: Option<DaysJson>,
    pub(super) helps: Vec<HelpJson>,
    pub(super) not_told: Option<String>,
}

/// The stage that is waited for, in a room 3 K colder and 15 points damper, or drier where it
/// cures by the air's own vapour.
#[derive(Serialize)]
pub(super) struct WorseRoomJson {
    pub(super) stage: &'static str,
    pub(super) drier: bool,
    pub(super) reached: bool,
    pub(super) here_h: Option<BandJson>,
}

/// How the days of a record differ.
#[derive(Serialize)]
pub(super) struct DaysJson {
    pub(super) stage: &'static str,
    pub(super) quick_h: Option<f64>,
    pub(super) middle_h: Option<f64>,
    pub(super) slow_h: Option<f64>,
    pub(super) reached: usize,
    pub(super) of: usize,
    pub(super) untold: usize,
}

/// Hours by the stage's name, earliest first.
pub(super) type HoursJson = std::collections::BTreeMap<&'static str, f64>;

#[derive(Serialize)]
pub(super) struct BandJson {
    pub(super) low: f64,
    pub(super) likely: f64,
    pub(super) high: f64,
}

#[derive(Serialize)]
pub(super) struct StageJson {
    pub(super) stage: &'static str,
    pub(super) label_h: f64,
    pub(super) source: String,
    pub(super) ratio: Option<BandJson>,
    pub(super) here_h: Option<BandJson>,
    /// The same in words, as each way of showing tells it.
    pub(super) here: Option<String>,
    pub(super) first_principles_at_label_h: Option<f64>,
    pub(super) first_principles_here_h: Option<f64>,
}

#[derive(Serialize)]
pub(super) struct PartJson {
    pub(super) cause: &'static str,
    pub(super) times: Option<f64>,
    pub(super) stops: bool,
}

#[derive(Serialize)]
pub(super) struct HelpJson {
    pub(super) change: &'static str,
    pub(super) to_c: Option<f64>,
    pub(super) to_humidity_percent: Option<f64>,
    pub(super) to_m_per_s: Option<f64>,
    pub(super) to_depth_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) later_h: Option<f64>,
    pub(super) ratio: BandJson,
    pub(super) text: String,
    pub(super) caution: Option<String>,
}

#[derive(Serialize)]
pub(super) struct AdviceJson<'p> {
    pub(super) what: &'static str,
    pub(super) part_of_the_run: bool,
    pub(super) before: &'p [String],
    pub(super) pieces: &'p [String],
    pub(super) coating: &'p str,
    pub(super) coating_is_in_the_run: bool,
    pub(super) wet_film_mm: f64,
    pub(super) needed_ml: f64,
    pub(super) needed_sure_ml: f64,
    pub(super) lines: LinesJson,
    pub(super) until_recoat_h: Option<BandJson>,
    pub(super) drying: DryingJson,
}

#[derive(Serialize)]
pub(super) struct WarningJson {
    pub(super) code: &'static str,
    pub(super) text: String,
    pub(super) stops: bool,
}

/// One line of a family's cautions, or one for every coated piece.
#[derive(Serialize)]
pub(super) struct CautionJson<'p> {
    /// "before", "while" or "after" the work; of one for every piece null.
    pub(super) when: Option<&'static str>,
    /// What it is about, of one for every piece.
    pub(super) concern: Option<&'p str>,
    /// "lasting", "hurt" or "spoils".
    pub(super) severity: &'static str,
    pub(super) say: &'p str,
    pub(super) short: &'p str,
    /// The rule or text behind it.
    pub(super) behind: &'p str,
}

#[derive(Serialize)]
pub(super) struct CautionsJson<'p> {
    pub(super) about: &'p str,
    pub(super) coatings: &'p [String],
    pub(super) first: &'p str,
    pub(super) short_first: &'p str,
    /// Before, while and after.
    pub(super) lines: Vec<CautionJson<'p>>,
    /// For every coated piece.
    pub(super) for_every_piece: Vec<CautionJson<'p>>,
    pub(super) before: &'p str,
    pub(super) during: &'p str,
    pub(super) after: &'p str,
    pub(super) general: Vec<&'p str>,
}

#[derive(Serialize)]
pub(super) struct AssumptionJson<'p> {
    pub(super) key: &'p str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) of: Option<&'p str>,
    pub(super) value: String,
    pub(super) why: &'p str,
}
