//! What each kind of piece costs.

use crate::cost::Margin;
use crate::plan::{CostPlan, MoneyPlan, Plan};
use crate::quantity::Money;
use crate::show::chart::{self, Care, CostBar, CostBars, Priced};
use crate::show::draw::{DrawError, Picture};

/// What each kind of piece costs; `None` where the run says nothing of selling.
///
/// # Errors
/// Those of [`chart::cost`].
pub fn cost(costs: &[CostPlan], plan: &Plan) -> Result<Option<Picture>, DrawError> {
    let Some(money) = plan.money.as_ref().filter(|_| !costs.is_empty()) else {
        return Ok(None);
    };
    chart::cost(&CostBars {
        bars: bars(costs, money),
        currency: &money.currency,
        work_counts: money.labour.is_some(),
        unpriced: &money.unpriced,
        care: Care::of_plan(&plan.cautions),
    })
    .map(Some)
}

fn bars<'a>(costs: &'a [CostPlan], money: &MoneyPlan) -> Vec<CostBar<'a>> {
    (costs.iter().zip(&money.pieces))
        .map(|(cost, money)| CostBar {
            piece: &cost.piece,
            parts: &cost.parts,
            each: cost.each,
            floor: money.floor.tag,
            fair: money.at_fair().map(|at| priced(at.price, at.margin)),
            shop: money.wholesale.map(|at| priced(at.price, at.margin)),
        })
        .collect()
}

const fn priced(price: Money, margin: Margin) -> Priced {
    Priced {
        price,
        kept: margin.kept,
        leaves: margin.contribution,
    }
}
