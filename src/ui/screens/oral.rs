//! A sitting being sat: the thread so far, the question with its answer, the clocks.

use eframe::egui::{Align2, Id, Rect, Ui, UiBuilder, pos2, vec2};

use crate::app::command::Command;
use crate::domain::answer::Given;
use crate::domain::oral::Way;
use crate::present::OralView;
use crate::present::watch::Stage;
use crate::ui::keys;
use crate::ui::kit::{self, Act, Field, Mark, Room, Sheet, field, label_in, mark, paint_in, rich};
use crate::ui::screens::oral_parts::{clocks_line_ui, clocks_ui, thread_ui, ways_ui};
use crate::ui::screens::parts::{ResultAt, caution_in};
use crate::ui::screens::watch_card::{CardLocal, watch_card_ui};
use crate::ui::screens::{figure, recall};
use crate::ui::theme::measure::{PROMPT, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Drafts of a sitting.
#[derive(Default)]
pub struct OralLocal {
    card: CardLocal,
}

impl OralLocal {
    /// Escape closes what is open on the card first.
    pub fn takes_escape(&self) -> bool {
        self.card.takes_escape()
    }

    /// On another page the picture is not drawn any more.
    pub fn put_picture_away(&mut self) {
        self.card.put_picture_away();
    }
}

/// Draws a sitting.
pub fn oral_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    if view.card.clock_runs {
        ui.ctx().request_repaint_after(std::time::Duration::from_secs(1));
    }
    if view.paused {
        return paused_ui(ui, view);
    }
    let by_key = way_keys(ui, view);
    let command = if view.wide { wide_ui(ui, view, local) } else { sheet_ui(ui, view, local) };
    by_key.or(command)
}

fn asked(view: &OralView) -> bool {
    view.card.stage.is_asked()
}

fn way_keys(ui: &Ui, view: &OralView) -> Option<Command> {
    if !asked(view) {
        return None;
    }
    [(keys::SPEAK, Way::Speak), (keys::WRITE, Way::Write), (keys::SECOND, Way::Second)]
        .into_iter()
        .find(|(hot, way)| keys::take(ui, *hot) && view.way != *way)
        .map(|(_, way)| Command::AnswerBy(way))
}

/// The clock stands: the question is put away, as an examiner would.
fn paused_ui(ui: &mut Ui, view: &OralView) -> Option<Command> {
    let acts = [
        Act::primary("Go on", keys::ENTER, Command::PauseOral(false)),
        Act::other("End the sitting here", keys::letter('E'), Command::BreakOffOral),
        Act::other("Leave it for later", keys::letter('L'), Command::LeaveOral),
    ];
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: "oral-paused" };
    let ((), act) = sheet.show(ui, &acts, |ui| {
        let p = theme::palette(ui);
        ui.add_space(S40);
        kit::heading(ui, "The clock stands", Size::Prompt, Cut::Semi);
        ui.add_space(S8);
        let words = "Nothing that is kept is lost, whatever you do now. Go on, and the same question stands again. End the sitting here, and it is \
                     marked by what was answered.";
        label_in(ui, PROMPT, words, Size::Body, Cut::Regular, p.ink_second);
    });
    act
}

/// Sequences, line-ups, workings, points and whys take the whole sheet, under a band with the clocks.
fn wide_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    let whole = ui.available_rect_before_wrap();
    let band = Rect::from_min_size(whole.min, vec2(whole.width(), S40));
    let mut command = None;
    let mut right = band.right();
    if asked(view) {
        for (name, hot, wish) in [
            ("Pause", keys::letter('P'), Command::PauseOral(true)),
            ("Nothing to say", keys::letter('K'), Command::RunDry),
        ] {
            let (response, left) = kit::link(ui, pos2(right, band.center().y), name, hot);
            if response.clicked() || keys::take(ui, hot) {
                command = Some(wish);
            }
            right = left - S16;
        }
    }
    clocks_line_ui(ui, band.with_max_x(right), view);
    let rest = Rect::from_min_max(pos2(whole.left(), band.bottom()), whole.max);
    let mut child = ui.new_child(UiBuilder::new().id_salt("oral-card").max_rect(rest));
    watch_card_ui(&mut child, &view.card, &mut local.card).or(command)
}

/// What can be done on the sheet.
#[derive(Clone)]
enum OralAct {
    Run(Command),
    HandIn,
    Note,
}

