//! Outlines and the domes that surface tension holds on them.
