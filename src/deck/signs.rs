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

/// The line of `text` on which `span` begins, as [`visible`] shows it, with the range of its bytes that `span`
/// marks. Of a long line only a stretch around the place is shown, and no more of it is looked at.
pub fn visible_line(text: &str, span: Range<usize>) -> (String, Range<usize>) {
    const BEFORE: usize = 60;
    const AFTER: usize = 100;
    let start = text.floor_char_boundary(span.start.min(text.len()));
    let before = &text[text.floor_char_boundary(start.saturating_sub(4 * BEFORE))..start];
    let line_before = before.rsplit('\n').next().unwrap_or_default();
    let is_line_end = text[start..].starts_with('\n');
    let line_before = line_before.strip_suffix('\r').filter(|_| is_line_end).unwrap_or(line_before);
    let skip = line_before.chars().count().saturating_sub(BEFORE);
    let mut out = String::new();
    // The look back may itself have stopped inside the line.
    let is_cut = skip > 0 || (!before.contains('\n') && before.len() < start);
    if is_cut {
        out.push('…');
    }
    line_before.chars().skip(skip).for_each(|c| push_visible(&mut out, c));
    let from = out.len();
    let mut to = None;
    for (count, (at, c)) in text[start..].char_indices().enumerate() {
        if start + at >= span.end && to.is_none() {
            to = Some(out.len());
        }
        if c == '\n' || (c == '\r' && text[start + at + 1..].starts_with('\n')) {
            break;
        }
        if count == AFTER {
            out.push('…');
            break;
        }
        push_visible(&mut out, c);
    }
    let to = to.unwrap_or(out.len());
    (out, from..to)
}

#[cfg(test)]
mod tests {
    use super::visible_line;

    #[test]
    fn a_line_is_shown_with_its_signs_written_out() {
        let text = "one\nask = \"a\u{202E}b\"\r\nthree";
        assert_eq!(visible_line(text, 4..7), ("ask = \"a\\u{202e}b\"".to_owned(), 0..3));
        assert_eq!(visible_line(text, 12..15), ("ask = \"a\\u{202e}b\"".to_owned(), 8..16));
        assert_eq!(visible_line(text, 18..18).1, 18..18);
        assert_eq!(visible_line("", 5..9), (String::new(), 0..0));
    }

    #[test]
    fn a_long_line_is_cut_around_the_place() {
        let text = "é".repeat(100_000);
        let (line, marked) = visible_line(&text, 100_000..100_002);
        assert_eq!(line.chars().count(), 60 + 100 + 2);
        assert_eq!(&line[marked], "é");
        let (line, _) = visible_line(&text, 0..2);
        assert_eq!(line.chars().count(), 101);
    }
}
