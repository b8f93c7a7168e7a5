//! Writing a plan's files: whole, or not at all.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::Context;

use super::{Failure, plan::refused};
use crate::plan::{Pictured, Plan, pictured};
use crate::run::Run;
use crate::show::pictures::{self, Named};
use crate::show::sheet::{Paper, sheet};
use crate::show::{json, text};

/// A file to write.
pub(super) struct File {
    name: String,
    bytes: Vec<u8>,
}

/// Every file of a plan: plan.txt, plan.json, sheet.html, and each domed piece cut through.
pub(super) fn files(run: &Run, plan: &Plan) -> Result<Vec<File>, Failure> {
    let told = json::plan(plan).map_err(|error| Failure::Io(error.into()))?;
    let mut files = vec![
        File {
            name: "plan.txt".to_owned(),
            bytes: text::plan(plan).into_bytes(),
        },
        File {
            name: "plan.json".to_owned(),
            bytes: told.into_bytes(),
        },
    ];
    let shown = pictured(run, plan).map_err(|why| refused(&why))?;
    let pictures = pictures::all(plan, &shown)
        .context("the pictures can't be drawn")
        .map_err(Failure::Io)?;
    files.push(run_sheet(plan, &shown)?);
    for Named { name, picture } in pictures {
        let png = picture
            .png(2.0)
            .with_context(|| format!("the picture {name} can't be painted"))
            .map_err(Failure::Io)?;
        files.push(File {
            name: format!("{name}.svg"),
            bytes: picture.svg.into_bytes(),
        });
        files.push(File {
            name: format!("{name}.png"),
            bytes: png,
        });
    }
    Ok(files)
}

/// The run sheet, on the paper that goes with the run's units.
fn run_sheet(plan: &Plan, shown: &Pictured) -> Result<File, Failure> {
    let windows = pictures::windows(plan, shown)
        .context("the run sheet's pictures can't be drawn")
        .map_err(Failure::Io)?;
    let page = sheet(plan, &windows, Paper::of(plan.header.units))
        .context("the run sheet can't be made")
        .map_err(Failure::Io)?;
    Ok(File {
        name: "sheet.html".to_owned(),
        bytes: page.into_bytes(),
    })
}

/// Writes the files into a folder, which is made where it is not there.
///
/// Each is written beside its place and all are moved there at the end, so that
/// a fault in writing leaves what was there as it was.
pub(super) fn write(folder: &Path, files: &[File], force: bool) -> Result<(), Failure> {
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
    let mut beside = Beside(Vec::new());
    write_beside(folder, files, &mut beside)
        .with_context(|| format!("{} can't be written", folder.display()))
        .map_err(Failure::Io)
}

/// Files that wait beside their places; those that never got there are taken away again.
struct Beside(Vec<(PathBuf, PathBuf)>);

impl Drop for Beside {
    fn drop(&mut self) {
        for (waiting, _) in &self.0 {
            // What was moved to its place is not here any more.
            let _ = fs::remove_file(waiting);
        }
    }
}

fn write_beside(folder: &Path, files: &[File], beside: &mut Beside) -> std::io::Result<()> {
    fs::create_dir_all(folder)?;
    for file in files {
        let place = folder.join(&file.name);
        let waiting = folder.join(format!(".{}.{}.part", file.name, std::process::id()));
        beside.0.push((waiting.clone(), place));
        fs::write(&waiting, &file.bytes)?;
    }
    for (waiting, place) in &beside.0 {
        fs::rename(waiting, place)?;
    }
    Ok(())
}
