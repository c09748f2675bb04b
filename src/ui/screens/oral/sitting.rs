//! A sitting being sat: the conversation so far, the question with its answer, the clocks.
//!
//! Question, clocks, field and actions stay where they are; only the conversation, and what an answer came to, scroll.

use eframe::egui::{Rect, ScrollArea, Ui, UiBuilder, pos2, vec2};

use crate::app::program::command::{CardCommand, Command, OralCommand};
use crate::domain::answer::Given;
use crate::domain::oral::Way;
use crate::present::OralView;
use crate::present::stage::Stage;
use crate::ui::keys::{self, KeyLine};
use crate::ui::kit::{self, Act, Room, Sheet, label_in};
use crate::ui::screens::card::act::READING;
use crate::ui::screens::card::{self, CardLocal, watch_card_ui};
use crate::ui::screens::oral::clocks::{clocks_line_ui, clocks_ui};
use crate::ui::screens::oral::kinds;
use crate::ui::screens::oral::middle::middle_ui;
use crate::ui::screens::oral::note::note_id;
use crate::ui::screens::oral::thread::{ThreadLocal, thread_ui};
use crate::ui::theme::measure::{PROMPT, S4, S8, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Drafts of a sitting.
#[derive(Default)]
pub struct OralLocal {
    card: CardLocal,
    thread: ThreadLocal,
    /// The learner is asked whether the sitting is to end.
    ending: bool,
    /// A typed answer is being read: Escape takes it back.
    reading: bool,
}

impl OralLocal {
    /// Escape closes what is open on the card, or the question about the end, first.
    pub fn takes_escape(&self) -> bool {
        self.ending || self.reading || self.card.takes_escape()
    }

    /// On another page the picture is not drawn any more, and nobody is asked about the end.
    pub fn put_picture_away(&mut self) {
        self.card.put_picture_away();
        self.ending = false;
    }
}

/// Draws a sitting.
pub fn oral_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    if view.card.clock_runs {
        ui.ctx().request_repaint_after(std::time::Duration::from_secs(1));
    }
    if local.ending {
        return ending_ui(ui, view, local);
    }
    if view.paused {
        return paused_ui(ui, view, local);
    }
    local.reading = view.card.reading;
    let by_key = way_keys(ui, view);
    let command = if view.wide { wide_ui(ui, view, local) } else { sheet_ui(ui, view, local) };
    by_key.or(command)
}

fn asked(view: &OralView) -> bool {
    view.card.stage.is_asked()
}

fn way_keys(ui: &Ui, view: &OralView) -> Option<Command> {
    if !asked(view) || view.card.reading {
        return None;
    }
    [(keys::SPEAK, Way::Speak), (keys::WRITE, Way::Write), (keys::SECOND, Way::Second)]
        .into_iter()
        .find(|(hot, way)| keys::take(ui, *hot) && view.way != *way)
        .map(|(_, way)| Command::Oral(OralCommand::AnswerBy(way)))
}

/// A heading and a few sentences in the place of the question.
fn message_ui<T: Clone>(ui: &mut Ui, view: &OralView, acts: &[Act<T>], (head, words): (&str, &str)) -> Option<T> {
    let block = (kit::room(ui.ctx()) != Room::Tiny).then_some(&view.block);
    let sheet = Sheet { framed: true, block, folded: false, scroll: "oral-message" };
    let ((), act) = sheet.show(ui, acts, |ui| {
        let p = theme::palette(ui);
        ui.add_space(if kit::is_low(ui.ctx()) { S8 } else { S40 });
        kit::heading(ui, head, Size::Prompt, Cut::Semi);
        ui.add_space(S8);
        label_in(ui, PROMPT, words, Size::Body, Cut::Regular, p.ink_second);
    });
    act
}

/// The clock stands: the question is put away, as an examiner would.
fn paused_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    #[derive(Clone)]
    enum Do {
        Run(Command),
        End,
    }
    let acts = [
        Act::primary("Go on", keys::SPACE, Do::Run(Command::Oral(OralCommand::Pause(false)))),
        Act::other("Leave it for later", keys::letter('L'), Do::Run(Command::Oral(OralCommand::Leave))),
        Act::other("End the sitting", keys::letter('E'), Do::End),
    ];
    let words = "Your answers are saved. No time runs. Go on, and the same question stands again with what you have typed; or \
                 leave it for later, and the front page of Oral leads back to it.";
    match message_ui(ui, view, &acts, ("Paused", words)) {
        Some(Do::Run(command)) => Some(command),
        Some(Do::End) => {
            local.ending = true;
            None
        }
        None => None,
    }
}