fn acts(view: &OralView, local: &CardLocal) -> Vec<Act<OralAct>> {
    let run = |command| OralAct::Run(command);
    if !asked(view) {
        let keep = Act::primary("Keep the answer", keys::ENTER, run(Command::Accept)).when(!view.card.keeping);
        let mut acts = vec![keep];
        if view.sound.recorded {
            let name = if view.sound.playing { "Stop playing" } else { "Hear it again" };
            acts.push(Act::other(name, keys::letter('H'), run(Command::HearAgain)));
        }
        if view.sound.aloud && view.way != Way::Write {
            acts.push(read_act(view));
        }
        if view.way == Way::Second {
            acts.push(Act::other("Write a note", keys::letter('W'), OralAct::Note));
        }
        return acts;
    }
    let mut acts = match (view.way, &view.card.stage) {
        (Way::Write, Stage::FigureAsked { .. }) => {
            vec![Act::primary("Hand in", keys::ENTER, OralAct::HandIn).when(!local.typed.trim().is_empty())]
        }
        (Way::Write, _) => {
            vec![Act::primary("Hand in", keys::CTRL_ENTER, OralAct::HandIn).when(!local.typed.trim().is_empty())]
        }
        _ => vec![Act::primary("Finish the answer", keys::ENTER, run(Command::FinishSpeaking))],
    };
    acts.push(Act::other("Nothing to say", keys::letter('K'), run(Command::RunDry)));
    acts.push(Act::other("Pause", keys::letter('P'), run(Command::PauseOral(true))));
    if view.way != Way::Write || view.sound.aloud {
        acts.push(read_act(view));
    }
    acts
}

fn read_act(view: &OralView) -> Act<OralAct> {
    let name = if view.sound.reading { "Silence" } else { "Read aloud" };
    Act::other(name, keys::letter('R'), OralAct::Run(Command::ReadAgain))
}

fn note_id() -> Id {
    Id::new("oral-note")
}

fn sheet_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    local.card.follow(&view.card);
    let room = kit::room(ui.ctx());
    let acts = acts(view, &local.card);
    // Space goes on where nothing else has it: an oral can be sat without looking at the screen.
    let by_space = (asked(view) && view.way != Way::Write || !asked(view)) && keys::take(ui, keys::SPACE);
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: "oral" };
    let (inner, act) = sheet.show(ui, &acts, |ui| match room {
        Room::Tiny => {
            let (_, band) = ui.allocate_space(vec2(ui.available_width(), S24 + S4));
            clocks_line_ui(ui, band, view);
            middle_ui(ui, view, local)
        }
        _ => columns_ui(ui, view, local, room),
    });
    let act = act.or_else(|| by_space.then(|| acts[0].value.clone()).filter(|_| acts[0].enabled));
    match act {
        Some(OralAct::Run(command)) => Some(command),
        Some(OralAct::HandIn) => Some(Command::Submit(Given::Text(local.card.typed.trim().to_owned()))),
        Some(OralAct::Note) => {
            ui.memory_mut(|m| m.request_focus(note_id()));
            inner
        }
        None => inner,
    }
}

fn columns_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal, room: Room) -> Option<Command> {
    let (left, right) = if room == Room::Full { (224.0, 200.0) } else { (184.0, 160.0) };
    let gap = if room == Room::Full { S40 } else { S24 };
    let whole = ui.max_rect();
    let top = ui.cursor().top();
    let middle = whole.width() - left - right - 2.0 * gap;
    let place = |x: f32, width: f32| Rect::from_min_size(pos2(whole.left() + x, top), vec2(width, f32::INFINITY));
    let mut bottom = top;
    let mut child = ui.new_child(UiBuilder::new().id_salt("thread").max_rect(place(0.0, left)));
    thread_ui(&mut child, &view.thread);
    bottom = child.min_rect().bottom().max(bottom);
    let mut child = ui.new_child(UiBuilder::new().id_salt("clocks").max_rect(place(left + middle + 2.0 * gap, right)));
    clocks_ui(&mut child, view);
    bottom = child.min_rect().bottom().max(bottom);
    let mut child = ui.new_child(UiBuilder::new().id_salt("middle").max_rect(place(left + gap, middle)));
    let command = middle_ui(&mut child, view, local);
    bottom = child.min_rect().bottom().max(bottom);
    let clip = ui.clip_rect();
    for x in [left + gap / 2.0, left + middle + 1.5 * gap] {
        let x = ui.painter().round_to_pixel_center(whole.left() + x);
        ui.painter().vline(x, clip.y_range(), theme::hairline(ui));
    }
    ui.allocate_space(vec2(whole.width(), bottom - top));
    command
}

