//! Reading a whole run file.

use toml::de::DeTable;

use super::names::Names;
use super::reader::{Book, Section, Spot};
use super::{
    Fault, Faults, Hours, Inspection, Paper, Piece, Problem, Run, Selling, Shelf, Tray, blank,
    coating, header, hours, inspection, paper, piece, room, selling, step, supply, tray, uses,
};
use crate::quantity::Units;

/// Finds a file beside the run file by the name that it gives it, a drawing or a record
/// of air, or says why there is none.
pub type Beside<'a> = dyn Fn(&str) -> Result<Vec<u8>, String> + 'a;

/// The largest drawing that is read, in bytes: an outline of thousands of points takes
/// a hundredth of it.
const LARGEST_DRAWING: usize = 5_000_000;

/// The text of a drawing's bytes, or why they are none.
///
/// # Errors
/// In words: too large for one outline, or no text.
pub fn drawing_text(bytes: Vec<u8>) -> Result<String, String> {
    if bytes.len() > LARGEST_DRAWING {
        return Err("it is larger than 5 MB, too much for one outline".to_owned());
    }
    String::from_utf8(bytes).map_err(|_| "it is not text in UTF-8".to_owned())
}

/// For a run file read by itself, with nothing beside it.
fn nothing(_: &str) -> Result<Vec<u8>, String> {
    Err("the run file is read by itself, without the files beside it".to_owned())
}

impl Run {
    /// Reads a run file's text. `file_name` is only used in messages. A file
    /// that it names can't be had: [`read_with`](Self::read_with) takes those.
    ///
    /// ```
    /// use brimful::run::Run;
    /// let faults = Run::read("[room]\ntemperature = \"12 mm\"", "loft.toml").unwrap_err();
    /// assert!(faults.as_slice().iter().any(|fault| fault.key == "room.temperature" && fault.line == 2));
    /// ```
    ///
    /// # Errors
    /// Every mistake in the file, in the order of its lines.
    pub fn read(text: &str, file_name: &str) -> Result<Self, Faults> {
        Self::read_with(text, file_name, &nothing)
    }

    /// Reads a run file's text, and the files that it names by `beside`.
    ///
    /// ```
    /// use brimful::run::Run;
    /// let text = "
    ///     piece = [{ name = 'fob', count = 1, blank = 'leaf', steps = ['cut'] }]
    ///     blank = [{ name = 'leaf', outline = { svg = 'leaf.svg', width = '40 mm' } }]
    ///     step = [{ name = 'cut' }]
    ///     room = { temperature = '18 C', humidity = '60 %' }";
    /// let drawn = |_: &str| Ok(b"<svg><path d='M0 0 L40 0 L20 30 Z'/></svg>".to_vec());
    /// let run = Run::read_with(text, "fair.toml", &drawn)?;
    /// assert!((run.blanks[0].top.outline().area().mm2() - 600.0).abs() < 1e-9);
    /// # Ok::<(), brimful::run::Faults>(())
    /// ```
    ///
    /// # Errors
    /// Every mistake in the file, in the order of its lines.
    pub fn read_with(text: &str, file_name: &str, beside: &Beside) -> Result<Self, Faults> {
        let mut book = Book::new(file_name, text, beside);
        let start = Spot {
            key: String::new(),
            bytes: 0..0,
        };
        if text.trim_start_matches('\u{feff}').trim().is_empty() {
            book.fault(&start, Problem::Empty);
            return Err(Faults::of(book.faults));
        }
        let table = match DeTable::parse(text) {
            Ok(table) => table,
            Err(error) => {
                let bytes = error.span().unwrap_or(0..0);
                let spot = Spot {
                    key: key_before(text, bytes.start),
                    bytes,
                };
                let message = error.message().trim().replace('\n', ", ");
                book.fault(&spot, Problem::Syntax { message });
                return Err(Faults::of(book.faults));
            }
        };
        let top = Section::new(table.get_ref(), String::new(), 0..0);
        match top_level(top, &mut book) {
            Some(run) if book.faults.is_empty() => {
                let mut assumed = book.assumed;
                for one in &mut assumed {
                    one.of = name(&run, &one.key);
                }
                Ok(Self { assumed, ..run })
            }
            _ => Err(Faults::of(book.faults)),
        }
    }

    /// Reads a run file's bytes, which must be text in UTF-8.
    ///
    /// # Errors
    /// As [`Run::read`]; and [`Problem::NotText`] at the first byte that isn't text.
    pub fn read_bytes(bytes: &[u8], file_name: &str) -> Result<Self, Faults> {
        Self::read_bytes_with(bytes, file_name, &nothing)
    }

    /// Reads a run file's bytes, and the files that it names by `beside`.
    ///
    /// # Errors
    /// As [`Run::read_bytes`].
    pub fn read_bytes_with(bytes: &[u8], file_name: &str, beside: &Beside) -> Result<Self, Faults> {
        match std::str::from_utf8(bytes) {
            Ok(text) => Self::read_with(text, file_name, beside),
            Err(error) => {
                let good = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
                let line = good.matches('\n').count() + 1;
                let column = good.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
                let (file, key) = (file_name.to_owned(), String::new());
                Err(Faults::of(vec![Fault {
                    file,
                    line,
                    column,
                    key,
                    problem: Problem::NotText,
                }]))
            }
        }
    }
}

