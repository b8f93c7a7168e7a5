//! Cautions as JSON.

use super::keys::{CautionJson, CautionsJson};
use crate::coating::{Caution, GeneralCaution, Severity, When, comes_first};
use crate::plan::{FamilyCautions, Plan};

/// The cautions of every family in use.
pub(super) fn of(plan: &Plan) -> Vec<CautionsJson<'_>> {
    plan.cautions.iter().map(family).collect()
}

fn family(family: &FamilyCautions) -> CautionsJson<'_> {
    let cautions = family.cautions;
    let [before, during, after] = cautions.lines;
    CautionsJson {
        about: &family.key,
        coatings: &family.coatings,
        first: cautions.first,
        short_first: comes_first(),
        lines: cautions.lines.iter().map(line).collect(),
        for_every_piece: cautions.general.iter().map(general).collect(),
        before: &before.say,
        during: &during.say,
        after: &after.say,
        general: (cautions.general.iter())
            .map(|general| general.say.as_str())
            .collect(),
    }
}

fn line(caution: &Caution) -> CautionJson<'_> {
    CautionJson {
        when: Some(match caution.when {
            When::Before => "before",
            When::While => "while",
            When::After => "after",
        }),
        concern: None,
        severity: severity(caution.severity),
        say: &caution.say,
        short: &caution.short,
        behind: &caution.behind,
    }
}

fn general(caution: &GeneralCaution) -> CautionJson<'_> {
    CautionJson {
        when: None,
        concern: Some(&caution.concern),
        severity: severity(caution.severity),
        say: &caution.say,
        short: &caution.short,
        behind: &caution.behind,
    }
}

const fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Lasting => "lasting",
        Severity::Hurt => "hurt",
        Severity::Spoils => "spoils",
    }
}
