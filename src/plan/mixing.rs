//! How much of a mixed coating to mix at once, and how many pieces one mix serves.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use super::hands::HandsOn;
use crate::coating::Coating;
use crate::consumption::{Split, TwoPart, UseError};
use crate::cure;
use crate::cure::law::LawError;
use crate::cure::pot::{Cup, Mix, Outlook, Pot, PotLife};
use crate::drying::{Mixed, NoTime, Readings};
use crate::quantity::{Density, Mass, Share, Temperature, Time, Volume};

/// A mixed coating in its cup, in the room as it is at its warmest while mixes are made.
#[derive(Debug, Clone, PartialEq)]
pub struct Cups {
    /// Temperature of the room and of the parts.
    pub room: Temperature,
    /// What the label says of pot life.
    pub label: PotLife,
    /// How long the parts of a mix are stirred, of which its working time is no more for the pieces.
    pub stirring: Time,
    /// All of the run's expected mix made at once. `None`: it is less than 0.1 g or more than 10 kg.
    pub all: Option<AllAtOnce>,
    /// The heaviest of the mixes as they are planned, where none is dated the heaviest that one may be.
    /// `None`: it is less than 0.1 g or more than 10 kg.
    pub planned: Option<InCup>,
    /// The smallest mix worth weighing, by the step of the scale, the coarser first.
    pub least: [LeastMix; 2],
    /// What stays in each cup and its tool.
    pub keeps: Split,
    /// How many pieces one mix serves, for each step of each piece.
    pub serves: Vec<Serves>,
}

/// A mix in its cup, and how long it lasts there from when its parts meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InCup {
    /// How much that is.
    pub mass: Mass,
    /// When it gels in its cup.
    pub gels: Readings<Time>,
    /// The longest it should be worked with.
    pub working: Readings<Time>,
}

impl InCup {
    /// A mix of some mass in a cup as tall as it is wide. `None`: it is less than 0.1 g or more than 10 kg.
    fn of(mixed: &Mixed, mix: &Mix) -> Result<Option<(Self, Readings<Outlook>)>, LawError> {
        if !(Mix::LEAST..=Mix::MOST).contains(&mix.mass) {
            return Ok(None);
        }
        let outlook = mixed.outlook(mix)?;
        let in_cup = Self {
            mass: mix.mass,
            gels: outlook.map(|outlook| outlook.gel()),
            working: outlook.map(|outlook| outlook.working()),
        };
        Ok(Some((in_cup, outlook)))
    }
}

/// All of a run's mix made at once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AllAtOnce {
    /// That mix.
    pub in_cup: InCup,
    /// The time for stirring it and the hands-on time of all its pieces.
    pub wanted: Time,
}

/// The smallest mix worth weighing on a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeastMix {
    /// The step of the scale.
    pub scale: Mass,
    /// The mix.
    pub mix: Mass,
}

/// How many pieces one mix serves at most in a step.
#[derive(Debug, Clone, PartialEq)]
pub struct Serves {
    /// The step.
    pub step: String,
    /// The piece.
    pub piece: String,
    /// Coats of it in all, over pieces, coats and faces.
    pub coats: u64,
    /// What one coat of one piece takes of a mix, drips and all; on bare ground the first.
    pub each: Split,
    /// What each coat after the first on its face takes. `None`: as much, or there is none.
    pub further: Option<Split>,
    /// Hands-on time for one coat of one piece, the same that the calendar is planned with.
    pub hands_on: HandsOn,
    /// The largest prudent mix, of those that this piece alone asks for.
    pub most: Readings<OneMix>,
    /// Pieces that one mix with some of this kind in it serves at the worst, of whatever kinds, up to all
    /// that go through the step, whatever time they do; 0 where it does not last for even one.
    pub in_a_mix: u64,
    /// Pieces that go through the step, of all kinds.
    pub in_step: u64,
    /// Which time the piece goes through the step, from 1.
    pub time: u32,
    /// Which of the run's pieces.
    pub(super) of: usize,
}

