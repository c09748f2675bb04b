//! A card in its form, which writes the card's file.

use eframe::egui::{Id, Ui};

use crate::app::program::command::{Command, WritingCommand};
use crate::app::program::route::{Route, WritePage};
use crate::domain::form::{CardForm, Shape};
use crate::present::writing::WriteFormView;
use crate::ui::keys;
use crate::ui::kit::{self, Act, Field, Mark, Panes, Room, Sheet, Side, field, heading, label, label_in, room};
use crate::ui::screens::writing::hand::marked_ui;
use crate::ui::screens::writing::heads::{kind_word, part_head};
use crate::ui::screens::writing::network::{BoardLocal, network_ui};
use crate::ui::screens::writing::plant::{GridLocal, plant_ui};
use crate::ui::screens::writing::points::{Draft, Typed, points_ui};
use crate::ui::screens::writing::side::problems_ui;
use crate::ui::theme::measure::{ANSWER, READING, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// What is typed into the form, and over what.
#[derive(Default)]
pub struct FormLocal {
    opened: Option<u64>,
    base: Option<CardForm>,
    draft: Draft,
    /// What is typed is not saved, and the page is to be left.
    asking: bool,
    fresh: bool,
    dirty: bool,
    grid: GridLocal,
    board: BoardLocal,
}

#[derive(Clone, PartialEq)]
enum FormAct {
    Save,
    Open,
    TakeTheirs,
    WriteMine,
    ThrowAway,
    GoOn,
    Place,
    Pull,
    Carry,
    Demand,
    LeaveNodeOut,
    AddStep,
    AddFact,
    LeaveOut,
}

impl FormLocal {
    /// Escape asks first where what is typed is not saved.
    pub fn takes_escape(&self) -> bool {
        self.dirty || self.asking || self.board.takes_escape()
    }

    /// Another form begins anew; a file that was changed shows where nothing has been typed.
    fn follow(&mut self, view: &WriteFormView) {
        let is_other = self.opened != Some(view.opened);
        let untouched = self.base.as_ref().is_none_or(|base| self.draft.form(base) == *base);
        let is_news = self.base.as_ref() != Some(&view.form);
        if self.base.as_ref().is_none_or(|base| base.id != view.form.id || view.is_new) && is_other {
            (self.grid, self.board) = Default::default();
        }
        if is_other || (untouched && is_news) {
            self.base = Some(view.form.clone());
            self.draft = Draft::of(&view.form);
        }
        if is_other {
            (self.opened, self.asking, self.fresh) = (Some(view.opened), false, view.is_new);
        }
        self.dirty = self.base.as_ref().is_some_and(|base| self.draft.form(base) != *base);
    }
}

/// Draws the form.
pub fn write_form_ui(ui: &mut Ui, view: &WriteFormView, local: &mut FormLocal) -> Option<Command> {
    local.follow(view);
    let clash = !view.is_new && local.base.as_ref().is_some_and(|base| *base != view.form);
    if local.board.takes_escape() && keys::take(ui, keys::ESC) {
        local.board.let_go();
    }
    if local.dirty && !local.asking && keys::take(ui, keys::ESC) {
        local.asking = true;
    }
    let acts = acts(local, clash);
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "write-form" };
    let (inside, act) = sheet.show(ui, &acts, |ui| content_ui(ui, view, local, clash));
    let base = local.base.clone()?;
    let save = |base: CardForm| {
        let form = local.draft.form(&base);
        Some(Command::Writing(WritingCommand::Save { form, base }))
    };
    match act {
        Some(FormAct::Save) => {
            let command = save(base);
            local.asking = false;
            command
        }
        Some(FormAct::WriteMine) => {
            // Whatever of it was typed is written; what was not is as the file has it now.
            let mine = local.draft.form(&base);
            let mut form = view.form.clone();
            for (part, (own, was)) in form.parts.iter_mut().zip(mine.parts.iter().zip(&base.parts)) {
                if own != was {
                    part.holds = own.holds.clone();
                }
            }
            Some(Command::Writing(WritingCommand::Save { form, base: view.form.clone() }))
        }
        Some(FormAct::TakeTheirs) => {
            (local.base, local.draft) = (Some(view.form.clone()), Draft::of(&view.form));
            None
        }
        Some(FormAct::ThrowAway) => {
            (local.asking, local.dirty, local.opened) = (false, false, None);
            Some(Command::Go(Route::Write(WritePage::Desk)))
        }
        Some(FormAct::GoOn) => {
            local.asking = false;
            None
        }
        Some(act @ (FormAct::Place | FormAct::Pull | FormAct::Carry | FormAct::Demand | FormAct::LeaveNodeOut)) => {
            let FormLocal { draft, board, .. } = local;
            let network = draft.network()?;
            match act {
                FormAct::Place => board.place(network),
                FormAct::Pull => board.pull(network),
                FormAct::Carry => board.carry(network),
                FormAct::Demand => board.demand(network),
                _ => board.leave_out(network),
            }
            None
        }
        Some(act @ (FormAct::AddStep | FormAct::AddFact | FormAct::LeaveOut)) => {
            let FormLocal { draft, grid, .. } = local;
            let plant = draft.plant()?;
            match act {
                FormAct::AddStep => grid.add_step(plant),
                FormAct::AddFact => grid.add_fact(plant),
                _ => grid.leave_out(plant),
            }
            None
        }
        Some(FormAct::Open) => {
            let (file, line) = view.written.split_once(", line ")?;
            let line = line.parse().ok()?;
            Some(Command::Writing(WritingCommand::OpenAt { file: file.to_owned(), line }))
        }
        None => inside,
    }
}

