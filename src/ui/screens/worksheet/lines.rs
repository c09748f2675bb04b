//! What is kept of a worksheet between frames, and what keys do there.

use eframe::egui::{Id, Ui};

use crate::app::sheet::EditWorksheet;
use crate::present::worksheet::{LineResult, ValueView, WorksheetView};
use crate::ui::keys::{self, KeyLine};
use crate::ui::kit;

/// So many lines a worksheet may have.
const MOST_LINES: usize = 40;
/// An error in the line that is being typed is said after so many seconds of rest: half a word is no error.
const REST: f64 = 0.7;

/// What is kept between frames.
#[derive(Default)]
pub(crate) struct WorksheetLocal {
    lines: Vec<Line>,
    pub(crate) answer: String,
    /// Numbers lines for life, so that a field keeps its cursor while lines come and go.
    next: u64,
    /// What was told last; where the view says something else, that holds.
    told: Option<EditWorksheet>,
    wish: Option<Spot>,
    recalled: Option<Recalled>,
    edited: Option<(u64, f64)>,
    entered: Option<String>,
    /// The keyboard was given to another field, which is to be brought into sight.
    moved: bool,
    /// Which field had the keyboard.
    last: Option<Spot>,
}

/// A line in its field.
pub(crate) struct Line {
    serial: u64,
    pub(crate) text: String,
}

/// An earlier line stands in the place of a draft.
struct Recalled {
    serial: u64,
    at: usize,
    draft: String,
}

/// Where the keyboard is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Spot {
    /// In a line, from 0.
    Line(usize),
    /// In the answer.
    Answer,
}

/// What became of a frame.
#[derive(Default)]
pub(crate) struct Outcome {
    /// The worksheet reads otherwise now.
    pub(crate) work: Option<EditWorksheet>,
    /// Enter was pressed in the answer.
    pub(crate) hand_in: bool,
}

/// The field of a line.
pub(crate) fn line_id(line: &Line) -> Id {
    Id::new(("worksheet-line", line.serial))
}

/// The field of the answer.
pub(crate) fn answer_id() -> Id {
    Id::new("worksheet-answer")
}

impl WorksheetLocal {
    /// Takes over what the view says, at first and where it has changed otherwise than by typing here.
    pub(crate) fn follow(&mut self, view: &WorksheetView, answer: &str) {
        let end = view.lines.iter().rposition(|l| !l.text.is_empty()).map_or(0, |at| at + 1);
        let said = view.lines[..end].iter().map(|l| &l.text);
        let same = self.told.as_ref().is_some_and(|told| told.answer == answer && told.lines.iter().eq(said.clone()));
        if !same {
            let first = self.told.is_none();
            self.lines = said.cloned().map(|text| self.numbered(text)).collect();
            answer.clone_into(&mut self.answer);
            self.told = Some(EditWorksheet { lines: self.texts(), answer: self.answer.clone(), entered: None });
            if first {
                self.wish = Some(Spot::Line(end));
            }
        }
        self.tidy();
    }

    fn numbered(&mut self, text: String) -> Line {
        self.next += 1;
        Line { serial: self.next, text }
    }

    /// There is always one empty line at the end to go on with.
    fn tidy(&mut self) {
        if self.lines.len() < MOST_LINES && self.lines.last().is_none_or(|l| !l.text.trim().is_empty()) {
            let line = self.numbered(String::new());
            self.lines.push(line);
        }
    }

    /// The lines without the empty ones at the end.
    fn texts(&self) -> Vec<String> {
        let end = self.lines.iter().rposition(|l| !l.text.is_empty()).map_or(0, |at| at + 1);
        self.lines[..end].iter().map(|l| l.text.clone()).collect()
    }

    /// The lines that hold something, for handing in.
    pub(crate) fn written(&self) -> Vec<String> {
        self.lines.iter().map(|l| l.text.trim().to_owned()).filter(|t| !t.is_empty()).collect()
    }

    /// Empties the sheet.
    pub(crate) fn clear(&mut self) {
        self.lines.clear();
        self.answer.clear();
        self.tidy();
        self.wish = Some(Spot::Line(0));
    }

    pub(crate) fn lines(&mut self) -> &mut Vec<Line> {
        &mut self.lines
    }

