//! The run: what a maker wants made, checked and in SI units.
