//! A card of the watch, from the question to the outcome that is accepted: the sheet on which a card of any kind lies.

pub(crate) mod act;
pub(crate) mod aside;
mod changed;
mod face;
pub(crate) mod kinds;
pub(crate) mod outcome;
pub(crate) mod prompt;
mod remedy;
pub(crate) mod typed;

use eframe::egui::{Align, Ui, UiBuilder, vec2};

use crate::app::program::command::{CardCommand, Command, WatchCommand, WritingCommand};
use crate::domain::ids::CardKey;
use crate::present::WatchCardView;
use crate::present::stage::Stage;
use crate::ui::keys::{self, KeyLine};
use crate::ui::kit::{self, Act, Sheet};
use crate::ui::screens::card::act::{CardAct, Moment};
use crate::ui::screens::card::aside::AsideLocal;
use crate::ui::screens::card::changed::{changed_sheet_ui, changed_ui};
use crate::ui::screens::card::face::{Canvas, CardFace, Foot, Layout};
use crate::ui::screens::card::kinds::Drafts;
use crate::ui::screens::card::outcome::{RESULT, RESULT_LINE, ResultAt, outcome_line_ui, outcome_ui};
use crate::ui::screens::card::prompt::{Prompt, prompt_ui};
use crate::ui::theme::measure::{READING, S12};
use crate::ui::theme::{self, Cut, Size};

/// Drafts on a card: what is typed, what is placed.
#[derive(Default)]
pub struct CardLocal {
    card: Option<CardKey>,
    stage: Option<std::mem::Discriminant<Stage>>,
    pub(super) drafts: Drafts,
    aside: AsideLocal,
    pub(super) picture: kit::PictureLocal,
    result_at: ResultAt,
    revealed: bool,
    /// What was changed of it stands in its place.
    shows_changed: bool,
    /// Escape leads back on the card first.
    escapes: bool,
    /// The sheet is to be brought to its top.
    to_top: bool,
}

impl CardLocal {
    /// Escape closes a line or a choice on the card first, and only then leaves it.
    pub fn takes_escape(&self) -> bool {
        self.aside.open() || self.escapes
    }

    /// On another page the picture is not drawn any more.
    pub fn put_picture_away(&mut self) {
        self.picture.clear();
        self.drafts.put_drawing_away();
    }

    /// A new card, or the same one asked again, begins with no drafts; true then.
    pub(super) fn follow(&mut self, view: &WatchCardView) -> bool {
        let stage = std::mem::discriminant(&view.stage);
        let asked = view.stage.is_asked();
        let fresh = self.card.as_ref() != Some(&view.key) || (asked && self.stage != Some(stage));
        if fresh {
            *self = Self { card: Some(view.key.clone()), drafts: Drafts::fresh(), to_top: true, ..Self::default() };
        }
        self.revealed = !asked && self.stage != Some(stage);
        self.stage = Some(stage);
        fresh
    }
}

