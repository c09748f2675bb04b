//! What a table of a deck may hold: each key with the shape of its value. From these lists come the keys that the readers
//! know, and the schema that editors are given.

/// A key of a table.
pub(crate) struct Field {
    /// The key.
    pub(crate) key: &'static str,
    /// What stands there.
    pub(crate) shape: Shape,
    /// Whether it must be there.
    pub(crate) needed: bool,
    /// What it is, in a few words.
    pub(crate) says: &'static str,
}

/// The shape of a value.
pub(crate) enum Shape {
    /// A text that says something.
    Text,
    /// A text that may be empty.
    Free,
    /// Lower-case letters, digits and hyphens.
    Id,
    /// A competence of the STCW Code.
    Topic,
    /// One of these words.
    Word(fn() -> Vec<&'static str>),
    /// True or false.
    Flag,
    /// A number above nought.
    Number,
    /// A whole number from the first, and up to the second where there is one.
    Whole(u32, Option<u32>),
    /// A list of texts.
    Texts,
    /// Two whole numbers.
    Pair,
    /// A list of pairs of whole numbers.
    Pairs,
    /// A list of such tables.
    Tables(&'static [Field]),
    /// Such a table.
    Table(&'static [Field]),
    /// Such tables, each under a name of its own.
    Named(&'static [Field]),
    /// Texts, each under a name of its own.
    NamedTexts,
    /// Sample answers.
    Samples,
}

/// A key that must be there.
pub(crate) const fn needed(key: &'static str, shape: Shape, says: &'static str) -> Field {
    Field { key, shape, needed: true, says }
}

/// A key that may be left out.
pub(crate) const fn optional(key: &'static str, shape: Shape, says: &'static str) -> Field {
    Field { key, shape, needed: false, says }
}

/// The keys alone.
pub(crate) const fn keys<const N: usize>(fields: &'static [Field; N]) -> [&'static str; N] {
    let mut keys = [""; N];
    let mut at = 0;
    while at < N {
        keys[at] = fields[at].key;
        at += 1;
    }
    keys
}
