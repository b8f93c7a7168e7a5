//! The plan: one pure function from a run to its answers.
//!
//! A [`Plan`] is plain data with typed quantities. Ways of showing it read it
//! and work out nothing of their own.

pub(crate) mod abreast;
mod advice;
mod batch;
mod blanks;
mod booking;
mod calendar;
mod care;
mod chain;
mod coatings;
mod cupboard;
mod cupfuls;
mod draft;
mod drawn;
mod drying;
mod fills;
mod fit;
mod granted;
mod handling;
mod hands;
mod kept;
mod lasts;
mod late;
mod left;
mod lies;
mod made;
mod mixing;
mod money;
mod not_laid;
mod numbered;
mod orders;
mod per_mix;
mod pictured;
mod pieces;
mod planner;
mod reach;
mod recoat;
mod sizes;
mod small_mix;
mod space;
mod steps;
mod stock;
mod supplies;
mod sure;
mod through;
mod till;
mod undated;
mod unused;
mod uses;
mod visits;
mod waits;
mod warning;
mod watch;
mod waves;

use std::collections::BTreeSet;

pub use crate::drying::{NoTime, Outlook, StageTimes, TimeBand};
pub use advice::Advice;
pub use blanks::{BlankPlan, ByAverages};
pub use calendar::{Booked, By, Calendar, Chance, Dates, NoDates, OrderBy, Unkept};
pub use care::FamilyCautions;
pub use chain::Task;
pub use coatings::{CoatingPlan, Coverage, Mix};
pub use cupfuls::Cupful;
pub use drawn::DrawnPlan;
pub use drying::Drying;
pub use fit::{Asked, BelowRim, Fit, Fuller};
pub use hands::HandsOn;
pub use late::{Otherwise, StillCan};
pub use left::{Further, LeftAlone};
pub use made::Lie;
pub use mixing::{AllAtOnce, Cups, InCup, LeastMix, OneMix, Serves};
pub use money::{AtPrice, AtShop, MoneyPlan, PieceMoney};
pub use not_laid::NotLaid;
pub use pictured::{
    AirSpell, AiringPlan, AmountAt, AmountPlan, Band, BottleStep, Cold, CostKind, CostPart,
    CostPlan, CupboardPlan, DayPlan, DaysPlan, DepthPlan, EnoughFor, EqualTime, InAir, Measure,
    Pictured, PourPlan, Profile, RoomMap, RoomPoint, SectionPlan, ShutIn, StageAt, TooCold,
    TrayLayout, When, Why, amounts, costs, cupboards, days, depths, layouts, pictured, pours,
    rooms, sections,
};
pub use pieces::{FillPlan, PiecePlan};
pub use sizes::{SizePlan, SizesPlan};
pub use small_mix::{AssumedMass, SmallMix};
pub use space::{KeptBy, Lies, SpacePlan, TrayPlan};
pub use steps::{StepKind, StepPlan};
pub use stock::{FromStock, Past, Stale};
pub use supplies::{OnSheet, Stuff, SupplyPlan, Taker};
pub use undated::Undated;
pub use unused::Unused;
pub use warning::Warning;
pub use watch::Watch;

use lasts::Lasts;
use orders::Arrivals;
use planner::Bench;
use supplies::Supplies;
use till::Till;
use uses::Sat;

use crate::consumption::UseError;
use crate::cost::CostError;
use crate::cure::enclosure::EnclosureError;
use crate::geometry::DomeError;
use crate::run::{Assumption, Header, Paper, Room, Run};
use crate::space::SpaceError;

