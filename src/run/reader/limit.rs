//! How far a value may go.

/// A check on a value with the reason for it.
pub(in crate::run) struct Limit<T> {
    /// Whether the value may be.
    pub holds: fn(&T) -> bool,
    /// Why it may not.
    pub reason: &'static str,
}

impl<T> Limit<T> {
    /// Anything that can be read.
    pub const ANY: Self = Self {
        holds: |_| true,
        reason: "",
    };
}
