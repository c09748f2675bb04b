//! `bedplate check DECK [--source | --json]`: every problem of a deck, a folder or a sealed one, in plain sentences or at
//! its marked line.
//!
//! Exit codes: 0 no errors (warnings and advice may stand), 1 errors, 2 there is no deck to read.

use std::io::{IsTerminal, Write};
use std::path::Path;
use std::process::ExitCode;

use annotate_snippets::{AnnotationKind, Level, Origin, Renderer, Snippet};
use serde_json::json;

use super::marker::CommandReader;
use super::{deck_at, out, sentence};
use crate::deck::{Problem, Reading, Severity, visible, visible_line};

/// The form in which problems are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// In plain sentences.
    Sentences,
    /// Under the line that is meant, as compilers show it.
    Source,
    /// As JSON.
    Json,
}

/// Reads the deck at `deck` (a folder, its `deck.toml`, or a sealed deck) and prints what is wrong with it,
/// in the form `shown`. Samples are marked by the trained reader too, unless `plain`.
pub fn run(deck: &Path, shown: Shown, plain: bool) -> ExitCode {
    let reading = deck_at::read_by(deck, CommandReader::load(plain).marker());
    let text = match shown {
        Shown::Json => json_text(&reading),
        _ if !reading.readable => String::new(),
        Shown::Sentences => sentences(&reading),
        Shown::Source => {
            let is_styled = std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none();
            text(&reading, is_styled)
        }
    };
    if let Err(code) = out::all(text.as_bytes()) {
        return code;
    }
    if !reading.readable {
        for problem in &reading.problems {
            // Where nobody listens the exit code still says it.
            let _ =
                writeln!(std::io::stderr(), "{}", sentence::of_problem(&problem.message, &problem.mend).trim_start());
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

/// What is printed as a rule: where each problem is, what is wrong and how to mend it, in sentences; then a summary.
pub fn sentences(reading: &Reading) -> String {
    let told = |problem: &Problem| {
        let word = match problem.severity {
            Severity::Error => "Error",
            Severity::Warning => "Warning",
            Severity::Advice => "Advice",
        };
        let place = format!("{word} in {}, line {}, column {}", problem.file, problem.line, problem.column);
        let words = sentence::of_problem(&problem.message, &problem.mend);
        format!("{place} ({})\n{words}\n\n", problem.code)
    };
    let mut out: String = reading.problems.iter().map(told).collect();
    out.push_str(&summary(reading));
    out
}

/// What `--source` prints: each problem with its line shown and marked, then a summary.
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
