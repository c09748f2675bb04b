//! Numbers of cells as one would type them.

/// A number as a spreadsheet shows it in a plain cell: at most fifteen digits, no thousands marks.
pub(super) fn plain(number: f64) -> String {
    if number == 0.0 || !number.is_finite() {
        return number.abs().to_string();
    }
    // What sums leave behind in the last digits is not what was meant.
    let rounded: f64 = format!("{number:.14e}").parse().unwrap_or(number);
    rounded.to_string()
}

/// A share as it is typed: `2 %` for 0.02.
pub(super) fn percent(share: f64) -> String {
    format!("{} %", plain(share * 100.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_as_one_would_type_them() {
        for (number, text) in [
            (30.0, "30"),
            (0.1 + 0.2, "0.3"),
            (-18.5, "-18.5"),
            (1_500_000.0, "1500000"),
            (0.0, "0"),
            (-0.0, "0"),
            (1.0 / 3.0, "0.333333333333333"),
        ] {
            assert_eq!(plain(number), text);
        }
        assert_eq!(percent(0.02), "2 %");
        assert_eq!(percent(0.07), "7 %");
    }
}