/// Nobody ends a sitting by one stroke of a key.
fn ending_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    let acts =
        [Act::primary("Back to the sitting", keys::ESC, false), Act::outlined("Yes, end it", keys::letter('Y'), true)];
    let words = format!(
        "You are at {}. Ended now, the sitting is marked by what you have answered so far; the question that stands counts for \
         nothing. You can take it up again today, on the front page of Oral.",
        view.number
    );
    let end = message_ui(ui, view, &acts, ("End the sitting here?", &words))?;
    local.ending = false;
    end.then_some(Command::Oral(OralCommand::BreakOff))
}

/// Sequences, line-ups, workings, points and whys take the whole sheet, under a band with the clocks.
fn wide_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    let whole = ui.available_rect_before_wrap();
    let tiny = kit::room(ui.ctx()) == Room::Tiny;
    let band = Rect::from_min_size(whole.min, vec2(whole.width(), if tiny { S24 } else { S40 }));
    let mut command = None;
    let mut right = band.right();
    if asked(view) {
        for (name, hot, wish) in [
            ("Pause", keys::letter('P'), Command::Oral(OralCommand::Pause(true))),
            ("I don’t know", keys::letter('K'), Command::Oral(OralCommand::NothingToSay)),
        ] {
            let (response, left) = kit::link(ui, pos2(right, band.center().y), name, hot);
            if response.clicked() || keys::take(ui, hot) {
                command = Some(wish);
            }
            right = left - S16;
        }
    }
    clocks_line_ui(ui, band.with_max_x(right), view);
    let mut rest = Rect::from_min_max(pos2(whole.left(), band.bottom()), whole.max);
    if tiny {
        rest.min.y += pinned_ui(ui, rest, &view.card.ask);
    }
    let mut child = ui.new_child(UiBuilder::new().id_salt("oral-card").max_rect(rest));
    watch_card_ui(&mut child, &view.card, &mut local.card).or(command)
}

/// In the smallest window the question stands over the sheet, which scrolls: two lines of it, and the rest by the wheel.
/// Returns the height it takes.
fn pinned_ui(ui: &mut Ui, place: Rect, ask: &str) -> f32 {
    let most = 2.0 * theme::line_height(Size::Label) + S4;
    let width = place.width() - S16;
    let height = kit::rich_height(ui, ask, width, Size::Label).min(most);
    let top = Rect::from_min_size(place.min, vec2(place.width(), height));
    let mut child = ui.new_child(UiBuilder::new().id_salt("pinned-question").max_rect(top));
    ScrollArea::vertical().id_salt(("pinned-question", ask)).max_height(height).show(&mut child, |ui| {
        let ink = theme::palette(ui).ink;
        kit::rich(ui, ask, width, Size::Label, ink);
    });
    height + S4
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
        let keep = Act::primary("Keep the answer", keys::SPACE, run(Command::Card(CardCommand::Accept)))
            .when(!view.card.keeping);
        let mut acts = vec![keep];
        if view.sound.recorded {
            let name = if view.sound.playing { "Stop playing" } else { "Hear it again" };
            acts.push(Act::other(name, keys::letter('H'), run(Command::Oral(OralCommand::HearAgain))));
        }
        if view.sound.aloud && view.way != Way::Write {
            acts.push(read_act(view));
        }
        if view.way == Way::Second {
            acts.push(Act::other("Write a note", keys::letter('W'), OralAct::Note));
        }
        return acts;
    }
    if view.card.reading {
        let back = || run(Command::Card(CardCommand::Withdraw));
        return vec![
            Act::primary(READING, keys::CTRL_ENTER, back()).when(false),
            Act::other("Back to the field", keys::ESC, back()),
        ];
    }
    let typed = !local.drafts.typed.is_empty();
    let hand_in = match &view.card.stage {
        Stage::Asked(asked) => kinds::asked(asked).map(kinds::Spoken::hand_in),
        _ => None,
    };
    let mut acts = match view.way {
        Way::Write => {
            let key = hand_in.unwrap_or(keys::CTRL_ENTER);
            vec![Act::primary("Hand in", key, OralAct::HandIn).when(typed)]
        }
        _ => vec![Act::primary("Finish the answer", keys::ENTER, run(Command::Oral(OralCommand::FinishSpeaking)))],
    };
    // What is typed is not thrown away by one stroke: it is handed in, or taken out of the field first.
    let dry = if view.again { "Leave it at that" } else { "I don’t know" };
    let dry = Act::other(dry, keys::letter('K'), run(Command::Oral(OralCommand::NothingToSay)));
    acts.push(dry.when(view.way != Way::Write || !typed));
    acts.push(Act::other("Pause", keys::letter('P'), run(Command::Oral(OralCommand::Pause(true)))));
    if view.way != Way::Write || view.sound.aloud {
        acts.push(read_act(view));
    }
    acts
}

