//! How far one outline must be moved up to clear another: envelopes of closed chains.
//!
//! The topmost overlap of two connected shapes is where the upper edge of the lower one
//! meets the lower edge of the higher one, so these two functions of x are all that is needed.

use super::turned::Point;

/// The upper edge of a shape over x: straight pieces from left to right that do not
/// overlap in x.
#[derive(Debug, Clone)]
pub(super) struct Envelope(Vec<[Point; 2]>);

impl Envelope {
    /// The upper edge of a closed chain of points.
    pub fn upper(chain: &[Point]) -> Self {
        let next = chain.iter().cycle().skip(1);
        let sides: Vec<[Point; 2]> = chain
            .iter()
            .zip(next)
            .filter_map(|(&a, &b)| match a[0].total_cmp(&b[0]) {
                std::cmp::Ordering::Less => Some([a, b]),
                std::cmp::Ordering::Equal => None,
                std::cmp::Ordering::Greater => Some([b, a]),
            })
            .collect();
        Self(highest(&sides))
    }

    /// The least `dy` from which on `above`, moved by `(dx, dy)`, lies clear of this: its
    /// lower edge is given as the upper edge of its image turned upside down, `(x, -y)`.
    /// `None` where they share no x.
    ///
    /// ```text
    /// dy = max over x of U(x) - L(x - dx), with -L the envelope of the image
    /// ```
    pub fn clears(&self, above: &Self, dx: f64) -> Option<f64> {
        let (ours, theirs) = (&self.0, &above.0);
        let (first, last) = (theirs.first()?[0][0] + dx, theirs.last()?[1][0] + dx);
        let mut i = ours.partition_point(|side| side[1][0] <= first);
        let start = ours.get(i)?[0][0];
        let mut j = theirs.partition_point(|side| side[1][0] + dx <= start);
        let mut most: Option<f64> = None;
        while let (Some(a), Some(b)) = (ours.get(i), theirs.get(j)) {
            if a[0][0] >= last {
                break;
            }
            let (from, to) = (a[0][0].max(b[0][0] + dx), a[1][0].min(b[1][0] + dx));
            if to > from {
                let sum = |x: f64| at(a, x) + at(b, x - dx);
                let here = sum(from).max(sum(to));
                most = Some(most.map_or(here, |most| most.max(here)));
            }
            if a[1][0] <= b[1][0] + dx {
                i += 1;
            } else {
                j += 1;
            }
        }
        most
    }
}

/// The height of a side at x.
fn at([a, b]: &[Point; 2], x: f64) -> f64 {
    let share = (x - a[0]) / (b[0] - a[0]);
    a[1] + share.clamp(0.0, 1.0) * (b[1] - a[1])
}

/// The highest of many sides, by halves.
fn highest(sides: &[[Point; 2]]) -> Vec<[Point; 2]> {
    if sides.len() < 2 {
        return sides.to_vec();
    }
    let (left, right) = sides.split_at(sides.len() / 2);
    merged(&highest(left), &highest(right))
}

/// The higher of two envelopes.
fn merged(a: &[[Point; 2]], b: &[[Point; 2]]) -> Vec<[Point; 2]> {
    let mut breaks: Vec<f64> = Vec::with_capacity(2 * (a.len() + b.len()));
    breaks.extend(a.iter().chain(b).flat_map(|side| [side[0][0], side[1][0]]));
    breaks.sort_unstable_by(f64::total_cmp);
    breaks.dedup();
    let mut out: Vec<[Point; 2]> = Vec::with_capacity(breaks.len());
    let (mut i, mut j) = (0, 0);
    for pair in breaks.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        while a.get(i).is_some_and(|side| side[1][0] <= from) {
            i += 1;
        }
        while b.get(j).is_some_and(|side| side[1][0] <= from) {
            j += 1;
        }
        let over = |side: &&[Point; 2]| side[0][0] <= from;
        match (a.get(i).filter(over), b.get(j).filter(over)) {
            (None, None) => {}
            (Some(side), None) | (None, Some(side)) => push(&mut out, side, from, to),
            (Some(p), Some(q)) => push_higher(&mut out, [p, q], from, to),
        }
    }
    out
}

fn push_higher(out: &mut Vec<[Point; 2]>, [p, q]: [&[Point; 2]; 2], from: f64, to: f64) {
    let (start, end) = (at(p, from) - at(q, from), at(p, to) - at(q, to));
    if start >= 0.0 && end >= 0.0 {
        push(out, p, from, to);
    } else if start <= 0.0 && end <= 0.0 {
        push(out, q, from, to);
    } else {
        let cross = from + (to - from) * start / (start - end);
        let [first, second] = if start > 0.0 { [p, q] } else { [q, p] };
        push(out, first, from, cross);
        push(out, second, cross, to);
    }
}

/// Adds the stretch of a side, to the stretch before it where both are of one side.
fn push(out: &mut Vec<[Point; 2]>, side: &[Point; 2], from: f64, to: f64) {
    if to <= from {
        return;
    }
    let end = [to, at(side, to)];
    let start = [from, at(side, from)];
    if let Some(last) = out.last_mut() {
        let run = [last[0], end];
        #[expect(clippy::float_cmp, reason = "the very same point, not a measured one")]
        let joins = last[1] == start;
        if joins && (at(&run, from) - start[1]).abs() < 1e-12 {
            last[1] = end;
            return;
        }
    }
    out.push([start, end]);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn upside_down(chain: &[Point]) -> Vec<Point> {
        chain.iter().map(|p| [p[0], -p[1]]).collect()
    }

    /// A triangle of height 1 on a base of 2 rests on the slope of another half a base
    /// aside at half its height, and lies free of it a whole base aside.
    #[test]
    fn triangles_rest_on_each_others_slopes() {
        let chain = [[-1.0, 0.0], [1.0, 0.0], [0.0, 1.0]];
        let up = Envelope::upper(&chain);
        let down = Envelope::upper(&upside_down(&chain));
        for (dx, dy) in [
            (0.0, Some(1.0)),
            (1.0, Some(1.0)),
            (1.5, Some(0.5)),
            (2.0, None),
        ] {
            assert_eq!(up.clears(&down, dx), dy, "{dx}");
        }
    }

    /// A cup's upper edge has a dip, which a peg goes down into.
    #[test]
    fn a_peg_goes_into_a_cup() {
        let cup = [
            [0.0, 0.0],
            [5.0, 0.0],
            [5.0, 4.0],
            [4.0, 4.0],
            [4.0, 1.0],
            [1.0, 1.0],
            [1.0, 4.0],
            [0.0, 4.0],
        ];
        let peg = [[0.0, 0.0], [2.0, 0.0], [2.0, 9.0], [0.0, 9.0]];
        let (up, down) = (Envelope::upper(&cup), Envelope::upper(&upside_down(&peg)));
        assert_eq!(up.clears(&down, 1.5), Some(1.0));
        assert_eq!(up.clears(&down, 0.5), Some(4.0));
        assert_eq!(up.clears(&down, 9.0), None);
    }
}
