//! A file in an archive.

/// A file in an archive.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Its path, with `/` between the parts. What [`super::read`] gives is UTF-8 and not looked at beyond that.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}
