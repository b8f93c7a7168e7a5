//! The flags that tell a blank, shared by the short questions.

use std::path::PathBuf;

use super::beside;
use super::failure::{Failure, wrong};
use crate::geometry::{Blank, Hole, Outline};
use crate::quantity::{Length, Offset};
use crate::run::drawing_text;

/// A blank's flat top: its outline in one of several ways, and its holes.
#[derive(Debug, clap::Args)]
pub(super) struct Top {
    /// A round blank's diameter, such as "25 mm"
    #[arg(
        long,
        group = "blank",
        value_name = "DIAMETER",
        allow_hyphen_values = true
    )]
    round: Option<Length>,
    /// A rectangular blank's two sides, such as "20 mm" "50 mm"
    #[arg(long, group = "blank", num_args = 2, value_names = ["LENGTH", "WIDTH"], allow_hyphen_values = true)]
    rectangle: Option<Vec<Length>>,
    /// An oval blank's length and width, such as "25 mm" "18 mm"
    #[arg(long, group = "blank", num_args = 2, value_names = ["LENGTH", "WIDTH"], allow_hyphen_values = true)]
    oval: Option<Vec<Length>>,
    /// A regular blank's sides and its width across flats, such as 6 "25 mm"; for an odd number of
    /// sides, from a flat to the corner opposite
    #[arg(long, group = "blank", num_args = 2, value_names = ["SIDES", "ACROSS"], allow_hyphen_values = true)]
    regular: Option<Vec<String>>,
    /// An SVG file that holds one closed shape, drawn as wide as --width says
    #[arg(long, group = "blank", value_name = "FILE", requires = "width")]
    outline: Option<PathBuf>,
    /// The width of the --outline, such as "40 mm"
    #[arg(long, requires = "outline", allow_hyphen_values = true)]
    width: Option<Length>,
    /// Radius of the corners, on any outline that has some; left out, they stay as they are
    #[arg(
        long,
        conflicts_with_all = ["round", "oval"],
        requires = "blank",
        value_name = "RADIUS",
        allow_hyphen_values = true
    )]
    corner: Option<Length>,
    /// A round hole that stays open: its diameter, then how far right and how far up of the blank's
    /// middle, such as "3 mm" "0 mm" "14 mm"; repeat it for more holes
    #[arg(long, num_args = 3, value_names = ["DIAMETER", "RIGHT", "UP"], action = clap::ArgAction::Append, requires = "blank", allow_hyphen_values = true)]
    hole: Vec<Offset>,
}

/// A blank: its flat top, and what its edge is like.
#[derive(Debug, clap::Args)]
pub(super) struct Flags {
    #[command(flatten)]
    top: Top,
    /// Radius to which the top's edge is rounded off, such as "0.3 mm"; left out, it is sharp
    #[arg(long, value_name = "RADIUS", allow_hyphen_values = true)]
    edge: Option<Length>,
    /// Height of a wall around the top, as a bezel has, such as "2 mm"; left out, there is none
    #[arg(long, value_name = "HEIGHT", allow_hyphen_values = true)]
    wall: Option<Length>,
}

impl Flags {
    /// The blank. clap has seen to it that one was told.
    pub(super) fn blank(&self) -> Result<Blank, Failure> {
        let outline = self.top.outline()?;
        let outline =
            outline.ok_or_else(|| wrong("a blank is needed, such as --round \"25 mm\""))?;
        let [edge, wall] = [self.edge, self.wall].map(|length| length.unwrap_or(Length::ZERO));
        Blank::new(outline, edge, wall).map_err(wrong)
    }
}

impl Top {
    /// The outline with its holes. `None`: no blank was told.
    pub(super) fn outline(&self) -> Result<Option<Outline>, Failure> {
        let Some(whole) = self.whole()? else {
            return Ok(None);
        };
        let [x, y] = whole.middle();
        let hole = |told: &[Offset]| match told {
            [diameter, right, up] => Some(Hole {
                at: [x + right.length(), y + up.length()],
                diameter: diameter.length(),
            }),
            _ => None,
        };
        let holes: Vec<Hole> = self.hole.chunks(3).filter_map(hole).collect();
        if holes.is_empty() {
            return Ok(Some(whole));
        }
        whole.with_holes(&holes).map(Some).map_err(wrong)
    }

    fn whole(&self) -> Result<Option<Outline>, Failure> {
        let corner = self.corner.unwrap_or(Length::ZERO);
        let made = if let Some(diameter) = self.round {
            Outline::round(diameter)
        } else if let Some(&[length, width]) = self.rectangle.as_deref() {
            Outline::rectangle(length, width, corner)
        } else if let Some(&[length, width]) = self.oval.as_deref() {
            Outline::oval(length, width)
        } else if let Some([sides, across]) = self.regular.as_deref() {
            let (sides, across) = regular(sides, across)?;
            Outline::regular(sides, across, corner)
        } else if let (Some(file), Some(width)) = (&self.outline, self.width) {
            let told = |why: String| wrong(format!("{} can't be read: {why}", file.display()));
            let text = beside::read(file).and_then(drawing_text).map_err(told)?;
            Outline::svg(&text, width, corner)
        } else {
            return Ok(None);
        };
        made.map(Some).map_err(wrong)
    }
}

fn regular(sides: &str, across: &str) -> Result<(u32, Length), Failure> {
    let count = sides.trim().parse().map_err(|_| {
        wrong(format!(
            "--regular: read \"{sides}\", expected a whole number of sides, such as --regular 6 \"25 mm\""
        ))
    })?;
    let across = across
        .parse()
        .map_err(|why| wrong(format!("--regular: {why}")))?;
    Ok((count, across))
}
