//! SVG of decks: the one place where a drawing that is not trusted is read, and the only caller of `resvg`.
//!
//! A drawing takes in no other file, nothing in it runs, and how large, deep and entangled it may be has limits
//! (`guard` over the text, `tree` over what is drawn), since the engine's own time and memory grow with that. What may
//! not be there is refused, never left out: a drawing with a part missing misleads. A drawing that is only shown
//! becomes dots (`dots`); one that is pointed at is held to more, and becomes the outlines of its parts as well
//! (`parts`, `outlines`), so that the check of a deck and the window refuse the same.
//!
//! All of it recurses: call it on a thread with a stack of [`STACK`].

mod dots;
mod fault;
mod guard;
mod marks;
mod outlines;
mod parts;
mod stop;
mod tree;

pub use dots::{Dots, draw, draw_with_marks, look_over};
pub use fault::Fault;
pub use marks::Mark;
pub use outlines::{Outlined, outline, print};
pub use stop::{Stop, until};

/// Room for the drawing engine's recursion, which `guard` holds to some 32,000 steps; a step takes up to 7 kB in a
/// build for debugging. It is taken from the system only as far as it is used.
pub const STACK: usize = 256 * 1024 * 1024;

/// Most bytes of a drawing.
const MOST_BYTES: usize = 2 * 1024 * 1024;

/// What a drawing is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum For {
    /// To be shown.
    Showing,
    /// To be pointed at.
    Pointing,
}
