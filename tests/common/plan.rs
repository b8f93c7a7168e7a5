//! What the plan's tests share: reading a run and planning it.
#![allow(dead_code, reason = "each test file uses some of these")]

use brimful::plan::{Plan, plan};
use brimful::run::Run;

/// Plans a run from its text, which must be good.
pub fn planned(text: &str) -> Plan {
    let run = Run::read(text, "test.toml").unwrap_or_else(|faults| panic!("{faults}"));
    plan(&run).unwrap_or_else(|why| panic!("{why}"))
}

/// `got` within a share of `want`.
#[track_caller]
pub fn close(got: f64, want: f64, share: f64) {
    assert!(
        (got - want).abs() <= share * want.abs(),
        "{got} is not {want}"
    );
}
