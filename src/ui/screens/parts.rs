//! What several screens have in common: the prompt over a card, the caution, the reason, what an answer comes
//! to, setting aside, reporting a fault.

use eframe::egui::{Align2, Id, Rect, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::command::Command;
use crate::domain::attempt::Until;
use crate::domain::card::Kind;
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::present::watch::ResultView;
use crate::present::{PictureView, words};
use crate::ui::keys::{self, Hot};
use crate::ui::kit::{self, Act, Field, Mark, field, heading, label, label_in, mark, paint, paint_in, rich};
use crate::ui::theme::measure::{PROMPT, READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// The kind's word at the head of a card.
pub(super) fn kind_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Recall => "Recall",
        Kind::Figure => "Figure",
        Kind::Why => "Why",
        Kind::Sequence => "Sequence",
        Kind::Lineup => "Line-up",
        Kind::Working => "Working",
        Kind::Point => "Point",
    }
}

/// Questions of so many characters are set smaller, and of so many as running text over the whole sheet.
const MIDDLING_ASK: usize = 160;
const LONG_ASK: usize = 240;

/// What stands over a card's answer.
#[derive(Clone, Copy)]
pub(super) struct Prompt<'a> {
    pub(super) kind: Kind,
    pub(super) place: &'a str,
    pub(super) clock: Option<u32>,
    /// Seconds within which a full answer is fluent.
    pub(super) limit: Option<u32>,
    pub(super) ask: &'a str,
    pub(super) caution: Option<&'a str>,
    pub(super) picture: Option<&'a PictureView>,
    /// The question stands above the sheet, where it stays while the sheet scrolls.
    pub(super) pinned: bool,
    /// The answer stands below, which needs the room more than the picture does.
    pub(super) answered: bool,
}

/// Kind, place, clock; the question; the caution; the picture.
pub(super) fn prompt_ui(ui: &mut Ui, prompt: &Prompt<'_>, shown: &mut kit::PictureLocal) {
    let Prompt { kind, place, clock, limit, ask, pinned, answered, .. } = *prompt;
    let p = theme::palette(ui);
    let room = kit::room(ui.ctx());
    if pinned {
        beside_ui(ui, prompt, shown);
        return;
    }
    if room == kit::Room::Full {
        ui.add_space(S8);
    }
    let (_, row) = ui.allocate_space(vec2(ui.available_width(), theme::line_height(Size::Label)));
    let word = paint_in(ui, row, Align2::LEFT_CENTER, kind_word(kind), Size::Label, Cut::Semi, p.ink);
    let right = clock.map_or(row.right(), |seconds| {
        let text = match limit {
            Some(limit) => format!("{} of {}", words::clock(seconds), words::clock(limit)),
            None => words::clock(seconds),
        };
        paint_in(ui, row, Align2::RIGHT_CENTER, &text, Size::Label, Cut::Mono, p.ink_second).left() - S16
    });
    let dot = pos2(word.right() + S8, row.center().y);
    paint(ui.painter(), dot, Align2::CENTER_CENTER, "·", Size::Label, Cut::Regular, p.ink_second);
    let rest = Rect::from_min_max(pos2(word.right() + S16, row.top()), pos2(right, row.bottom()));
    paint_in(ui, rest, Align2::LEFT_CENTER, place, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S8);
    // A long question, such as a sequence's plant and goal, is set smaller, so that there is room for the answer.
    let size = match (room, ask.chars().count()) {
        (kit::Room::Full, MIDDLING_ASK..) if answered => Size::Body,
        (kit::Room::Full, _) if answered => Size::Head,
        (kit::Room::Tiny, _) if kit::is_low(ui.ctx()) => Size::Body,
        (_, LONG_ASK..) => Size::Body,
        (kit::Room::Tiny, _) | (_, MIDDLING_ASK..) => Size::Head,
        _ => Size::Prompt,
    };
    let width = if size == Size::Body { ui.available_width() } else { PROMPT };
    rich(ui, ask, width, size, p.ink);
    beside_ui(ui, prompt, shown);
    ui.add_space(match room {
        kit::Room::Full if answered => S12,
        kit::Room::Full => S24,
        kit::Room::Folded => S16,
        kit::Room::Tiny => S8,
    });
}

/// What belongs to a question beside its words: the caution, the picture.
fn beside_ui(ui: &mut Ui, prompt: &Prompt<'_>, shown: &mut kit::PictureLocal) {
    if let Some(caution) = prompt.caution {
        ui.add_space(S12);
        caution_in(ui, caution, ui.available_width());
    }
    if prompt.picture.is_some() {
        ui.add_space(S12);
    }
    picture_ui(ui, prompt.picture, shown, if prompt.answered { 0.26 } else { 0.42 });
}

/// A card's picture, in at most this share of the window's height.
pub(super) fn picture_ui(ui: &mut Ui, picture: Option<&PictureView>, shown: &mut kit::PictureLocal, share: f32) {
    match picture {
        Some(picture) => kit::picture(ui, picture, shown, share),
        None => shown.clear(),
    }
}

