//! Writing a plan's files: whole, or not at all.

use std::cmp::Reverse;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::Context;
use rayon::prelude::*;

use super::{Failure, patience, plan::refused};
use crate::plan::abreast::on_all_cores;
use crate::plan::{Pictured, Plan, Watch, pictured};
use crate::run::Run;
use crate::show::draw::Painter;
use crate::show::draw::font::missing;
use crate::show::pictures::{self, Named, Sketch};
use crate::show::sheet::sheet;
use crate::show::{json, label, text};

/// Where a plan's files go, and which.
#[derive(Debug, clap::Args)]
pub(super) struct Save {
    /// Also write the plan, its pictures, labels and lists into this folder
    #[arg(long = "save", value_name = "DIR")]
    folder: Option<PathBuf>,
    /// Save only the pictures
    #[arg(long, requires = "folder")]
    pictures_only: bool,
    /// Let --save replace files that are there already
    #[arg(long, requires = "folder")]
    force: bool,
}

impl Save {
    /// Writes what was asked for; nothing where no folder is named.
    pub(super) fn write(&self, run: &Run, plan: &Plan) -> Result<(), Failure> {
        let Some(folder) = &self.folder else {
            return Ok(());
        };
        let watch = Watch::default();
        let files = patience::watched(("drawing", &watch), || {
            let shown = pictured(run, plan).map_err(|why| refused(&why))?;
            let papers = || {
                if self.pictures_only {
                    Ok(Vec::new())
                } else {
                    papers(plan, &shown)
                }
            };
            let (papers, painted) = rayon::join(papers, || painted(plan, &shown, &watch));
            let mut files = papers?;
            files.extend(painted?);
            Ok::<_, Failure>(files)
        })?;
        write(folder, &files, self.force)?;
        tell_of_others(folder, &files);
        tell_of_boxes(plan)
    }
}

/// Names what a folder holds beside these files: it may be of an earlier plan.
fn tell_of_others(folder: &Path, files: &[File]) {
    let Ok(entries) = fs::read_dir(folder) else {
        return; // what can't be listed was written all the same
    };
    let mut others: Vec<String> = entries
        .filter_map(|entry| Some(entry.ok()?.file_name().to_string_lossy().into_owned()))
        .filter(|name| files.iter().all(|file| file.name != *name))
        .collect();
    others.sort();
    if !others.is_empty() {
        let names: Vec<&str> = others.iter().map(String::as_str).collect();
        note(&format!(
            "{} also holds {}, not written now",
            folder.display(),
            crate::show::words::list(&names, 6)
        ));
    }
}

/// Says something beside the plan. With standard error closed nobody is left to tell.
fn note(words: &str) {
    let _ = writeln!(std::io::stderr(), "note: {words}");
}

/// Says which letters of the maker's names a PNG shows as empty boxes.
fn tell_of_boxes(plan: &Plan) -> Result<(), Failure> {
    let pieces = plan.pieces.iter();
    let pieces = pieces.flat_map(|piece| [&piece.name, &piece.blank_name]);
    let coatings = plan.coatings.iter().map(|coating| &coating.name);
    let steps = plan.steps.iter().map(|step| &step.name);
    let trays = plan.space.trays.iter().map(|tray| &tray.name);
    let names: String = (pieces.chain(coatings).chain(steps).chain(trays))
        .map(String::as_str)
        .collect();
    let lacking = missing(&names)
        .context("the letters of names can't be looked up")
        .map_err(Failure::Io)?;
    if !lacking.is_empty() {
        let lacking: String = lacking.into_iter().collect();
        note(&format!(
            "{lacking} shown as empty boxes in PNGs; SVGs and pages take them from the reader's own fonts"
        ));
    }
    Ok(())
}

/// A PNG has so many pixels for each of its drawing's, to be sharp on paper.
const SCALE: f32 = 2.0;

/// A file to write.
struct File {
    name: String,
    bytes: Vec<u8>,
}

impl File {
    fn of(name: impl Into<String>, bytes: impl Into<Vec<u8>>) -> Self {
        Self {
            name: name.into(),
            bytes: bytes.into(),
        }
    }
}

