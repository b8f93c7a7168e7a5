//! The steps that pieces go through.

use super::names::Names;
use super::reader::{Book, Fallback, Limit, Name, Safe, Section, SpreadingRate, Whole};
use super::{Fill, RunCoating, Use, fill, uses};
use crate::coating::{Applied, Liquid};
use crate::consumption::Faces;
use crate::quantity::{Length, Share, Time};

/// One step.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What the maker calls it.
    pub name: String,
    /// What is done.
    pub work: Work,
    /// Hands-on time for one piece. `None`: not said.
    pub hands_on: Option<Time>,
    /// Before the first piece of a sitting: laying out, shaking, mixing one mix. `None`: not said.
    pub set_up: Option<Time>,
    /// After the last piece of a sitting: watching for drips, cleaning. `None`: not said.
    pub clean_up: Option<Time>,
    /// What one piece takes beside its blank and the coating.
    pub uses: Vec<Use>,
    /// What the coats before it must have come to. `None`: not said.
    pub needs: Option<Needs>,
    /// Share of pieces lost in this step, less than one.
    pub spoilage: Share,
}

/// What a step does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Work {
    /// Floods the top with a coating, held at the edge as a dome.
    Dome(Dome),
    /// Brushes a thin film.
    Brush(Brush),
    /// Draws with ink: it dries, but its amount is not counted.
    Draw {
        /// Which of the run's coatings.
        coating: usize,
    },
    /// Uses no coating.
    Bare,
}

/// What the coats on a piece must have come to for work that lays no coat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    /// Dry to handle.
    Handle,
    /// Dry through.
    Through,
}

/// A flood coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dome {
    /// Which of the run's coatings.
    pub coating: usize,
    /// What of that coating shapes the dome.
    pub liquid: Liquid,
    /// How full it is asked to be.
    pub fill: Fill,
    /// Which faces are flooded.
    pub faces: Faces,
}

/// A brushed coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brush {
    /// Which of the run's coatings.
    pub coating: usize,
    /// Wet film thickness of one coat.
    pub wet_film: Length,
    /// How many coats, at least one.
    pub coats: u32,
    /// Which faces are brushed.
    pub faces: Faces,
    /// Whether the sides are brushed too.
    pub sides: bool,
}

impl Work {
    /// Which of the run's coatings it uses, if any.
    #[must_use]
    pub const fn coating(&self) -> Option<usize> {
        match self {
            Self::Dome(dome) => Some(dome.coating),
            Self::Brush(brush) => Some(brush.coating),
            Self::Draw { coating } => Some(*coating),
            Self::Bare => None,
        }
    }

    /// The faces that it coats; `None` where it lays no film.
    #[must_use]
    pub const fn faces(&self) -> Option<Faces> {
        match self {
            Self::Dome(dome) => Some(dome.faces),
            Self::Brush(brush) => Some(brush.faces),
            Self::Draw { .. } | Self::Bare => None,
        }
    }
}

const SPOILAGE: Limit<Share> = Limit {
    holds: |spoilage| spoilage.fraction() >= 0.0 && spoilage.fraction() <= 0.95,
    reason: "the share lost in a step lies from 0 % to 95 %: with all of them lost, no number of pieces would do",
};
const HANDS_ON: Limit<Time> = Limit {
    holds: |time| time.s() >= 0.0 && time.days() <= 1.0,
    reason: "hands-on time for a piece is at most a day",
};
const PER_SITTING: Limit<Time> = Limit {
    holds: |time| time.s() >= 0.0 && time.days() <= 1.0,
    reason: "setting up or cleaning up takes at most a day",
};
const FILM: Limit<Length> = Limit {
    holds: |film| film.mm() >= 0.001 && film.mm() <= 6.0,
    reason: "a brushed wet film is from 0.001 mm to 6 mm; were millimetres meant?",
};
const RATE: Limit<SpreadingRate> = Limit {
    holds: |rate| (FILM.holds)(&rate.0),
    reason: "at this spreading rate the wet film would not be from 0.001 mm to 6 mm",
};
const COATS: Limit<Whole> = Limit {
    holds: |coats| (1..=20).contains(&coats.0),
    reason: "a step brushes 1 to 20 coats",
};

/// The coatings that steps can name: those that are wrong in themselves are `None`.
pub(super) struct Known<'n> {
    pub names: &'n Names,
    pub coatings: &'n [Option<RunCoating>],
    pub supplies: uses::Known<'n>,
}

/// What a step's own keys ask for, before its coating is looked at.
struct Asked {
    fill: Option<Fill>,
    wet_film: Option<Length>,
    coats: Option<u32>,
    faces: Faces,
    sides: bool,
}

/// Reads one `[[step]]`, whose name is already read.
pub(super) fn read(
    mut section: Section,
    name: String,
    known: &Known,
    book: &mut Book,
) -> Option<Step> {
    let before = book.faults.len();
    let coating = section.may::<Name>(book, "coating", &Limit::ANY);
    let coating = coating.map(|coating| {
        known
            .names
            .find(coating.as_str(), &section.spot("coating"), book)
    });
    let asked = asked(&mut section, book);
    let hands_on = section.may(book, "hands_on", &HANDS_ON);
    let set_up = section.may(book, "set_up", &PER_SITTING);
    let clean_up = section.may(book, "clean_up", &PER_SITTING);
    let uses = uses::read(&mut section, known.supplies, book);
    let has_coating = section.has("coating");
    let needs = if has_coating {
        section.refuse(
            book,
            "needs",
            "a coat goes on when the one before takes it; only a step without a coating says what it needs",
        );
        None
    } else {
        section.may(book, "needs", &Limit::ANY)
    };
    let work = if has_coating {
        let index = coating.flatten();
        let stuff = index.and_then(|index| Some((index, known.coatings[index].as_ref()?)));
        stuff.and_then(|(index, coating)| work(index, coating, &asked, &section, book))
    } else {
        bare(&section, book)
    };
    let domes = matches!(work, Some(Work::Dome(_)));
    let usual = if domes {
        Fallback {
            value: Share::from_percent(3.0),
            words: "3 %",
            why: "typical, from memory, for a dome",
        }
    } else {
        Fallback {
            value: Share::from_percent(1.0),
            words: "1 %",
            why: "typical, from memory",
        }
    };
    let spoilage = section.or(book, "spoilage", &SPOILAGE, usual);
    section.finish(book);
    if book.faults.len() > before {
        return None;
    }
    Some(Step {
        name,
        work: work?,
        hands_on,
        set_up,
        clean_up,
        uses,
        needs,
        spoilage,
    })
}

