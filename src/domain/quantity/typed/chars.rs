//! A typed text as characters in one spelling, each with its place in the text as given.

use super::super::spelling::superscript;

/// Characters in one spelling: thin spaces as spaces, `−` as `-`, `µ` as `u`, superscripts as `^n`, `½` as `1/2`.
pub(in crate::domain::quantity) struct Chars {
    pub(in crate::domain::quantity) chars: Vec<char>,
    at: Vec<usize>,
    end: usize,
}

impl Chars {
    pub(in crate::domain::quantity) fn new(text: &str) -> Self {
        let mut out =
            Self { chars: Vec::with_capacity(text.len()), at: Vec::with_capacity(text.len()), end: text.len() };
        let mut raised = false;
        for (place, c) in text.char_indices() {
            let digit = superscript(c);
            if digit.is_some() && !raised {
                out.push('^', place);
            }
            raised = digit.is_some();
            match digit {
                Some(d) => out.push(d, place),
                None => out.spell(c, place),
            }
        }
        out
    }

    fn push(&mut self, c: char, place: usize) {
        self.chars.push(c);
        self.at.push(place);
    }

    fn spell(&mut self, c: char, place: usize) {
        let text = match c {
            '\u{b5}' | '\u{3bc}' => "u",
            '\u{3a9}' | '\u{2126}' => "ohm",
            '°' | 'º' | '˚' => "deg",
            '℃' => "degC",
            '℉' => "degF",
            '\u{2206}' => "Δ",
            '⋅' | '∙' | '•' => "·",
            '×' => "*",
            '−' | '–' | '—' | '‐' | '‑' => "-",
            '∕' | '⁄' | '÷' => "/",
            '½' => " 1/2",
            '¼' => " 1/4",
            '¾' => " 3/4",
            '⅓' => " 1/3",
            '⅔' => " 2/3",
            '’' => "'",
            c if c.is_whitespace() => " ",
            c => return self.push(c, place),
        };
        for c in text.chars() {
            self.push(c, place);
        }
    }

    pub(in crate::domain::quantity) fn get(&self, i: usize) -> Option<char> {
        self.chars.get(i).copied()
    }

    pub(in crate::domain::quantity) fn is_digit(&self, i: usize) -> bool {
        self.get(i).is_some_and(|c| c.is_ascii_digit())
    }

    pub(in crate::domain::quantity) fn is_letter(&self, i: usize) -> bool {
        self.get(i).is_some_and(char::is_alphabetic)
    }

    /// The place in the text as given of the character `i`.
    pub(in crate::domain::quantity) fn place(&self, i: usize) -> usize {
        self.at.get(i).copied().unwrap_or(self.end)
    }

    /// The first character from `i` on that is no space.
    pub(in crate::domain::quantity) fn skip_spaces(&self, mut i: usize) -> usize {
        while self.get(i) == Some(' ') {
            i += 1;
        }
        i
    }

    /// The end of the run of letters from `i`.
    pub(in crate::domain::quantity) fn word_end(&self, mut i: usize) -> usize {
        while self.is_letter(i) {
            i += 1;
        }
        i
    }

    /// The word from `i` in lower case, with its end.
    pub(in crate::domain::quantity) fn word(&self, i: usize) -> (String, usize) {
        let end = self.word_end(i);
        (self.chars[i.min(end)..end].iter().flat_map(|c| c.to_lowercase()).collect(), end)
    }

    /// Whether these characters stand at `i`, in any case.
    pub(in crate::domain::quantity) fn has(&self, i: usize, text: &str) -> bool {
        text.chars().enumerate().all(|(n, c)| self.get(i + n).is_some_and(|d| d.eq_ignore_ascii_case(&c)))
    }
}