/// One mix, and what it serves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OneMix {
    /// Coats of one piece that it serves; 0 where it does not last for even one.
    pub coats: u64,
    /// How much is mixed for those; nothing for none.
    pub mass: Mass,
    /// Its two parts. `None`: it serves no coat.
    pub parts: Option<Split>,
}

/// What a step lays on a kind of piece.
#[derive(Debug)]
pub(super) struct Sitting {
    pub step: String,
    pub piece: String,
    /// Which of the run's pieces.
    pub of: usize,
    /// One coat of one piece, on average.
    pub each: Volume,
    /// The first coat of a face, which may soak in, and every other.
    pub first: Volume,
    pub further: Volume,
    pub coats: u64,
    pub coats_on_face: u32,
    /// Pieces of the kind.
    pub started: u64,
    /// Which time the piece goes through the step, from 1.
    pub time: u32,
    pub hands_on: HandsOn,
}

impl Sitting {
    /// Whether the first coat of a face sinks in.
    fn soaks(&self) -> bool {
        self.first > self.further
    }

    /// What its mixes hang on, which is equal where they are: what a coat takes, how long it does, and of how many.
    fn alike(&self, in_step: u64) -> [u64; 4] {
        let (takes, lasts) = (self.most().m3(), self.hands_on.planned().s());
        [takes.to_bits(), lasts.to_bits(), self.coats, in_step]
    }

    /// The coat that takes the most, which a mix must do for too.
    fn most(&self) -> Volume {
        if self.soaks() {
            self.first
        } else {
            self.further
        }
    }
}

/// What a coating's mix loses before it is on a piece, and how heavy it is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Losses {
    pub drips: Share,
    pub tool: Volume,
}

/// Steps of the scales that a maker has: of a kitchen, and of a drawer.
const SCALES: [Mass; 2] = [Mass::from_g(1.0), Mass::from_g(0.1)];

/// A cup that comes to this is hot: it burns who holds it. A choice of ours.
const HOT: Temperature = Temperature::from_celsius(60.0);

/// Plans the mixes of a coating, of which there are so many; `None` where nobody tells its pot life.
pub(super) fn plan(
    coating: &Coating,
    room: Temperature,
    (expected, many, losses): (&Split, u32, Losses),
    sittings: &[Sitting],
) -> Result<(Option<Cups>, Vec<cure::Warning>), Refused> {
    let (Some(parts), Some(mixed)) = (
        coating.two_parts(),
        Mixed::of(coating).map_err(NoTime::from)?,
    ) else {
        return Ok((None, Vec::new()));
    };
    let two = TwoPart::from(parts);
    let kitchen = Kitchen {
        two,
        mixed,
        room,
        losses,
        density: parts.mixed_density(),
    };
    let least = |scale| {
        let mix = two.smallest_worth_weighing(scale, TwoPart::WORTH_WEIGHING)?;
        Ok::<_, UseError>(LeastMix { scale, mix })
    };
    let [coarse, fine] = SCALES;
    let serves = kitchen.serves(sittings)?;
    let wanted = (sittings.iter())
        .map(|sitting| sitting.hands_on.planned() * number(sitting.coats))
        .fold(mixed.stirring(), |sum, time| sum + time);
    let (all, hot) = kitchen.all_at_once(expected.mass(), wanted, many)?;
    let short = kitchen.too_short(sittings, &serves)?;
    let warnings = hot.into_iter().chain(short).collect();
    // until the sittings tell theirs, as heavy as one may get
    let each = expected.mass() / f64::from(many.max(1));
    let heaviest = serves.iter().map(|serves| serves.most.worst.mass);
    let heaviest = heaviest.fold(each, |most, mass| if mass > most { mass } else { most });
    let cups = Cups {
        room,
        label: mixed.label(),
        stirring: mixed.stirring(),
        all,
        planned: InCup::of(&mixed, &kitchen.mix(heaviest))?.map(|(in_cup, _)| in_cup),
        least: [least(coarse)?, least(fine)?],
        keeps: two.split(losses.tool)?,
        serves,
    };
    Ok((Some(cups), warnings))
}

