//! Signs that no text of a deck may hold: they are not seen, or they turn round what is seen.

/// Why a sign may not stand in a deck.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum BadSign {
    /// A control character.
    Control,
    /// Turns the direction of writing.
    Direction,
    /// Takes no room and is not seen.
    Invisible,
}

/// Whether `c` may not stand in a deck. A tab and a line end may.
pub(crate) fn bad_sign(c: char) -> Option<BadSign> {
    match c {
        '\n' | '\t' => None,
        '\0'..='\u{1F}' | '\u{7F}'..='\u{9F}' | '\u{2028}' | '\u{2029}' => Some(BadSign::Control),
        '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{200E}' | '\u{200F}' | '\u{061C}' => {
            Some(BadSign::Direction)
        }
        '\u{200B}'..='\u{200D}'
        | '\u{2060}'..='\u{2065}'
        | '\u{206A}'..='\u{206F}'
        | '\u{FEFF}'
        | '\u{AD}'
        | '\u{34F}'
        | '\u{115F}'
        | '\u{1160}'
        | '\u{17B4}'
        | '\u{17B5}'
        | '\u{180B}'..='\u{180F}'
        | '\u{3164}'
        | '\u{FFA0}'
        | '\u{FFF9}'..='\u{FFFB}'
        | '\u{E0000}'..='\u{E0FFF}' => Some(BadSign::Invisible),
        _ => None,
    }
}

/// The first sign of each line of `text` that may not stand there, with its byte. A carriage return right
/// before a line end is part of the line end.
pub(crate) fn bad_signs(text: &str) -> Vec<(usize, char)> {
    let mut bad = Vec::new();
    let mut line_told = false;
    for (at, c) in text.char_indices() {
        if c == '\n' {
            line_told = false;
        } else if !line_told && bad_sign(c).is_some() && !(c == '\r' && text[at + 1..].starts_with('\n')) {
            line_told = true;
            bad.push((at, c));
        }
    }
    bad
}
