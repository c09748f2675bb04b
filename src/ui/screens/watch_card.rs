//! A card of the watch, from the question to the outcome that is accepted.

use eframe::egui::{Align, Response, Ui, UiBuilder, vec2};

use crate::app::command::Command;
use crate::domain::card::Kind;
use crate::domain::ids::CardKey;
use crate::present::WatchCardView;
use crate::present::watch::Stage;
use crate::ui::keys;
use crate::ui::kit::{self, Act, Sheet};
use crate::ui::screens::lineup::{LineupAct, LineupLocal};
use crate::ui::screens::parts::{
    AsideAct, AsideLocal, Prompt, RESULT, RESULT_LINE, ResultAt, outcome_line_ui, outcome_ui, prompt_ui,
};
use crate::ui::screens::point::{PointAct, PointLocal};
use crate::ui::screens::sequence::{SequenceAct, SequenceLocal};
use crate::ui::screens::working::{WorkingAct, WorkingLocal};
use crate::ui::screens::{figure, lineup, lineup_foot, point, recall, remedy, sequence, why, working};
use crate::ui::theme::measure::{READING, S12};
use crate::ui::theme::{self, Cut, Size};

/// Drafts on a card: what is typed, what is placed.
#[derive(Default)]
pub struct CardLocal {
    card: Option<CardKey>,
    stage: Option<std::mem::Discriminant<Stage>>,
    pub(super) typed: String,
    pub(super) why: why::WhyLocal,
    sequence: SequenceLocal,
    lineup: LineupLocal,
    working: WorkingLocal,
    point: PointLocal,
    pub(super) aside: AsideLocal,
    pub(super) picture: kit::PictureLocal,
    result_at: ResultAt,
    revealed: bool,
    /// Escape leads back on the card first.
    escapes: bool,
    /// The field for the answer is to have the focus: a new question stands.
    wants_focus: bool,
    /// The sheet is to be brought to its top.
    to_top: bool,
    /// In which pass the field was last drawn.
    field_pass: u64,
}

impl CardLocal {
    /// Escape closes a line or a choice on the card first, and only then leaves it.
    pub fn takes_escape(&self) -> bool {
        self.aside.open()
            || self.sequence.takes_escape()
            || self.lineup.takes_escape()
            || self.escapes
            || self.point.takes_escape()
    }

    /// On another page the picture is not drawn any more.
    pub fn put_picture_away(&mut self) {
        self.picture.clear();
        self.point.drawing.clear();
    }

    /// Gives the field for the answer the focus once: when a new question stands, and when it comes back from behind
    /// another sheet. Who leaves it by Escape is not put into it again.
    pub(super) fn take_field(&mut self, ui: &Ui, field: &Response) {
        let pass = ui.ctx().cumulative_pass_nr();
        let was_away = self.field_pass + 1 < pass;
        self.field_pass = pass;
        if std::mem::take(&mut self.wants_focus) || was_away {
            field.request_focus();
        }
    }

    /// A new card, or the same one asked again, begins with no drafts; true then.
    pub(super) fn follow(&mut self, view: &WatchCardView) -> bool {
        let stage = std::mem::discriminant(&view.stage);
        let asked = view.stage.is_asked();
        let fresh = self.card.as_ref() != Some(&view.key) || (asked && self.stage != Some(stage));
        if fresh {
            *self = Self { card: Some(view.key.clone()), wants_focus: true, to_top: true, ..Self::default() };
        }
        self.revealed = !asked && self.stage != Some(stage);
        self.stage = Some(stage);
        self.escapes = working::takes_escape(&view.stage);
        fresh
    }
}

