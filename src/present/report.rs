//! A sitting's debrief as a document to read, and as CSV to reckon with.

use crate::domain::oral::Mark;
use crate::present::debrief::{DebriefView, TurnKind, TurnView, mark_word, missed_words};
use crate::present::document::{Bar, Block, Document, Entry, Level, Sign, csv_line};
use crate::present::labelled::Labelled;
use crate::present::tone::Tone;

/// What a report says of itself at its foot.
pub const FOOT: &str = "This mark is of a trainer, not of an administration. The ship’s safety management system, the \
                        makers’ instructions and the administration’s rules come first.";

/// So many characters of an answer are printed; the window shows all of it.
const MOST_GIVEN: usize = 240;

/// The debrief as a document: the verdict, the marks, then each question once.
pub fn document(view: &DebriefView) -> Document {
    let mut blocks = vec![Block::Lead { lead: format!("{}.", view.headline), words: view.sentence.clone() }];
    blocks.push(Block::Facts(view.facts.clone()));
    blocks.push(Block::Heading(Level::Part, "Marks".to_owned()));
    let bars = view.functions.iter().map(|row| Bar {
        name: row.name.clone(),
        share: row.share,
        line: row.line,
        passes: row.passes,
    });
    blocks.push(Block::Bars(bars.collect()));
    if !view.study.is_empty() {
        blocks.push(Block::Heading(Level::Part, "Study next".to_owned()));
        let rows: Vec<String> = view.study.iter().map(|row| format!("{} ({})", row.name, row.detail)).collect();
        blocks.push(Block::Text(format!("{}.", rows.join("; "))));
    }
    if !view.turns.is_empty() {
        blocks.push(Block::Heading(Level::Part, "Question by question".to_owned()));
        blocks.extend(view.turns.iter().map(|turn| Block::Entry(entry(turn))));
    }
    Document { title: view.about.clone(), foot: FOOT.to_owned(), blocks }
}

/// A question with what came of it: what was missed in full, what was said only as a count.
fn entry(turn: &TurnView) -> Entry {
    let mut lines = Vec::new();
    let mut line = |label: &str, words: String| lines.push(Labelled::of(label, words));
    if !turn.came_to.is_empty() {
        line("Answer", clipped(&turn.given, MOST_GIVEN));
    }
    if !turn.missed.is_empty() {
        let points: Vec<String> = turn.missed.iter().map(missed_words).collect();
        line("Missed", format!("{}.", points.join("; ")));
    }
    if !turn.note.is_empty() {
        line("Note", turn.note.clone());
    }
    Entry {
        number: turn.number.clone(),
        is_part: turn.depth > 0,
        // The same few sentences for every card: which one it was does not matter.
        head: match turn.kind {
            TurnKind::Question => turn.ask_plain.clone(),
            TurnKind::WhatElse => "A prompt for what was missing".to_owned(),
            TurnKind::Reason => "The reason behind it".to_owned(),
        },
        sign: match turn.tone {
            _ if turn.came_to.is_empty() => Sign::Dot,
            Tone::Good => Sign::Tick,
            // Something of it was there.
            _ if turn.marks.iter().any(|mark| mark.earned > 0.0) => Sign::Half,
            _ => Sign::Cross,
        },
        lines,
        small: small(turn),
    }
}

fn small(turn: &TurnView) -> String {
    let source =
        if turn.depth == 0 { format!(" Source: {}.", turn.source.trim_end_matches('.')) } else { String::new() };
    if turn.came_to.is_empty() {
        return source.trim_start().to_owned();
    }
    let by = if turn.depth == 0 { format!(", {}", turn.by) } else { String::new() };
    format!("{}, {}{by}.{source}", turn.came_to, turn.time)
}

/// The text, cut at a word where it is longer than so many characters.
fn clipped(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let cut: String = text.chars().take(most).collect();
    let end = cut.rfind(' ').unwrap_or(cut.len());
    format!("{} …", cut[..end].trim_end())
}

/// The debrief as CSV: one line for each point asked.
pub fn csv(view: &DebriefView) -> String {
    let mut out =
        String::from("sitting,question,depth,kind,asked,answer,point,mark,safety-critical,time,marked,note,source\r\n");
    for turn in &view.turns {
        for mark @ Mark { say, critical, .. } in &turn.marks {
            out.push_str(&csv_line(&[
                view.number.to_string(),
                turn.number.clone(),
                turn.depth.to_string(),
                turn.asked.clone(),
                turn.ask.clone(),
                turn.given.clone(),
                say.clone(),
                mark_word(mark).to_owned(),
                if *critical { "yes" } else { "no" }.to_owned(),
                turn.time.clone(),
                turn.by.clone(),
                turn.note.clone(),
                turn.source.clone(),
            ]));
        }
    }
    out
}
