//! Lines of equal value over a rectangle of nodes.

use std::collections::BTreeMap;

/// A line of equal value: its points from one end to the other.
pub(super) type Level = Vec<(f64, f64)>;

/// Values at the crossings of columns and rows, both in rising order.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Field {
    pub(super) x: Vec<f64>,
    pub(super) y: Vec<f64>,
    /// By row, then by column. What is not finite has no value, and no line comes near it.
    pub(super) values: Vec<Vec<f64>>,
}

impl Field {
    /// The same between its nodes, so many times as fine, by cubics that rise and fall
    /// only where the nodes do.
    pub(super) fn finer(&self, times: u8) -> Self {
        let (x, y) = (parted(&self.x, times), parted(&self.y, times));
        let across: Vec<Vec<f64>> = self
            .values
            .iter()
            .map(|row| monotone(&self.x, row, &x))
            .collect();
        let columns: Vec<Vec<f64>> = (0..x.len())
            .map(|column| {
                let nodes: Vec<f64> = across.iter().map(|row| row[column]).collect();
                monotone(&self.y, &nodes, &y)
            })
            .collect();
        let values = (0..y.len())
            .map(|row| columns.iter().map(|column| column[row]).collect())
            .collect();
        Self { x, y, values }
    }

    /// The lines of a value: marching squares, each crossing by straight interpolation.
    pub(super) fn level(&self, value: f64) -> Vec<Level> {
        let mut joined: BTreeMap<Edge, Vec<Edge>> = BTreeMap::new();
        for row in 1..self.y.len() {
            for column in 1..self.x.len() {
                for [one, other] in self.cell((row - 1, column - 1), value) {
                    joined.entry(one).or_default().push(other);
                    joined.entry(other).or_default().push(one);
                }
            }
        }
        let ends: Vec<Edge> = joined
            .iter()
            .filter(|(_, to)| to.len() == 1)
            .map(|(edge, _)| *edge)
            .collect();
        let mut lines = Vec::new();
        for end in ends {
            lines.extend(walk(end, &mut joined));
        }
        while let Some(&edge) = joined.keys().next() {
            lines.extend(walk(edge, &mut joined));
        }
        lines
            .into_iter()
            .map(|line| line.iter().map(|edge| self.crossing(edge, value)).collect())
            .collect()
    }

    /// The pieces of a level that cross one cell, from edge to edge.
    fn cell(&self, (row, column): (usize, usize), value: f64) -> Vec<[Edge; 2]> {
        let corners = [
            self.values[row][column],
            self.values[row][column + 1],
            self.values[row + 1][column + 1],
            self.values[row + 1][column],
        ];
        if corners.iter().any(|corner| !corner.is_finite()) {
            return Vec::new();
        }
        let edges = [
            Edge::along(row, column),
            Edge::up(row, column + 1),
            Edge::along(row + 1, column),
            Edge::up(row, column),
        ];
        let above = corners.map(|corner| corner >= value);
        let crossed: Vec<Edge> = (0..4)
            .filter(|&side| above[side] != above[(side + 1) % 4])
            .map(|side| edges[side])
            .collect();
        match crossed.as_slice() {
            [one, other] => vec![[*one, *other]],
            [a, b, c, d] => {
                // of two ways through a saddle its middle tells
                let middle = corners.iter().sum::<f64>() / 4.0 >= value;
                if middle == above[0] {
                    vec![[*a, *b], [*c, *d]]
                } else {
                    vec![[*a, *d], [*b, *c]]
                }
            }
            _ => Vec::new(),
        }
    }

    /// Where a level crosses an edge.
    fn crossing(&self, edge: &Edge, value: f64) -> (f64, f64) {
        let Edge { row, column, up } = *edge;
        let (to_row, to_column) = if up {
            (row + 1, column)
        } else {
            (row, column + 1)
        };
        let (from, to) = (self.values[row][column], self.values[to_row][to_column]);
        let share = (value - from) / (to - from);
        let between = |a: f64, b: f64| a + (b - a) * share;
        (
            between(self.x[column], self.x[to_column]),
            between(self.y[row], self.y[to_row]),
        )
    }
}

/// The side of a cell that begins at a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Edge {
    row: usize,
    column: usize,
    /// To the next row, and otherwise to the next column.
    up: bool,
}

impl Edge {
    const fn along(row: usize, column: usize) -> Self {
        Self {
            row,
            column,
            up: false,
        }
    }
    const fn up(row: usize, column: usize) -> Self {
        Self {
            row,
            column,
            up: true,
        }
    }
}

/// Takes a line off those that are joined, from an edge on.
fn walk(from: Edge, joined: &mut BTreeMap<Edge, Vec<Edge>>) -> Option<Vec<Edge>> {
    let mut line = vec![from];
    let (mut at, mut next) = (from, joined.remove(&from)?.pop());
    while let Some(to) = next {
        line.push(to);
        let mut onward = joined.remove(&to).unwrap_or_default();
        onward.retain(|edge| *edge != at);
        (at, next) = (to, onward.pop());
        if to == from {
            break;
        }
    }
    Some(line)
}