    /// What a line comes to: what the view says of it, where it speaks of the same text.
    pub(crate) fn result<'a>(&self, view: &'a WorksheetView, at: usize) -> &'a LineResult {
        let known = view.lines.get(at).filter(|l| self.lines.get(at).is_some_and(|mine| mine.text == l.text));
        known.map_or(&LineResult::Nothing, |l| &l.result)
    }

    /// What is to be noted of a line.
    pub(crate) fn note<'a>(&self, view: &'a WorksheetView, at: usize) -> &'a str {
        let known = view.lines.get(at).filter(|l| self.lines.get(at).is_some_and(|mine| mine.text == l.text));
        known.map_or("", |l| &l.note)
    }

    /// Whether an error of this line is to be said already; where it is not, the screen is drawn again when it is.
    pub(crate) fn rests(&self, ui: &Ui, at: usize, focused: Option<Spot>) -> bool {
        let (Some(line), Some((serial, since))) = (self.lines.get(at), self.edited) else { return true };
        let left = since + REST - ui.input(|i| i.time);
        if line.serial != serial || focused != Some(Spot::Line(at)) || left <= 0.0 {
            return true;
        }
        ui.ctx().request_repaint_after(std::time::Duration::from_secs_f64(left));
        false
    }

    /// A line was typed into.
    pub(crate) fn touched(&mut self, ui: &Ui, at: usize) {
        self.edited = self.lines.get(at).map(|l| (l.serial, ui.input(|i| i.time)));
        self.recalled = None;
    }

    /// Which field has the keyboard.
    pub(crate) fn focused(&self, ui: &Ui) -> Option<Spot> {
        let id = ui.memory(|m| m.focused())?;
        if id == answer_id() {
            return Some(Spot::Answer);
        }
        self.lines.iter().position(|l| line_id(l) == id).map(Spot::Line)
    }

    /// The line whose value would be taken over as the answer: the one with the keyboard, or the last with a value.
    pub(crate) fn takeable<'a>(
        &self,
        view: &'a WorksheetView,
        focused: Option<Spot>,
    ) -> Option<(usize, &'a ValueView)> {
        let value = |at: usize| Some((at, self.result(view, at).value()?));
        let here = match focused {
            Some(Spot::Line(at)) => value(at),
            _ => None,
        };
        here.or_else(|| (0..self.lines.len()).rev().find_map(value))
    }

    /// Takes a value over as the answer.
    pub(crate) fn take(&mut self, value: &ValueView) {
        value.taken.clone_into(&mut self.answer);
        self.wish = Some(Spot::Answer);
    }

    /// Gives the keyboard to where it is wished.
    pub(super) fn grant(&mut self, ui: &Ui, has_answer: bool) {
        let (id, text) = match self.wish.take() {
            Some(Spot::Line(at)) => {
                let Some(line) = self.lines.get(at.min(self.lines.len().saturating_sub(1))) else { return };
                (line_id(line), line.text.as_str())
            }
            Some(Spot::Answer) if has_answer => (answer_id(), self.answer.as_str()),
            _ => return,
        };
        kit::cursor_to_end(ui.ctx(), id, text);
        ui.memory_mut(|m| m.request_focus(id));
    }

    /// Whether the field with the keyboard is to be brought into sight: it has just got it.
    pub(crate) fn looks(&mut self) -> bool {
        std::mem::take(&mut self.moved)
    }

    /// Sees whether the keyboard was given to another field.
    pub(super) fn watch(&mut self, ui: &Ui) {
        let focused = self.focused(ui);
        if focused != self.last {
            self.last = focused;
            self.moved = true;
        }
    }

    /// Carries out the keys that mean something on a worksheet; true where Enter hands the answer in.
    pub(super) fn keys(&mut self, ui: &Ui, view: &WorksheetView, has_answer: bool) -> bool {
        let focused = self.focused(ui);
        if has_answer
            && keys::take(ui, keys::CTRL_T)
            && let Some((_, value)) = self.takeable(view, focused)
        {
            self.take(value);
        }
        match focused {
            Some(Spot::Line(at)) => self.line_keys(ui, view, at, has_answer),
            Some(Spot::Answer) => {
                if keys::take_in_line(ui, keys::UP) {
                    self.wish = Some(Spot::Line(usize::MAX));
                }
                return keys::take(ui, keys::ENTER);
            }
            None => {
                let held = keys::held(ui.ctx()) == keys::Held::Nothing;
                if held && (keys::take(ui, keys::ENTER) || keys::take(ui, keys::DOWN) || keys::take(ui, keys::UP)) {
                    self.wish = Some(Spot::Line(usize::MAX));
                }
            }
        }
        false
    }

    fn line_keys(&mut self, ui: &Ui, view: &WorksheetView, at: usize, has_answer: bool) {
        let empty = self.lines[at].text.trim().is_empty();
        let last = at + 1 == self.lines.len();
        if keys::take(ui, keys::CTRL_UP) {
            self.recall(at, view, 1);
        } else if keys::take(ui, keys::CTRL_DOWN) {
            self.recall(at, view, -1);
        } else if keys::take(ui, keys::ENTER) {
            self.enter(ui, view, at, has_answer);
        } else if keys::take_in_line(ui, keys::UP) {
            self.wish = at.checked_sub(1).map(Spot::Line);
        } else if keys::take_in_line(ui, keys::DOWN) {
            self.wish = if !last { Some(Spot::Line(at + 1)) } else { has_answer.then_some(Spot::Answer) };
        } else if empty && (at > 0 || !last) && keys::take_in_line(ui, keys::LIFT) {
            self.lines.remove(at);
            self.wish = Some(Spot::Line(at.saturating_sub(1)));
        }
    }

    /// Enter ends a line and goes on to the next, a new one where the next is taken; before the first character it
    /// makes room above; on the empty last line it goes to the answer, with the last value where there is none yet.
    fn enter(&mut self, ui: &Ui, view: &WorksheetView, at: usize, has_answer: bool) {
        let text = self.lines[at].text.trim().to_owned();
        if text.is_empty() {
            if at + 1 < self.lines.len() {
                self.wish = Some(Spot::Line(at + 1));
            } else if has_answer {
                let value = self.takeable(view, None).filter(|_| self.answer.trim().is_empty());
                match value {
                    Some((_, value)) => self.take(value),
                    None => self.wish = Some(Spot::Answer),
                }
            }
            return;
        }
        let above = kit::cursor_at_start(ui.ctx(), line_id(&self.lines[at]));
        self.entered = Some(text);
        let to = if above { at } else { at + 1 };
        let free = !above && self.lines.get(to).is_some_and(|l| l.text.trim().is_empty());
        if !free && self.lines.len() < MOST_LINES {
            let line = self.numbered(String::new());
            self.lines.insert(to, line);
        }
        self.wish = Some(Spot::Line(to));
    }

    /// Puts an earlier line in the place of this one, or a later one, or what was typed again.
    fn recall(&mut self, at: usize, view: &WorksheetView, by: isize) {
        let serial = self.lines[at].serial;
        let now = self.recalled.take().filter(|r| r.serial == serial);
        let draft = now.as_ref().map_or_else(|| self.lines[at].text.clone(), |r| r.draft.clone());
        let place = now.map_or(0, |r| r.at).saturating_add_signed(by).min(view.earlier.len());
        match place.checked_sub(1).and_then(|n| view.earlier.get(n)) {
            Some(earlier) => {
                self.lines[at].text.clone_from(earlier);
                self.recalled = Some(Recalled { serial, at: place, draft });
            }
            None => self.lines[at].text = draft,
        }
        self.wish = Some(Spot::Line(at));
    }

    /// What is to be told, where the sheet reads otherwise than what was told last.
    pub(super) fn tell(&mut self) -> Option<EditWorksheet> {
        self.tidy();
        let work = EditWorksheet { lines: self.texts(), answer: self.answer.clone(), entered: self.entered.take() };
        let changed = work.entered.is_some()
            || self.told.as_ref().is_none_or(|t| t.lines != work.lines || t.answer != work.answer);
        if !changed {
            return None;
        }
        self.told = Some(EditWorksheet { entered: None, ..work.clone() });
        Some(work)
    }
}