fn asked(section: &mut Section, book: &mut Book) -> Asked {
    let fill = if section.is_table("fill") {
        section
            .table(book, "fill", fill::EXPECTED)
            .and_then(|table| fill::read(table, book))
    } else {
        section
            .may::<Safe>(book, "fill", &Limit::ANY)
            .map(|Safe| Fill::Target)
    };
    let thickness = section.may(book, "wet_film", &FILM);
    let rate = section
        .may(book, "spreading_rate", &RATE)
        .map(|rate| rate.0);
    if section.has("wet_film") && section.has("spreading_rate") {
        book.refuse(
            &section.spot("spreading_rate"),
            "wet_film already says how thick the coat is; keep one of the two",
        );
    }
    let coats = section.may(book, "coats", &COATS).and_then(Whole::small);
    Asked {
        fill,
        wet_film: thickness.or(rate),
        coats,
        faces: section.may(book, "faces", &Limit::ANY).unwrap_or_default(),
        sides: section.may(book, "sides", &Limit::ANY).unwrap_or(false),
    }
}

/// A step without a coating must not ask for one.
fn bare(section: &Section, book: &mut Book) -> Option<Work> {
    let keys = [
        "fill",
        "wet_film",
        "spreading_rate",
        "coats",
        "faces",
        "sides",
    ];
    let orphan = keys.into_iter().find(|key| section.has(key));
    if let Some(key) = orphan {
        book.refuse(
            &section.spot(key),
            "this step names no coating to do it with",
        );
        return None;
    }
    Some(Work::Bare)
}

fn work(
    index: usize,
    coating: &RunCoating,
    asked: &Asked,
    section: &Section,
    book: &mut Book,
) -> Option<Work> {
    let thin = ["wet_film", "spreading_rate", "coats"]
        .into_iter()
        .find(|key| section.has(key));
    let applied = coating.coating.family().applied;
    match (section.has("fill"), thin) {
        (true, Some(key)) => {
            book.refuse(&section.spot(key), "this step has a fill, so it floods a dome in one coat; a brushed coat is a step of its own");
            None
        }
        (true, None) => dome(index, coating, (asked.fill?, asked), section, book),
        (false, None) if applied == Applied::Flooded => {
            book.assume(
                section.path("fill"),
                "safe",
                "the coating's own target angle",
            );
            dome(index, coating, (Fill::Target, asked), section, book)
        }
        (false, None) if applied == Applied::Drawn => draw(index, section, book),
        (false, _) => brush(index, coating, asked, section, book),
    }
}

/// Ink is drawn as a line: it covers no face.
fn draw(index: usize, section: &Section, book: &mut Book) -> Option<Work> {
    if let Some(key) = ["faces", "sides"].into_iter().find(|key| section.has(key)) {
        book.refuse(
            &section.spot(key),
            "this step draws a line of ink, which covers no whole face or side",
        );
        return None;
    }
    Some(Work::Draw { coating: index })
}

fn dome(
    index: usize,
    coating: &RunCoating,
    (fill, asked): (Fill, &Asked),
    section: &Section,
    book: &mut Book,
) -> Option<Work> {
    if asked.sides {
        book.refuse(
            &section.spot("sides"),
            "a flood coat does not stay on a side; brush the sides in a step of its own",
        );
        return None;
    }
    let Some(liquid) = coating.coating.liquid() else {
        let lacks = coating.coating.lacks_for_dome().join(", ");
        let reason = format!(
            "{} can't be held as a dome: its family has no {lacks}",
            coating.coating.family().name
        );
        book.refuse(&section.spot("coating"), reason);
        return None;
    };
    Some(Work::Dome(Dome {
        coating: index,
        liquid,
        fill,
        faces: asked.faces,
    }))
}

fn brush(
    index: usize,
    coating: &RunCoating,
    asked: &Asked,
    section: &Section,
    book: &mut Book,
) -> Option<Work> {
    let wet_film = if section.has("wet_film") || section.has("spreading_rate") {
        asked.wet_film?
    } else if let Some(usual) = coating.coating.wet_film() {
        let words = format!("{} mm", (usual.mm() * 1e4).round() / 1e4);
        book.assume(
            section.path("wet_film"),
            words,
            "the coating's own wet film",
        );
        usual
    } else {
        let reason = format!(
            "{} is not usually brushed, so say wet_film or spreading_rate",
            coating.coating.family().name
        );
        book.refuse(&section.spot("coating"), reason);
        return None;
    };
    let coats = match asked.coats {
        Some(coats) => coats,
        None if section.has("coats") => return None,
        None => {
            book.assume(
                section.path("coats"),
                "1",
                "the step says no number of coats",
            );
            1
        }
    };
    Some(Work::Brush(Brush {
        coating: index,
        wet_film,
        coats,
        faces: asked.faces,
        sides: asked.sides,
    }))
}
