//! Writing a plan's files: whole, or not at all.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

use anyhow::Context;

use super::{Failure, patience, plan::refused};
use crate::plan::abreast::on_all_cores;
use crate::plan::{Pictured, Plan, pictured};
use crate::run::Run;
use crate::show::draw::font::missing;
use crate::show::pictures::{self, Named};
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
        let done = AtomicUsize::new(0);
        let how_far = || format!("drawing: {} pictures done", done.load(Ordering::Relaxed));
        let files = patience::watched(how_far, || {
            let shown = pictured(run, plan).map_err(|why| refused(&why))?;
            let mut files = Vec::new();
            if !self.pictures_only {
                files.extend(papers(plan, &shown)?);
            }
            files.extend(painted(plan, &shown, &done)?);
            Ok::<_, Failure>(files)
        })?;
        write(folder, &files, self.force)?;
        tell_of_boxes(plan)
    }
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
        let note =
            "shown as empty boxes in PNGs; SVGs and pages take them from the reader's own fonts";
        // with standard error closed nobody is left to tell
        let _ = writeln!(std::io::stderr(), "note: {lacking} {note}");
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
        File::of("plan.txt", text::plan(plan)),
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

/// Every picture, as SVG and as PNG.
fn painted(plan: &Plan, shown: &Pictured, done: &AtomicUsize) -> Result<Vec<File>, Failure> {
    let drawn = pictures::all(plan, shown)
        .context("the pictures can't be drawn")
        .map_err(Failure::Io)?;
    let parts = on_all_cores(&drawn, |found: &mut Vec<_>, number, named: &Named| {
        found.push((number, named.picture.png(SCALE)));
        done.fetch_add(1, Ordering::Relaxed);
    });
    let mut painted: Vec<_> = parts.into_iter().flatten().collect();
    painted.sort_by_key(|(number, _)| *number);
    let mut files = Vec::new();
    for (Named { name, picture }, (_, png)) in drawn.into_iter().zip(painted) {
        let png = png
            .with_context(|| format!("the picture {name} can't be painted"))
            .map_err(Failure::Io)?;
        files.push(File::of(format!("{name}.svg"), picture.svg));
        files.push(File::of(format!("{name}.png"), png));
    }
    Ok(files)
}

/// Writes the files into a folder, which is made where it is not there.
///
/// A new folder is written beside its place and moved there at the end. In one that
/// is there, each file is written beside its place and all are moved at the end, one by one, so
/// that a fault in writing leaves what was there as it was. What is in the folder beside these
/// files stays.
fn write(folder: &Path, files: &[File], force: bool) -> Result<(), Failure> {
    let there: Vec<&str> = files
        .iter()
        .filter(|file| folder.join(&file.name).exists())
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
        place.exists() && !place.is_file()
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

/// What waits beside its place; what never got there is taken away again.
struct Waiting(Vec<(PathBuf, PathBuf)>);

impl Drop for Waiting {
    fn drop(&mut self) {
        for (waiting, _) in &self.0 {
            // What was moved to its place is not here any more.
            let _ = fs::remove_dir_all(waiting).or_else(|_| fs::remove_file(waiting));
        }
    }
}

impl Waiting {
    fn move_to_their_places(&self) -> std::io::Result<()> {
        self.0
            .iter()
            .try_for_each(|(waiting, place)| fs::rename(waiting, place))
    }
}

fn write_new(folder: &Path, files: &[File]) -> std::io::Result<()> {
    let around = folder.parent().unwrap_or(Path::new(""));
    if !around.as_os_str().is_empty() {
        fs::create_dir_all(around)?;
    }
    let name = folder.file_name().unwrap_or_default().to_string_lossy();
    let beside = around.join(format!(".{name}.{}.part", std::process::id()));
    let waiting = Waiting(vec![(beside.clone(), folder.to_owned())]);
    fs::create_dir(&beside)?;
    for file in files {
        fs::write(beside.join(&file.name), &file.bytes)?;
    }
    waiting.move_to_their_places()
}

fn write_into(folder: &Path, files: &[File]) -> std::io::Result<()> {
    let mut waiting = Waiting(Vec::new());
    for file in files {
        let place = folder.join(&file.name);
        let beside = folder.join(format!(".{}.{}.part", file.name, std::process::id()));
        waiting.0.push((beside.clone(), place));
        fs::write(&beside, &file.bytes)?;
    }
    waiting.move_to_their_places()
}
