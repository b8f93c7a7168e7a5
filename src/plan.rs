//! The plan: one pure function from a run to its answers.
