//! Run files: read, refused, and what is taken where they are silent.

#[path = "../common"]
mod common {
    pub mod run;
}
mod bad;
mod defaults;
mod mutations;
mod read;
mod rest;
