//! A drawing becomes dots.

use resvg::tiny_skia::{Pixmap, Transform};

use super::marks::{self, Mark};
use super::{Fault, For, guard, stop, tree};
use crate::domain::drawing::Drawing;

/// Dots of colour.
pub struct Dots {
    /// In dots, at least 1.
    pub width: u32,
    /// In dots, at least 1.
    pub height: u32,
    /// Row by row from the top: red, green, blue (already multiplied by alpha, sRGB) and alpha of each dot.
    pub rgba: Vec<u8>,
}

/// Draws a drawing that is only shown. `fit` says how many dots wide and high it becomes, from its own size.
///
/// # Errors
/// Where it is no drawing, or holds what may not be in one.
pub fn draw(bytes: &[u8], fit: impl Fn(f32, f32) -> (u32, u32)) -> Result<Dots, Fault> {
    draw_for(bytes, For::Showing, fit)
}

/// Draws a drawing that is pointed at, so wide and high, in dots, with the marks of its parts; `drawing` is what
/// [`outline`](super::outline) made of the same bytes, and `rim` how wide the marks' rims are, in dots.
///
/// # Errors
/// As `outline`.
pub fn draw_with_marks(
    bytes: &[u8],
    drawing: &Drawing,
    (width, height): (u32, u32),
    rim: f32,
) -> Result<(Dots, Vec<Option<Mark>>), Fault> {
    let dots = draw_for(bytes, For::Pointing, |_, _| (width, height))?;
    let marks = marks::of(drawing, width, height, rim);
    stop::step()?;
    Ok((dots, marks))
}

/// Looks over a drawing that is only shown, as far as its text tells, without drawing it.
///
/// # Errors
/// Where it is no drawing, or holds what may not be in one.
pub fn look_over(bytes: &[u8]) -> Result<(), Fault> {
    guard::document(guard::text(bytes)?, For::Showing).map(|_| ())
}

fn draw_for(bytes: &[u8], purpose: For, fit: impl Fn(f32, f32) -> (u32, u32)) -> Result<Dots, Fault> {
    let text = guard::text(bytes)?;
    let document = guard::document(text, purpose)?;
    stop::step()?;
    let tree = tree::of(&document)?;
    drop(document);
    stop::step()?;
    let size = tree.size();
    let (width, height) = fit(size.width(), size.height());
    let (x, y) = (width as f32 / size.width(), height as f32 / size.height());
    tree::survey(&tree, x.max(y))?;
    stop::step()?;
    let mut dots = Pixmap::new(width, height).ok_or_else(Fault::broken)?;
    resvg::render(&tree, Transform::from_scale(x, y), &mut dots.as_mut());
    Ok(Dots { width, height, rgba: dots.take() })
}