/// A caution: the amber wedge, the word, the text.
pub(super) fn caution_ui(ui: &mut Ui, text: &str) {
    caution_in(ui, text, PROMPT);
}

/// The same in another width.
pub(super) fn caution_in(ui: &mut Ui, text: &str, width: f32) {
    let p = theme::palette(ui);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Label)));
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::WedgeUp, p.amber);
        ui.vertical(|ui| {
            label_in(ui, width - S24, &format!("Caution: {text}"), Size::Label, Cut::Regular, p.ink);
        });
    });
}

/// The rule by which the answer was weighed, and the reason of the card.
pub(super) fn because_ui(ui: &mut Ui, result: &ResultView) {
    let p = theme::palette(ui);
    if !result.rule.is_empty() {
        ui.add_space(S12);
        let mut job = kit::job("Rule", Size::Label, Cut::Semi, p.ink);
        job.append(&result.rule, S12, theme::format(Size::Label, Cut::Regular, p.ink_second));
        ui.add(eframe::egui::Label::new(job).wrap());
    }
    reason_ui(ui, result.because.as_deref());
}

/// The reason of a card.
pub(super) fn reason_ui(ui: &mut Ui, because: Option<&str>) {
    let Some(because) = because else { return };
    let p = theme::palette(ui);
    ui.add_space(S12);
    heading(ui, "Because", Size::Label, Cut::Semi);
    ui.add_space(S4);
    rich(ui, because, READING, Size::Body, p.ink);
}

/// The height of the outcome with its notch line.
pub(super) const RESULT: f32 = S24 + S24 + S4 + S24;

/// The height of the outcome in one line.
pub(super) const RESULT_LINE: f32 = S24 + S4;

/// Where the outcome stands: under the answer as on the drawing or, where that would be out of sight, in a
/// strip above the actions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum ResultAt {
    /// Under the answer.
    #[default]
    Answer,
    /// In the strip.
    Strip,
}

/// The outcome under the answer, unless it stands in the strip, and the reason. Returns the notch asked for.
pub(super) fn result_ui(ui: &mut Ui, result: &ResultView, at: ResultAt) -> Option<Command> {
    let command = if at == ResultAt::Answer {
        ui.add_space(S24);
        outcome_ui(ui, result)
    } else {
        None
    };
    because_ui(ui, result);
    command
}

/// What an answer comes to, and the notch.
pub(super) fn outcome_ui(ui: &mut Ui, result: &ResultView) -> Option<Command> {
    outcome_at_ui(ui, result, Size::Body)
}

/// The same in words of another size, for a narrower place.
pub(super) fn outcome_at_ui(ui: &mut Ui, result: &ResultView, size: Size) -> Option<Command> {
    let p = theme::palette(ui);
    let words = format!("{}: {}", result.outcome.word(), result.detail);
    // Words that do not fit into the line are set smaller, in two.
    let fits = kit::width_of(ui, &words, size, Cut::Semi) <= ui.available_width();
    let size = if fits { size } else { Size::Label };
    let mut job = eframe::egui::text::LayoutJob::default();
    job.append(&format!("{}:", result.outcome.word()), 0.0, theme::format(size, Cut::Semi, p.ink));
    job.append(&format!(" {}", result.detail), 0.0, theme::format(size, Cut::Regular, p.ink));
    let label = eframe::egui::Label::new(job);
    let response = ui.add(if fits { label.truncate() } else { label.wrap() });
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_value(words);
        node.set_live(eframe::egui::accesskit::Live::Polite);
    });
    ui.add_space(S4);
    notch_ui(ui, result)
}

/// The same in one line, for a low window.
pub(super) fn outcome_line_ui(ui: &mut Ui, result: &ResultView) -> Option<Command> {
    let p = theme::palette(ui);
    let width = ui.available_width();
    let mut command = None;
    ui.horizontal(|ui| {
        ui.scope(|ui| {
            ui.set_max_width(width - S40 * 2.0);
            let words = format!("{}: {}", result.outcome.word(), result.detail);
            ui.add(eframe::egui::Label::new(kit::job(&words, Size::Label, Cut::Semi, p.ink)).truncate());
        });
        ui.add_space(S8);
        for (hot, step) in [(keys::MINUS, result.down()), (keys::PLUS, result.up())] {
            let Some((notch, outcome)) = step else { continue };
            let name = format!("to {}", outcome.word());
            if notch_button(ui, hot, &name, false) || keys::take(ui, hot) {
                command = Some(Command::SetNotch(notch));
            }
        }
    });
    command
}

