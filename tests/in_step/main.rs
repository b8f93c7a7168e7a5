//! What is kept in step with the program: the house's rules, the README, the gallery.

#[path = "../common"]
mod common {
    pub mod plan;
    pub mod weather;
}
mod gallery;
mod house;
mod readme;
