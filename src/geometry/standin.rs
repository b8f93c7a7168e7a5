use super::outline::{Kind, Outline, OutlineError};
use crate::quantity::Length;
impl Outline {
    pub(super) fn inset(&self, by: Length) -> Result<Self, OutlineError> {
        let mm = Length::from_mm;
        let by = by.mm();
        match self.0 {
            Kind::Round { radius } => Outline::round(mm(2.0 * (radius - by))),
            Kind::Rectangle {
                length,
                width,
                corner,
            } => Outline::rectangle(
                mm(length - 2.0 * by),
                mm(width - 2.0 * by),
                mm((corner - by).max(0.0)),
            ),
        }
    }
    pub(super) fn holes(&self) -> &[()] {
        &[]
    }
}