/// Everything that a run's plan says.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The run's name, date, sureness and units.
    pub header: Header,
    /// What ties a piece to the run that it came from.
    pub batch: String,
    /// The room that it is planned for.
    pub room: Room,
    /// What is printed on.
    pub paper: Paper,
    /// What is made, and how full; as many as the run has pieces, in its order.
    pub pieces: Vec<PiecePlan>,
    /// What to buy of each coating that is used.
    pub coatings: Vec<CoatingPlan>,
    /// The pens that are drawn with, of which no amount is worked out.
    pub drawn: Vec<DrawnPlan>,
    /// What to start and buy of each blank that is used.
    pub blanks: Vec<BlankPlan>,
    /// What to buy of each supply that is used.
    pub supplies: Vec<SupplyPlan>,
    /// What the stock alone makes of each kind of piece, in the run's order.
    pub from_stock: Vec<FromStock>,
    /// Where wet pieces lie.
    pub space: SpacePlan,
    /// The steps that pieces go through, in the run's order.
    pub steps: Vec<StepPlan>,
    /// Those whose coats are not laid in some of the hours of work.
    pub not_laid: Vec<NotLaid>,
    /// When everything happens.
    pub dates: Dates,
    /// What it costs and must sell for. `None`: the run says nothing of selling.
    pub money: Option<MoneyPlan>,
    /// What can still be done where the date can't be met, the most pieces first.
    pub still_can: Vec<StillCan>,
    /// Steps that the run does not have and should.
    pub advice: Vec<Advice>,
    /// What to look out for.
    pub warnings: Vec<Warning>,
    /// The cautions of each coating in use.
    pub cautions: Vec<FamilyCautions>,
    /// Every default that the run and its plan lean on.
    pub assumptions: Vec<Assumption>,
}

/// Why no plan can be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PlanError {
    /// A dome could not be worked out.
    #[error("\"{step}\" on blank \"{blank}\": {why}")]
    Dome {
        /// The step.
        step: String,
        /// The blank.
        blank: String,
        /// Why.
        why: DomeError,
    },
    /// How pieces lie on a tray could not be worked out.
    #[error("\"{what}\": {why}")]
    Space {
        /// The piece.
        what: String,
        /// Why.
        why: SpaceError,
    },
    /// The air under a lid is outside what can be worked out.
    #[error("the lid of \"{tray}\": {why}")]
    Lid {
        /// The tray.
        tray: String,
        /// Why.
        why: EnclosureError,
    },
    /// What the fair costs or leaves could not be worked out.
    #[error("the money: {why}")]
    Cost {
        /// Why.
        why: CostError,
    },
    /// An amount or a count could not be worked out.
    #[error("\"{what}\": {why}")]
    Use {
        /// The piece, blank or coating.
        what: String,
        /// Why.
        why: UseError,
    },
}

/// Plans a run.
///
/// Nothing outside its argument is looked at: no file, no clock, no chance.
///
/// # Errors
/// [`PlanError`] where a dome or a count lies outside what can be worked out.
/// What a maker asked for and can't have is no error but a [`Warning`] for
/// which [`Warning::stops`] holds.
pub fn plan(run: &Run) -> Result<Plan, PlanError> {
    plan_watched(run, &Watch::default())
}

/// The same, for someone who waits and would see how far it has come.
///
/// # Errors
/// As [`plan`].
pub fn plan_watched(run: &Run, watch: &Watch) -> Result<Plan, PlanError> {
    let mut notes = Notes::default();
    let visits = visits::of(run);
    let (pieces, left) = lies::plan(run, &visits, watch, &mut notes)?;
    let of_pieces = notes.warnings.len();
    let (plan, left) = left.plan_beside(|| plan_with(run, &visits, &pieces, watch, &notes));
    let (mut plan, (pieces, warnings)) = (plan?, left?);
    plan.pieces = pieces;
    plan.warnings.splice(..of_pieces, warnings);
    Ok(plan)
}

/// All that follows from the pieces. Where the stock of some goods does by the count that the calendar rests
/// on, and not by the calendar's own, all is planned again with those taken as to be ordered.
fn plan_with(
    run: &Run,
    visits: &[Vec<visits::Visit>],
    pieces: &[PiecePlan],
    watch: &Watch,
    notes: &Notes,
) -> Result<Plan, PlanError> {
    let mut short = BTreeSet::new();
    loop {
        let of = (pieces.to_vec(), &short);
        match plan_counted(run, visits, of, watch, notes.clone())? {
            Counted::Planned(plan) => return Ok(*plan),
            Counted::Short(more) => short.extend(more),
        }
    }
}

/// What comes of a count of what has to be ordered.
enum Counted {
    Planned(Box<Plan>),
    /// These have to be ordered too.
    Short(BTreeSet<String>),
}

