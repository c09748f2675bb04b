//! Words as the reader's numbers: each word whole where the list has it, otherwise in the longest pieces that it has.

use std::collections::HashMap;
use std::ops::Range;

use rten_text::models::{Model, WordPiece, WordPieceOptions};
use rten_text::pre_tokenizers::{Bert as Parted, PreTokenizer};

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::error::ReaderError;

/// A word in small letters, without accents and signs that are not seen; each stop, quotation mark or dash outside of ASCII
/// stands alone, and each sign of a script that is written without spaces.
fn smooth(word: &str) -> String {
    let seen = word.chars().filter(|c| !c.is_control() && *c != '\u{fffd}');
    let mut smooth = String::with_capacity(word.len());
    for c in seen.flat_map(char::to_lowercase).nfd().filter(|c| !is_combining_mark(*c)) {
        match c {
            '\u{2010}'..='\u{2027}' | '\u{2030}'..='\u{205e}' | '\u{3001}'..='\u{3003}' | '\u{3008}'..='\u{3011}' => {
                smooth.extend([' ', c, ' ']);
            }
            '¡' | '§' | '«' | '¶' | '·' | '»' | '¿' => smooth.extend([' ', c, ' ']),
            '\u{3400}'..='\u{9fff}' | '\u{f900}'..='\u{faff}' => smooth.extend([' ', c, ' ']),
            c => smooth.push(c),
        }
    }
    smooth
}

/// The list of words and pieces, ready to use.
pub(super) struct Tokens {
    // The two by themselves: wrapped up by the library they cannot go from thread to thread.
    parted: Parted,
    pieces: WordPiece,
    count: usize,
    /// Stands for a word that the list does not make up.
    unknown: i32,
    /// Stands before all.
    pub(super) first: i32,
    /// Stands behind each part.
    pub(super) end: i32,
}

/// One token of a text.
pub(super) struct Token {
    /// Its number in the list.
    pub(super) id: i32,
    /// The word that it is of, in bytes of the text.
    pub(super) word: Range<usize>,
}

impl Tokens {
    /// Reads the list, one word or piece a line, numbered from 0.
    ///
    /// # Errors
    /// Where a line stands twice, or one of the signs is missing that every list has.
    pub(super) fn read(list: &str) -> Result<Self, ReaderError> {
        let mut numbers = HashMap::new();
        for (number, word) in list.lines().enumerate() {
            let number = u32::try_from(number).map_err(|error| ReaderError::Vocabulary(error.to_string()))?;
            if numbers.insert(word.to_owned(), number).is_some() {
                return Err(ReaderError::Vocabulary(format!("`{word}` stands twice in it")));
            }
        }
        let sign = |sign: &str| {
            let number = numbers.get(sign).and_then(|number| i32::try_from(*number).ok());
            number.ok_or_else(|| ReaderError::Vocabulary(format!("`{sign}` is not in it")))
        };
        let (unknown, first, end, count) = (sign("[UNK]")?, sign("[CLS]")?, sign("[SEP]")?, numbers.len());
        let pieces = WordPiece::from_vocab(numbers, WordPieceOptions::default());
        // Without the library's own smoothing of letters: with it, a word in three pieces breaks it off (0.27.0).
        Ok(Self { parted: Parted::new(), pieces, count, unknown, first, end })
    }

    /// How many words and pieces the list has.
    pub(super) fn count(&self) -> usize {
        self.count
    }

    /// The tokens of a text. Read word by word, so that each knows where its word stands.
    ///
    /// # Errors
    /// Where the library refuses a word.
    pub(super) fn of(&self, text: &str) -> Result<Vec<Token>, ReaderError> {
        let mut tokens = Vec::new();
        for word in text.split_whitespace() {
            let start = word.as_ptr() as usize - text.as_ptr() as usize;
            let smooth = smooth(word);
            let refused = |error: &dyn std::fmt::Display| ReaderError::Run(error.to_string());
            for part in self.parted.pre_tokenize(&smooth).map_err(|error| refused(&error))? {
                let ids = self.pieces.encode(part).map_err(|error| refused(&error))?;
                let mut ids: Vec<i32> = ids.into_iter().filter_map(|id| i32::try_from(id).ok()).collect();
                // A word that is not made up to its end is unknown as a whole; the library leaves its first pieces (0.27.0).
                if ids.contains(&self.unknown) {
                    ids = vec![self.unknown];
                }
                tokens.extend(ids.into_iter().map(|id| Token { id, word: start..start + word.len() }));
            }
        }
        Ok(tokens)
    }
}

#[cfg(test)]
mod tests {
    use serde::Deserialize;

    use super::*;

    #[derive(Deserialize)]
    struct Reference {
        texts: Vec<Text>,
    }

    #[derive(Deserialize)]
    struct Text {
        text: String,
        ids: Vec<i32>,
    }

    const LIST: &str = include_str!("../../../../assets/reader/vocab.txt");

    #[test]
    fn texts_become_the_numbers_that_the_training_gave_them() {
        let reference = include_str!("../../../../tests/reference/reader-tokens.json");
        let reference: Reference = serde_json::from_str(reference).expect("the reference is JSON");
        let tokens = Tokens::read(LIST).expect("the list is whole");
        assert!(reference.texts.len() > 50);
        for Text { text, ids } in reference.texts {
            let read: Vec<i32> = tokens.of(&text).expect("read").iter().map(|token| token.id).collect();
            assert_eq!(read, ids, "{text}");
        }
    }

    #[test]
    fn each_token_knows_its_word() {
        let tokens = Tokens::read(LIST).expect("the list is whole");
        let text = "The  padlocked\nvalve";
        for token in tokens.of(text).expect("read") {
            assert!(["The", "padlocked", "valve"].contains(&&text[token.word]));
        }
    }

    #[test]
    fn a_list_with_a_double_or_without_its_signs_is_refused() {
        let refused = |list: &str| Tokens::read(list).err().map(|error| error.to_string()).unwrap_or_default();
        assert!(refused("[UNK]\n[CLS]\n[SEP]\nvalve\nvalve").contains("`valve` stands twice"));
        assert!(refused("[UNK]\n[CLS]\nvalve").contains("`[SEP]` is not in it"));
    }
}