/// The keys of a worksheet.
pub(crate) const KEYS: [KeyLine; 5] = [
    KeyLine::of("ENTER", "On to the next line; on the empty last one: to the answer, with the last value"),
    KeyLine::of("↑, ↓", "From line to line"),
    KeyLine::of("BACKSPACE", "Take an empty line out"),
    KeyLine::of("CTRL ↑, CTRL ↓", "Recall an earlier line, a later one"),
    KeyLine::of("ESC", "Out of the field, so that the page’s own keys work"),
];

/// Accessible names of several results at once are made here, so that they are the same everywhere.
pub(crate) fn result_name(number: usize, value: &ValueView) -> String {
    format!("Result of line {number}: {}", value.spoken())
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;

    use super::*;
    use crate::present::worksheet::WorkLine;

    fn view(lines: &[&str]) -> WorksheetView {
        let line = |text: &&str| WorkLine { text: (*text).to_owned(), ..WorkLine::default() };
        WorksheetView { lines: lines.iter().map(line).collect(), ..WorksheetView::default() }
    }

    #[test]
    fn there_is_always_one_empty_line_to_go_on_with() {
        let mut local = WorksheetLocal::default();
        local.follow(&view(&[]), "");
        assert_eq!(local.lines.len(), 1);
        local.follow(&view(&["A = 1"]), "");
        assert_eq!((local.lines.len(), local.texts()), (2, vec!["A = 1".to_owned()]));
        assert_eq!(local.written(), ["A = 1"]);
        let serials: HashMap<u64, usize> = local.lines.iter().enumerate().map(|(n, l)| (l.serial, n)).collect();
        assert_eq!(serials.len(), 2, "each line has a number of its own");
    }

    #[test]
    fn what_was_told_is_not_told_again_and_what_comes_from_outside_holds() {
        let mut local = WorksheetLocal::default();
        local.follow(&view(&["A = 1", ""]), "2 m");
        assert_eq!(local.tell(), None);
        local.lines[1].text.push_str("B = A");
        let work = local.tell().expect("changed");
        assert_eq!(work.lines, ["A = 1", "B = A"]);
        local.follow(&view(&["A = 1", "B = A", ""]), "2 m");
        assert_eq!(local.tell(), None);
        local.follow(&view(&["C = 3"]), "");
        assert_eq!((local.texts(), local.answer.as_str()), (vec!["C = 3".to_owned()], ""));
    }
}
