//! Showing quantities in metric or US units, with sensible digits.
