//! The boundaries that the solver is given.

use super::{Hole, Outline};
use crate::geometry::contour::{Contour, Curve, Piece, Side, distance};
use crate::quantity::Length;

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn all() -> Vec<Outline> {
    let hole = Hole {
        at: [mm(0.0), mm(0.0)],
        diameter: mm(6.0),
    };
    let off = Hole {
        at: [mm(1.0), mm(-2.0)],
        ..hole
    };
    let plain = [
        Outline::round(mm(40.0)),
        Outline::rectangle(mm(30.0), mm(20.0), mm(0.0)),
        Outline::rectangle(mm(20.0), mm(30.0), mm(4.0)),
        Outline::rectangle(mm(20.0), mm(20.0), mm(10.0)),
        Outline::oval(mm(25.0), mm(18.0)),
        Outline::regular(3, mm(25.0), mm(0.0)),
        Outline::regular(5, mm(25.0), mm(3.0)),
        Outline::regular(6, mm(25.0), mm(12.5)),
        Outline::regular(100, mm(25.0), mm(0.1)),
        Outline::svg(
            "<svg><path d='M0 0C0 5 9 9 9 0A3 4 30 0 1 2 -5L-1 -5'/></svg>"
                .replace("-5'", "-5z'")
                .as_str(),
            mm(30.0),
            mm(0.4),
        ),
    ]
    .map(|made| made.unwrap_or_else(|e| panic!("{e}")));
    // The middle of the drawing's box lies outside it.
    let holed = plain[..9].iter().flat_map(|outline| {
        [hole, off].map(|hole| {
            outline
                .clone()
                .with_holes(&[hole])
                .expect("room for a hole")
        })
    });
    plain.iter().cloned().chain(holed).collect()
}

fn swept(contour: &Contour) -> f64 {
    let curves = contour.loops.iter().flatten().map(|piece| &piece.curve);
    contour.copies / 2.0 * curves.map(Curve::swept).sum::<f64>()
}

fn pinned(contour: &Contour) -> f64 {
    let pieces = contour.loops.iter().flatten();
    let lengths = pieces
        .filter(|p| p.side == Side::Pinned)
        .map(|p| p.curve.length());
    contour.copies * lengths.sum::<f64>()
}

#[test]
fn every_boundary_joins_end_to_end_around_the_same_top() {
    for outline in all() {
        for contour in [outline.contour(), outline.whole_contour()] {
            let name = format!("{:?} {:?}", outline.form(), outline.holes());
            for pieces in &contour.loops {
                let next = pieces.iter().cycle().skip(1);
                for (a, b) in pieces.iter().zip(next) {
                    let gap = distance(a.curve.at(1.0), b.curve.at(0.0));
                    assert!(gap < 1e-9, "{name}: {gap}");
                }
            }
            let off = swept(&contour) / outline.area().mm2() - 1.0;
            assert!(off.abs() < 1e-9, "{name}: area off by {off}");
            let off = pinned(&contour) / outline.perimeter().mm() - 1.0;
            assert!(off.abs() < 1e-9, "{name}: edge off by {off}");
        }
        assert!(
            outline
                .whole_contour()
                .loops
                .iter()
                .flatten()
                .all(|p| p.side == Side::Pinned)
        );
    }
}

/// The inside lies on the left, of holes too.
#[test]
fn the_inside_is_always_on_the_left() {
    for outline in all() {
        for contour in [outline.contour(), outline.whole_contour()] {
            for Piece { curve, .. } in contour.loops.iter().flatten() {
                let ([x, y], [u, v]) = (curve.at(0.4), curve.tangent(0.4));
                let left = outline.contains(mm(x - 1e-3 * v), mm(y + 1e-3 * u));
                assert!(left, "{:?} at {x} {y}", outline.form());
            }
        }
    }
}

/// A part and the way back are the same curve; a bend is what turning over length
/// says.
#[test]
fn curves_are_cut_turned_round_and_bent_alike() {
    let contours = all().into_iter().map(|outline| outline.whole_contour());
    for Piece { curve, .. } in contours.flat_map(|c| c.loops).flatten() {
        let (part, back) = (curve.part(0.25, 0.75), curve.reversed());
        for t in [0.1, 0.5, 0.8] {
            assert!(distance(back.at(t), curve.at(1.0 - t)) < 1e-9);
        }
        let ends = [
            (part.at(0.0), curve.at(0.25)),
            (part.at(1.0), curve.at(0.75)),
        ];
        assert!(ends.iter().all(|(a, b)| distance(*a, *b) < 1e-9));
        let h = 1e-4;
        let turn = super::reading::turn(curve.tangent(0.4 - h), curve.tangent(0.4 + h)).abs();
        let length = curve.part(0.4 - h, 0.4 + h).length();
        let off = turn * curve.bend(0.4) / length - 1.0;
        assert!(turn == 0.0 || off.abs() < 2e-2, "{off}");
    }
}

/// Ramanujan's second formula, to better than 1e-9 for such ovals.
#[test]
fn an_oval_is_as_long_round_as_ramanujan_says() {
    let outline = Outline::oval(mm(25.0), mm(18.0)).expect("an oval");
    let h = (3.5_f64 / 21.5).powi(2);
    let round = std::f64::consts::PI * 21.5 * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()));
    assert!((outline.perimeter().mm() / round - 1.0).abs() < 1e-9);
}