fn acts(local: &mut FormLocal, clash: bool) -> Vec<Act<FormAct>> {
    if local.asking {
        return vec![
            Act::primary("Save it", keys::CTRL_S, FormAct::Save).when(!clash),
            Act::other("Throw it away", keys::letter('D'), FormAct::ThrowAway),
            Act::other("Go on writing", keys::ESC, FormAct::GoOn),
        ];
    }
    if clash {
        return vec![
            Act::outlined("Take what the file says", keys::letter('T'), FormAct::TakeTheirs),
            Act::other("Write what I have changed", keys::letter('W'), FormAct::WriteMine),
        ];
    }
    let mut acts = vec![Act::primary("Save", keys::CTRL_S, FormAct::Save).when(local.dirty)];
    if local.draft.plant().is_some() {
        acts.extend([
            Act::other("Add a step", keys::letter('A'), FormAct::AddStep),
            Act::other("Add a fact", keys::letter('F'), FormAct::AddFact),
            Act::other("Leave the step out", keys::letter('L'), FormAct::LeaveOut),
        ]);
    }
    if local.draft.network().is_some() {
        acts.extend([
            Act::other("Place a node", keys::letter('N'), FormAct::Place),
            Act::other("Pull a pipe", keys::letter('P'), FormAct::Pull),
            Act::other("Move it", keys::letter('M'), FormAct::Carry),
            Act::other("Name a demand", keys::letter('D'), FormAct::Demand),
            Act::other("Leave it out", keys::letter('L'), FormAct::LeaveNodeOut),
        ]);
    }
    acts.push(Act::other("Open its file", keys::letter('O'), FormAct::Open));
    acts
}

