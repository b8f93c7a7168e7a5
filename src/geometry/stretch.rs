//! The pinned edge of a mesh in order: smooth stretches from corner to corner.

use std::collections::HashMap;

use super::contour::{Point, Side, distance};
use super::element::Element;
use super::mesh::Mesh;
use super::smooth::{Course, End, Join, Splines};

/// A turn between two sides that is a corner, radians.
const CORNER: f64 = 0.02;

/// How many sides next to a corner have splines of their own: there the edge
/// angle rises from nothing within a side or two, and what the splines miss of
/// that must not ripple along the stretch.
const APART: usize = 1;

/// A smooth stretch of the pinned edge.
pub(super) struct Stretch {
    /// Numbers of its sides among the mesh's boundary edges, in order.
    pub edges: Vec<usize>,
    pub splines: Splines,
    /// The mesh nodes of the corners at its ends.
    pub corners: [Option<usize>; 2],
}

/// One side of a triangle on the pinned edge.
struct Held {
    edge: usize,
    ends: [usize; 2],
    /// Directions of travel where it begins and ends.
    ways: [Point; 2],
    length: f64,
}

impl Held {
    /// Mean curvature along it, per mm.
    fn bend(&self) -> f64 {
        let [a, b] = self.ways;
        (a[0] * b[1] - a[1] * b[0]).atan2(a[0] * b[0] + a[1] * b[1]) / self.length
    }
}

/// The stretches of the pinned edge; `None` where it does not hang together.
pub(super) fn stretches(mesh: &Mesh, element: &Element) -> Option<Vec<Stretch>> {
    let held: Vec<Held> = (0..mesh.boundary.len())
        .filter(|&edge| mesh.boundary[edge].side == Side::Pinned)
        .map(|edge| held(mesh, element, edge))
        .collect();
    let starting: HashMap<usize, usize> = held
        .iter()
        .enumerate()
        .map(|(i, h)| (h.ends[0], i))
        .collect();
    let ending: HashMap<usize, usize> = held
        .iter()
        .enumerate()
        .map(|(i, h)| (h.ends[1], i))
        .collect();
    if starting.len() != held.len() || ending.len() != held.len() {
        return None;
    }
    let next = |i: usize| starting.get(&held[i].ends[1]).copied();
    let turns = |i: usize, n: usize| {
        let (a, b) = (held[i].ways[1], held[n].ways[0]);
        (a[0] * b[1] - a[1] * b[0]).abs() > CORNER || a[0] * b[0] + a[1] * b[1] < 0.0
    };
    let begins = |i: usize| {
        ending
            .get(&held[i].ends[0])
            .is_none_or(|&last| turns(last, i))
    };
    let mut done = vec![false; held.len()];
    let mut found = Vec::new();
    // First those that begin somewhere, then those that go round.
    let firsts = (0..held.len()).filter(|&i| begins(i)).chain(0..held.len());
    for first in firsts {
        if done[first] {
            continue;
        }
        let mut run = Vec::new();
        let mut at = Some(first);
        while let Some(i) = at {
            done[i] = true;
            run.push(i);
            at = next(i).filter(|&n| !done[n] && !turns(i, n));
        }
        let last = run[run.len() - 1];
        let closed = !begins(first);
        if closed && (next(last) != Some(first) || run.len() < 4) {
            return None;
        }
        found.push(stretch(
            mesh,
            element,
            &held,
            &run,
            closed,
            [
                ending.contains_key(&held[first].ends[0]),
                starting.contains_key(&held[last].ends[1]),
            ],
        ));
    }
    Some(found)
}

