//! A document as PDF, A4, in the program's own faces.

mod layout;
mod measure;

use krilla::Document as Pdf;
use krilla::color::rgb;
use krilla::geom::{PathBuilder, Point, Rect};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::text::{Font, TextDirection};

use self::layout::{HIGH, Ink, Op, WIDE};
use self::measure::{Face, Measure};
use crate::present::document::{Document, Sign};

/// A PDF could not be made.
#[derive(Debug, thiserror::Error)]
#[error("the PDF could not be made ({0}). Save the report as Markdown, and report this as a fault of the program")]
pub struct PdfError(String);

/// The document as the bytes of a PDF file.
///
/// # Errors
/// Where the PDF cannot be put together, which is a fault of the program.
pub fn pdf(document: &Document) -> Result<Vec<u8>, PdfError> {
    let measure = Measure::new().ok_or_else(|| PdfError("a face cannot be read".to_owned()))?;
    let fonts: Option<Vec<Font>> = Face::ALL.iter().map(|face| Font::new(face.bytes().into(), 0)).collect();
    let fonts = fonts.ok_or_else(|| PdfError("a face cannot be embedded".to_owned()))?;
    let mut out = Pdf::new();
    out.set_metadata(
        Metadata::new().title(document.title.clone()).creator("Bedplate".to_owned()).language("en".to_owned()),
    );
    for ops in layout::pages(document, &measure) {
        let settings = PageSettings::from_wh(WIDE, HIGH).ok_or_else(|| PdfError("the page has no size".to_owned()))?;
        let mut page = out.start_page_with(settings);
        let mut surface = page.surface();
        for op in ops {
            paint(&mut surface, &fonts, op);
        }
        surface.finish();
        page.finish();
    }
    out.finish().map_err(|why| PdfError(format!("{why:?}")))
}

fn color(ink: Ink) -> rgb::Color {
    match ink {
        Ink::Full => rgb::Color::new(24, 32, 40),
        Ink::Second => rgb::Color::new(86, 96, 104),
        Ink::Line => rgb::Color::new(150, 158, 164),
        Ink::Pale => rgb::Color::new(222, 226, 228),
        Ink::Good => rgb::Color::new(46, 110, 116),
        Ink::Weak => rgb::Color::new(186, 122, 30),
    }
}

fn filled(ink: Ink) -> Option<Fill> {
    Some(Fill { paint: color(ink).into(), opacity: NormalizedF32::ONE, ..Fill::default() })
}

fn paint(surface: &mut Surface<'_>, fonts: &[Font], op: Op) {
    surface.set_stroke(None);
    match op {
        Op::Words { x, y, face, size, ink, words } => {
            surface.set_fill(filled(ink));
            let font = fonts[face as usize].clone();
            surface.draw_text(Point::from_xy(x, y), font, size, &words, false, TextDirection::LeftToRight);
        }
        Op::Rule { x, y, width, thick, ink } => boxed(surface, (x, y, width, thick), ink),
        Op::Box { x, y, width, height, ink } => boxed(surface, (x, y, width, height), ink),
        Op::Sign { x, y, sign } => signed(surface, (x, y), sign),
    }
}

fn boxed(surface: &mut Surface<'_>, (x, y, width, height): (f32, f32, f32, f32), ink: Ink) {
    // A mark of nothing has no rectangle.
    let Some(rect) = Rect::from_xywh(x, y, width, height) else { return };
    let mut path = PathBuilder::new();
    path.push_rect(rect);
    if let Some(path) = path.finish() {
        surface.set_fill(filled(ink));
        surface.draw_path(&path);
    }
}

fn signed(surface: &mut Surface<'_>, (x, y): (f32, f32), sign: Sign) {
    let strokes: (&[&[(f32, f32)]], Ink) = match sign {
        Sign::Dot => return boxed(surface, (x - 1.2, y - 1.2, 2.4, 2.4), Ink::Second),
        Sign::Tick => (&[&[(-3.2, 0.2), (-0.8, 2.8), (3.6, -3.0)]], Ink::Good),
        Sign::Half => (&[&[(-3.0, 0.0), (3.0, 0.0)]], Ink::Weak),
        Sign::Cross => (&[&[(-2.8, -2.8), (2.8, 2.8)], &[(-2.8, 2.8), (2.8, -2.8)]], Ink::Weak),
    };
    let (lines, ink) = strokes;
    let mut path = PathBuilder::new();
    for line in lines {
        for (at, (dx, dy)) in line.iter().enumerate() {
            if at == 0 { path.move_to(x + dx, y + dy) } else { path.line_to(x + dx, y + dy) }
        }
    }
    if let Some(path) = path.finish() {
        surface.set_fill(None);
        surface.set_stroke(Some(Stroke { paint: color(ink).into(), width: 1.3, ..Stroke::default() }));
        surface.draw_path(&path);
    }
}
