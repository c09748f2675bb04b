//! A sitting's debrief as a document to read, and as CSV to reckon with.

use crate::present::Tone;
use crate::present::debrief::{DebriefView, TurnView};
use crate::present::document::{Bar, Block, Column, Document, Level, Sign, Table, csv_line};

/// What a report says of itself at its foot.
pub const FOOT: &str = "This mark is of a trainer, not of an administration. The ship’s safety management system, the \
                        makers’ instructions and the administration’s rules come first.";

/// The debrief as a document.
pub fn document(view: &DebriefView) -> Document {
    let mut blocks = vec![Block::Lead(format!("{}.", view.headline), view.sentence.clone())];
    blocks.push(Block::Facts(view.facts.clone()));
    blocks.push(Block::Heading(Level::Part, "Marks".to_owned()));
    let bars = view.functions.iter().map(|row| Bar {
        name: row.name.clone(),
        share: row.share,
        line: row.line,
        passes: row.passes,
    });
    blocks.push(Block::Bars(bars.collect()));
    blocks.push(Block::Heading(Level::Part, "Missed points".to_owned()));
    if view.missed.is_empty() {
        blocks.push(Block::Text("None.".to_owned()));
    } else {
        blocks.push(Block::Table(missed(view)));
    }
    let dotted = |lines: Vec<String>| Block::List(lines.into_iter().map(|line| (Sign::Dot, line)).collect());
    if !view.well.is_empty() {
        blocks.push(Block::Heading(Level::Part, "What went well".to_owned()));
        blocks.push(Block::List(view.well.iter().map(|line| (Sign::Tick, line.clone())).collect()));
    }
    if !view.study.is_empty() {
        blocks.push(Block::Heading(Level::Part, "Study next".to_owned()));
        blocks.push(dotted(view.study.iter().map(|row| format!("{} ({})", row.name, row.detail)).collect()));
    }
    blocks.push(Block::Heading(Level::Part, "The conversation".to_owned()));
    for (at, turn) in view.turns.iter().enumerate() {
        turn_in(&mut blocks, at + 1, turn);
    }
    Document { title: view.about.clone(), foot: FOOT.to_owned(), blocks }
}

fn missed(view: &DebriefView) -> Table {
    let row = |row: &crate::present::debrief::MissedRow| {
        let critical = if row.critical { " (safety-critical)" } else { "" };
        let prompted = if row.prompted { " (came after a prompt)" } else { "" };
        vec![row.asked.clone(), format!("{}{critical}{prompted}", row.say), row.source.clone()]
    };
    Table {
        columns: vec![
            Column::words("asked", 1.0),
            Column::words("what a full answer says", 1.25),
            Column::words("where it is from", 1.0),
        ],
        rows: view.missed.iter().map(row).collect(),
    }
}

fn turn_in(blocks: &mut Vec<Block>, number: usize, turn: &TurnView) {
    blocks.push(Block::Heading(Level::Small, format!("{number}. {}", turn.asked)));
    let lead_in = if turn.lead_in.is_empty() { String::new() } else { format!("{} ", turn.lead_in) };
    blocks.push(Block::Text(format!("{lead_in}{}", turn.ask_plain)));
    if turn.came_to.is_empty() {
        return;
    }
    blocks.push(Block::Quote(turn.given.clone()));
    let marks = turn.marks.iter().map(|(say, _, tone, critical)| {
        let sign = match tone {
            Tone::Good => Sign::Tick,
            Tone::Weak => Sign::Half,
            _ => Sign::Cross,
        };
        (sign, format!("{say}{}", if *critical { " (safety-critical)" } else { "" }))
    });
    blocks.push(Block::List(marks.collect()));
    let note = if turn.note.is_empty() { String::new() } else { format!(" Note: {}", turn.note) };
    blocks.push(Block::Small(format!("{}, {}, {}.{note} Source: {}", turn.came_to, turn.time, turn.by, turn.source)));
}

/// The debrief as CSV: one line for each point asked.
pub fn csv(view: &DebriefView) -> String {
    let mut out =
        String::from("sitting,question,depth,kind,asked,answer,point,mark,safety-critical,time,marked,note,source\r\n");
    for (at, turn) in view.turns.iter().enumerate() {
        for (say, word, _, critical) in &turn.marks {
            out.push_str(&csv_line(&[
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
            ]));
        }
    }
    out
}
