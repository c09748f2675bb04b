//! Words as the reader's numbers: each word whole where the list has it, otherwise in the longest pieces that it has.

use std::collections::HashMap;
use std::ops::Range;

use rten_text::models::{WordPiece, WordPieceOptions};
use rten_text::normalizers::{Bert as Plain, BertOptions};
use rten_text::pre_tokenizers::Bert as Parted;
use rten_text::Tokenizer;
use rten_text::tokenizer::TokenizerOptions;

use super::ReaderError;

/// The list of words and pieces, ready to use.
pub(super) struct Tokens {
    tokenizer: Tokenizer,
    count: usize,
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
        sign("[UNK]")?;
        let (first, end, count) = (sign("[CLS]")?, sign("[SEP]")?, numbers.len());
        let pieces = WordPiece::from_vocab(numbers, WordPieceOptions::default());
        let tokenizer = Tokenizer::new(pieces, TokenizerOptions::default())
            .with_normalizer(Box::new(Plain::new(BertOptions { lowercase: true, strip_accents: true })))
            .with_pre_tokenizer(Box::new(Parted::new()));
        Ok(Self { tokenizer, count, first, end })
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
            let read = self.tokenizer.encode(word, None).map_err(|error| ReaderError::Run(error.to_string()))?;
            let ids = read.token_ids().iter().filter_map(|id| i32::try_from(*id).ok());
            tokens.extend(ids.map(|id| Token { id, word: start..start + word.len() }));
        }
        Ok(tokens)
    }
}
