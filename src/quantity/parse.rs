//! Reading quantities as people write them.
