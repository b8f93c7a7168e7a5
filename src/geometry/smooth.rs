//! Cubic splines along a smooth stretch of edge.

/// How a stretch ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    /// At a corner: the value there is shared with the next stretch.
    Corner,
    /// On a line of mirror symmetry, which it meets squarely: level there.
    Mirror,
}

/// The stretch's own shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Course {
    /// From one end to another.
    Open(End, End),
    /// Round, back to where it began.
    Closed,
}

/// How the splines of one chord join those of the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Join {
    /// The value runs on, the slope may jump.
    Continuous,
    /// The slope runs on.
    Smooth,
    /// The slope's slope runs on too, as round a circle.
    Even,
}

/// Splines of any degree whose knots are the ends of a stretch's chords.
#[derive(Debug, Clone)]
pub(super) struct Splines {
    degree: usize,
    /// Arc length at the chords' ends, mm, most of them several times over.
    knots: Vec<f64>,
    /// The knot at which each chord begins.
    begins: Vec<usize>,
    course: Course,
    count: usize,
}

impl Splines {
    /// From the chords' lengths, mm, and how each joins the next: as many joins
    /// as chords in a closed stretch, one less in an open one. A closed stretch
    /// begins and ends at its last join.
    pub fn new(degree: usize, lengths: &[f64], joins: &[Join], course: Course) -> Self {
        let total: f64 = lengths.iter().sum();
        let times = |join: Join| match join {
            Join::Continuous => degree,
            Join::Smooth => degree - 1,
            Join::Even => (degree - 2).max(1),
        };
        // Knots of the stretch from just after its beginning to its end.
        let mut inner = Vec::new();
        let mut begins = vec![0];
        let mut at = 0.0;
        for (i, length) in lengths.iter().enumerate() {
            at += length;
            match joins.get(i) {
                Some(&join) => inner.extend(vec![at; times(join)]),
                None => inner.push(total),
            }
            begins.push(inner.len());
        }
        begins.pop();
        let (before, after) = match course {
            Course::Open(..) => (vec![0.0; degree + 1], vec![total; degree]),
            Course::Closed => {
                let last = &inner[inner.len() - degree - 1..];
                let first = &inner[..degree];
                (
                    last.iter().map(|x| x - total).collect::<Vec<_>>(),
                    first.iter().map(|x| x + total).collect(),
                )
            }
        };
        let count = match course {
            Course::Closed => inner.len(),
            Course::Open(a, b) => {
                let merged = [a, b].iter().filter(|e| **e == End::Mirror).count();
                inner.len() + degree - merged
            }
        };
        Self {
            begins: begins.iter().map(|i| i + degree).collect(),
            knots: before.into_iter().chain(inner).chain(after).collect(),
            degree,
            course,
            count,
        }
    }

    /// How many splines there are.
    pub fn count(&self) -> usize {
        self.count
    }

    /// The splines that live on a chord, and their values at a share of it.
    pub fn at(&self, chord: usize, share: f64) -> Vec<(usize, f64)> {
        let low = self.begins[chord];
        let x = self.knots[low] + share * (self.knots[low + 1] - self.knots[low]);
        // De Boor's recurrence, one degree at a time.
        let mut values = vec![0.0; self.degree + 1];
        values[0] = 1.0;
        for degree in 1..=self.degree {
            let mut carried = 0.0;
            for (i, value) in values.iter_mut().take(degree).enumerate() {
                let (right, left) = (self.knots[low + i + 1], self.knots[low + 1 + i - degree]);
                let part = *value / (right - left);
                *value = carried + (right - x) * part;
                carried = (x - left) * part;
            }
            values[degree] = carried;
        }
        let mut here: Vec<(usize, f64)> = Vec::with_capacity(values.len());
        for (i, value) in values.into_iter().enumerate() {
            let number = self.number(low - self.degree + i);
            match here.iter_mut().find(|(known, _)| *known == number) {
                // Where two go together they are one.
                Some((_, sum)) => *sum += value,
                None => here.push((number, value)),
            }
        }
        here
    }

    /// Level at a mirror: the first two splines go together there.
    fn number(&self, i: usize) -> usize {
        match self.course {
            Course::Closed => i % self.count,
            Course::Open(first, last) => {
                let i = if first == End::Mirror {
                    i.saturating_sub(1)
                } else {
                    i
                };
                if last == End::Mirror {
                    i.min(self.count - 1)
                } else {
                    i
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(splines: &Splines, weights: &[f64], chord: usize, share: f64) -> f64 {
        let terms = splines.at(chord, share);
        terms.iter().map(|&(i, v)| weights[i] * v).sum()
    }

    #[test]
    fn they_add_up_to_one_and_join_smoothly() {
        let lengths = [0.3, 1.0, 0.7, 0.2, 2.0];
        for course in [
            Course::Closed,
            Course::Open(End::Corner, End::Corner),
            Course::Open(End::Mirror, End::Corner),
            Course::Open(End::Mirror, End::Mirror),
        ] {
            let most = if course == Course::Closed { 5 } else { 4 };
            let splines = Splines::new(4, &lengths, &[Join::Smooth; 5][..most], course);
            let ones = vec![1.0; splines.count()];
            let digits = [0.0, 2.0, 4.0, 1.0, 3.0].into_iter().cycle();
            let odd: Vec<f64> = digits.take(splines.count()).collect();
            for (chord, length) in lengths.iter().enumerate() {
                assert!((value(&splines, &ones, chord, 0.37) - 1.0).abs() < 1e-14);
                let next = chord + 1;
                if next == lengths.len() && course != Course::Closed {
                    continue;
                }
                let next = next % lengths.len();
                let (here, there) = (
                    value(&splines, &odd, chord, 1.0),
                    value(&splines, &odd, next, 0.0),
                );
                assert!(
                    (here - there).abs() < 1e-12,
                    "{course:?} {chord}: {here} {there}"
                );
                let h = 1e-6;
                let before = (here - value(&splines, &odd, chord, 1.0 - h)) / (h * length);
                let after = (value(&splines, &odd, next, h) - there) / (h * lengths[next]);
                assert!((before - after).abs() < 1e-3 * before.abs().max(1.0));
            }
        }
    }

    #[test]
    fn at_a_mirror_they_are_level() {
        let joins = [Join::Smooth; 2];
        let splines = Splines::new(
            3,
            &[1.0, 0.5, 0.5],
            &joins,
            Course::Open(End::Mirror, End::Mirror),
        );
        let growing = std::iter::successors(Some(1.0), |x| Some(1.5 * x + 1.0));
        let odd: Vec<f64> = growing.take(splines.count()).collect();
        let h = 1e-5;
        assert!((value(&splines, &odd, 0, h) - value(&splines, &odd, 0, 0.0)).abs() < 1e-8);
        assert!((value(&splines, &odd, 2, 1.0 - h) - value(&splines, &odd, 2, 1.0)).abs() < 1e-8);
    }
}
