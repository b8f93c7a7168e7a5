//! The cautions that go with a plan.

use std::collections::BTreeSet;

use super::{Advice, CoatingPlan, StepPlan};
use crate::coating::{Cautions, cautions, family};
use crate::run::Run;

/// The cautions of one kind of coating, and who needs them.
#[derive(Debug, Clone, PartialEq)]
pub struct FamilyCautions {
    /// What the cautions are for, as `data/cautions.toml` calls it.
    pub key: String,
    /// The run's coatings that they are for.
    pub coatings: Vec<String>,
    /// The cautions.
    pub cautions: Cautions,
}

/// The cautions of the coatings that the steps use, each once, in the run's order.
pub(super) fn in_use(
    run: &Run,
    coatings: &[CoatingPlan],
    steps: &[StepPlan],
    advice: &[Advice],
) -> Vec<FamilyCautions> {
    let used: BTreeSet<&str> = coatings
        .iter()
        .map(|coating| coating.name.as_str())
        .chain(steps.iter().filter_map(|step| step.coating.as_deref()))
        .collect();
    let mut found: Vec<FamilyCautions> = Vec::new();
    let own = run
        .coatings
        .iter()
        .filter(|coating| used.contains(coating.name.as_str()));
    let own = own.map(|coating| (coating.name.as_str(), coating.coating.family()));
    // A family that is only advised brings its cautions too.
    let advised = advice.iter().filter(|advice| !advice.from_the_run);
    let advised =
        advised.filter_map(|advice| Some((advice.coating.as_str(), family(&advice.coating)?)));
    for (name, family) in own.chain(advised) {
        let key = &family.cautions;
        if let Some(known) = found.iter_mut().find(|known| known.key == *key) {
            if !known.coatings.iter().any(|coating| coating == name) {
                known.coatings.push(name.to_owned());
            }
        } else if let Some(cautions) = cautions(key) {
            found.push(FamilyCautions {
                key: key.clone(),
                coatings: vec![name.to_owned()],
                cautions,
            });
        }
    }
    found
}