fn content_ui(ui: &mut Ui, view: &WriteFormView, local: &mut FormLocal, clash: bool) -> Option<Command> {
    let p = theme::palette(ui);
    ui.add_space(S4);
    let kind = kind_word(view.form.kind);
    heading(
        ui,
        &if view.is_new { format!("A new card: {kind}") } else { format!("{kind}: {}", view.form.id) },
        Size::Head,
        Cut::Semi,
    );
    label_in(ui, READING, &view.written, Size::Label, Cut::Regular, p.ink_second);
    for words in told(view, local, clash) {
        ui.add_space(S8);
        marked_ui(ui, Mark::WedgeDown, &words);
    }
    let FormLocal { draft, grid, board, .. } = local;
    if let Some(plant) = draft.plant() {
        plant_ui(ui, plant, grid);
    }
    if let Some(network) = draft.network() {
        network_ui(ui, network, board);
    }
    ui.add_space(S8);
    let width = ui.available_width();
    let tiny = room(ui.ctx()) == Room::Tiny;
    let panes: Panes = kit::flowing(ui, if tiny { width } else { READING.min(width * 0.64) }, S24);
    let mut command = None;
    let bottom = panes.columns(ui, (panes.left, panes.right), |ui, side| match side {
        Side::Left => fields_ui(ui, view, local),
        Side::Right => command = beside_ui(ui, view).or(command.take()),
        Side::Under => {}
    });
    kit::end_of_panes(ui, bottom);
    ui.add_space(S24);
    command
}

/// What stands in the way, in sentences.
fn told(view: &WriteFormView, local: &FormLocal, clash: bool) -> Vec<String> {
    let mut told = Vec::new();
    if local.asking {
        told.push("What you have typed is not saved yet.".to_owned());
    }
    if clash {
        told.push(
            "The file was changed outside of this form meanwhile. Nothing is written until you say which holds."
                .to_owned(),
        );
    }
    if !view.trouble.is_empty() {
        told.push(view.trouble.clone());
    }
    told
}

fn beside_ui(ui: &mut Ui, view: &WriteFormView) -> Option<Command> {
    let p = theme::palette(ui);
    let note = if view.problems.is_empty() { "none as saved" } else { "as saved" };
    part_head(ui, "Problems of this card", note);
    let command = problems_ui(ui, &view.problems, 0);
    ui.add_space(S16);
    part_head(ui, "Keys", "");
    for words in
        ["Tab goes to the next field, Shift Tab back.", "Ctrl ↑ and Ctrl ↓ move the point that is being typed."]
    {
        ui.add_space(S4);
        label_in(ui, ui.available_width(), words, Size::Label, Cut::Regular, p.ink_second);
    }
    command
}

fn fields_ui(ui: &mut Ui, view: &WriteFormView, local: &mut FormLocal) {
    let width = ui.available_width().min(READING);
    if view.is_new {
        let says =
            "Lower-case letters, digits and hyphens. It stays with the card for ever: answers are filed under it.";
        let response = line_ui(ui, "id", "Id", says, width, &mut local.draft.id);
        if std::mem::take(&mut local.fresh) {
            response.request_focus();
        }
    }
    for (part, typed) in view.form.parts.iter().zip(&mut local.draft.parts) {
        let (name, says) = words_of(part.key);
        match (typed, part.shape) {
            (Typed::Text(text), Shape::Text) => text_ui(ui, part.key, name, says, 3, text),
            (Typed::Text(text), Shape::Number) => {
                line_ui(ui, part.key, name, says, ANSWER.min(width), text);
            }
            (Typed::Text(text), _) if part.key == "topic" => topic_ui(ui, view, name, width, text),
            (Typed::Text(text), _) => {
                line_ui(ui, part.key, name, says, width, text);
            }
            (Typed::Lines(lines), _) if part.key == "sources" => sources_ui(ui, view, name, lines),
            (Typed::Lines(lines), _) => text_ui(ui, part.key, name, says, 5, lines),
            // Over the whole width, above the fields.
            (Typed::Plant(_) | Typed::Network(_), _) => {}
            (Typed::Points(points), _) => {
                head_ui(ui, name, says);
                points_ui(ui, points);
            }
        }
    }
}