/// Draws the card.
pub fn watch_card_ui(ui: &mut Ui, view: &WatchCardView, local: &mut CardLocal) -> Option<Command> {
    let fresh = local.follow(view);
    if fresh && let Some(focused) = ui.memory(|m| m.focused()) {
        ui.memory_mut(|m| m.surrender_focus(focused));
    }
    if view.clock_runs {
        ui.ctx().request_repaint_after(std::time::Duration::from_secs(1));
    }
    let mut face = kinds::face(view, &mut local.drafts);
    face.follow(ui);
    let layout = face.layout(ui);
    if let Some(changed) = view.changed.as_ref().filter(|changed| local.shows_changed && changed.parts.is_some()) {
        local.shows_changed = !changed_sheet_ui(ui, changed);
        local.escapes = local.shows_changed;
        return None;
    }
    let (mut acts, taken_back) = offered(ui, view, face.as_ref(), &local.aside);
    let result = view.stage.result().filter(|_| face.is_settled());
    let changed = view.changed.as_ref().filter(|changed| changed.parts.is_some() && result.is_some());
    // Where the card takes the whole sheet, what was changed has one of its own.
    let is_full = layout.is_board || layout.foot.is_some();
    if changed.is_some() && is_full && !local.aside.open() {
        acts.push(Act::other("What was changed", keys::letter('D'), CardAct::ShowChanged));
    }
    let at = if layout.is_board || layout.in_strip { ResultAt::Strip } else { local.result_at };
    let strip = match (layout.foot, result, at) {
        (Some(height), ..) => height,
        (None, Some(_), ResultAt::Strip) if layout.one_line => RESULT_LINE,
        (None, Some(_), ResultAt::Strip) => RESULT,
        _ => 0.0,
    };
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: layout.folded, scroll: layout.scroll };
    let shown = sheet.show_with_strip(ui, &acts, strip, |ui| {
        let top = ui.cursor().top();
        if std::mem::take(&mut local.to_top) {
            // The card before may have been left scrolled down.
            let above = ui.cursor().translate(vec2(0.0, -ui.max_rect().height()));
            ui.scroll_to_rect(above, Some(Align::TOP));
        }
        let prompt = prompt_of(ui, view, result.is_some());
        let marked = view.stage.result();
        let (picture, reading, at) = (&mut local.picture, view.reading, local.result_at);
        let mut canvas = Canvas { prompt, reading, picture, result: marked, at, top };
        if !layout.own_question {
            prompt_ui(ui, &canvas.prompt, canvas.picture);
            if local.revealed && kit::room(ui.ctx()) == kit::Room::Tiny {
                ui.scroll_to_cursor(Some(Align::TOP));
            }
        }
        let command = face.body_ui(ui, &mut canvas);
        if let Some(source) = long_source(view).filter(|_| result.is_some() && layout.foot.is_none()) {
            long_source_ui(ui, source);
        }
        if let Some(changed) = changed.filter(|_| !is_full) {
            changed_ui(ui, changed);
        }
        if !layout.is_board || local.aside.open() {
            local.aside.content_ui(ui);
        }
        command
    });
    let mut command = shown.inner;
    if layout.foot.is_some() {
        let source = long_source(view);
        let foot = Foot { strip: shown.strip, beside: shown.beside, result: view.stage.result(), source };
        command = face.foot_ui(ui, &foot).or(command);
    } else if let Some(result) = result {
        if at == ResultAt::Strip {
            let place = shown.strip.with_min_y(shown.strip.top() + if layout.one_line { 0.0 } else { S12 });
            let mut child = ui.new_child(UiBuilder::new().id_salt("result").max_rect(place));
            let ui = &mut child;
            command = if layout.one_line { outcome_line_ui(ui, result) } else { outcome_ui(ui, result) }.or(command);
        }
        local.result_at = result_place(&layout, at, shown.content, shown.free);
        if local.result_at != at {
            ui.ctx().request_discard("the outcome moves into sight");
            // What this pass brought to its top is thrown away with it; a working looks at its own verdict.
            local.to_top = fresh && !layout.own_question;
        }
    }
    let done = match shown.act {
        Some(CardAct::Run(command)) => Some(command),
        Some(CardAct::Own(own)) => face.run(ui, own),
        Some(CardAct::ShowChanged) => {
            local.shows_changed = true;
            None
        }
        Some(CardAct::Aside(act)) => local.aside.run(&act, &view.key, view.today),
        None => None,
    };
    local.escapes = face.takes_escape() || view.reading;
    done.or(taken_back).or(command)
}

/// Where the outcome stands in the next frame: in the strip where it would be out of sight under the answer.
fn result_place(layout: &Layout, at: ResultAt, content: f32, free: f32) -> ResultAt {
    let without = content - if at == ResultAt::Answer { RESULT } else { 0.0 };
    let hidden = layout.is_board || layout.in_strip || without + RESULT > free;
    if hidden { ResultAt::Strip } else { ResultAt::Answer }
}

