//! Why a picture or a drawing is not shown.

use crate::deck::PictureTrouble;
use crate::svg;

/// Why a picture or a drawing cannot be shown.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub(super) enum Fault {
    #[error(transparent)]
    File(#[from] PictureTrouble),
    #[error("is not a sound PNG or JPEG file ({0}); save it again")]
    Raster(String),
    #[error("has more dots than can be shown; save it with at most 8,000 on a side and 40 million in all")]
    Dots,
    #[error(transparent)]
    Drawing(#[from] svg::Fault),
    #[error("has changed since its deck was read; have the decks read again in the library")]
    Changed,
    #[error("took longer than ten seconds to draw; save it simpler, or as PNG")]
    Slow,
    #[error("could not be drawn; save it again, or as PNG")]
    Broken,
}
