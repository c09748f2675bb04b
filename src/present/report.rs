//! A sitting's debrief as a document: Markdown to read, CSV to reckon with.

use std::fmt::Write;

use crate::present::debrief::{DebriefView, TurnView};

/// What a report says of itself at its end.
const FOOT: &str = "This mark is of a trainer, not of an administration. The ship’s safety management system, the makers’ \
                    instructions and the administration’s rules come first.";

/// The debrief as Markdown.
pub fn markdown(view: &DebriefView) -> String {
    let mut out = format!("# {}\n\n**{}.** {}\n\n", view.about, view.headline, view.sentence);
    for (label, value) in &view.facts {
        let _ = writeln!(out, "- {label}: {value}");
    }
    out.push_str("\n## Marks\n\n| function | mark | line | |\n|---|--:|--:|---|\n");
    for row in &view.functions {
        let word = if row.passes { "pass" } else { "below" };
        let _ =
            writeln!(out, "| {} | {:.0} % | {:.0} % | {word} |", cell(&row.name), row.share * 100.0, row.line * 100.0);
    }
    out.push_str("\n## Missed points\n\n");
    if view.missed.is_empty() {
        out.push_str("None.\n");
    } else {
        out.push_str("| asked | what a full answer says | where it is from |\n|---|---|---|\n");
        for row in &view.missed {
            let mut say = cell(&row.say);
            if row.critical {
                say.push_str(" **(safety-critical)**");
            }
            if row.prompted {
                say.push_str(" (came after a prompt)");
            }
            let _ = writeln!(out, "| {} | {say} | {} |", cell(&row.asked), cell(&row.source));
        }
    }
    list(&mut out, "What went well", view.well.iter().cloned());
    list(&mut out, "Study next", view.study.iter().map(|row| format!("{} ({})", row.name, row.detail)));
    out.push_str("\n## The conversation\n");
    for (at, turn) in view.turns.iter().enumerate() {
        turn_in(&mut out, at + 1, turn);
    }
    let _ = writeln!(out, "\n{FOOT}");
    out
}

fn list(out: &mut String, title: &str, lines: impl Iterator<Item = String>) {
    let lines: Vec<String> = lines.collect();
    if !lines.is_empty() {
        let _ = writeln!(out, "\n## {title}\n");
        for line in lines {
            let _ = writeln!(out, "- {line}");
        }
    }
}

fn turn_in(out: &mut String, number: usize, turn: &TurnView) {
    let _ = writeln!(out, "\n### {number}. {}\n", turn.asked);
    if !turn.lead_in.is_empty() {
        let _ = write!(out, "*{}* ", turn.lead_in);
    }
    let _ = writeln!(out, "{}\n", turn.ask);
    if turn.came_to.is_empty() {
        return;
    }
    let _ = writeln!(out, "> {}\n", turn.given.replace('\n', "\n> "));
    for (say, word, _, critical) in &turn.marks {
        let _ = writeln!(out, "- {word}: {say}{}", if *critical { " (safety-critical)" } else { "" });
    }
    let _ = writeln!(out, "\n{}, {}, {}.", turn.came_to, turn.time, turn.by);
    if !turn.note.is_empty() {
        let _ = writeln!(out, "Note: {}", turn.note);
    }
    let _ = writeln!(out, "Source: {}", turn.source);
}

/// Text in a cell of a Markdown table.
fn cell(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

/// The debrief as CSV (RFC 4180): one line for each point asked.
pub fn csv(view: &DebriefView) -> String {
    let mut out =
        String::from("sitting,question,depth,kind,asked,answer,point,mark,safety-critical,time,marked,note,source\r\n");
    for (at, turn) in view.turns.iter().enumerate() {
        for (say, word, _, critical) in &turn.marks {
            let fields = [
                view.number.to_string(),
                (at + 1).to_string(),
                turn.depth.to_string(),
                turn.asked.clone(),
                turn.ask.clone(),
                turn.given.clone(),
                say.clone(),
                word.clone(),
                if *critical { "yes" } else { "no" }.to_owned(),
                turn.time.clone(),
                turn.by.clone(),
                turn.note.clone(),
                turn.source.clone(),
            ];
            let quoted: Vec<String> = fields.iter().map(|field| quoted(field)).collect();
            out.push_str(&quoted.join(","));
            out.push_str("\r\n");
        }
    }
    out
}

/// A field with quotes where it needs them. What a spreadsheet would take for a formula is made plain by a quote sign.
fn quoted(field: &str) -> String {
    let field = if field.starts_with(['=', '+', '-', '@']) { format!("'{field}") } else { field.to_owned() };
    if field.contains([',', '"', '\n', '\r']) { format!("\"{}\"", field.replace('"', "\"\"")) } else { field }
}
