//! When everything happens.

use crate::plan::{Dates, DaysPlan, Plan};
use crate::show::chart::{self, CalendarBars, Care};
use crate::show::draw::{DrawError, Picture};

/// When everything happens; `None` where the plan has no calendar.
///
/// # Errors
/// Those of [`chart::calendar`].
pub fn calendar(days: Option<&DaysPlan>, plan: &Plan) -> Result<Option<Picture>, DrawError> {
    let (Some(days), Dates::Told(calendar)) = (days, &plan.dates) else {
        return Ok(None);
    };
    chart::calendar(&CalendarBars {
        calendar,
        days,
        care: Care::of_plan(&plan.cautions),
    })
    .map(Some)
}
