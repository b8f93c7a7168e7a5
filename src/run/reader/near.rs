//! The known word that was probably meant.

/// The word in `known` nearest to `read`, if it is at most one slip and one more in every four letters away.
pub(in crate::run) fn nearest<'a>(
    read: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    // A long word can't be near a short one, and comparing takes time in proportion to both lengths.
    let letters = read.chars().take(81).count();
    if letters > 80 {
        return None;
    }
    let lower = read.to_lowercase();
    known
        .into_iter()
        .map(|word| {
            (
                strsim::damerau_levenshtein(&lower, &word.to_lowercase()),
                word,
            )
        })
        .filter(|&(steps, word)| steps <= 1 + letters.min(word.chars().count()) / 4)
        .min_by_key(|&(steps, _)| steps)
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn slips_are_near_and_other_words_are_not() {
        let known = ["thickness", "outline", "have"];
        assert_eq!(nearest("thikness", known), Some("thickness"));
        assert_eq!(nearest("Outlien", known), Some("outline"));
        assert_eq!(nearest("colour", known), None);
        assert_eq!(nearest(&"x".repeat(1000), known), None);
    }
}