/// The plan of a run with some goods that were found to be short.
fn plan_counted(
    run: &Run,
    visits: &[Vec<visits::Visit>],
    (pieces, short): (Vec<PiecePlan>, &BTreeSet<String>),
    watch: &Watch,
    mut notes: Notes,
) -> Result<Counted, PlanError> {
    let blanks = blanks::plan(run, &pieces)?;
    let space = space::plan(run, &pieces, &mut notes)?;
    let steps = steps::plan(run, &pieces, &space, true, &mut notes);
    // the calendar tells how often a tool is cleaned, and needs to know of the mixes
    let undated = (&Sat::new(), &Lasts::begun(run));
    let coatings = coatings::plan(run, visits, &pieces, undated, &mut Notes::default())?;
    let supplies = Supplies::of(run, &pieces, &mut notes)?;
    let advice = advice::plan(run, visits, &pieces, &space, &mut notes)?;
    handling::warn(run, &pieces, &mut notes);
    through::warn(run, &steps, &mut notes);
    drying::warn_of_labels_alone(&steps, &mut notes);
    unused::warn(run, &mut notes);
    let arrivals = Arrivals::foreseen(run, (&pieces, &coatings), &blanks, (&supplies, short))?;
    let bench = Bench {
        run,
        pieces: &pieces,
        space: &space,
        steps: &steps,
        coatings: &coatings,
        arrivals: &arrivals,
    };
    let mut dates = planner::plan(&bench, &mut notes);
    recoat::warn(run, &steps, &dates, &mut notes);
    cupboard::warn(&bench, &dates, &mut notes);
    let sat = uses::sat(run, visits, (&pieces, &coatings), &dates);
    let lasts = Lasts::of(run, &dates);
    let drawn = drawn::plan((run, &lasts), &pieces, &mut notes);
    let from_stock = stock::plan(
        (run, &lasts),
        visits,
        (&pieces, &coatings, &dates),
        &supplies,
    )?;
    let supplies = supplies.plan(run, &lasts, &mut notes)?;
    let mut coatings = coatings::plan(run, visits, &pieces, (&sat, &lasts), &mut notes)?;
    cupfuls::tell(
        (run, visits, &pieces, &sat),
        &mut coatings,
        &mut dates,
        &mut notes,
    )?;
    stock::warn_of_later(run, &lasts, &dates, &mut notes);
    let (groups, _) = groups(run, (&pieces, &steps, &coatings), &mut notes);
    let till = Till {
        run,
        pieces: &pieces,
        coatings: &coatings,
        drawn: &drawn,
        blanks: &blanks,
        supplies: &supplies,
        dates: &dates,
        groups: &groups,
    };
    let money = money::plan(&till, &mut notes)?;
    let bought: BTreeSet<&str> =
        orders::to_order((&coatings, &drawn), &blanks, &supplies).collect();
    orders::keep(&bought, &mut dates);
    let more = orders::unforeseen(run, &dates, short);
    if !more.is_empty() {
        return Ok(Counted::Short(more));
    }
    orders::warn(run, &dates, &mut notes);
    let others = orders::to_order((&[], &drawn), &[], &supplies).map(str::to_owned);
    let others = others.chain(short.iter().cloned()).collect();
    let still_can = late::plan((run, &others), &dates, watch)?;
    let barred = steps.iter().filter_map(|timed| NotLaid::of(run, timed));
    let not_laid = barred.collect();
    let steps: Vec<StepPlan> = steps.into_iter().map(|timed| timed.plan).collect();
    notes.of_the_plan((&coatings, &dates), &steps, &space);
    let mut assumptions = granted::of(run);
    assumptions.append(&mut notes.assumed);
    Ok(Counted::Planned(Box::new(Plan {
        header: run.header.clone(),
        batch: batch::of(&run.header, &dates),
        room: run.room.clone(),
        paper: run.paper,
        cautions: care::in_use(run, &coatings, &steps, &advice),
        pieces,
        coatings,
        drawn,
        blanks,
        supplies,
        from_stock,
        space,
        steps,
        not_laid,
        dates,
        money,
        still_can,
        advice,
        warnings: notes.warnings,
        assumptions,
    })))
}