/// What may be done, and whether the last answer was taken back by its key alone.
fn offered(
    ui: &Ui,
    view: &WatchCardView,
    face: &dyn CardFace,
    aside: &AsideLocal,
) -> (Vec<Act<CardAct>>, Option<Command>) {
    let tiny = kit::room(ui.ctx()) == kit::Room::Tiny;
    let mut taken_back = None;
    let mut acts = if aside.open() {
        aside.acts().into_iter().map(|act| act.map(CardAct::Aside)).collect()
    } else {
        face.acts(Moment { keeping: view.keeping, reading: view.reading, tiny })
    };
    if view.can_take_back && view.stage.is_asked() && !view.reading && !aside.open() {
        if tiny {
            // Its key does the same without a place of its own.
            taken_back = keys::take(ui, keys::TAKE_BACK).then_some(Command::Watch(WatchCommand::TakeBack));
        } else {
            acts.push(Act::other(
                "Take back the last answer",
                keys::TAKE_BACK,
                CardAct::Run(Command::Watch(WatchCommand::TakeBack)),
            ));
        }
    }
    if view.in_oral || view.tried {
        acts.retain(|act| !matches!(act.value, CardAct::Aside(_)));
    }
    if view.tried {
        tried(view, face, &mut acts);
    }
    if view.stage.result().is_some_and(|result| result.withheld) {
        acts.retain(|act| !act.value.shows_what_is_right());
    }
    (acts, taken_back)
}

/// What is done to a card by whoever writes it: its answer is put away, and looked into.
fn tried(view: &WatchCardView, face: &dyn CardFace, acts: &mut Vec<Act<CardAct>>) {
    let is_accept = |act: &Act<CardAct>| matches!(act.value, CardAct::Run(Command::Card(CardCommand::Accept)));
    for act in acts.iter_mut().filter(|act| is_accept(act)) {
        act.name = "Put the answer away";
    }
    if view.stage.is_marked() && face.is_settled() {
        let tell = CardAct::Run(Command::Writing(WritingCommand::Tell));
        acts.insert(acts.len().min(1), Act::other("How it was marked", keys::letter('H'), tell));
    }
}

fn prompt_of<'a>(ui: &Ui, view: &'a WatchCardView, answered: bool) -> Prompt<'a> {
    // In an oral the clocks stand over the sheet.
    let clock = (!view.in_oral && !matches!(view.stage, Stage::Remedy(_))).then_some(view.seconds);
    Prompt {
        kind: view.kind,
        place: &view.place,
        changed: view.changed.as_ref().map(|changed| changed.heading.as_str()),
        clock,
        limit: view.limit,
        ask: &view.ask,
        caution: view.caution.as_deref(),
        picture: view.picture.as_ref(),
        pinned: view.in_oral && kit::room(ui.ctx()) == kit::Room::Tiny,
        answered,
    }
}

/// Sources too long for the title block are said in full under the answer.
fn long_source_ui(ui: &mut Ui, source: &str) {
    ui.add_space(S12);
    let quiet = theme::palette(ui).ink_second;
    kit::label_in(ui, READING, &format!("Source: {source}"), Size::Label, Cut::Regular, quiet);
}

fn long_source(view: &WatchCardView) -> Option<&str> {
    const FITS: usize = 100;
    let source = view.block.rows.iter().find(|r| r.label == "Source" && r.value.chars().count() > FITS);
    source.map(|row| row.value.as_str())
}

/// The keys of the card that are no action's.
pub(super) fn key_lines(view: &WatchCardView, local: &mut CardLocal) -> Vec<KeyLine> {
    let mut lines = kinds::face(view, &mut local.drafts).keys();
    if view.stage.result().is_some_and(|result| result.down().is_some() || result.up().is_some()) {
        lines.push(KeyLine::of("−, +", "Adjust the result by one"));
    }
    lines
}
