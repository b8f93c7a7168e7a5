//! What a run uses, where it lies, when it happens and what it costs, each by itself.

#[path = "../common"]
mod common {
    pub mod schedule;
    pub mod space;
}
mod consumption_amount;
mod consumption_blanks;
mod consumption_film_and_mix;
mod consumption_packs;
mod consumption_reverse;
mod consumption_sizes;
mod consumption_spool;
mod cost_fair;
mod cost_price;
mod schedule_best;
mod schedule_chance;
mod schedule_rules;
mod space_brute;
mod space_layout;
