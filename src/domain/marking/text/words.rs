//! One word at a time: lower case, one spelling for British and American forms, stems.

use std::cell::RefCell;
use std::collections::HashMap;

use rust_stemmers::{Algorithm, Stemmer};
use unicode_normalization::UnicodeNormalization;

use super::vocabulary::vocabulary;

thread_local! {
    static STEMMER: Stemmer = Stemmer::create(Algorithm::English);
    static STEMS: RefCell<HashMap<String, String>> = RefCell::new(HashMap::new());
}

/// Stems that are kept; beyond it the store is emptied.
const KEPT: usize = 20_000;

/// Lower case, without accents.
pub(super) fn plain(word: &str) -> String {
    if word.is_ascii() {
        return word.to_ascii_lowercase();
    }
    let superscripts = |c: char| crate::domain::quantity::plain_superscript(c).unwrap_or(c);
    let marks = |c: &char| !('\u{300}'..='\u{36f}').contains(c);
    word.chars().map(superscripts).nfkd().filter(marks).flat_map(char::to_lowercase).collect()
}

/// The stem under which a word is compared.
pub(super) fn stem(word: &str) -> String {
    if let Some(known) = STEMS.with_borrow(|kept| kept.get(word).cloned()) {
        return known;
    }
    let british = british(word);
    let shared = vocabulary().stems.get(british.as_str());
    let root = shared.map_or_else(|| STEMMER.with(|s| s.stem(&british).into_owned()), |stem| (*stem).to_owned());
    STEMS.with_borrow_mut(|kept| {
        if kept.len() >= KEPT {
            kept.clear();
        }
        kept.insert(word.to_owned(), root.clone());
    });
    root
}

/// A word in British spelling, where its American spelling is listed or its ending tells.
fn british(word: &str) -> String {
    if let Some(british) = vocabulary().spellings.get(word) {
        return (*british).to_owned();
    }
    if word.len() > 6 {
        for (from, to) in [
            ("ization", "isation"),
            ("izing", "ising"),
            ("ized", "ised"),
            ("izer", "iser"),
            ("ize", "ise"),
            ("izes", "ises"),
            ("yze", "yse"),
            ("yzed", "ysed"),
        ] {
            if let Some(head) = word.strip_suffix(from) {
                return format!("{head}{to}");
            }
        }
    }
    word.to_owned()
}
