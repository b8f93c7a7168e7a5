//! How long a coating takes in other rooms.

use crate::plan::{Plan, RoomMap};
use crate::show::chart::{self, Care, Rooms};
use crate::show::draw::{DrawError, Picture};

/// How long a coating takes in other rooms.
///
/// # Errors
/// Those of [`chart::rooms`].
pub fn rooms(map: &RoomMap, plan: &Plan) -> Result<Picture, DrawError> {
    chart::rooms(&Rooms {
        map,
        care: Care::of_coating(&plan.cautions, &map.coating),
        units: plan.header.units,
    })
}
