//! The `brimful` program.

fn main() {}
