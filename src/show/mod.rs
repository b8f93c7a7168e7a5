//! Ways to show a plan: words, JSON, pictures.
