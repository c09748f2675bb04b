//! Texts as they are compared: case, spaces and punctuation make no difference.

use unicode_normalization::UnicodeNormalization;

/// `text` in lower case without spaces and punctuation. A decimal point, a minus before a number and signs such
/// as `+`, `<` and `°` stay, since they change what is asked.
pub(crate) fn folded(text: &str) -> String {
    if text.is_ascii() { fold(text) } else { fold(&text.nfkc().collect::<String>()) }
}

fn fold(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut before = ' ';
    let mut signs = text.chars().peekable();
    while let Some(c) = signs.next() {
        let digit_follows = signs.peek().is_some_and(|next| next.is_numeric());
        let kept = c.is_alphanumeric()
            || "+<>=±≤≥≠×÷°%√∞∆ΔΩ".contains(c)
            || (c == '.' && before.is_numeric() && digit_follows)
            || (matches!(c, '-' | '−') && !before.is_alphanumeric() && digit_follows);
        if kept {
            out.extend(c.to_lowercase());
        }
        before = c;
    }
    out
}

/// The words of `text` in lower case, punctuation left out.
pub(crate) fn words(text: &str) -> impl Iterator<Item = String> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_lowercase)
}

/// A file's path as the least particular file system compares it: two that are equal so are one name there.
pub(crate) fn folded_path(path: &str) -> String {
    // Capitals first, so that what folds to several letters (ß, ﬁ) meets what is written with them.
    let capital: String = path.nfkc().flat_map(char::to_uppercase).collect();
    capital.chars().flat_map(char::to_lowercase).collect::<String>().nfkc().collect()
}