impl Cups {
    /// Tells how heavy the heaviest of the mixes is, once their sittings are dated.
    pub(super) fn with_heaviest(&mut self, coating: &Coating, mass: Mass) -> Result<(), NoTime> {
        let Some(mixed) = Mixed::of(coating).map_err(NoTime::from)? else {
            return Ok(());
        };
        let in_cup = InCup::of(&mixed, &as_tall_as_wide(mass, self.room))?;
        self.planned = in_cup.map(|(in_cup, _)| in_cup);
        Ok(())
    }
}

const fn as_tall_as_wide(mass: Mass, room: Temperature) -> Mix {
    Mix {
        mass,
        cup: Cup::AsTallAsWide,
        room,
    }
}

/// Why mixes can't be planned.
#[derive(Debug)]
pub(super) enum Refused {
    /// The label's pot life is outside what the law takes.
    NoTime(NoTime),
    /// The parts are outside what can be worked out.
    Use(UseError),
}

impl From<NoTime> for Refused {
    fn from(why: NoTime) -> Self {
        Self::NoTime(why)
    }
}

impl From<LawError> for Refused {
    fn from(why: LawError) -> Self {
        Self::NoTime(why.into())
    }
}

impl From<UseError> for Refused {
    fn from(why: UseError) -> Self {
        Self::Use(why)
    }
}

/// A coating's mix in the room it is made in.
struct Kitchen {
    two: TwoPart,
    mixed: Mixed,
    room: Temperature,
    losses: Losses,
    density: Density,
}

impl Kitchen {
    fn mix(&self, mass: Mass) -> Mix {
        as_tall_as_wide(mass, self.room)
    }

    fn serves(&self, sittings: &[Sitting]) -> Result<Vec<Serves>, Refused> {
        let mut in_all: HashMap<&str, u64> = HashMap::new();
        for sitting in sittings.iter().filter(|sitting| sitting.time == 1) {
            *in_all.entry(&sitting.step).or_default() += sitting.started;
        }
        let mut known = HashMap::new();
        let mut serves = Vec::with_capacity(sittings.len());
        for sitting in sittings {
            let all = in_all.get(sitting.step.as_str()).copied().unwrap_or(0);
            // many kinds are of one blank
            let (most, in_a_mix) = match known.entry(sitting.alike(all)) {
                Entry::Occupied(found) => *found.get(),
                Entry::Vacant(new) => *new.insert(self.most(sitting, all)?),
            };
            serves.push(Serves {
                step: sitting.step.clone(),
                piece: sitting.piece.clone(),
                time: sitting.time,
                coats: sitting.coats,
                each: self.two.split(self.with_drips(sitting.first))?,
                further: (sitting.coats_on_face > 1 && sitting.soaks())
                    .then(|| self.two.split(self.with_drips(sitting.further)))
                    .transpose()?,
                hands_on: sitting.hands_on,
                most,
                in_a_mix: in_a_mix.min(all),
                in_step: all,
                of: sitting.of,
            });
        }
        // whatever time a kind goes through a step, its mixes are for as many
        let mut least: HashMap<(&str, usize), u64> = HashMap::new();
        for (sitting, serves) in sittings.iter().zip(&serves) {
            let known = least.entry((&sitting.step, sitting.of)).or_insert(u64::MAX);
            *known = serves.in_a_mix.min(*known);
        }
        for (sitting, serves) in sittings.iter().zip(&mut serves) {
            serves.in_a_mix = least[&(sitting.step.as_str(), sitting.of)];
        }
        Ok(serves)
    }

    /// The most coats that one mix serves, and the most pieces of any kind of which so many go through the step.
    fn most(&self, sitting: &Sitting, in_step: u64) -> Result<(Readings<OneMix>, u64), Refused> {
        let pots = self.mixed.pots();
        let most = pots.try_map(|pot| self.one_mix(&pot, sitting, sitting.coats))?;
        // a kind of which there are few leaves room for others in its mix
        let in_a_mix = if most.worst.coats < sitting.coats {
            most.worst.coats
        } else {
            self.one_mix(&pots.worst, sitting, in_step)?.coats
        };
        Ok((most, in_a_mix))
    }