/// Nodes with each gap in so many equal parts.
fn parted(nodes: &[f64], times: u8) -> Vec<f64> {
    let mut fine = Vec::with_capacity(nodes.len() * usize::from(times));
    for pair in nodes.windows(2) {
        let step = (pair[1] - pair[0]) / f64::from(times);
        fine.extend((0..times).map(|part| pair[0] + step * f64::from(part)));
    }
    fine.extend(nodes.last());
    fine
}

/// Values between nodes by piecewise cubics that rise and fall only where the nodes do.
///
/// Slopes at the nodes by the weighted harmonic mean of Fritsch and Butland (1984), at the
/// ends by the first and last chord.
fn monotone(nodes: &[f64], values: &[f64], wanted: &[f64]) -> Vec<f64> {
    let gaps: Vec<f64> = nodes.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let chords: Vec<f64> = values
        .windows(2)
        .zip(&gaps)
        .map(|(pair, gap)| (pair[1] - pair[0]) / gap)
        .collect();
    let slope = |node: usize| match (node.checked_sub(1).map(|i| chords[i]), chords.get(node)) {
        (Some(before), Some(&after)) if before * after > 0.0 => {
            let (a, b) = (gaps[node - 1], gaps[node]);
            let (w1, w2) = (2.0 * b + a, b + 2.0 * a);
            (w1 + w2) / (w1 / before + w2 / after)
        }
        (Some(only), None) | (None, Some(&only)) => only,
        _ => 0.0,
    };
    let last = nodes.len().saturating_sub(2);
    wanted
        .iter()
        .map(|&at| {
            let left = nodes
                .partition_point(|&node| node <= at)
                .saturating_sub(1)
                .min(last);
            let (gap, t) = (gaps[left], (at - nodes[left]) / gaps[left]);
            let (t2, t3) = (t * t, t * t * t);
            // cubic Hermite
            (2.0 * t3 - 3.0 * t2 + 1.0) * values[left]
                + (t3 - 2.0 * t2 + t) * gap * slope(left)
                + (3.0 * t2 - 2.0 * t3) * values[left + 1]
                + (t3 - t2) * gap * slope(left + 1)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field(of: impl Fn(f64, f64) -> f64) -> Field {
        let nodes: Vec<f64> = (0..21).map(|i| f64::from(i) / 10.0 - 1.0).collect();
        let values = nodes
            .iter()
            .map(|&y| nodes.iter().map(|&x| of(x, y)).collect())
            .collect();
        Field {
            x: nodes.clone(),
            y: nodes,
            values,
        }
    }

    #[test]
    fn a_round_hill_has_one_closed_line_at_its_radius() {
        let lines = field(|x, y| x * x + y * y).finer(4).level(0.5);
        assert_eq!(lines.len(), 1);
        assert_eq!(lines[0].first(), lines[0].last());
        for (x, y) in &lines[0] {
            assert!((x.hypot(*y) - 0.5_f64.sqrt()).abs() < 2e-3, "{x} {y}");
        }
    }

    #[test]
    fn a_slope_has_one_straight_line_from_side_to_side() {
        let lines = field(|x, y| x + 0.5 * y).level(0.13);
        assert_eq!(lines.len(), 1);
        assert!(lines[0].len() > 20);
        for (x, y) in &lines[0] {
            assert!((x + 0.5 * y - 0.13).abs() < 1e-12, "{x} {y}");
        }
    }

    #[test]
    fn two_hollows_have_two_lines_and_what_has_no_value_none() {
        let hollows = |x: f64, y: f64| (x.abs() - 0.5).hypot(y);
        assert_eq!(field(hollows).level(0.3).len(), 2);
        let half = |x: f64, y: f64| {
            if x < 0.0 {
                f64::INFINITY
            } else {
                hollows(x, y)
            }
        };
        let lines = field(half).level(0.3);
        assert_eq!(lines.len(), 1);
        assert!(lines[0].iter().all(|(x, _)| *x >= 0.0));
    }

    /// Through 1, 4, 9 a cubic without overshoot stays between its nodes and rises.
    #[test]
    fn between_nodes_it_rises_where_they_do() {
        let nodes = [0.0, 1.0, 1.5, 4.0];
        let values = [0.0, 0.0, 5.0, 5.1];
        let at: Vec<f64> = (0..=400).map(|i| f64::from(i) / 100.0).collect();
        let found = monotone(&nodes, &values, &at);
        assert!(found.windows(2).all(|pair| pair[1] >= pair[0] - 1e-12));
        for (node, value) in nodes.iter().zip(values) {
            let (i, _) = at
                .iter()
                .enumerate()
                .find(|(_, x)| (*x - node).abs() < 1e-9)
                .unwrap();
            assert!((found[i] - value).abs() < 1e-9);
        }
    }
}
