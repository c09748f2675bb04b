//! How an answer was marked, point by point, and what a sample of it is to expect.

use eframe::egui::{Ui, vec2};

use crate::app::program::command::{Command, WritingCommand};
use crate::domain::outcome::Outcome;
use crate::present::Tone;
use crate::present::writing::{Found, ToldPoint, Wanted, WriteToldView};
use crate::ui::keys;
use crate::ui::kit::{self, Act, Cell, Column, Mark, Room, Sheet, head_row, heading, label_in, rich, room, row};
use crate::ui::theme::measure::{LIST_ROW, PROMPT, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

#[derive(Clone, PartialEq)]
enum ToldAct {
    Keep,
    Outcome,
}

/// The outcomes that a sample may be held to, in the order in which its key goes through them; a sample has no time, so
/// that none is fluent.
const OUTCOMES: [Option<Outcome>; 4] =
    [None, Some(Outcome::Missed), Some(Outcome::Prompted), Some(Outcome::Answered)];

/// Draws it.
pub fn write_told_ui(ui: &mut Ui, view: &WriteToldView) -> Option<Command> {
    let acts = [
        Act::primary("Write it into the card as a sample", keys::ENTER, ToldAct::Keep).when(view.may_keep),
        Act::other("Another result for it", keys::letter('R'), ToldAct::Outcome),
    ];
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "write-told" };
    let (wanted, act) = sheet.show(ui, &acts, |ui| content_ui(ui, view));
    match act {
        Some(ToldAct::Keep) => Some(Command::Writing(WritingCommand::KeepSample)),
        Some(ToldAct::Outcome) => {
            let at = OUTCOMES.iter().position(|outcome| *outcome == view.outcome_wanted).unwrap_or(0);
            Some(Command::Writing(WritingCommand::WantOutcome(OUTCOMES[(at + 1) % OUTCOMES.len()])))
        }
        None => wanted.map(|(point, wanted)| Command::Writing(WritingCommand::Want { point, wanted })),
    }
}

fn content_ui(ui: &mut Ui, view: &WriteToldView) -> Option<(usize, Wanted)> {
    let p = theme::palette(ui);
    ui.add_space(S4);
    rich(ui, &view.ask, PROMPT, Size::Body, p.ink);
    ui.add_space(S8);
    label_in(ui, PROMPT, &format!("Answered: {}", view.answer), Size::Body, Cut::Italic, p.ink);
    ui.add_space(S12);
    heading(ui, &format!("{}. {}", view.outcome.word(), view.reason), Size::Label, Cut::Semi);
    label_in(ui, PROMPT, &view.readers, Size::Label, Cut::Regular, p.ink_second);
    let mut wanted = None;
    if !view.points.is_empty() {
        ui.add_space(S16);
        let columns = columns(ui);
        head_row(ui, &columns, &["", "Key point", "Found", "In a sample"]);
        for point in &view.points {
            if point_ui(ui, &columns, point) {
                wanted = Some((point.number, point.wanted.next()));
            }
        }
    }
    ui.add_space(S16);
    sample_ui(ui, view);
    wanted
}

fn columns(ui: &Ui) -> [Column; 4] {
    let tiny = room(ui.ctx()) == Room::Tiny;
    let (found, wanted) = if tiny { (S24 * 3.0, S24 * 4.0) } else { (S24 * 4.0, S40 * 4.0) };
    [Column::Text(S24), Column::Share(1.0), Column::Text(found), Column::Text(wanted)]
}

/// A point: what was found of it by whom; true where a sample is to expect something else of it.
fn point_ui(ui: &mut Ui, columns: &[Column], point: &ToldPoint) -> bool {
    let p = theme::palette(ui);
    let hot = keys::digit(point.number);
    if point.number == 1 {
        keys::offer(ui.ctx(), hot, "What a sample expects of the first point; 2 of the second, and so on");
    }
    let (tone, shape) = match point.found {
        Found::Said => (Tone::Good, Mark::Tick),
        Found::Denied => (Tone::Bad, Mark::Cross),
        Found::NotSure => (Tone::Weak, Mark::Query),
        Found::NotSaid => (Tone::Quiet, Mark::Ring),
    };
    let critical = if point.critical { " (safety-critical)" } else { "" };
    let cells = [
        Cell::figure(point.number.to_string()),
        Cell::text(format!("{}{critical}", kit::plain_text(&point.text))),
        Cell::text(point.found.word()).toned(tone).marked(Some(shape)),
        Cell::text(point.wanted.word()),
    ];
    let name = format!(
        "Point {}: {}{critical}. Found {}. In a sample it {}.",
        point.number,
        point.text,
        point.found.word(),
        match point.wanted {
            Wanted::Open => "may be either way",
            Wanted::Said => "must be said",
            Wanted::Denied => "must be denied",
        }
    );
    let response = row(ui, columns, &cells, LIST_ROW, (true, false), &name);
    for ground in &point.ground {
        ui.horizontal_top(|ui| {
            ui.allocate_space(vec2(S24 * 2.0, S4));
            label_in(ui, PROMPT, ground, Size::Small, Cut::Regular, p.ink_second);
        });
    }
    ui.add_space(S4);
    response.clicked() || keys::take(ui, hot)
}

fn sample_ui(ui: &mut Ui, view: &WriteToldView) {
    let p = theme::palette(ui);
    heading(ui, "As a sample of the card", Size::Body, Cut::Semi);
    ui.add_space(S4);
    let outcome = match view.outcome_wanted {
        Some(outcome) => format!("It must come to {}.", outcome.word()),
        None => "What it comes to is left open.".to_owned(),
    };
    label_in(ui, PROMPT, &outcome, Size::Label, Cut::Regular, p.ink);
    ui.add_space(S4);
    let (words, color) = match (view.otherwise.is_empty(), view.may_keep) {
        (_, false) => ("A sample must expect something: that a point is said or denied, or a result.".to_owned(), p.ink_second),
        (true, _) => ("As the card stands, it comes out as it is meant.".to_owned(), p.sea),
        (false, _) => (format!("As the card stands, it comes out otherwise: {}.", view.otherwise), p.red_lead),
    };
    label_in(ui, PROMPT, &words, Size::Label, Cut::Regular, color);
    ui.add_space(S24);
}
