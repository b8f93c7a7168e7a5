//! Coats in the air of a room, and records of that air.

#[path = "../common"]
mod common {
    pub mod cure;
    pub mod cure_tables;
    pub mod weather;
}
mod boxes;
mod bubbles;
mod cases;
mod cases_rooms;
mod changing;
mod crowding;
mod cupboard;
mod epoxy;
mod lamp;
mod moisture;
mod pot;
mod properties;
mod reference;
mod starts;
mod weather_epw;
mod weather_logger;
mod weather_spells;
