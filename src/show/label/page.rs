//! Pages of labels.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::set::{EDGE, Set, set};
use super::{Label, LabelError, mm};
use crate::quantity::{Length, Show, Units};
use crate::run::LabelSheet;
use crate::show::draw::{clean, figure};

/// What pages of labels are about, and their sizes.
#[derive(Clone)]
pub(super) struct What {
    pub(super) title: String,
    /// The key of the labels' size in the run file.
    pub(super) key: &'static str,
    /// More for who prints them, on the screen alone.
    pub(super) hint: &'static str,
    pub(super) sheet: [Length; 2],
    pub(super) labels: LabelSheet,
    pub(super) units: Units,
}

/// Units of a drawing in a millimetre, so that no browser takes its letters for too small.
const UNITS: f64 = 10.0;

/// The pages as one HTML file. `None`: there is no label.
pub(super) fn html(what: &What, labels: &[Label]) -> Result<Option<String>, LabelError> {
    if labels.iter().all(|label| label.copies == 0) {
        return Ok(None);
    }
    let (grown, sets) = fitted(what, labels)?;
    let what = &grown;
    let places = copies(labels);
    let to_a_page = (what.labels.across * what.labels.down).max(1) as usize;
    let pages: Vec<&[usize]> = places.chunks(to_a_page).collect();
    let [width, height] = what.sheet.map(mm);
    let style = format!(
        "@page{{size:{width}mm {height}mm;margin:0}}\
         body{{margin:0;font-family:\"DejaVu Sans\",sans-serif}}\
         svg.page{{display:block;width:{width}mm;height:{height}mm;break-after:page}}\
         svg.page:last-of-type{{break-after:auto}}\
         svg.stock{{position:absolute;width:0;height:0}}\
         @media screen{{body{{background:#e9edf0}}svg.page{{background:#fff;margin:0 auto 6mm}}\
         p{{max-width:45em;margin:1em auto;padding:0 1em}}}}\
         @media print{{p{{display:none}}}}"
    );
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (clean(&what.title)) }
                style { (PreEscaped(style)) }
            }
            body {
                p { bdi { (clean(&what.title)) } ". " (note(what, places.len(), pages.len())) }
                svg class="stock" aria-hidden="true" xmlns="http://www.w3.org/2000/svg" {
                    defs { @for (number, set) in sets.iter().enumerate() { (drawn(number, set, what)) } }
                }
                @for page in pages { (sheet(page, what)) }
            }
        }
    };
    Ok(Some(page.into_string()))
}

/// The labels set; those of a usual size on larger ones where they need it.
fn fitted(what: &What, labels: &[Label]) -> Result<(What, Vec<Set>), LabelError> {
    let mut what = what.clone();
    loop {
        let each = labels.iter();
        let set: Vec<_> = each
            .map(|label| set(label, what.labels.size, what.key))
            .collect();
        let needs = |set: &Result<Set, LabelError>| match set {
            Err(LabelError::TooSmall { needs_mm, .. }) => *needs_mm,
            _ => 0.0,
        };
        let Some(worst) = set.iter().map(needs).reduce(f64::max) else {
            return Ok((what, Vec::new()));
        };
        let taller = (what.labels).taller(what.sheet, Length::from_mm(worst));
        if let (true, true, Some(taller)) = (worst > 0.0, what.labels.usual, taller) {
            what.labels = taller;
            continue;
        }
        // of several that are too small, the one that needs the most
        let mut set = set;
        if let Some(place) = set
            .iter()
            .position(|one| worst > 0.0 && needs(one) >= worst)
        {
            set.swap(0, place);
        }
        let sets = set.into_iter().collect::<Result<Vec<_>, LabelError>>()?;
        return Ok((what, sets));
    }
}

/// Every copy of every label in order, by the label's number.
fn copies(labels: &[Label]) -> Vec<usize> {
    let each = |(number, label): (usize, &Label)| {
        let copies = usize::try_from(label.copies).unwrap_or(usize::MAX);
        std::iter::repeat_n(number, copies)
    };
    labels.iter().enumerate().flat_map(each).collect()
}

/// How to print them, for the screen alone.
fn note(what: &What, labels: usize, pages: usize) -> String {
    let [width, height] = what.labels.size.map(|side| side.show(what.units));
    let s = |many: usize| if many == 1 { "" } else { "s" };
    format!(
        "{labels} label{} of {width} by {height} on {pages} sheet{}. Print at full size, without margins of the printer's own; other sizes go under [paper] in the run file, as {}.{}",
        s(labels),
        s(pages),
        what.key,
        what.hint
    )
}

/// A label drawn once, to be placed as often as it is wanted.
fn drawn(number: usize, set: &Set, what: &What) -> Markup {
    let [width, height] = what.labels.size.map(|side| units(side.mm()));
    let at = |mm: f64| units(mm);
    html! {
        g id={ "label-" (number) } {
            @if what.labels.to_cut {
                rect width=(width) height=(height) fill="none" stroke="#8b98a3" stroke-width="1" stroke-dasharray="8 8" {}
            }
            @for line in &set.lines {
                text x=(at(EDGE)) y=(at(line.down)) font-size=(at(line.size)) font-weight=[line.bold.then_some("bold")] {
                    (clean(&line.words))
                }
            }
            @if let Some(down) = set.rule {
                line x1=(at(EDGE)) y1=(at(down)) x2=(at(what.labels.size[0].mm() - EDGE)) y2=(at(down)) stroke="#8b98a3" stroke-width="2" {}
            }
        }
    }
}

fn sheet(page: &[usize], what: &What) -> Markup {
    let [width, height] = what.sheet.map(|side| units(side.mm()));
    let labels = &what.labels;
    let place = |place: usize| {
        let across = place % labels.across as usize;
        let down = place / labels.across as usize;
        [(0, across), (1, down)].map(|(side, count)| {
            #[expect(
                clippy::cast_precision_loss,
                reason = "at most some hundred labels to a side"
            )]
            let count = count as f64;
            units((labels.margin[side] + (labels.size[side] + labels.gap[side]) * count).mm())
        })
    };
    html! {
        svg class="page" viewBox={ "0 0 " (width) " " (height) } fill="#1c2a36"
            font-family="DejaVu Sans, sans-serif" xmlns="http://www.w3.org/2000/svg" {
            @for (number, label) in page.iter().enumerate() {
                @let [x, y] = place(number);
                use href={ "#label-" (label) } x=(x) y=(y) {}
            }
        }
    }
}

/// Millimetres in units of a drawing.
fn units(mm: f64) -> String {
    figure::trimmed(mm * UNITS, 2)
}
