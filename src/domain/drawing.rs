//! A drawing with parts that can be pointed at. Pure: the outlines have been read from the deck's file.

/// A drawing with named parts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// Width and height in the drawing's own units.
    pub size: [f64; 2],
    /// From the hindmost to the foremost.
    pub parts: Vec<Part>,
}

/// A part that can be pointed at.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its element id in the drawing.
    pub id: String,
    /// Its name for people.
    pub name: String,
    /// Closed outlines in the drawing's units, of three points and more each.
    pub outlines: Vec<Vec<[f64; 2]>>,
}

/// A part to find on a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Pointing {
    /// The drawing's path inside the deck's folder with `/` between its parts.
    pub path: String,
    /// The part to find, by its id.
    pub part: String,
    /// The drawing.
    pub drawing: std::sync::Arc<Drawing>,
}

impl Pointing {
    /// The name of the part to find.
    pub fn name(&self) -> Option<&str> {
        self.drawing.parts.iter().find(|part| part.id == self.part).map(|part| part.name.as_str())
    }
}
