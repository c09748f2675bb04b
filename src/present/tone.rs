//! What a word or a shape means, before the theme gives it a colour.

/// A meaning that a word or a shape carries. The theme gives each its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Tone {
    /// Ordinary.
    #[default]
    Plain,
    /// Less important.
    Quiet,
    /// Right, ready, open.
    Good,
    /// Weak, or a caution.
    Weak,
    /// Wrong, or safety-critical.
    Bad,
}
