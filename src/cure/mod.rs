//! How a coat dries or cures in the air of a room.
//!
//! Each kind of coating follows a [`Law`], made by name with [`law()`] from the
//! coating's properties. [`compare()`] sets a room against the label's conditions
//! and gives the ratio for every stage with its causes; [`what_would_help`]
//! runs the room again with one thing changed; [`series`] takes a coat through air
//! that changes. The label's time is the anchor:
//! multiply it by the ratio.
//!
//! | symbol | name here | unit |
//! | --- | --- | --- |
//! | T, Ts | temperature of the air, of the film | °C, K in exponents |
//! | RH | relative humidity, over water | 1 |
//! | V | air speed past the film | m/s |
//! | c, csat | vapour density, the same saturated | kg/m3 |
//! | D, nu | diffusivity of vapour, kinematic viscosity | m2/s |
//! | k | mass-transfer coefficient | m/s |
//! | A, Vb, n | wet area in a box, its volume, its air changes | m2, m3, 1/s |
//! | X, Xs, Xeq | water per dry polymer by volume: mean, at the surface, in balance with the air | 1 |
//! | p | vapour pressure | Pa |
//! | d, Dp, E, Ec, I | depth, penetration depth, dose, critical dose, irradiance of a lamp | m, J/m2, W/m2 |
//! | mu | dynamic viscosity | Pa s |
//! | s, h | solids by volume, dry film thickness | 1, m |
//! | E, R | energy of activation, gas constant | J/mol, J/(mol K) |
//!
//! ```
//! use brimful::cure::{Situation, air::Air, compare, law, transfer::{Exposure, Footprint}};
//! use brimful::quantity::{Humidity, Length, Speed, Temperature};
//!
//! // a 2 mm dome on a 25 mm round, in a cool damp loft
//! let glaze = law("water film", &|key| match key {
//!     "solids" => Some(0.5),
//!     "water_diffusivity" => Some(2e-11),
//!     "diffusion_energy" => Some(45e3),
//!     "film_forming_minimum" => Some(5.0),
//!     _ => None,
//! })?;
//! let piece = Exposure::alone(Footprint::Disc { diameter: Length::from_mm(25.0) })?;
//! let label = Situation::new(Air::REFERENCE, piece, Length::from_mm(2.0));
//! let loft = Air::new(Temperature::from_celsius(12.0), Humidity::from_percent(70.0), Speed::from_m_per_s(0.1))?;
//! let comparison = compare(glaze.as_ref(), &label, &label.in_air(loft))?;
//! let times = comparison.factor.whole.likely().unwrap();
//! assert!((times - 2.52).abs() < 0.03);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod air;
pub mod airing;
pub mod blush;
pub mod bubbles;
pub mod case;
pub mod compare;
pub mod doubt;
pub mod enclosure;
pub mod epoxy;
mod film_in_air;
mod film_in_box;
pub mod help;
pub mod hours;
pub mod lamp;
pub mod law;
pub mod moisture;
pub mod neighbours;
mod numeric;
pub mod pot;
pub mod psychro;
mod registry;
mod rosenbrock;
mod runge_kutta;
pub mod series;
pub mod situation;
pub mod sorption;
pub mod starts;
pub mod transfer;
pub mod trial;
pub mod viscosity;
pub mod warning;
pub mod water_film;

pub use case::Case;
pub use compare::{Comparison, compare};
pub use enclosure::Enclosure;
pub use help::what_would_help;
pub use law::{Law, LawError};
pub use registry::{law, names};
pub use situation::Situation;
pub use trial::OrTaken;
pub use warning::Warning;
