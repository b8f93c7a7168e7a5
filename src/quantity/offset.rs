//! A length to one side or the other of a place.

use super::{Length, Unreadable};

/// A length with a side: "14 mm" to the right or up, "-14 mm" to the left or
/// down. A plain [`Length`] is never below zero where it is read.
///
/// ```
/// use brimful::quantity::{Length, Offset};
/// assert_eq!("-1/2 in".parse::<Offset>()?.length(), Length::from_in(-0.5));
/// assert_eq!("3 mm".parse::<Offset>()?.length(), Length::from_mm(3.0));
/// assert!("--3 mm".parse::<Offset>().is_err());
/// # Ok::<(), brimful::quantity::Unreadable>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Offset(Length);

impl Offset {
    /// The length, below zero to the left or down.
    #[must_use]
    pub const fn length(self) -> Length {
        self.0
    }
}

impl std::str::FromStr for Offset {
    type Err = Unreadable;

    fn from_str(text: &str) -> Result<Self, Unreadable> {
        let bare = text.trim_start();
        match bare.strip_prefix(['-', '\u{2212}']) {
            // The second sign of two is refused by the length's own reader.
            Some(size) => size.parse::<Length>().map(|length| Self(length * -1.0)),
            None => bare.parse().map(Self),
        }
    }
}