fn middle_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    let p = theme::palette(ui);
    let full = kit::room(ui.ctx()) == Room::Full;
    if kit::room(ui.ctx()) != Room::Tiny {
        let (_, row) = ui.allocate_space(vec2(ui.available_width(), theme::line_height(Size::Label)));
        let word = paint_in(ui, row, Align2::LEFT_CENTER, &view.asked, Size::Label, Cut::Semi, p.ink);
        let rest = row.with_min_x(word.right() + S8);
        paint_in(ui, rest, Align2::LEFT_CENTER, &format!("· {}", view.number), Size::Label, Cut::Regular, p.ink_second);
        ui.add_space(if full && asked(view) { S40 } else { S12 });
    }
    if !view.lead_in.is_empty() {
        label_in(ui, PROMPT, &view.lead_in, Size::Body, Cut::Regular, p.ink_second);
        ui.add_space(S4);
    }
    let size = match (asked(view), view.card.ask.chars().count()) {
        (true, ..=160) if full => Size::Prompt,
        (true, _) => Size::Head,
        _ => Size::Body,
    };
    rich(ui, &view.card.ask, PROMPT, size, p.ink);
    if let Some(caution) = &view.card.caution {
        ui.add_space(S12);
        caution_in(ui, caution, ui.available_width());
    }
    if let Some(picture) = &view.card.picture {
        ui.add_space(S12);
        kit::picture(ui, picture, &mut local.card.picture, 0.3);
    }
    ui.add_space(if full { S24 } else { S16 });
    stage_ui(ui, view, local)
}

fn stage_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    let mut command = None;
    match (&view.card.stage, view.way) {
        (Stage::RecallAsked, Way::Write) => {
            let rows = if kit::room(ui.ctx()) == Room::Full { 6 } else { 4 };
            let width = ui.available_width();
            let spec = Field { hint: "Your answer", rows, ..Field::line(recall::field_id(), "Your answer", width) };
            let fresh = local.card.typed.is_empty() && ui.memory(|m| m.focused().is_none());
            let response = field(ui, &spec, &mut local.card.typed);
            if fresh {
                response.request_focus();
            }
            ui.add_space(S16);
            command = ways_ui(ui, view.way);
        }
        (Stage::FigureAsked { hint }, _) => {
            figure::asked_ui(ui, hint, &mut local.card);
            ui.add_space(S16);
            command = ways_ui(ui, view.way);
        }
        (Stage::RecallAsked, _) => {
            sound_ui(ui, view);
            if let Some(points) = &view.examiner {
                command = recall::points_ui(ui, points, "For the second person: tick what is said");
            }
            ui.add_space(S16);
            command = ways_ui(ui, view.way).or(command);
        }
        (Stage::RecallShown { points, typed, result }, Way::Write) => {
            command = recall::found_ui(ui, points, typed.as_deref(), (result, ResultAt::Answer));
        }
        (Stage::RecallShown { points, typed, result }, way) => {
            let heard = way == Way::Second;
            command = recall::shown_ui(ui, points, typed.as_deref(), (result, ResultAt::Answer), heard);
            if way == Way::Second {
                command = note_ui(ui, view).or(command);
            }
        }
        (Stage::FigureMarked { given, expected, error, tell, tone, result }, _) => {
            let marked = figure::Marked { given, expected, error, tell: tell.as_deref(), tone: *tone };
            command = figure::marked_ui(ui, &marked, (result, ResultAt::Answer));
        }
        _ => {}
    }
    command
}

/// What the voice and the microphone do while an answer is spoken.
fn sound_ui(ui: &mut Ui, view: &OralView) {
    let p = theme::palette(ui);
    let words = match (view.sound.reading, view.sound.recording, view.way) {
        (true, ..) => "The question is being read; its time begins after that.",
        (_, true, _) => "Recording. It stays on this computer.",
        (.., Way::Speak) => "Say your answer aloud, then finish it. Nothing is recorded.",
        _ => "",
    };
    if words.is_empty() {
        return;
    }
    ui.horizontal(|ui| {
        if view.sound.recording && !view.sound.reading {
            let (_, place) = ui.allocate_space(vec2(S16, theme::line_height(Size::Label)));
            mark(ui.painter(), place.center(), Mark::Dot, p.bronze);
        }
        label_in(ui, PROMPT, words, Size::Label, Cut::Regular, p.ink_second);
    });
    ui.add_space(S8);
}

fn note_ui(ui: &mut Ui, view: &OralView) -> Option<Command> {
    ui.add_space(S16);
    let mut note = view.note.clone();
    let width = ui.available_width();
    let spec = Field { hint: "A note for the debrief", ..Field::line(note_id(), "Note of the second person", width) };
    field(ui, &spec, &mut note);
    (note != view.note).then_some(Command::SetNote(note))
}