fn read_act(view: &OralView) -> Act<OralAct> {
    let name = if view.sound.reading { "Silence" } else { "Read aloud" };
    Act::other(name, keys::letter('R'), OralAct::Run(Command::Oral(OralCommand::ReadAgain)))
}

fn sheet_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal) -> Option<Command> {
    local.card.follow(&view.card);
    let room = kit::room(ui.ctx());
    let acts = acts(view, &local.card);
    let (up, down) = (keys::take_repeated(ui, keys::PAGE_UP), keys::take_repeated(ui, keys::PAGE_DOWN));
    let pages = f32::from(i8::from(down) - i8::from(up));
    // In the smallest window the title block would take the room of the answer.
    let block = (room != Room::Tiny).then_some(&view.block);
    let sheet = Sheet { framed: true, block, folded: false, scroll: "oral" };
    let (inner, act) = sheet.show(ui, &acts, |ui| {
        let height = ui.clip_rect().height() - kit::margins(ui.ctx());
        if room == Room::Tiny {
            let (_, band) = ui.allocate_space(vec2(ui.available_width(), S24));
            clocks_line_ui(ui, band, view);
            let height = height - S24 - S4;
            middle_ui(ui, view, &mut local.card, height, pages * height)
        } else {
            columns_ui(ui, view, local, (height, pages * (height - S40)))
        }
    });
    match act {
        Some(OralAct::Run(command)) => Some(command),
        Some(OralAct::HandIn) => {
            Some(Command::Card(CardCommand::Submit(Given::Text(local.card.drafts.typed.text.trim().to_owned()))))
        }
        Some(OralAct::Note) => {
            ui.memory_mut(|m| m.request_focus(note_id()));
            inner
        }
        None => inner,
    }
}

/// Three columns of one height: Page Up and Page Down scroll the conversation or, once it is marked, the answer.
fn columns_ui(ui: &mut Ui, view: &OralView, local: &mut OralLocal, (height, page): (f32, f32)) -> Option<Command> {
    let full = kit::room(ui.ctx()) == Room::Full;
    let (left, right) = if full { (224.0, 200.0) } else { (184.0, 160.0) };
    let gap = if full { S40 } else { S24 };
    let whole = ui.max_rect();
    let top = ui.cursor().top();
    let middle = whole.width() - left - right - 2.0 * gap;
    let place = |x: f32, width: f32| Rect::from_min_size(pos2(whole.left() + x, top), vec2(width, height));
    let (thread_page, answer_page) = if asked(view) { (page, 0.0) } else { (0.0, page) };
    let mut child = ui.new_child(UiBuilder::new().id_salt("thread").max_rect(place(0.0, left)));
    thread_ui(&mut child, &view.thread, &mut local.thread, thread_page);
    let mut child = ui.new_child(UiBuilder::new().id_salt("clocks").max_rect(place(left + middle + 2.0 * gap, right)));
    clocks_ui(&mut child, view);
    let mut child = ui.new_child(UiBuilder::new().id_salt("middle").max_rect(place(left + gap, middle)));
    let command = middle_ui(&mut child, view, &mut local.card, height, answer_page);
    let clip = ui.clip_rect();
    for x in [left + gap / 2.0, left + middle + 1.5 * gap] {
        let x = ui.painter().round_to_pixel_center(whole.left() + x);
        ui.painter().vline(x, clip.y_range(), theme::hairline(ui));
    }
    ui.allocate_space(vec2(whole.width(), height));
    command
}

/// The keys of a sitting that are no action's.
pub fn key_lines(view: &OralView, local: &mut OralLocal) -> Vec<KeyLine> {
    if local.ending || view.paused {
        return Vec::new();
    }
    let mut lines = Vec::new();
    if asked(view) {
        lines.push(KeyLine::of("F5, F6, F7", "Speak, type, a second person marks"));
    }
    if view.wide {
        lines.extend(card::key_lines(&view.card, &mut local.card));
        return lines;
    }
    if view.way != Way::Write {
        lines.push(KeyLine::of("1, …, 9", "Tick a point"));
    }
    if view.card.stage.result().is_some_and(|result| result.down().is_some() || result.up().is_some()) {
        lines.push(KeyLine::of("−, +", "Adjust the result"));
    }
    lines.push(KeyLine::of("PAGE UP, PAGE DOWN", "Read the conversation so far"));
    lines
}
