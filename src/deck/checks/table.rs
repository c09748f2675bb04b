//! How a table of checks is written: one entry for each code, from which its check and the manual's line come.

/// Makes a static [`Check`](crate::deck::Check) of each entry, and the list `TABLE` of them all in their order.
macro_rules! checks {
    ($(
        $name:ident {
            code: $code:literal,
            severity: $severity:ident,
            says: $says:literal,
            why: $why:literal,
            example: &[$($line:literal),+ $(,)?],
            mend: $mend:literal,
        }
    )+) => {
        $(
            #[doc = $says]
            pub(crate) static $name: crate::deck::Check = crate::deck::Check {
                code: $code,
                severity: crate::deck::Severity::$severity,
                says: $says,
                why: $why,
                example: &[$($line),+],
                mend: $mend,
            };
        )+

        /// Every check of this subject, in the order of their codes.
        pub(super) static TABLE: &[&crate::deck::Check] = &[$(&$name),+];
    };
}

/// The first `most` characters of a text that stands in a deck, for a message.
pub(super) fn short(text: &str, most: usize) -> String {
    text.chars().take(most).collect()
}