    /// How much is mixed for so many coats.
    ///
    /// ```text
    /// m = rho (n V / (1 - drips) + tool)
    /// ```
    fn mass_for(&self, coats: u64, each: Volume) -> Mass {
        (self.with_drips(each * number(coats)) + self.losses.tool) * self.density
    }

    fn with_drips(&self, on_pieces: Volume) -> Volume {
        on_pieces / (1.0 - self.losses.drips.fraction())
    }

    /// The most coats that one mix serves, of so many, once it is stirred. The label says nothing of a mix
    /// greater than its own, so that is the most, if it is enough for one coat. Then: more need a greater mix,
    /// which lasts less long, and more time. So it is found by halving.
    fn one_mix(&self, pot: &Pot, sitting: &Sitting, of: u64) -> Result<OneMix, Refused> {
        let each = sitting.most();
        let hands_on = sitting.hands_on.planned();
        let serves = |coats: u64| -> Result<bool, LawError> {
            let mass = self.mass_for(coats, each);
            if mass > Mix::MOST || (coats > 1 && mass > self.mixed.label().mass.mass()) {
                return Ok(false);
            }
            // under 0.1 g it lasts a little longer than is reckoned
            let mass = if mass < Mix::LEAST { Mix::LEAST } else { mass };
            let outlook = pot.outlook(&self.mix(mass))?;
            Ok(self.mixed.lasts(&outlook, hands_on * number(coats)))
        };
        let (mut does, mut too_many) = (0, of + 1);
        while too_many - does > 1 {
            let coats = does.midpoint(too_many);
            if serves(coats)? {
                does = coats;
            } else {
                too_many = coats;
            }
        }
        let mass = match does {
            0 => Mass::ZERO,
            coats => self.mass_for(coats, each),
        };
        let parts = match does {
            0 => None,
            _ => Some(self.two.split_mass(mass)?),
        };
        Ok(OneMix {
            coats: does,
            mass,
            parts,
        })
    }

    /// All of it made at once, and what to warn of then: what is planned in one mix is
    /// warned of only where that comes to be hot.
    fn all_at_once(
        &self,
        mass: Mass,
        wanted: Time,
        mixes: u32,
    ) -> Result<(Option<AllAtOnce>, Option<cure::Warning>), LawError> {
        let Some((in_cup, outlook)) = InCup::of(&self.mixed, &self.mix(mass))? else {
            return Ok((None, None));
        };
        let all = AllAtOnce { in_cup, wanted };
        let worst = outlook.worst;
        let beware = worst.runs_away() && (mixes > 1 || worst.peak_upper_bound() >= HOT);
        let hot = beware.then_some(cure::Warning::CupRunsAway {
            mass,
            gels: in_cup.gels.worst,
        });
        Ok((Some(all), hot))
    }

    /// What to warn of where a mix does not last for even one coat of a piece.
    fn too_short(
        &self,
        sittings: &[Sitting],
        serves: &[Serves],
    ) -> Result<Option<cure::Warning>, LawError> {
        let none = (sittings.iter().zip(serves)).find(|(_, serves)| serves.most.worst.coats == 0);
        let Some((sitting, _)) = none else {
            return Ok(None);
        };
        let mass = self.mass_for(1, sitting.most());
        if mass > Mix::MOST {
            return Ok(None);
        }
        let mass = if mass < Mix::LEAST { Mix::LEAST } else { mass };
        let outlook = self.mixed.pots().worst.outlook(&self.mix(mass))?;
        Ok(Some(cure::Warning::PotLifeShort {
            working: outlook.working(),
            wanted: self.mixed.stirring() + sitting.hands_on.planned(),
            at_most: None,
        }))
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts are at most a thousand million"
)]
const fn number(count: u64) -> f64 {
    count as f64
}
