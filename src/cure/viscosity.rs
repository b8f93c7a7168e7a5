//! How runny a coating is.
