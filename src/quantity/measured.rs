//! A quantity whose kind is told by its unit.
