//! Searches along one number: for a sign that changes, and for the most.

/// One end of a bracket: where, and by how much the goal is missed there.
#[derive(Debug, Clone, Copy)]
pub(super) struct End {
    pub place: f64,
    pub miss: f64,
}

/// When a search has come close enough: by the miss, or by the bracket's width.
#[derive(Debug, Clone, Copy)]
pub(super) struct Close {
    pub miss: f64,
    pub width: f64,
}

/// Finds where the miss vanishes between two ends of opposite signs: the
/// secant, kept inside its bracket by bisection. `at` answers with the miss at
/// a place and what was found there; `None` where 80 steps do not suffice.
pub(super) fn crossing<T, E>(
    [mut low, mut high]: [End; 2],
    close: Close,
    mut at: impl FnMut(f64) -> Result<(f64, T), E>,
) -> Result<Option<T>, E> {
    // Which end moved last.
    let mut moved = None;
    for _ in 0..80 {
        let width = high.place - low.place;
        let secant = low.place - low.miss * width / (high.miss - low.miss);
        let margin = 0.01 * width;
        let place = secant.clamp(low.place + margin, high.place - margin);
        let (miss, found) = at(place)?;
        if miss.abs() <= close.miss || width < close.width {
            return Ok(Some(found));
        }
        // Halving the weight of an end that stays twice keeps both moving (Illinois).
        let is_low = (miss < 0.0) == (low.miss < 0.0);
        let weight = if moved == Some(is_low) { 0.5 } else { 1.0 };
        if is_low {
            low = End { place, miss };
            high.miss *= weight;
        } else {
            high = End { place, miss };
            low.miss *= weight;
        }
        moved = Some(is_low);
    }
    Ok(None)
}

/// Where between two places a measure with a single hump is largest, to
/// within `width`: golden section.
pub(super) fn largest<E>(
    [mut low, mut high]: [f64; 2],
    width: f64,
    mut at: impl FnMut(f64) -> Result<f64, E>,
) -> Result<f64, E> {
    let share = (5.0_f64.sqrt() - 1.0) / 2.0;
    let inner = |low: f64, high: f64| [high - share * (high - low), low + share * (high - low)];
    let [mut left, mut right] = inner(low, high);
    let (mut at_left, mut at_right) = (at(left)?, at(right)?);
    while high - low > width {
        if at_left < at_right {
            low = left;
            (left, at_left) = (right, at_right);
            right = inner(low, high)[1];
            at_right = at(right)?;
        } else {
            high = right;
            (right, at_right) = (left, at_left);
            left = inner(low, high)[0];
            at_left = at(left)?;
        }
    }
    Ok(f64::midpoint(low, high))
}

#[cfg(test)]
mod tests {
    use super::{Close, End, crossing, largest};

    /// cos x = x at 0.739085133215161 (the fixed point of the cosine, tabulated
    /// as OEIS A003957), from either sign at the low end.
    #[test]
    fn the_fixed_point_of_the_cosine() {
        for sign in [1.0, -1.0] {
            let miss = |x: f64| sign * (x.cos() - x);
            let ends = [0.0, 1.5].map(|place| End {
                place,
                miss: miss(place),
            });
            let close = Close {
                miss: 1e-12,
                width: 0.0,
            };
            let mut steps = 0;
            let found = crossing(ends, close, |x| {
                steps += 1;
                Ok::<_, ()>((miss(x), x))
            });
            let x = found.expect("no error").expect("a crossing");
            assert!((x - 0.739_085_133_215_161).abs() < 1e-11, "{x}");
            // Bisection alone would take forty.
            assert!(steps <= 12, "{steps} steps");
        }
    }

    /// x e^-x is largest at 1.
    #[test]
    fn the_top_of_a_hump() {
        let found = largest([0.0, 5.0], 1e-6, |x| Ok::<_, ()>(x * (-x).exp()));
        let x = found.expect("no error");
        assert!((x - 1.0).abs() < 1e-6, "{x}");
    }
}
