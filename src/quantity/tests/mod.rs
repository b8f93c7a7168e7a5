//! Reading and showing, against definitions and tables written by hand.

mod properties;
mod readings;
mod refusals;
mod shown;
mod sizes;
