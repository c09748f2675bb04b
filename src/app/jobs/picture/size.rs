//! How large a picture is made.

/// Twice the largest place on the sheet, in dots, so that a picture is crisp at every scale of the interface.
const MOST_WIDE: u32 = 1_440;
/// See [`MOST_WIDE`].
const MOST_HIGH: u32 = 640;
/// The size nearest to this one that fits; `grow` says whether it may be larger.
pub(super) fn fitted(width: f32, height: f32, grow: bool) -> (u32, u32) {
    let scale = (MOST_WIDE as f32 / width).min(MOST_HIGH as f32 / height);
    let scale = if grow { scale } else { scale.min(1.0) };
    let side = |length: f32, most: u32| ((length * scale).round() as u32).clamp(1, most);
    (side(width, MOST_WIDE), side(height, MOST_HIGH))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_is_fitted_without_a_side_of_nothing() {
        assert_eq!(fitted(2_880.0, 640.0, false), (1_440, 320));
        assert_eq!(fitted(10.0, 10.0, false), (10, 10));
        assert_eq!(fitted(10.0, 10.0, true), (640, 640));
        assert_eq!(fitted(100_000.0, 1.0, false), (1_440, 1));
    }
}
