//! `bedplate check DECK [--json]`: every problem of a deck, a folder or a sealed one, at its line and column.
//!
//! Exit codes: 0 no errors (warnings and advice may stand), 1 errors, 2 there is no deck to read.

use std::io::{IsTerminal, Write};
use std::path::Path;
use std::process::ExitCode;

use annotate_snippets::{AnnotationKind, Level, Origin, Renderer, Snippet};
use serde_json::json;

use super::marker::CommandReader;
use super::{deck_at, out};
use crate::deck::{Problem, Reading, Severity, visible, visible_line};

/// Reads the deck at `deck` (a folder, its `deck.toml`, or a sealed deck) and prints what is wrong with it,
/// as text or as JSON. Samples are marked by the trained reader too, unless `plain`.
pub fn run(deck: &Path, json: bool, plain: bool) -> ExitCode {
    let reading = deck_at::read_by(deck, CommandReader::load(plain).marker());
    let text = if json {
        json_text(&reading)
    } else if reading.readable {
        let is_styled = std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none();
        text(&reading, is_styled)
    } else {
        String::new()
    };
    if let Err(code) = out::all(text.as_bytes()) {
        return code;
    }
    if !reading.readable {
        for problem in &reading.problems {
            // Where nobody listens the exit code still says it.
            let _ = writeln!(std::io::stderr(), "{}\nhelp: {}", problem.message, problem.mend);
        }
        return ExitCode::from(2);
    }
    let has_errors = reading.problems.iter().any(|problem| problem.severity == Severity::Error);
    ExitCode::from(u8::from(has_errors))
}

/// What `--json` prints: `{"problems": [...], "cards": {...}}`.
pub fn json_text(reading: &Reading) -> String {
    format!("{:#}\n", json!({ "problems": reading.problems, "cards": reading.counts }))
}

/// What is printed without `--json`: each problem with its line shown and marked, then a summary.
pub fn text(reading: &Reading, is_styled: bool) -> String {
    let renderer = if is_styled { Renderer::styled() } else { Renderer::plain() };
    let mut out = String::new();
    for problem in &reading.problems {
        out.push_str(&shown(problem, reading, &renderer));
        out.push_str("\n\n");
    }
    out.push_str(&summary(reading));
    out
}

fn shown(problem: &Problem, reading: &Reading, renderer: &Renderer) -> String {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Advice => Level::NOTE.with_name("advice"),
    };
    let title = level.primary_title(problem.message.as_str()).id(problem.code);
    let help = Level::HELP.message(problem.mend.as_str());
    let origin = Origin::path(problem.file.as_str()).line(problem.line).char_column(problem.column);
    let text = reading.texts.iter().find(|text| visible(&text.name) == problem.file);
    let Some(text) = text.filter(|text| !text.text.is_empty()) else {
        return renderer.render(&[title.element(origin).element(help)]);
    };
    let (line, marked) = visible_line(&text.text, problem.span.clone());
    // The renderer counts the column in the line that it is given, so a line that is shown cut or written out
    // has its place above it.
    let is_whole = line.get(..marked.start).is_some_and(|before| before.chars().count() + 1 == problem.column);
    let snippet = Snippet::source(line).line_start(problem.line).annotation(AnnotationKind::Primary.span(marked));
    let group = if is_whole {
        title.element(snippet.path(problem.file.as_str()))
    } else {
        title.element(origin).element(snippet)
    };
    renderer.render(&[group.element(help)])
}

fn summary(reading: &Reading) -> String {
    let count = |severity| reading.problems.iter().filter(|problem| problem.severity == severity).count();
    let cards: usize = reading.counts.values().sum();
    let by_kind: Vec<String> = reading.counts.iter().map(|(kind, count)| format!("{count} {kind}")).collect();
    let by_kind = if by_kind.is_empty() { String::new() } else { format!(" ({})", by_kind.join(", ")) };
    format!(
        "{}{by_kind}: {}, {}, {} of advice\n",
        counted(cards, "card"),
        counted(count(Severity::Error), "error"),
        counted(count(Severity::Warning), "warning"),
        counted(count(Severity::Advice), "piece"),
    )
}

fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}