/// What is read: the plan in words and as JSON, the run sheet, labels, cards and lists.
fn papers(plan: &Plan, shown: &Pictured) -> Result<Vec<File>, Failure> {
    let told = json::plan(plan).map_err(|error| Failure::Io(error.into()))?;
    let mut files = vec![
        File::of("plan.txt", text::plan_in_full(plan)),
        File::of("plan.json", told),
        run_sheet(plan, shown)?,
    ];
    let pages = [
        ("tray-labels.html", label::labels(plan, label::Kind::Tray)),
        ("piece-labels.html", label::labels(plan, label::Kind::Piece)),
        ("care-cards.html", label::labels(plan, label::Kind::Card)),
        ("pick-list.html", Ok(Some(label::pick_list(plan)))),
    ];
    for (name, page) in pages {
        let page = page.map_err(|why| Failure::CannotBeDone(why.to_string()))?;
        files.extend(page.map(|page| File::of(name, page)));
    }
    Ok(files)
}

/// The run sheet to print.
fn run_sheet(plan: &Plan, shown: &Pictured) -> Result<File, Failure> {
    let windows = pictures::windows(plan, shown)
        .context("the run sheet's pictures can't be drawn")
        .map_err(Failure::Io)?;
    let page = sheet(plan, &windows)
        .context("the run sheet can't be made")
        .map_err(Failure::Io)?;
    Ok(File::of("sheet.html", page))
}

/// Every picture, as SVG and as PNG, on all cores.
fn painted(plan: &Plan, shown: &Pictured, watch: &Watch) -> Result<Vec<File>, Failure> {
    let mut sketches = pictures::sketches(plan, shown);
    // those of the whole run are the largest, and one begun last would keep the other cores waiting
    sketches.reverse();
    watch.expect(sketches.len());
    let work = |(painter, files): &mut (Painter, Vec<_>), number, sketch: &Sketch| {
        files.push((number, files_of(sketch, painter)));
        watch.tick();
    };
    let parts = on_all_cores(&sketches, work);
    let mut files: Vec<_> = parts.into_iter().flat_map(|(_, files)| files).collect();
    files.sort_by_key(|(number, _)| Reverse(*number));
    let files: Result<Vec<_>, _> = files.into_iter().map(|(_, files)| files).collect();
    Ok(files?.into_iter().flatten().collect())
}

/// One picture's files; none where there is nothing to show.
fn files_of(sketch: &Sketch, painter: &mut Painter) -> Result<Vec<File>, Failure> {
    let drawn = sketch.drawn().context("the pictures can't be drawn");
    let Some(Named { name, picture }) = drawn.map_err(Failure::Io)? else {
        return Ok(Vec::new());
    };
    let png = painter
        .png(&picture, SCALE)
        .with_context(|| format!("the picture {name} can't be painted"))
        .map_err(Failure::Io)?;
    Ok(vec![
        File::of(format!("{name}.svg"), picture.svg),
        File::of(format!("{name}.png"), png),
    ])
}

/// Writes the files into a folder, which is made where it is not there.
///
/// A new folder is written beside its place and moved there at the end. In one that
/// is there, each file is written beside its place and all are moved at the end; where one can't be
/// moved, those that were are put back. What is in the folder beside these files stays.
fn write(folder: &Path, files: &[File], force: bool) -> Result<(), Failure> {
    // the system tells that no folder can be made in it as "File exists"
    if let Some(other) = no_folder(folder) {
        return Err(Failure::Input(format!(
            "{} is no folder, so nothing can be written into {}; name another folder",
            other.display(),
            folder.display()
        )));
    }
    let there: Vec<&str> = files
        .iter()
        .filter(|file| is_there(&folder.join(&file.name)))
        .map(|file| file.name.as_str())
        .collect();
    if !there.is_empty() && !force {
        return Err(Failure::Input(format!(
            "{} holds {} already; name another folder, or give --force to replace them",
            folder.display(),
            crate::show::words::list(&there, 4)
        )));
    }
    // What is no file can't be replaced, and must stop all before anything moves.
    if let Some(file) = files.iter().find(|file| {
        let place = folder.join(&file.name);
        is_there(&place) && !place.is_file()
    }) {
        return Err(Failure::Input(format!(
            "{} is not a file, and can't be replaced; name another folder",
            folder.join(&file.name).display()
        )));
    }
    let written = if folder.exists() {
        write_into(folder, files)
    } else {
        write_new(folder, files)
    };
    written
        .with_context(|| format!("{} can't be written", folder.display()))
        .map_err(Failure::Io)
}

