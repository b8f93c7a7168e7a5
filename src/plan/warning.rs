//! What a plan warns of: data. The words are in `show::words`.

use super::calendar::Unkept;
use super::fit::{Asked, BelowRim, Fuller};
use super::small_mix::SmallMix;
use super::stock::{Past, Stale};
use super::unused::Unused;
use super::{NoTime, TimeBand};
use crate::coating::PrudentCoat;
use crate::consumption::{CoatsNeeded, HoleTrouble};
use crate::cure;
use crate::quantity::{Length, Money, Share, Time, Volume};
use crate::run::Fill;
use crate::stage::Stage;
use jiff::civil::{Date, DateTime};

/// A warning with the figures behind it.
#[derive(Debug, Clone, PartialEq)]
pub enum Warning {
    /// More is asked for than the edge holds.
    OverBrim {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
        /// What was asked.
        fill: Fill,
        /// What that comes to.
        asked: Asked,
        /// The brim limit.
        most: Volume,
        /// What dry coats under it leave of that; nothing or less where they leave none.
        room: Volume,
        /// Its wet height.
        most_peak: Length,
        /// The target fill, with which the plan goes on.
        target: Volume,
        /// Coats that an asked dry height takes.
        coats: Option<CoatsNeeded>,
    },
    /// A dry height is asked for in fewer coats than keep to the target, so each is fuller than that.
    PastTarget {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
        /// How full that is.
        fuller: Fuller,
    },
    /// So little is asked for that the coating shrinks away from the edge.
    UnderPullBack {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
        /// What was asked, dry coats under it included.
        asked: Volume,
        /// The pull-back limit.
        least: Volume,
    },
    /// So little is asked for that it stays below a wall's rim.
    BelowRim {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
        /// What it comes to, dry coats under it included.
        asked: Volume,
        /// Where it lies.
        rim: BelowRim,
        /// What fills the piece level with its rim.
        level: Volume,
    },
    /// A blank's holes may close over, or lie near its edge.
    Hole {
        /// The blank.
        blank: String,
        /// What to mind.
        trouble: HoleTrouble,
    },
    /// Earlier coats have filled the piece, so this one adds nothing.
    AlreadyFull {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
    },
    /// A bare porous blank is flooded.
    BarePorous {
        /// The pieces.
        pieces: Vec<String>,
        /// The flood coats that a seal coat should come before.
        before: Vec<String>,
        /// What to seal with.
        sealer: String,
    },
    /// A flood coat is deeper than is prudent.
    DeepCoat {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
        /// Its wet depth at its deepest place.
        depth: Length,
        /// How deep it may be.
        prudent: PrudentCoat,
    },
    /// A coating loses so much that its domes may dry to saucers.
    Saucer {
        /// The coating.
        coating: String,
        /// Its solids by volume.
        solids: Share,
    },
    /// A fill leaves a good part of the edge under the pull-back angle.
    ThinEdge {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
        /// How much of the edge.
        share: Share,
    },
    /// A thin blank that drinks is coated on one face only.
    MayWarp {
        /// The blank.
        blank: String,
        /// How thick it is.
        thickness: Length,
        /// The pieces.
        pieces: Vec<String>,
    },
    /// Stock that is past its date on the day of use is not counted.
    Stale {
        /// The coating or the supply.
        what: String,
        /// How much of it.
        stock: Stale,
        /// Its date, and the day that it is held against.
        past: Past,
    },
    /// Stock that counts as the run is planned would be past its date were it begun at the latest start.
    StaleLater {
        /// The coating or the supply.
        what: String,
        /// Its date, and the day of its last use then: as many days later as the start is, or more.
        past: Past,
        /// That start.
        start: DateTime,
    },
    /// Not one of the shapes for a kind of piece fits on a sheet.
    FitsNoSheet {
        /// The supply.
        supply: String,
        /// The piece.
        piece: String,
    },
    /// Not one of a kind of piece fits on any tray.
    FitsNoTray {
        /// The piece.
        piece: String,
    },
    /// What has to be ordered comes after the work could take it, so a step waits for it.
    OrderTooLate {
        /// What.
        what: String,
        /// The last day to order it and not be waited for.
        by: Date,
        /// The start that was asked for, on whose day it is ordered.
        asked: DateTime,
        /// When it comes.
        comes: DateTime,
        /// The step that is the first to want it, in words.
        step: String,
        /// When that could begin if all that must be ordered were at hand.
        could: DateTime,
        /// When it begins instead.
        begins: DateTime,
    },
    /// A piece's price does not even cover what it costs.
    SoldAtALoss {
        /// The piece.
        piece: String,
        /// Its price.
        price: Money,
        /// Whether a shop pays that, instead of those who come to the fair.
        shop: bool,
        /// The least price that would do.
        least: Money,
        /// Whether all kinds together never pay for the fair, however many are sold.
        never: bool,
    },
    /// How a coating dries is not worked out for another room: its label's time stands, in the cold too.
    NotWorkedOut {
        /// The step.
        step: String,
    },
    /// Magnets lie on the trays.
    Magnets {
        /// The pieces.
        pieces: Vec<String>,
    },
    /// The sides are to be brushed, but how thick the blank is the file does not say.
    SidesUnknown {
        /// The step.
        step: String,
        /// The pieces.
        pieces: Vec<String>,
    },
    /// The file tells of something that no piece uses.
    NotUsed {
        /// What kind of thing.
        what: Unused,
        /// Its name.
        name: String,
    },
    /// Something about how a step dries in the room.
    Drying {
        /// The step.
        step: String,
        /// The blank that it dries slowest on.
        on: String,
        /// What.
        warning: cure::Warning,
    },
    /// What would become of all of a run's mix, made at once; or that a mix does not last for one piece.
    AllAtOnce {
        /// The coating.
        coating: String,
        /// The mixes that the plan makes of it.
        mixes: u32,
        /// What.
        warning: cure::Warning,
    },
    /// The plan's mixes are smaller than what is worth weighing on a kitchen's scale.
    SmallMix {
        /// The coating.
        coating: String,
        /// How small.
        small: SmallMix,
    },
    /// As the work is laid out more pieces lie wet in the cupboard at once than the file says, for whose number
    /// its drying is worked out.
    CupboardFuller {
        /// Wet pieces in it by the file.
        told: u32,
        /// The most at once.
        most: u64,
        /// When those first are. `None`: the run names no date.
        at: Option<DateTime>,
    },
    /// The trays in use at the busiest can't all be in the cupboard.
    CupboardTooSmall {
        /// What it holds.
        holds: Volume,
        /// What the trays and their pieces take up at the least.
        takes: Volume,
    },
    /// Steps, or being ready, that go by a stage of a coat at which it is not dry through.
    BeforeThrough {
        /// The step whose coat it is.
        step: String,
        /// The later steps that do not wait for it to be dry through.
        what: Vec<String>,
        /// Whether being ready does not either.
        ready: bool,
        /// What they wait for, and how long it takes here.
        waits: (Stage, TimeBand),
        /// When it is dry through. `None`: its label does not tell.
        through: Option<(Stage, TimeBand)>,
    },
    /// A coat comes later than the one under it still takes one by its label.
    PastRecoat {
        /// The step whose coat lies under it.
        step: String,
        /// The latest for the next coat.
        until: Time,
        /// How long after it the next one comes, at the most.
        gap: Time,
        /// Whether what is waited for in between is as long as that latest by itself.
        by_waits: bool,
    },
    /// The work is laid out so that each coat comes while the one under it still takes it by its label.
    LaidForRecoat {
        /// What could be otherwise.
        otherwise: Unkept,
    },
    /// By its label a coat takes the next no longer before, in this room, it takes one at all.
    NoRecoatWindow {
        /// The step.
        step: String,
        /// The latest for the next coat.
        until: Time,
        /// From when it takes one here.
        from: Time,
    },
    /// How long a step takes, or a mix lasts, can't be told.
    NoTime {
        /// The step, or the coating.
        step: String,
        /// Why.
        why: NoTime,
    },
}