fn notch_ui(ui: &mut Ui, result: &ResultView) -> Option<Command> {
    if result.down().is_none() && result.up().is_none() {
        // As on the day: the examiner's marking stands.
        return None;
    }
    let p = theme::palette(ui);
    let said = match result.notch {
        crate::domain::outcome::Notch::None => "Adjust the result:".to_owned(),
        _ => format!("Worked out as {}; you moved it:", result.worked_out.word()),
    };
    let mut command = None;
    ui.horizontal(|ui| {
        label(ui, &said, Size::Label, Cut::Regular, p.ink);
        ui.add_space(S8);
        for (hot, step) in [(keys::MINUS, result.down()), (keys::PLUS, result.up())] {
            let Some((notch, outcome)) = step else { continue };
            let name = format!("to {}", outcome.word());
            if notch_button(ui, hot, &name, true) || keys::take(ui, hot) {
                command = Some(Command::SetNotch(notch));
            }
            ui.add_space(S24);
        }
    });
    command
}

fn notch_button(ui: &mut Ui, hot: Hot, name: &str, named: bool) -> bool {
    let p = theme::palette(ui);
    let words = if named { name } else { "" };
    let width = S24 + S4 + kit::width_of(ui, words, Size::Label, Cut::Regular);
    let (id, rect) = ui.allocate_space(vec2(width, S24));
    let response = ui.interact(rect, id, Sense::click());
    let said = format!("Adjust the result {name}");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, keys::Held::Button);
    }
    let ink = if response.hovered() { p.bronze } else { p.ink };
    kit::key_box(ui, rect.left_center(), hot.face, p.ink_second, p.line);
    paint(
        ui.painter(),
        pos2(rect.left() + S24 + S4, rect.center().y),
        Align2::LEFT_CENTER,
        words,
        Size::Label,
        Cut::Regular,
        ink,
    );
    kit::ring_focus(ui, &response, rect.expand2(vec2(S4, 0.0)));
    response.on_hover_cursor(eframe::egui::CursorIcon::PointingHand).clicked()
}

/// Drafts of setting aside and of reporting a fault.
#[derive(Default)]
pub(super) struct AsideLocal {
    /// The choice of how long is open.
    pub(super) choosing: bool,
    /// The fault line is open.
    pub(super) reporting: bool,
    note: String,
}

/// What was chosen from the actions of setting aside and reporting.
#[derive(Clone, PartialEq)]
pub(super) enum AsideAct {
    Choose,
    Report,
    ForGood,
    Week,
    Bring,
    Send,
    Cancel,
}

impl AsideLocal {
    pub(super) fn open(&self) -> bool {
        self.choosing || self.reporting
    }

    /// The actions while a choice or the fault line is open.
    pub(super) fn acts(&self) -> Vec<Act<AsideAct>> {
        if self.reporting {
            let ready = !self.note.trim().is_empty();
            vec![
                Act::primary("Send the report", keys::ENTER, AsideAct::Send).when(ready),
                Act::other("Cancel", keys::ESC, AsideAct::Cancel),
            ]
        } else {
            vec![
                Act::primary("Set aside for a week", keys::ENTER, AsideAct::Week),
                Act::other("For good", keys::letter('G'), AsideAct::ForGood),
                Act::other("Cancel", keys::ESC, AsideAct::Cancel),
            ]
        }
    }

    /// The line for the fault, or the sentence about setting aside.
    pub(super) fn content_ui(&mut self, ui: &mut Ui) {
        let p = theme::palette(ui);
        ui.add_space(S24);
        if self.reporting {
            heading(ui, "What is wrong with this card?", Size::Body, Cut::Semi);
            ui.add_space(S8);
            let id = Id::new("fault-note");
            let fresh = self.note.is_empty() && !ui.memory(|m| m.has_focus(id));
            let spec = Field {
                hint: "One line, for its publisher",
                ..Field::line(id, "What is wrong with this card?", READING)
            };
            let response = field(ui, &spec, &mut self.note);
            if fresh {
                response.request_focus();
            }
            response.scroll_to_me(None);
        } else if self.choosing {
            let response = label_in(
                ui,
                READING,
                "Set aside, this card leaves the watch. In the library it can be brought back at any time.",
                Size::Body,
                Cut::Regular,
                p.ink,
            );
            response.scroll_to_me(None);
        }
    }

    /// Runs what was chosen.
    pub(super) fn run(&mut self, act: &AsideAct, card: &CardKey, today: StudyDay) -> Option<Command> {
        let aside = |until| Some(Command::SetAside { card: card.clone(), until });
        match act {
            AsideAct::Choose => {
                self.choosing = true;
                None
            }
            AsideAct::Report => {
                self.reporting = true;
                None
            }
            AsideAct::Cancel => {
                *self = Self::default();
                None
            }
            AsideAct::Bring => aside(Until::Back),
            AsideAct::ForGood | AsideAct::Week => {
                *self = Self::default();
                aside(if *act == AsideAct::Week { Until::Day(today.plus(7)) } else { Until::ForGood })
            }
            AsideAct::Send => {
                let note = std::mem::take(&mut self.note).trim().to_owned();
                *self = Self::default();
                Some(Command::ReportFault { card: card.clone(), note })
            }
        }
    }
}
