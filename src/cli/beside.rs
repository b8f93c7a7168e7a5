//! Reading the files that a run file or an option names: drawings, records of air.

use std::fs::File;
use std::io::Read;
use std::path::Path;

/// The largest file that is read, in bytes: a year of a logger's minutes takes half of it.
const MOST: u64 = 60_000_000;

/// A file's bytes, or why there are none.
pub(super) fn read(path: &Path) -> Result<Vec<u8>, String> {
    let file = File::open(path).map_err(|error| error.to_string())?;
    let about = file.metadata().map_err(|error| error.to_string())?;
    if !about.is_file() {
        return Err("it is not a file".to_owned());
    }
    let mut bytes = Vec::new();
    file.take(MOST + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| error.to_string())?;
    if bytes.len() as u64 > MOST {
        return Err("it is larger than 60 MB".to_owned());
    }
    Ok(bytes)
}
