//! Whole runs, from their files to their plans.

#[path = "../common"]
mod common {
    pub mod calendar;
    pub mod cup;
    pub mod plan;
    pub mod promises;
    pub mod random_run;
    pub mod sheet;
}
mod cases;
mod cases_warned;
mod goods;
mod left;
mod makers_cups;
mod makers_lists;
mod makers_materials;
mod makers_mixes;
mod makers_money;
mod makers_run;
mod makers_ways;
mod makers_whole;
mod mixed_at;
mod more;
mod no_time;
mod promises;
mod properties;
mod said;
mod shown;
mod through;
mod told;
mod undated;
mod waits;
mod windows;
