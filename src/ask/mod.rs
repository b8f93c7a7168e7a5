//! Short questions that need no run file: what one blank holds, how long a
//! coat takes in this room, what is assumed of a coating.
//!
//! Each question is a struct, each answer another; the functions between read
//! no file and print nothing. An answer writes itself as JSON, each key with
//! its unit, and the ways of showing read the same struct.

mod care;
mod coatings;
mod dome;
mod dome_answer;
mod dome_coats;
mod dome_even;
mod dome_piece;
mod dome_poured;
mod dome_warning;
mod dry;
mod dry_answer;
mod dry_lamp;
mod family;
mod help;
mod mix;
mod mix_answer;
mod number;
mod price;
mod room;
mod season;
mod trays;

pub use care::{About, CautionAnswer};
pub use coatings::{CoatingAnswer, LabelAnswer, LabelStage, PropertyAnswer, coatings};
pub use dome::{By, CORNER_PLACE, DomeQuestion, DomeRefusal, Overrides, dome};
pub use dome_answer::{
    BelowRim, DomeAnswer, Dried, FigureSource, Fill, Total, Verdict, WayOut, Window,
};
pub use dome_coats::{Coats, DryHeightAnswer, Filled, OneCoat, ThinCoats};
pub use dome_even::{LevelAnswer, ThinAnswer};
pub use dome_piece::{BothFaces, ChainHole, Drops, PieceAnswer, PieceFacts, Sides};
pub use dome_warning::DomeWarning;
pub use dry::{DryQuestion, DryRefusal, dry};
pub use dry_answer::{
    Agreement, Assumption, BubblesAnswer, CoatAnswer, DaysAnswer, DryAnswer, FirstPrinciples,
    Needed, OnTrayAnswer, PartAnswer, PotLife, Ratio, RoomAnswer, SecondAnswer, StageAnswer,
    WarningAnswer,
};
pub use dry_lamp::{LampAnswer, LampQuestion, LampRefusal, LayersAnswer, Shines};
pub use family::{NoSuchFamily, family_named};
pub use help::HelpAnswer;
pub use mix::{MixQuestion, MixRefusal, mix};
pub use mix_answer::{
    CupAnswer, Lasts, LeastAnswer, MixAnswer, MixAssumption, MostAnswer, MostsAnswer, PartsAnswer,
    PotLifeLabel, TimesAnswer, TrayAnswer,
};
pub use price::{MarginAnswer, PriceAnswer, PriceQuestion, PriceRefusal, SoldAnswer, price};
pub use room::{AirWord, NoSuchAir};
pub use season::{NoSeason, SeasonAnswer, WeekAnswer, season};
pub use trays::{TraysAnswer, TraysQuestion, trays};