impl Warning {
    /// A short fixed name, for machine-readable output.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::OverBrim { .. } => "over-brim",
            Self::PastTarget { .. } => "past-target",
            Self::UnderPullBack { .. } => "under-pull-back",
            Self::BelowRim { .. } => "below-rim",
            Self::Hole { trouble, .. } => trouble.code(),
            Self::AlreadyFull { .. } => "already-full",
            Self::BarePorous { .. } => "bare-porous",
            Self::DeepCoat { .. } => "deep-coat",
            Self::Saucer { .. } => "saucer",
            Self::ThinEdge { .. } => "thin-edge",
            Self::MayWarp { .. } => "may-warp",
            Self::Stale { .. } => "stale",
            Self::StaleLater { .. } => "stale-later",
            Self::FitsNoSheet { .. } => "fits-no-sheet",
            Self::FitsNoTray { .. } => "fits-no-tray",
            Self::OrderTooLate { .. } => "order-too-late",
            Self::SoldAtALoss { .. } => "sold-at-a-loss",
            Self::NotWorkedOut { .. } => "not-worked-out",
            Self::Magnets { .. } => "magnets",
            Self::SidesUnknown { .. } => "sides-unknown",
            Self::NotUsed { .. } => "not-used",
            Self::Drying { warning, .. } | Self::AllAtOnce { warning, .. } => warning.code(),
            Self::SmallMix { .. } => "small-mix",
            Self::CupboardFuller { .. } => "cupboard-fuller",
            Self::CupboardTooSmall { .. } => "cupboard-too-small",
            Self::BeforeThrough { .. } => "before-through",
            Self::PastRecoat { .. } => "past-recoat",
            Self::LaidForRecoat { .. } => "laid-for-recoat",
            Self::NoRecoatWindow { .. } => "no-recoat-window",
            Self::NoTime { .. } => "no-time",
        }
    }

    /// Whether the run can't be done as asked because of it.
    #[must_use]
    pub fn stops(&self) -> bool {
        match self {
            Self::SoldAtALoss { never, .. } => *never,
            Self::OverBrim { .. } | Self::FitsNoTray { .. } | Self::FitsNoSheet { .. } => true,
            Self::Drying { warning, .. } => matches!(
                warning,
                cure::Warning::WillNotDry { .. }
                    | cure::Warning::FilmForming { .. }
                    | cure::Warning::TooColdToCure { .. }
            ),
            Self::PastTarget { .. }
            | Self::UnderPullBack { .. }
            | Self::BelowRim { .. }
            | Self::Hole { .. }
            | Self::AlreadyFull { .. }
            | Self::BarePorous { .. }
            | Self::DeepCoat { .. }
            | Self::Saucer { .. }
            | Self::ThinEdge { .. }
            | Self::MayWarp { .. }
            | Self::Stale { .. }
            | Self::StaleLater { .. }
            | Self::OrderTooLate { .. }
            | Self::NotWorkedOut { .. }
            | Self::Magnets { .. }
            | Self::SidesUnknown { .. }
            | Self::NotUsed { .. }
            | Self::AllAtOnce { .. }
            | Self::SmallMix { .. }
            | Self::CupboardFuller { .. }
            | Self::CupboardTooSmall { .. }
            | Self::BeforeThrough { .. }
            | Self::PastRecoat { .. }
            | Self::LaidForRecoat { .. }
            | Self::NoRecoatWindow { .. }
            | Self::NoTime { .. } => false,
        }
    }
}