/// What of a path is there and is no folder.
fn no_folder(folder: &Path) -> Option<&Path> {
    let there = folder.ancestors().find(|part| part.exists())?;
    (!there.is_dir()).then_some(there)
}

/// What waits beside its place, with a name for what it replaces until all have moved; what never
/// got to its place is taken away again.
struct Waiting(Vec<Move>);

struct Move {
    waiting: PathBuf,
    place: PathBuf,
    /// Where what it replaces is kept until all have moved.
    before: PathBuf,
}

impl Drop for Waiting {
    fn drop(&mut self) {
        for one in &self.0 {
            // What was moved to its place is not here any more.
            let _ = fs::remove_dir_all(&one.waiting).or_else(|_| fs::remove_file(&one.waiting));
        }
    }
}

impl Waiting {
    fn move_to_their_places(&self) -> std::io::Result<()> {
        for (moved, one) in self.0.iter().enumerate() {
            if let Err(why) = one.make() {
                // each that can be is put back; the fault that stopped it is the one to tell
                for one in self.0[..moved].iter().rev() {
                    if one.undo().is_err() && is_there(&one.before) {
                        note(&format!(
                            "what was {} is kept as {}",
                            one.place.display(),
                            one.before.display()
                        ));
                    }
                }
                return Err(why);
            }
        }
        for one in self.0.iter().filter(|one| is_there(&one.before)) {
            if fs::remove_file(&one.before).is_err() {
                note(&format!("{} can't be removed", one.before.display()));
            }
        }
        Ok(())
    }
}

impl Move {
    fn of(place: PathBuf) -> Self {
        let name = place.file_name().unwrap_or_default().to_string_lossy();
        let beside = |end| place.with_file_name(format!(".{name}.{}.{end}", std::process::id()));
        Self {
            waiting: beside("part"),
            before: beside("before"),
            place,
        }
    }

    /// What it replaces gets a second name first, so that at no time nothing is there.
    fn make(&self) -> std::io::Result<()> {
        if is_there(&self.place) {
            fs::hard_link(&self.place, &self.before)
                .or_else(|_| fs::copy(&self.place, &self.before).map(|_| ()))?;
        }
        fs::rename(&self.waiting, &self.place).inspect_err(|_| {
            // what was there still is
            let _ = fs::remove_file(&self.before);
        })
    }

    fn undo(&self) -> std::io::Result<()> {
        if is_there(&self.before) {
            fs::rename(&self.before, &self.place)
        } else {
            fs::remove_file(&self.place)
        }
    }
}

/// Whether something has a name, be it a link to nothing.
fn is_there(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok()
}

fn write_new(folder: &Path, files: &[File]) -> std::io::Result<()> {
    let around = folder.parent().unwrap_or(Path::new(""));
    if !around.as_os_str().is_empty() {
        fs::create_dir_all(around)?;
    }
    let one = Move::of(folder.to_owned());
    let beside = one.waiting.clone();
    let waiting = Waiting(vec![one]);
    fs::create_dir(&beside)?;
    let written = |file: &File| fs::write(beside.join(&file.name), &file.bytes);
    files.par_iter().try_for_each(written)?;
    waiting.move_to_their_places()
}

fn write_into(folder: &Path, files: &[File]) -> std::io::Result<()> {
    let moves = files.iter().map(|file| Move::of(folder.join(&file.name)));
    let waiting = Waiting(moves.collect());
    let written = |(one, file): (&Move, &File)| fs::write(&one.waiting, &file.bytes);
    waiting.0.par_iter().zip(files).try_for_each(written)?;
    waiting.move_to_their_places()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The second of three can't be moved: the first is put back, and nothing is left beside them.
    #[test]
    fn what_was_there_stays_where_one_file_cannot_be_moved() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let moves = ["a", "b", "c"].map(|name| Move::of(at(name)));
        for name in ["a", "b"] {
            fs::write(at(name), "old").unwrap();
        }
        for one in [&moves[0], &moves[2]] {
            fs::write(&one.waiting, "new").unwrap();
        }
        assert!(Waiting(moves.into()).move_to_their_places().is_err());
        let names = || fs::read_dir(folder.path()).unwrap();
        assert_eq!(names().count(), 2);
        for name in ["a", "b"] {
            assert_eq!(fs::read_to_string(at(name)).unwrap(), "old");
        }
    }
}
