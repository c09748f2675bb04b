//! Signs that no text of a deck may hold: they are not seen, or they turn round what is seen. And how a line of
//! a deck is shown without them.

use std::ops::Range;

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

/// `text` with every sign that is not seen, or that moves what is seen, written out: a line end as `\n`, others
/// as `\u{202e}`. What is printed to a terminal goes through this.
pub fn visible(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        push_visible(&mut out, c);
    }
    out
}

/// Adds one sign as [`visible`] shows it; a tab is a space.
pub(crate) fn push_visible(out: &mut String, c: char) {
    match c {
        '\n' => out.push_str("\\n"),
        '\t' => out.push(' '),
        _ if bad_sign(c).is_some() => out.extend(c.escape_unicode()),
        _ => out.push(c),
    }
}

/// The line of `text` on which `at` stands, as [`visible`] shows it, cut to a stretch around the place where it
/// is long, with the range of bytes of that stretch which `span` marks.
pub fn visible_line(text: &str, span: Range<usize>) -> (String, Range<usize>) {
    const BEFORE: usize = 60;
    const MOST: usize = 160;
    let start = text.floor_char_boundary(span.start.min(text.len()));
    let line_start = text[..start].rfind('\n').map_or(0, |at| at + 1);
    let line_end = text[start..].find('\n').map_or(text.len(), |at| start + at);
    let before = text[line_start..start].chars().count();
    let is_long = text[line_start..line_end].chars().nth(MOST).is_some();
    let skip = if is_long { before.saturating_sub(BEFORE) } else { 0 };
    let (mut out, mut marked) = (String::new(), None);
    if skip > 0 {
        out.push('…');
    }
    let mut marked_end = None;
    let mut shown = text[line_start..line_end].char_indices().skip(skip).peekable();
    let mut count = 0;
    while let Some((at, c)) = shown.next() {
        let at = line_start + at;
        if at >= start && marked.is_none() {
            marked = Some(out.len());
        }
        if at >= span.end && marked_end.is_none() {
            marked_end = Some(out.len());
        }
        if c != '\r' || shown.peek().is_some() {
            push_visible(&mut out, c);
        }
        count += 1;
        if count == MOST && shown.peek().is_some() {
            out.push('…');
            break;
        }
    }
    let from = marked.unwrap_or(out.len());
    let to = marked_end.unwrap_or(out.len()).max(from);
    (out, from..to)
}