/// Makes a stretch of a run of sides; `goes_on` says at which ends the edge
/// does (round a corner) rather than meet a mirror line.
fn stretch(
    mesh: &Mesh,
    element: &Element,
    held: &[Held],
    run: &[usize],
    closed: bool,
    goes_on: [bool; 2],
) -> Stretch {
    let (first, last) = (&held[run[0]], &held[run[run.len() - 1]]);
    let tips = [(first.ends[0], first.ways[0]), (last.ends[1], last.ways[1])];
    let end = |i: usize| {
        let (node, way) = tips[i];
        // A corner may lie on a mirror line: then the edge meets it askew.
        if goes_on[i] || !meets_mirror_squarely(mesh, element, node, way) {
            End::Corner
        } else {
            End::Mirror
        }
    };
    let course = if closed {
        Course::Closed
    } else {
        Course::Open(end(0), end(1))
    };
    let lengths: Vec<f64> = run.iter().map(|&i| held[i].length).collect();
    let joins = joins(held, run, course);
    Stretch {
        edges: run.iter().map(|&i| held[i].edge).collect(),
        splines: Splines::new(element.order, &lengths, &joins, course),
        corners: [0, 1].map(|i| (!closed && goes_on[i]).then_some(tips[i].0)),
    }
}

/// How the sides of a run join.
fn joins(held: &[Held], run: &[usize], course: Course) -> Vec<Join> {
    let n = run.len();
    let near_corner = |i: usize| match course {
        Course::Closed => false,
        Course::Open(a, b) => {
            (a == End::Corner && i < APART) || (b == End::Corner && n - i <= APART + 1)
        }
    };
    let most = if course == Course::Closed { n } else { n - 1 };
    let circle = course == Course::Closed
        && (0..n).all(|i| bends_on(&held[run[i]], &held[run[(i + 1) % n]]));
    (0..most)
        .map(|i| {
            let (here, next) = (&held[run[i]], &held[run[(i + 1) % n]]);
            if near_corner(i) || bends_anew(here, next) {
                Join::Continuous
            } else if circle {
                Join::Even
            } else {
                Join::Smooth
            }
        })
        .collect()
}

/// Whether the edge bends quite differently from one side to the next, as
/// where a straight side runs into a rounded corner.
fn bends_anew(here: &Held, next: &Held) -> bool {
    let (a, b) = (here.bend(), next.bend());
    let most = a.abs().max(b.abs());
    (a - b).abs() > 0.5 * most && most * here.length.min(next.length) > 0.05
}

/// Whether the edge bends on as before, as a circle does.
fn bends_on(here: &Held, next: &Held) -> bool {
    let (a, b) = (here.bend(), next.bend());
    let most = a.abs().max(b.abs());
    (a - b).abs() < 0.02 * most && most * here.length.min(next.length) > 0.05
}

fn meets_mirror_squarely(mesh: &Mesh, element: &Element, node: usize, way: Point) -> bool {
    let mirrors = mesh.boundary.iter().filter(|e| e.side == Side::Mirror);
    mirrors.into_iter().any(|edge| {
        let nodes = mesh.triangle(edge.element, element);
        let ends = [edge.local, (edge.local + 1) % 3].map(|i| nodes[i]);
        let [a, b] = ends.map(|n| mesh.nodes[n]);
        let along = (b[0] - a[0]) * way[0] + (b[1] - a[1]) * way[1];
        ends.contains(&node) && along.abs() < CORNER * distance(a, b)
    })
}

fn held(mesh: &Mesh, element: &Element, edge: usize) -> Held {
    let side = &mesh.boundary[edge];
    let nodes = mesh.triangle(side.element, element);
    let velocity = |t: f64| {
        let (at, along) = Element::on_edge(side.local, t);
        let shape = element.shape(at[0], at[1]);
        [0, 1].map(|axis| -> f64 {
            let d = |i: usize| along[0] * shape.d1[i] + along[1] * shape.d2[i];
            nodes
                .iter()
                .enumerate()
                .map(|(i, &n)| d(i) * mesh.nodes[n][axis])
                .sum()
        })
    };
    let way = |t: f64| {
        let [x, y] = velocity(t);
        let speed = x.hypot(y);
        [x / speed, y / speed]
    };
    let rule = super::quadrature::gauss_legendre(element.order + 1);
    let speeds = rule.iter().map(|&(t, weight)| {
        let [x, y] = velocity(t);
        weight * x.hypot(y)
    });
    Held {
        edge,
        ends: [side.local, (side.local + 1) % 3].map(|i| nodes[i]),
        ways: [way(0.0), way(1.0)],
        length: speeds.sum(),
    }
}
