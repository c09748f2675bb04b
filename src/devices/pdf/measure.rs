//! How wide words are in the program's own faces, and where a line breaks.

use ttf_parser::Face as Outlines;

use crate::faces;

/// One of the faces that a document is set in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Face {
    Sans,
    Semi,
    Italic,
}

impl Face {
    pub(super) const ALL: [Face; 3] = [Face::Sans, Face::Semi, Face::Italic];

    pub(super) fn bytes(self) -> &'static [u8] {
        match self {
            Face::Sans => faces::SANS,
            Face::Semi => faces::SANS_SEMI,
            Face::Italic => faces::SANS_ITALIC,
        }
    }
}

/// The faces, read.
pub(super) struct Measure {
    outlines: Vec<Outlines<'static>>,
}

impl Measure {
    pub(super) fn new() -> Option<Self> {
        let outlines: Option<Vec<_>> = Face::ALL.iter().map(|face| Outlines::parse(face.bytes(), 0).ok()).collect();
        outlines.map(|outlines| Self { outlines })
    }

    fn outlines(&self, face: Face) -> &Outlines<'static> {
        &self.outlines[face as usize]
    }

    /// The width in points.
    pub(super) fn width(&self, words: &str, face: Face, size: f32) -> f32 {
        let outlines = self.outlines(face);
        let advance = |c: char| outlines.glyph_index(c).and_then(|glyph| outlines.glyph_hor_advance(glyph));
        let units: u32 = words.chars().filter_map(advance).map(u32::from).sum();
        units as f32 * size / f32::from(outlines.units_per_em())
    }

    /// The words with every character that the face lacks made plain.
    pub(super) fn spelled(&self, words: &str, face: Face) -> String {
        let outlines = self.outlines(face);
        let known = |c: char| outlines.glyph_index(c).is_some();
        words
            .chars()
            .map(|c| match c {
                '\t' => ' ',
                c if known(c) || c == '\n' => c,
                '→' => '>',
                '←' => '<',
                c if c.is_whitespace() => ' ',
                _ => '?',
            })
            .collect()
    }

    /// Lines that are no wider than `width`; a word that is wider is broken.
    pub(super) fn lines(&self, words: &str, face: Face, size: f32, width: f32) -> Vec<String> {
        let spelled = self.spelled(words, face);
        let mut lines = Vec::new();
        for paragraph in spelled.lines() {
            let mut line = String::new();
            for word in paragraph.split_whitespace() {
                let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
                if self.width(&longer, face, size) <= width {
                    line = longer;
                    continue;
                }
                if !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                }
                line = self.broken(word, (face, size, width), &mut lines);
            }
            lines.push(line);
        }
        if lines.is_empty() {
            lines.push(String::new());
        }
        lines
    }

    /// Puts full lines of a word that is too wide into `lines`; gives its rest.
    fn broken(&self, word: &str, (face, size, width): (Face, f32, f32), lines: &mut Vec<String>) -> String {
        let mut rest = String::new();
        for c in word.chars() {
            rest.push(c);
            if self.width(&rest, face, size) > width && rest.chars().count() > 1 {
                rest.pop();
                lines.push(std::mem::take(&mut rest));
                rest.push(c);
            }
        }
        rest
    }
}
