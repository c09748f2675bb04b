//! A sequence card: its steps lie ashore and are put on the sheet in order, as the links of a why are; then the list
//! as it ran, line by line, beside an order that works.

use eframe::egui::{Ui, UiBuilder, vec2};

use crate::app::command::Command;
use crate::domain::answer::Given;
use crate::present::Tone;
use crate::present::watch::{LinkView, ResultView, RunLine, StepView};
use crate::ui::keys;
use crate::ui::kit::{self, Act, Mark, label_in};
use crate::ui::screens::parts::{ResultAt, result_ui};
use crate::ui::screens::watch_card::CardAct;
use crate::ui::screens::why::{self, Notes, WhyLocal, column_head, columns, line_ui};
use crate::ui::theme::measure::{READING, S4, S12, S16};
use crate::ui::theme::{self, Cut, Size};

const NOTES: Notes = Notes {
    ashore: "some may never be right",
    sheet: "in the order they are done",
    hint: "Enter puts a step on the sheet, ← lifts it out, Shift with ↑ or ↓ moves it. Or drag.",
};

/// A list that was run.
pub(super) struct Ran<'a> {
    pub(super) at_start: &'a [String],
    pub(super) lines: &'a [RunLine],
    pub(super) goal_missing: &'a [String],
    pub(super) reason: &'a str,
    pub(super) right: &'a [String],
}

/// What may be done while a sequence is asked.
pub(super) fn acts(local: &WhyLocal) -> Vec<Act<CardAct>> {
    vec![Act::primary("Run it", keys::CTRL_ENTER, CardAct::HandIn).when(!local.placed().is_empty())]
}

/// The answer as it lies on the sheet.
pub(super) fn hand_in(local: &WhyLocal, steps: &[StepView]) -> Command {
    let key = |position: &usize| steps.iter().find(|step| step.position == *position).map(|step| step.key.clone());
    Command::Submit(Given::Steps(local.placed().iter().filter_map(key).collect()))
}

/// What holds at the start, the steps ashore, and the sheet on which they are put.
pub(super) fn asked_ui(ui: &mut Ui, steps: &[StepView], holds: &[String], local: &mut WhyLocal) {
    let p = theme::palette(ui);
    if !holds.is_empty() {
        let text = format!("At the start: {}.", holds.join("; "));
        label_in(ui, READING, &text, Size::Label, Cut::Regular, p.ink_second);
        ui.add_space(S12);
    }
    let slip = |step: &StepView| LinkView { position: step.position, text: step.text.clone() };
    let slips: Vec<LinkView> = steps.iter().map(slip).collect();
    why::asked_ui(ui, &slips, &NOTES, local);
}

/// The list as it ran, beside an order that works.
pub(super) fn marked_ui(ui: &mut Ui, ran: &Ran<'_>, (result, at): (&ResultView, ResultAt)) -> Option<Command> {
    let p = theme::palette(ui);
    label_in(ui, READING, ran.reason, Size::Label, Cut::Semi, p.ink);
    ui.add_space(S12);
    let (left, mut right, stacked) = columns(ui);
    let mut child = ui.new_child(UiBuilder::new().id_salt("ran").max_rect(left));
    column_head(&mut child, "Your list, run", "");
    events_ui(&mut child, ran.at_start);
    for line in ran.lines {
        let shape = match line.tone {
            Tone::Good => Mark::Tick,
            Tone::Weak => Mark::WedgeDown,
            _ => Mark::Cross,
        };
        let word = line.severity.map_or_else(|| line.word.to_owned(), |how| format!("{}, {how}", line.word));
        line_ui(&mut child, line.number, &line.text, Some((&word, line.tone, shape)));
        events_ui(&mut child, line.tell.as_slice());
        events_ui(&mut child, &line.events);
    }
    let end = match ran.goal_missing {
        [] => "At the end the goal holds.".to_owned(),
        missing => format!("At the end the goal still wants: {}.", missing.join("; ")),
    };
    events_ui(&mut child, &[end]);
    let used = child.min_rect().bottom();
    if stacked {
        right.min.y = used + S16;
    }
    let mut child = ui.new_child(UiBuilder::new().id_salt("right").max_rect(right));
    column_head(&mut child, "An order that works", "");
    for (i, step) in ran.right.iter().enumerate() {
        line_ui(&mut child, i + 1, step, None);
    }
    let bottom = used.max(child.min_rect().bottom());
    ui.allocate_space(vec2(ui.available_width(), bottom - ui.cursor().top()));
    result_ui(ui, result, at)
}

/// What the plant did, one sentence a line.
fn events_ui(ui: &mut Ui, events: &[String]) {
    let p = theme::palette(ui);
    for event in events {
        ui.add_space(S4);
        let width = ui.available_width();
        kit::label_in(ui, width, event, Size::Label, Cut::Regular, p.ink_second);
    }
}
