//! Coatings: families and their properties, each with its source.
