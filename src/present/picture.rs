//! A card's picture as data to draw.

use std::fmt;
use std::sync::Arc;

/// A card's picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PictureView {
    /// As the deck names it: `pictures/pump.svg`.
    pub name: String,
    /// How far it has come.
    pub state: PictureState,
}

/// How far a picture has come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PictureState {
    /// Being read. It stays so where the face cannot draw.
    Loading,
    /// Ready to be drawn.
    Ready(Arc<Image>),
    /// Not to be shown: why, and how to mend it, in a sentence.
    Failed(String),
}

/// Dots of colour.
#[derive(Clone, PartialEq, Eq)]
pub struct Image {
    /// In dots, at least 1.
    pub width: u32,
    /// In dots, at least 1.
    pub height: u32,
    /// Row by row from the top: red, green, blue (already multiplied by alpha, sRGB) and alpha of each dot;
    /// `4 * width * height` bytes.
    pub rgba: Vec<u8>,
}

impl PictureView {
    /// What it is, in words: `Picture: pictures/pump.svg`.
    pub fn words(&self) -> String {
        format!("Picture: {}", self.name)
    }
}

impl fmt::Debug for Image {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Image({} x {})", self.width, self.height)
    }
}