/// What may be done on a card.
#[derive(Clone)]
pub(super) enum CardAct {
    /// A command as it stands.
    Run(Command),
    /// Put the cursor into the answer's field.
    Type,
    /// Hand in what is typed or placed.
    HandIn,
    /// Something on a sequence.
    Sequence(SequenceAct),
    /// Something on a line-up.
    Lineup(LineupAct),
    /// Something on a working.
    Working(WorkingAct),
    /// Something on a point card.
    Point(PointAct),
    /// Setting aside, or reporting a fault.
    Aside(AsideAct),
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
    match &view.stage {
        Stage::SequenceRun(run) => local.sequence.follow(ui, run),
        Stage::LineupChecked(checked) => local.lineup.follow(ui, checked),
        _ => {}
    }
    let of_lineup = lineup::is_lineup(&view.stage);
    let with_foot = of_lineup && lineup_foot::has_place(ui);
    if with_foot {
        local.lineup.take_pages(ui);
    }
    let mut acts = acts(view, local, kit::room(ui.ctx()) == kit::Room::Tiny);
    let mut taken_back = None;
    if view.can_take_back && view.stage.is_asked() && !local.aside.open() {
        if kit::room(ui.ctx()) == kit::Room::Tiny {
            // Its key does the same without a place of its own.
            taken_back = keys::take(ui, keys::TAKE_BACK).then_some(Command::TakeBack);
        } else {
            acts.push(Act::other("Take back the last answer", keys::TAKE_BACK, CardAct::Run(Command::TakeBack)));
        }
    }
    if view.in_oral {
        acts.retain(|act| !matches!(act.value, CardAct::Aside(_)));
    }
    if view.stage.result().is_some_and(|result| result.withheld) {
        acts.retain(|act| !act.value.shows_what_is_right());
    }
    let of_sequence = sequence::is_sequence(&view.stage);
    let scroll = if of_sequence { "sequence" } else { "card" };
    // A sequence and a drawing need the height, and keep the outcome in sight above the actions.
    let of_point = view.kind == Kind::Point && !matches!(view.stage, Stage::Remedy { .. });
    let folded = view.kind == Kind::Sequence || of_point;
    let sheet = Sheet { framed: true, block: Some(&view.block), folded, scroll };
    let of_board = of_sequence || of_lineup;
    let at = if of_board || of_point { ResultAt::Strip } else { local.result_at };
    let settled =
        sequence::shows_outcome(&view.stage, &local.sequence) && lineup::shows_outcome(&view.stage, &local.lineup);
    let result = view.stage.result().filter(|_| settled);
    let low = if of_point { point::is_low(ui.ctx()) } else { kit::is_low(ui.ctx()) };
    let strip = match (result, at) {
        _ if with_foot => lineup_foot::height(ui, &view.stage),
        (Some(_), ResultAt::Strip) if low => RESULT_LINE,
        (Some(_), ResultAt::Strip) => RESULT,
        _ => 0.0,
    };
    let shown = sheet.show_with_strip(ui, &acts, strip, |ui| {
        let top = ui.cursor().top();
        if std::mem::take(&mut local.to_top) {
            // The card before may have been left scrolled down.
            let above = ui.cursor().translate(vec2(0.0, -ui.max_rect().height()));
            ui.scroll_to_rect(above, Some(Align::TOP));
        }
        // In an oral the clocks stand over the sheet.
        let clock = (!view.in_oral && !matches!(view.stage, Stage::Remedy { .. })).then_some(view.seconds);
        let prompt = Prompt {
            kind: view.kind,
            place: &view.place,
            clock,
            limit: view.limit,
            ask: &view.ask,
            caution: view.caution.as_deref(),
            picture: view.picture.as_ref(),
            pinned: view.in_oral && kit::room(ui.ctx()) == kit::Room::Tiny,
            answered: result.is_some(),
        };
        let command = if working::is_working(&view.stage) {
            let prompt = Prompt { picture: None, ..prompt };
            let picture = (view.picture.as_ref(), &mut local.picture);
            working::card_ui(ui, &prompt, picture, &view.stage, &mut local.working, local.result_at)
        } else {
            prompt_ui(ui, &prompt, &mut local.picture);
            None
        };
        if local.revealed && !working::is_working(&view.stage) && kit::room(ui.ctx()) == kit::Room::Tiny {
            ui.scroll_to_cursor(Some(Align::TOP));
        }
        let shown = view.shown.as_ref().and_then(|shown| kit::part_shown(ui, shown, &mut local.point.drawing));
        let command = stage_ui(ui, view, local, top).or(shown).or(command);
        if let Some(source) = long_source(view).filter(|_| result.is_some() && !with_foot) {
            long_source_ui(ui, source);
        }
        if !of_board || local.aside.open() {
            local.aside.content_ui(ui);
        }
        command
    });
    let mut command = shown.inner;
    if with_foot {
        let place = lineup_foot::Place { strip: shown.strip, beside: shown.beside };
        let asked = lineup_foot::foot_ui(ui, &view.stage, long_source(view), &mut local.lineup, &place);
        command = asked.or(command);
    } else if let Some(result) = result {
        if at == ResultAt::Strip {
            let place = shown.strip.with_min_y(shown.strip.top() + if low { 0.0 } else { S12 });
            let mut child = ui.new_child(UiBuilder::new().id_salt("result").max_rect(place));
            let ui = &mut child;
            command = if low { outcome_line_ui(ui, result) } else { outcome_ui(ui, result) }.or(command);
        }
        let without = shown.content - if at == ResultAt::Answer { RESULT } else { 0.0 };
        let hidden = of_board || of_point || without + RESULT > shown.free;
        local.result_at = if hidden { ResultAt::Strip } else { ResultAt::Answer };
        if local.result_at != at {
            ui.ctx().request_discard("the outcome moves into sight");
            // What this pass brought to its top is thrown away with it; a working looks at its own verdict.
            local.to_top = fresh && !working::is_working(&view.stage);
        }
    }
    shown.act.and_then(|act| run(ui, act, view, local)).or(taken_back).or(command)
}

