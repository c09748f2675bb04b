//! Words of the terminal that are no answers: each alone on its line, but for the report of a fault. An answer that is one
//! of these words itself is given with a full stop behind it.

/// What a line says beside an answer.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Said<'l> {
    /// `stop`: leaves the watch, or the sitting for later.
    Stop,
    /// `end`: ends a sitting.
    End,
    /// `aside`: sets the card aside.
    Aside,
    /// `fault: WORDS`: reports a fault in the card.
    Fault(&'l str),
    /// `help`.
    Help,
    /// `list`: shows the lines of the worksheet.
    List,
    /// `undo`: takes its last line away.
    Undo,
    /// `take`: takes its last value as the answer.
    Take,
    /// None of these.
    Answer,
}

/// What a line says, in any case of letters.
pub(super) fn said(line: &str) -> Said<'_> {
    let line = line.trim();
    if let Some((word, note)) = line.split_once(':')
        && word.trim_end().eq_ignore_ascii_case("fault")
    {
        return Said::Fault(note.trim());
    }
    match line.to_ascii_lowercase().as_str() {
        "stop" => Said::Stop,
        "end" => Said::End,
        "aside" => Said::Aside,
        "help" | "?" => Said::Help,
        "list" => Said::List,
        "undo" => Said::Undo,
        "take" => Said::Take,
        _ => Said::Answer,
    }
}
