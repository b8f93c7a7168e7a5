//! Times that are easy to say, for lines of equal time.

use crate::quantity::Time;

/// Round times, each about twice the one before.
const DOUBLING: [Time; 17] = [
    Time::from_min(1.0),
    Time::from_min(2.0),
    Time::from_min(5.0),
    Time::from_min(10.0),
    Time::from_min(20.0),
    Time::from_min(45.0),
    Time::from_min(90.0),
    Time::from_h(3.0),
    Time::from_h(6.0),
    Time::from_h(12.0),
    Time::from_h(24.0),
    Time::from_days(2.0),
    Time::from_days(4.0),
    Time::from_days(8.0),
    Time::from_days(16.0),
    Time::from_days(32.0),
    Time::from_days(64.0),
];
/// Round times between those.
const BETWEEN: [Time; 13] = [
    Time::from_min(15.0),
    Time::from_min(30.0),
    Time::from_min(60.0),
    Time::from_h(2.0),
    Time::from_h(4.0),
    Time::from_h(8.0),
    Time::from_h(18.0),
    Time::from_h(36.0),
    Time::from_days(3.0),
    Time::from_days(6.0),
    Time::from_days(12.0),
    Time::from_days(24.0),
    Time::from_days(48.0),
];
/// Fewer lines than this and those between are drawn too.
const FEW: usize = 4;

/// Round times between two, given as logarithms of seconds.
pub(super) fn round_times((least, most): (f64, f64)) -> Vec<Time> {
    let within = |time: &&Time| (least..=most).contains(&time.s().ln());
    let mut times: Vec<Time> = DOUBLING.iter().filter(within).copied().collect();
    if times.len() < FEW {
        times.extend(BETWEEN.iter().filter(within));
    }
    times.sort_by(|a, b| a.s().total_cmp(&b.s()));
    times
}