/// The sittings of the run, for the time they take. What is guessed of it is written down where it
/// is counted in money: the calendar, if there is one, has done so for its own.
fn groups(
    run: &Run,
    (pieces, steps, coatings): (&[PiecePlan], &[steps::Timed], &[CoatingPlan]),
    notes: &mut Notes,
) -> (Vec<chain::Group>, Option<chain::Untold>) {
    let mut unsaid = Notes::default();
    let notes = if run.selling.is_some() {
        hands::note_pace(run, notes);
        notes
    } else {
        &mut unsaid
    };
    chain::groups(run, pieces, steps, coatings, notes)
}

impl Plan {
    /// Whether the run can be done as asked: nothing stops it and it is not too late.
    #[must_use]
    pub fn can_be_done(&self) -> bool {
        self.stops().next().is_none() && !self.is_too_late()
    }

    /// Whether the date can't be met, or nobody can tell: it is too late, no order of work does it at all, or a coat has no time here.
    #[must_use]
    pub fn is_too_late(&self) -> bool {
        match &self.dates {
            Dates::Told(calendar) => calendar.by.as_ref().is_some_and(|by| by.too_late),
            Dates::Never(_) => true,
            // a wait that nobody can tell promises no date
            Dates::Untold { .. } => self.header.ready_by.is_some(),
            Dates::Undated(_) => false,
        }
    }

    /// The hours in which a step's coat is not laid. `None`: it is laid in any hour of work.
    #[must_use]
    pub fn not_laid_in(&self, step: &str) -> Option<&NotLaid> {
        self.not_laid.iter().find(|barred| barred.step == step)
    }

    /// The warnings for which the run can't be done as asked.
    pub fn stops(&self) -> impl Iterator<Item = &Warning> {
        self.warnings.iter().filter(|warning| warning.stops())
    }
}

/// What a plan leans on and looks out for, gathered as it is made.
#[derive(Debug, Default, Clone)]
struct Notes {
    warnings: Vec<Warning>,
    assumed: Vec<Assumption>,
}

impl Notes {
    fn assume(&mut self, key: impl Into<String>, value: impl Into<String>, why: &'static str) {
        self.assumed.push(Assumption {
            key: key.into(),
            of: None,
            value: value.into(),
            why,
        });
    }

    /// The same, once for all who lean on it.
    fn assume_once(&mut self, key: String, value: String, why: &'static str) {
        if self.assumed.iter().all(|assumed| assumed.key != key) {
            self.assume(key, value, why);
        }
    }

    /// What every plan of this kind takes for granted.
    fn of_the_plan(
        &mut self,
        (coatings, dates): (&[CoatingPlan], &Dates),
        steps: &[StepPlan],
        space: &SpacePlan,
    ) {
        if !coatings.is_empty() {
            self.assume(
                "sittings",
                match dates {
                    Dates::Told(_) => {
                        "as the calendar has them; where it is mixed, one for each mix"
                    }
                    Dates::Undated(_) => {
                        "as the work goes in the week that takes the most of them; where it is mixed, one for each mix"
                    }
                    Dates::Untold { .. } | Dates::Never(_) => {
                        "one for each coat of each step, on each face; where it is mixed, one for each mix"
                    }
                },
                "the tool or cup is cleaned after each, and keeps its share back each time",
            );
        }
        if steps.iter().any(|step| step.kind == StepKind::Dome) {
            self.assume(
                "dome depth",
                "the peak's",
                "the deepest place is ready last, so it rules the time",
            );
            self.assume(
                "dry height",
                "wet height times solids",
                "each place is taken to shrink straight down; a flood coat over a dry one fills up to the same surface",
            );
        }
        if steps.iter().any(|step| step.drying.timed().is_some()) {
            if space.trays.is_empty() {
                self.assume(
                    "neighbours",
                    "none",
                    "no tray is told of, so each piece is taken to lie alone on a wide shelf; crowded trays dry slower",
                );
            }
            self.assume(
                "label's coat",
                "as deep as usual, or as this one where it is thinner, whichever is sooner here; in an ordinary still room",
                "labels seldom say how thick a coat or how much air their times are for",
            );
        }
    }
}
