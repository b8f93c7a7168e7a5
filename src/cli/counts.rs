//! Whole numbers as flags take them.

use std::ops::RangeInclusive;

/// Reads a whole number in a range.
pub(super) fn whole(
    range: RangeInclusive<u32>,
) -> impl Fn(&str) -> Result<u32, String> + Clone + Send + Sync + 'static {
    move |text| {
        let read = text.trim().parse::<u32>().ok();
        read.filter(|number| range.contains(number)).ok_or_else(|| {
            let (least, most) = (range.start(), range.end());
            format!("expected a whole number from {least} to {most}")
        })
    }
}

#[cfg(test)]
mod tests {
    use super::whole;

    #[test]
    fn what_is_no_whole_number_in_the_range_is_told_what_was_expected() {
        let count = whole(1..=100);
        assert_eq!(count("100"), Ok(100));
        for wrong in ["0", "101", "3.5", "-1", "many", "", "99999999999"] {
            let expected = "expected a whole number from 1 to 100".to_owned();
            assert_eq!(count(wrong), Err(expected));
        }
    }
}
