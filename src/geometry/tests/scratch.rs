use super::super::mesh::{Sizing,Mesh};
use super::super::element::Element;
use super::super::plate::Plate;
use super::super::draft::draft;
use super::super::outline::Outline;
use super::super::contour::Curve;
use crate::quantity::Length;

#[test]
fn scratch() {
  for file in ["heart", "star"] {
    let pts: Vec<[Length;2]> = super::rows(&format!("dome/{file}.csv")).iter().map(|r| [Length::from_mm(r["x_mm"].parse().unwrap()), Length::from_mm(r["y_mm"].parse().unwrap())]).collect();
    let o = Outline::points(&pts, Length::ZERO).unwrap();
    let contour = o.contour();
    for p in &contour.loops[0] { let k = match &p.curve { Curve::Line(..) => "line", Curve::Arc{..} => "arc", Curve::Spline(_) => "spline" }; eprintln!("{k} {:?} {:?} len {:.3} bends {:.3} {:.3} {:.3}", p.curve.at(0.0), p.curve.at(1.0), p.curve.length(), p.curve.bend(0.0), p.curve.bend(0.5), p.curve.bend(1.0)); }
    let c = 1.8437;
    let (sizing, order) = Sizing::for_capillary_length(c, 25.0);
    let d = draft(&contour, sizing);
    eprintln!("draft {}", d.is_some());
    let Some(d) = d else {continue};
    let bad = d.triangles.iter().filter(|t| { let [a,b,c]=t.map(|i| d.points[i]); let area=(b[0]-a[0])*(c[1]-a[1])-(b[1]-a[1])*(c[0]-a[0]); if area < 1e-6 {eprintln!("{a:?} {b:?} {c:?} {area}");} area < 1e-6}).count();
    eprintln!("{} triangles {bad} bad", d.triangles.len());
    let e = Element::new(order);
    let m = Mesh::of(&contour, sizing, &e).unwrap();
    for t in m.triangles.chunks_exact(e.len()) { for p in &e.points { if super::super::plate::jacobian(&m.nodes, t, &p.shape).is_none() { eprintln!("folded at {:?}", m.nodes[t[0]]); break; } } }
    eprintln!("{}", Plate::on(m, e, 1.0/c/c).is_some());
  }
}
