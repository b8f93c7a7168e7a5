//! What becomes of a mix that stays in its cup, and how much is prudent to mix.

use super::{Cup, Mix, Pot, WORKABLE};
use crate::cure::law::LawError;
use crate::cure::numeric::root;
use crate::cure::warning::Warning;
use crate::quantity::{Mass, Temperature, TemperatureDifference, Time};

/// What becomes of a mix that stays in its cup.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlook {
    pub(super) mix: Mix,
    pub(super) gel: Time,
    pub(super) warm: Option<Time>,
    pub(super) peak: (Time, Temperature),
    pub(super) limit: TemperatureDifference,
}

impl Outlook {
    /// The mix.
    #[must_use]
    pub fn mix(&self) -> Mix {
        self.mix
    }
    /// When it gels in the cup.
    #[must_use]
    pub fn gel(&self) -> Time {
        self.gel
    }
    /// The longest it should be worked with: [`WORKABLE`] of the time to gel, or
    /// until it is [`WARM`](super::WARM) above the room where that is sooner.
    #[must_use]
    pub fn working(&self) -> Time {
        let workable = self.gel * WORKABLE.fraction();
        self.warm
            .filter(|&warm| warm < workable)
            .unwrap_or(workable)
    }
    /// When it is [`WARM`](super::WARM) above the room, if it ever is.
    #[must_use]
    pub fn warm(&self) -> Option<Time> {
        self.warm
    }
    /// When it is hottest.
    #[must_use]
    pub fn peak_time(&self) -> Time {
        self.peak.0
    }
    /// An upper bound of how hot it gets. For judging only, never to be told as a
    /// figure: one temperature for a whole cup is too simple for that.
    #[must_use]
    pub fn peak_upper_bound(&self) -> Temperature {
        self.peak.1
    }
    /// Whether, left in its cup, it comes to make heat faster than it can lose it.
    #[must_use]
    pub fn runs_away(&self) -> bool {
        self.peak.1 - self.mix.room > self.limit
    }

    /// Whether it can be worked with for so long.
    #[must_use]
    pub fn lasts(&self, wanted: Time) -> bool {
        self.working() >= wanted
    }
}

/// How much is prudent to mix at once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MostMixed {
    /// As much as is ever mixed: 10 kg and it would still last.
    Anything,
    /// So much at most.
    UpTo(Mass),
    /// No mix lasts so long, not even 0.1 g.
    Nothing,
}

/// Advice to mix less than this at a time would help nobody: a choice of ours.
const WORTH_MIXING: Mass = Mass::from_g(5.0);

impl MostMixed {
    /// The mass, where it is limited to one.
    #[must_use]
    pub fn mass(self) -> Option<Mass> {
        match self {
            Self::UpTo(mass) => Some(mass),
            Self::Anything | Self::Nothing => None,
        }
    }
}

impl Pot {
    /// The most to mix at once so that it can be worked with for as long as is
    /// wanted and stays less than [`WARM`](super::WARM) above the room meanwhile.
    ///
    /// # Errors
    /// As [`Pot::outlook`], and for a wanted time that is not from 0 to 8 days.
    pub fn largest_prudent_mix(
        &self,
        wanted: Time,
        cup: Cup,
        room: Temperature,
    ) -> Result<MostMixed, LawError> {
        LawError::check("wanted working time", wanted.s(), (0.0, 691_200.0))?;
        let mix = |log: f64| Mix {
            mass: Mass::from_kg(log.exp()),
            cup,
            room,
        };
        let [least, most] = [Mix::LEAST, Mix::MOST].map(|mass| mass.kg().ln());
        mix(least).check()?;
        // how much longer it lasts than is wanted, in logarithms: a greater mass lasts less
        let spare = |log: f64| (self.outlook_of(&mix(log)).working() / wanted).ln();
        Ok(match (spare(least) >= 0.0, spare(most) >= 0.0) {
            (false, _) => MostMixed::Nothing,
            (true, true) => MostMixed::Anything,
            (true, false) => MostMixed::UpTo(mix(root(spare, least, most)).mass),
        })
    }

    /// What to warn of in a mix that is wanted for so long.
    ///
    /// # Errors
    /// As [`largest_prudent_mix`](Self::largest_prudent_mix).
    pub fn warnings(&self, mix: &Mix, wanted: Time) -> Result<Vec<Warning>, LawError> {
        let outlook = self.outlook(mix)?;
        let mut warnings = Vec::new();
        if outlook.runs_away() {
            warnings.push(Warning::CupRunsAway {
                mass: mix.mass,
                gels: outlook.gel,
            });
        }
        if !outlook.lasts(wanted) {
            warnings.push(Warning::PotLifeShort {
                working: outlook.working(),
                wanted,
                at_most: self
                    .largest_prudent_mix(wanted, mix.cup, mix.room)?
                    .mass()
                    .filter(|&mass| mass >= WORTH_MIXING),
            });
        }
        Ok(warnings)
    }
}
