use super::outline::{Form, Hole, Outline, OutlineError};
use crate::quantity::Length;
impl Outline {
    pub(super) fn inset(&self, by: Length) -> Result<Self, OutlineError> {
        let inner = match *self.form() {
            Form::Round { diameter } => Outline::round(diameter - by * 2.0),
            Form::Rectangle {
                length,
                width,
                corner,
            } => {
                let corner = Length::from_mm((corner - by).mm().max(0.0));
                Outline::rectangle(length - by * 2.0, width - by * 2.0, corner)
            }
            _ => Err(OutlineError::NoArea),
        }?;
        if self.holes().is_empty() {
            return Ok(inner);
        }
        let holes: Vec<Hole> = self
            .holes()
            .iter()
            .map(|h| Hole {
                diameter: h.diameter + by * 2.0,
                ..*h
            })
            .collect();
        inner.with_holes(&holes)
    }
}
