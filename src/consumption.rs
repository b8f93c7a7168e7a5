//! What a run uses: coatings, blanks, bottles.
