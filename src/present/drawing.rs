//! A drawing with parts as data to draw: its dots, and what marks a part on it.

use std::fmt;
use std::sync::Arc;

use crate::domain::drawing::Drawing;
use crate::present::picture::Image;

/// A drawing with parts.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawingView {
    /// As the deck names it: `pictures/fuel.svg`.
    pub name: String,
    /// Parts of the drawing, and where they lie.
    pub drawing: Arc<Drawing>,
    /// How far its dots have come.
    pub state: DrawingState,
}

/// A part pointed out on its drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct PartShown {
    /// The drawing.
    pub drawing: DrawingView,
    /// The part, by its number in the drawing.
    pub part: usize,
}

/// How far a drawing's dots have come.
#[derive(Debug, Clone, PartialEq)]
pub enum DrawingState {
    /// Being drawn, or waiting for its place to be known. It stays so where the face cannot draw.
    Loading,
    /// As it was drawn last; for another place it is being drawn again.
    Ready(Arc<Drawn>),
    /// Not to be shown: why, and how to mend it, in a sentence.
    Failed(String),
}

/// A drawing's dots.
#[derive(Debug, PartialEq)]
pub struct Drawn {
    /// The place that it was drawn for.
    pub place: DrawingPlace,
    /// The whole drawing, on nothing.
    pub image: Image,
    /// What marks each part; none for one that lies off the drawing.
    pub marks: Vec<Option<PartMark>>,
}

/// What is laid over a drawing to mark a part.
#[derive(PartialEq)]
pub struct PartMark {
    /// Left, top, width and height on the drawing, in its dots.
    pub place: [f32; 4],
    /// In the mark's own dots, at least 1.
    pub width: u32,
    /// In the mark's own dots, at least 1.
    pub height: u32,
    /// How much of each dot lies in the rim around the part, row by row, 0 to 255.
    pub rim: Vec<u8>,
    /// How much of each dot lies inside of it.
    pub inside: Vec<u8>,
}

/// The place that a drawing is to be drawn for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrawingPlace {
    /// In dots.
    pub width: u32,
    /// In dots.
    pub height: u32,
    /// How wide the rim of a marked part is, in dots.
    pub rim: f32,
    /// How its colours are changed; none leaves them as they are.
    pub tint: Option<Tint>,
}

/// How colours are changed: each new channel (red, green, blue) is the sum of the old ones, each times its factor, and
/// a constant at last. Such a change gives the same whether it comes before or after the colours are laid over one
/// another, so that it can be made on the finished dots.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tint(pub [[f32; 4]; 3]);

impl Tint {
    /// A colour as it becomes; channels from 0 to 255.
    pub fn of(&self, color: [f32; 3]) -> [f32; 3] {
        self.0.map(|[r, g, b, more]| (r * color[0] + g * color[1] + b * color[2] + more).clamp(0.0, 255.0))
    }

    /// Changes dots in their place: red, green and blue multiplied by alpha, and alpha.
    pub fn apply(&self, rgba: &mut [u8]) {
        for dot in rgba.chunks_exact_mut(4) {
            let alpha = f32::from(dot[3]);
            let old = [f32::from(dot[0]), f32::from(dot[1]), f32::from(dot[2])];
            for (channel, [r, g, b, more]) in dot.iter_mut().zip(self.0) {
                let new = r * old[0] + g * old[1] + b * old[2] + more * alpha / 255.0;
                *channel = new.round().clamp(0.0, alpha) as u8;
            }
        }
    }
}

impl DrawingView {
    /// What it is, in words: `Drawing: pictures/fuel.svg`.
    pub fn words(&self) -> String {
        format!("Drawing: {}", self.name)
    }
}

impl fmt::Debug for PartMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "PartMark({:?})", self.place)
    }
}
