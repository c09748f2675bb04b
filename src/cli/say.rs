//! Words for the terminal: wrapped to its width, with nothing in them that a terminal would obey.

/// Columns of a line.
const WIDTH: usize = 76;

/// The text with control and direction characters shown rather than obeyed.
pub fn printable(text: &str) -> String {
    text.chars()
        .flat_map(|c| {
            let hidden = (c.is_control() && c != '\n' && c != '\t')
                || matches!(c, '\u{200e}' | '\u{200f}' | '\u{061c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
            if hidden { c.escape_unicode().collect::<Vec<_>>() } else { vec![c] }
        })
        .collect()
}

/// The text wrapped to the width, each line after `indent` spaces.
pub fn wrapped(text: &str, indent: usize) -> String {
    let pad = " ".repeat(indent);
    let mut lines = Vec::new();
    for paragraph in printable(text).lines() {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            let wide = line.chars().count() + word.chars().count() + 1 + indent;
            if !line.is_empty() && wide > WIDTH {
                lines.push(format!("{pad}{line}"));
                line.clear();
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        lines.push(format!("{pad}{line}").trim_end().to_owned());
    }
    lines.join("\n")
}

/// The text wrapped, with a label in the indent of the first line: `  1  The point`.
pub fn labelled(label: &str, text: &str, indent: usize) -> String {
    let body = wrapped(text, indent);
    let head = format!("{label:<indent$}");
    match body.get(indent..) {
        Some(rest) if body.starts_with(' ') || indent == 0 => format!("{head}{rest}"),
        _ => format!("{head}{}", body.trim_start()),
    }
}