fn top_level(mut top: Section, book: &mut Book) -> Option<Run> {
    let empty = DeTable::default();
    let header = top.table(book, "run", "a table under [run]");
    let header = header::read(
        header.unwrap_or_else(|| Section::new(&empty, "run".to_owned(), 0..0)),
        book,
    );

    let mut pieces = top.tables(book, "piece");
    let mut blanks = top.tables(book, "blank");
    let mut coatings = top.tables(book, "coating");
    let mut steps = top.tables(book, "step");
    let mut supplies = top.tables(book, "supply");
    let piece_names = Names::read("piece", &mut pieces, book);
    let blank_names = Names::read("blank", &mut blanks, book);
    let coating_names = Names::read("coating", &mut coatings, book);
    let step_names = Names::read("step", &mut steps, book);
    let supply_names = Names::read("supply", &mut supplies, book);

    let blanks = each(blanks, |index, section| {
        blank::read(section, blank_names.at(index), book)
    });
    let coatings = each(coatings, |index, section| {
        coating::read(section, coating_names.at(index), book)
    });
    let supplies = each(supplies, |index, section| {
        supply::read(section, supply_names.at(index), book)
    });
    let known = step::Known {
        names: &coating_names,
        coatings: &coatings,
        supplies: uses::Known {
            names: &supply_names,
            supplies: &supplies,
        },
    };
    let steps = each(steps, |index, section| {
        step::read(section, step_names.at(index), &known, book)
    });
    let known = piece::Known {
        blanks: &blank_names,
        steps: &step_names,
    };
    let pieces = each(pieces, |index, section| {
        piece::read(section, piece_names.at(index), &known, book)
    });

    if !top.has("piece") {
        top.missing("piece", "at least one [[piece]] to make");
    }
    if !top.has("room") {
        top.missing(
            "room",
            "the room that it dries in: [room] with temperature and humidity",
        );
    }
    let room = top
        .table(book, "room", "a table under [room]")
        .and_then(|section| room::read(section, book));
    let around = around(&mut top, &pieces, header.units, book);
    top.finish(book);
    let around = around?;
    Some(Run {
        header,
        pieces: whole(pieces)?,
        blanks: whole(blanks)?,
        coatings: whole(coatings)?,
        steps: whole(steps)?,
        supplies: whole(supplies)?,
        inspection: around.inspection,
        room: room?,
        trays: around.trays,
        shelves: around.shelves,
        hours: around.hours,
        paper: around.paper,
        selling: around.selling,
        assumed: Vec::new(),
    })
}

/// What lies around the making: where pieces lie, when work is done, how they are looked over and sold.
struct Around {
    inspection: Option<Inspection>,
    trays: Vec<Tray>,
    shelves: Vec<Shelf>,
    hours: Hours,
    paper: Paper,
    selling: Option<Selling>,
}

/// `None` where there is a mistake, which is then in the book.
fn around(
    top: &mut Section,
    pieces: &[Option<Piece>],
    units: Units,
    book: &mut Book,
) -> Option<Around> {
    let mut trays = top.tables(book, "tray");
    let mut shelves = top.tables(book, "shelf");
    let tray_names = Names::read_or_kind("tray", &mut trays, book);
    let shelf_names = Names::read_or_kind("shelf", &mut shelves, book);
    if trays.is_empty() && !shelves.is_empty() && !top.has("tray") {
        let reason = "trays stand on a shelf, and this file describes no [[tray]]";
        book.refuse(&top.spot("shelf"), reason);
    }
    let magnets = pieces.iter().flatten().any(|piece| piece.magnet);
    let trays = each(trays, |index, section| {
        tray::read(section, tray_names.at(index), magnets, book)
    });
    let shelves = each(shelves, |index, section| {
        tray::read_shelf(section, shelf_names.at(index), book)
    });
    let inspection = top
        .table(book, "inspect", "a table under [inspect]")
        .map(|section| inspection::read(section, book));
    let hours = top.table(book, "hours", "a table under [hours]");
    let hours = hours::read(hours, book);
    let paper = top.table(book, "paper", "a table under [paper]");
    let paper = paper::read(paper, units, book);
    let selling = top
        .table(book, "selling", "a table under [selling]")
        .and_then(|section| selling::read(section, book));
    Some(Around {
        inspection,
        trays: whole(trays)?,
        shelves: whole(shelves)?,
        hours: hours?,
        paper: paper?,
        selling,
    })
}

fn each<'t, T>(
    sections: Vec<Section<'t>>,
    mut read: impl FnMut(usize, Section<'t>) -> Option<T>,
) -> Vec<Option<T>> {
    sections
        .into_iter()
        .enumerate()
        .map(|(index, section)| read(index, section))
        .collect()
}

fn whole<T>(read: Vec<Option<T>>) -> Option<Vec<T>> {
    read.into_iter().collect()
}

/// What the maker calls the entry of a table that a key such as `blank[0].bad` is of.
fn name(run: &Run, key: &str) -> Option<String> {
    let (table, rest) = key.split_once('[')?;
    let (index, _) = rest.split_once(']')?;
    let index: usize = index.parse().ok()?;
    let name = match table {
        "piece" => &run.pieces.get(index)?.name,
        "blank" => &run.blanks.get(index)?.name,
        "coating" => &run.coatings.get(index)?.name,
        "supply" => &run.supplies.get(index)?.name,
        "step" => &run.steps.get(index)?.name,
        "tray" => &run.trays.get(index)?.name,
        "shelf" => &run.shelves.get(index)?.name,
        _ => return None,
    };
    Some(name.clone())
}

/// The key that a place's line sets as far as it can be seen in a text that is no TOML; empty where
/// the line sets none before it.
fn key_before(text: &str, place: usize) -> String {
    let before = text.get(..place).unwrap_or_default();
    let line = before.rsplit('\n').next().unwrap_or_default();
    let key = line.split_once('=').map_or("", |(key, _)| key.trim());
    let bare = |c: char| c.is_ascii_alphanumeric() || "_-.".contains(c);
    if key.chars().all(bare) {
        key.to_owned()
    } else {
        String::new()
    }
}