/// What a key is called for people, and what is to be written there.
fn words_of(key: &str) -> (&str, &'static str) {
    match key {
        "heading" => ("Section", "Your own, such as Earth faults; weak areas are shown down to it. May stay empty."),
        "ask" => ("Question", "As an examiner puts it."),
        "value" => ("Value", "One number and its unit, such as 30 bar."),
        "within" => ("Within", "How near is right: 1 bar, or 2 %. Empty: it must be equal."),
        "links" => ("Causes in their order", "One on each line, from the first to what was seen."),
        "false_links" => ("Causes that belong nowhere", "One on each line; they sound likely. May stay empty."),
        "points" => {
            ("Key points", "One to nine; each with two to five phrases of one to four words, as people say them.")
        }
        "because" => ("Reason", "Shown after the answer."),
        "caution" => ("Caution", "Where the work can hurt someone. May stay empty."),
        "sources" => ("Sources", ""),
        "seconds" => ("Seconds", "The time that a good spoken answer takes."),
        "weight" => ("Weight", "How much it matters: 1, 2 or 3. Empty: 2."),
        "topic" => ("Topic", ""),
        other => (other, ""),
    }
}

fn head_ui(ui: &mut Ui, name: &str, says: &str) {
    let p = theme::palette(ui);
    ui.add_space(S12);
    label(ui, name, Size::Label, Cut::Semi, p.ink);
    if !says.is_empty() {
        label_in(ui, READING, says, Size::Small, Cut::Regular, p.ink_second);
    }
    ui.add_space(S4);
}

fn line_ui(ui: &mut Ui, key: &str, name: &str, says: &str, width: f32, text: &mut String) -> eframe::egui::Response {
    head_ui(ui, name, says);
    field(ui, &Field::line(Id::new(("form", key)), name, width), text)
}

fn text_ui(ui: &mut Ui, key: &str, name: &str, says: &str, rows: usize, text: &mut String) {
    head_ui(ui, name, says);
    field(ui, &Field { rows, ..Field::line(Id::new(("form", key)), name, READING) }, text);
}

/// A competence by its key, with its title below; the arrows go through the list.
fn topic_ui(ui: &mut Ui, view: &WriteFormView, name: &str, width: f32, text: &mut String) {
    let p = theme::palette(ui);
    let response = line_ui(ui, "topic", name, "A competence of the STCW Code; ↑ and ↓ go through them.", width, text);
    let at = view.topics.iter().position(|(key, _)| key == text.trim());
    if response.has_focus() {
        let (up, down) = (keys::take_in_line(ui, keys::UP), keys::take_in_line(ui, keys::DOWN));
        let next = match (at, up, down) {
            (Some(at), true, _) => at.checked_sub(1),
            (Some(at), _, true) => Some(at + 1),
            (None, _, true) => Some(0),
            _ => None,
        };
        if let Some((key, _)) = next.and_then(|next| view.topics.get(next)) {
            text.clone_from(key);
        }
    }
    let title =
        at.and_then(|at| view.topics.get(at)).map_or("There is no such competence.", |(_, title)| title.as_str());
    label_in(ui, READING, title, Size::Small, Cut::Regular, p.ink_second);
}

/// The deck's sources, each with a box to tick; those that the card cites and the deck lacks stand among them.
fn sources_ui(ui: &mut Ui, view: &WriteFormView, name: &str, lines: &mut String) {
    head_ui(ui, name, "New ones are written in deck.toml.");
    let mut cited: Vec<String> = lines.lines().map(str::to_owned).collect();
    let unknown = cited.iter().filter(|key| view.sources.iter().all(|(known, _)| known != *key)).cloned();
    let unknown: Vec<(String, String)> =
        unknown.map(|key| (key.clone(), format!("{key}, which the deck does not have"))).collect();
    for (key, title) in view.sources.iter().chain(&unknown) {
        let is_cited = cited.contains(key);
        if kit::toggle(ui, is_cited, title).clicked() {
            if is_cited {
                cited.retain(|one| one != key);
            } else {
                cited.push(key.clone());
            }
        }
    }
    *lines = cited.join("\n");
}
