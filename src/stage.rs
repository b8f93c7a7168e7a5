//! The points in a coat's life that a label may give a time for.
//!
//! Set-to-touch, tack-free, dry-hard and dry-through are meant as ASTM D1640
//! and ISO 9117 define them.

/// A point in a coat's life.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Dust-free: a skin has formed, and dust that settles no longer sticks in.
    DustFree,
    /// Tack-free: a light touch no longer sticks or pulls.
    TackFree,
    /// Dry to handle (dry-hard): may be picked up without marking.
    Handle,
    /// May take another coat.
    Recoat,
    /// Takes another coat until now; later it must be sanded first.
    RecoatUntil,
    /// Dry-through: the thumb, pressed and turned, leaves no mark.
    Through,
    /// May lie against others in a bag without blocking.
    Bag,
    /// As hard as it gets.
    Hard,
}

impl Stage {
    /// Every stage, in the order that they are shown.
    pub const ALL: [Self; 8] = [
        Self::DustFree,
        Self::TackFree,
        Self::Handle,
        Self::Recoat,
        Self::RecoatUntil,
        Self::Through,
        Self::Bag,
        Self::Hard,
    ];

    /// Its name in the files and in JSON.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::DustFree => "dust_free",
            Self::TackFree => "tack_free",
            Self::Handle => "handle",
            Self::Recoat => "recoat",
            Self::RecoatUntil => "recoat_until",
            Self::Through => "through",
            Self::Bag => "bag",
            Self::Hard => "hard",
        }
    }

    /// Whether it is of the coat's surface: dust-free and tack-free. They follow
    /// the wet stage of a drying coat and the gel of a curing one; all others
    /// follow the whole coat.
    #[must_use]
    pub const fn is_of_surface(self) -> bool {
        matches!(self, Self::DustFree | Self::TackFree)
    }

    /// Whether a coat is here no later than at `other`, whatever the coating.
    #[must_use]
    pub fn precedes(self, other: Self) -> bool {
        use Stage::{Bag, DustFree, Handle, Hard, Recoat, RecoatUntil, TackFree, Through};
        match (self, other) {
            (Recoat, RecoatUntil) => true,
            (Recoat | RecoatUntil, _) | (_, Recoat | RecoatUntil) | (Bag, Through) => false,
            (DustFree | TackFree | Handle | Through | Bag | Hard, _) => self < other,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_holds_between_stages_that_have_one() {
        assert!(Stage::TackFree.precedes(Stage::Handle));
        assert!(Stage::Handle.precedes(Stage::Bag));
        assert!(Stage::Recoat.precedes(Stage::RecoatUntil));
        // epoxy takes its next coat while it is tacky, glaze once it is dry
        assert!(!Stage::Recoat.precedes(Stage::TackFree));
        assert!(!Stage::TackFree.precedes(Stage::Recoat));
        for one in Stage::ALL {
            for other in Stage::ALL {
                assert!(
                    !(one.precedes(other) && other.precedes(one)),
                    "{one:?} {other:?}"
                );
            }
        }
    }
}