impl CardAct {
    /// It shows what would have been right, or lets the learner find it out.
    fn shows_what_is_right(&self) -> bool {
        matches!(
            self,
            CardAct::Sequence(SequenceAct::Mend | SequenceAct::RightOrder)
                | CardAct::Lineup(LineupAct::Mend | LineupAct::Right)
                | CardAct::Working(WorkingAct::Method)
                | CardAct::Run(Command::Explain | Command::TryAgain | Command::FreshFigures)
        )
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

fn acts(view: &WatchCardView, local: &CardLocal, tiny: bool) -> Vec<Act<CardAct>> {
    if local.aside.open() {
        return wrapped(local.aside.acts(), CardAct::Aside);
    }
    match &view.stage {
        Stage::RecallAsked => recall::acts(local),
        Stage::FigureAsked { .. } => {
            let ready = !local.typed.trim().is_empty();
            vec![Act::primary("Mark it", keys::ENTER, CardAct::HandIn).when(ready)]
        }
        Stage::WhyAsked { links } => why::acts(&local.why, links.len()),
        Stage::SequenceAsked(_) | Stage::SequenceRun(_) => sequence::acts(&view.stage, &local.sequence, view.keeping),
        Stage::LineupAsked(_) | Stage::LineupChecked(_) => lineup::acts(&view.stage, &local.lineup, view.keeping, tiny),
        Stage::WorkingAsked(_) | Stage::WorkingMarked(_) => working::acts(&view.stage, &local.working, view.keeping),
        Stage::PointAsked(_) | Stage::PointMarked(_) => point::acts(&view.stage, &local.point, view.keeping),
        Stage::Remedy { parts, shown, .. } => {
            let name = if *shown < parts.len() { "Next part" } else { "On with the watch" };
            vec![Act::primary(name, keys::SPACE, CardAct::Run(Command::RemedyOn))]
        }
        Stage::RecallShown { .. } | Stage::FigureMarked { .. } | Stage::WhyMarked { .. } => vec![
            Act::primary("Accept", keys::SPACE, CardAct::Run(Command::Accept)).when(!view.keeping),
            Act::other("Set aside", keys::letter('A'), CardAct::Aside(AsideAct::Choose)),
            Act::other("Report a fault", keys::letter('F'), CardAct::Aside(AsideAct::Report)),
        ],
    }
}

fn wrapped<A>(acts: Vec<Act<A>>, wrap: fn(A) -> CardAct) -> Vec<Act<CardAct>> {
    acts.into_iter()
        .map(|a| Act {
            name: a.name,
            hot: a.hot,
            primary: a.primary,
            outlined: a.outlined,
            enabled: a.enabled,
            value: wrap(a.value),
        })
        .collect()
}

fn stage_ui(ui: &mut Ui, view: &WatchCardView, local: &mut CardLocal, top: f32) -> Option<Command> {
    match &view.stage {
        Stage::RecallAsked => {
            recall::asked_ui(ui, local);
            None
        }
        Stage::RecallShown { points, typed, result } => {
            recall::shown_ui(ui, points, typed.as_deref(), (result, local.result_at), false)
        }
        Stage::FigureAsked { hint } => {
            figure::asked_ui(ui, hint, local);
            None
        }
        Stage::FigureMarked { given, expected, error, tell, tone, result } => {
            let marked = figure::Marked { given, expected, error, tell: tell.as_deref(), tone: *tone };
            figure::marked_ui(ui, &marked, (result, local.result_at))
        }
        Stage::WhyAsked { links } => {
            why::asked_ui(ui, links, &mut local.why);
            None
        }
        Stage::WhyMarked { given, right, result } => why::marked_ui(ui, given, right, (result, local.result_at)),
        Stage::SequenceAsked(_) | Stage::SequenceRun(_) => {
            let used = ui.cursor().top() - top;
            sequence::sequence_ui(ui, &view.stage, &mut local.sequence, used)
        }
        Stage::LineupAsked(_) | Stage::LineupChecked(_) => {
            let used = ui.cursor().top() - top;
            lineup::lineup_ui(ui, &view.stage, &mut local.lineup, used)
        }
        // Drawn with its question, in `watch_card_ui`.
        Stage::WorkingAsked(_) | Stage::WorkingMarked(_) => None,
        Stage::PointAsked(_) | Stage::PointMarked(_) => {
            let used = ui.cursor().top() - top;
            point::point_ui(ui, &view.stage, &mut local.point, used)
        }
        Stage::Remedy { intro, parts, shown } => {
            remedy::remedy_ui(ui, intro, parts, *shown);
            None
        }
    }
}

fn run(ui: &Ui, act: CardAct, view: &WatchCardView, local: &mut CardLocal) -> Option<Command> {
    match act {
        CardAct::Run(command) => Some(command),
        CardAct::Type => {
            ui.memory_mut(|m| m.request_focus(recall::field_id()));
            None
        }
        CardAct::HandIn => match &view.stage {
            Stage::WhyAsked { links } => Some(why::hand_in(&local.why, links)),
            _ => Some(Command::Submit(crate::domain::answer::Given::Text(local.typed.trim().to_owned()))),
        },
        CardAct::Sequence(act) => sequence::run(&act, &view.stage, &mut local.sequence),
        CardAct::Lineup(act) => {
            // Checked, the valves give the keys back to the card.
            if let (LineupAct::Check, Some(focused)) = (&act, ui.memory(|m| m.focused())) {
                ui.memory_mut(|m| m.surrender_focus(focused));
            }
            lineup::run(&act, &view.stage, &mut local.lineup)
        }
        CardAct::Working(act) => working::run(&act, &view.stage, &mut local.working),
        CardAct::Point(act) => point::run(ui, &act, &view.stage, &mut local.point),
        CardAct::Aside(act) => local.aside.run(&act, &view.key, view.today),
    }
}
