//! Reading the drawings that outlines come from.

use std::fs::File;
use std::io::Read;
use std::path::Path;

/// The largest drawing that is read, in bytes: an outline of thousands of
/// points takes a hundredth of it.
const MOST: u64 = 5_000_000;

/// A drawing's text, or why there is none.
pub(super) fn read(path: &Path) -> Result<String, String> {
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
        return Err("it is larger than 5 MB, too much for one outline".to_owned());
    }
    String::from_utf8(bytes).map_err(|_| "it is not text in UTF-8".to_owned())
}
