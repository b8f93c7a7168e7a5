//! What `brimful dome` may be told beside the blank and the coating.

use super::counts::whole;
use crate::ask::{By, PieceFacts};
use crate::consumption::{DropCount, Faces};
use crate::quantity::{Length, Share, Volume};

/// Depth in coats, drops, faces and sides, wood, magnets, chains.
#[derive(Debug, clap::Args)]
pub(super) struct Extra {
    /// Ask by the height in the middle once dry, such as "1.5 mm", in as many coats as it takes
    #[arg(
        long,
        group = "measure",
        value_name = "HEIGHT",
        allow_hyphen_values = true
    )]
    dry_height: Option<Length>,
    /// The coating's solids by volume, such as "35 %"
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    solids: Option<Share>,
    /// Your own count of drops, for drops per piece: how many gave --drops-in
    #[arg(long, value_name = "COUNT", allow_hyphen_values = true, value_parser = whole(1..=100_000))]
    drops: Option<u32>,
    /// The volume that the counted drops gave
    #[arg(
        long,
        value_name = "VOLUME",
        requires = "drops",
        default_value = "5 mL",
        allow_hyphen_values = true
    )]
    drops_in: Volume,
    /// Which faces are flooded
    #[arg(long, value_enum, default_value_t = FaceWord::One)]
    faces: FaceWord,
    /// Brush the sides too; needs --thickness
    #[arg(long, requires = "thickness")]
    sides: bool,
    /// How thick the blank is, such as "5 mm"
    #[arg(long, allow_hyphen_values = true)]
    thickness: Option<Length>,
    /// The blank is bare wood; needs --thickness
    #[arg(long, requires = "thickness")]
    wood: bool,
    /// The piece is a magnet
    #[arg(long)]
    magnet: bool,
    /// The piece hangs on a chain this thick, such as "2.4 mm": what hole it needs
    #[arg(long, allow_hyphen_values = true)]
    chain: Option<Length>,
}

/// One face or both.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
enum FaceWord {
    /// The one face
    One,
    /// Both, one after the other
    Both,
}

impl Extra {
    pub(super) fn solids(&self) -> Option<Share> {
        self.solids
    }

    pub(super) fn dry_height(&self) -> Option<By> {
        self.dry_height.map(By::DryHeight)
    }

    pub(super) fn piece(&self) -> PieceFacts {
        PieceFacts {
            faces: match self.faces {
                FaceWord::One => Faces::One,
                FaceWord::Both => Faces::Both,
            },
            sides: self.sides,
            thickness: self.thickness,
            wood: self.wood,
            magnet: self.magnet,
            chain: self.chain,
            drops: self.drops.map(|drops| DropCount {
                drops,
                gave: self.drops_in,
            }),
        }
    }
}
