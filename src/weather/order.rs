//! Rows into rising time.

use jiff::SignedDuration;

use super::notice::Notice;
use super::reading::Reading;
use super::unread::Problem;

/// How far a change of the clock can set times back: an hour, or two where summer
/// time is double.
const CLOCK_CHANGE: SignedDuration = SignedDuration::from_hours(2);

/// A reading and the line that it stands on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row {
    pub line: usize,
    pub reading: Reading,
}

/// The readings in rising time. A file with its newest row first is turned round; a
/// row whose time doesn't come after the one before is left out where a change of
/// the clock can explain it; where it can't, its line and the problem are returned.
pub(super) fn rising(
    mut rows: Vec<Row>,
    notices: &mut Vec<Notice>,
) -> Result<Vec<Reading>, (usize, Problem)> {
    if falls(&rows) {
        rows.reverse();
        notices.push(Notice::NewestFirst);
    }
    let mut kept: Vec<Reading> = Vec::with_capacity(rows.len());
    let mut left_out: Option<Notice> = None;
    for row in &rows {
        let read = row.reading.at;
        let after = match kept.last() {
            Some(last) if read <= last.at => last.at,
            _ => {
                kept.push(row.reading);
                continue;
            }
        };
        if after.duration_since(read) > CLOCK_CHANGE {
            return Err((row.line, Problem::Backward { read, after }));
        }
        match &mut left_out {
            Some(Notice::NotRising { rows, .. }) => *rows += 1,
            _ => {
                left_out = Some(Notice::NotRising {
                    rows: 1,
                    line: row.line,
                    read,
                    after,
                });
            }
        }
    }
    notices.extend(left_out);
    Ok(kept)
}

/// Whether more steps go back than forward.
fn falls(rows: &[Row]) -> bool {
    let (mut up, mut down) = (0_usize, 0_usize);
    for pair in rows.windows(2) {
        match pair[1].reading.at.cmp(&pair[0].reading.at) {
            std::cmp::Ordering::Greater => up += 1,
            std::cmp::Ordering::Less => down += 1,
            std::cmp::Ordering::Equal => {}
        }
    }
    down > up
}
