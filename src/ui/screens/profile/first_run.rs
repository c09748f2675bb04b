//! First run: three questions and the caution on one sheet.

use eframe::egui::{Align2, Id, Rect, Ui, UiBuilder, pos2, vec2};

use crate::app::program::command::{Command, ProfileCommand, SettingsCommand};
use crate::domain::certificate::Certificate;
use crate::domain::day::StudyDay;
use crate::domain::english;
use crate::present::first_run::CAUTION;
use crate::present::{FirstRunView, words};
use crate::ui::keys;
use crate::ui::kit::{
    Act, Field, Mark, Room, Sheet, button, field, heading, label, label_in, mark, option, paint_in, room, ruler,
    width_of,
};
use crate::ui::theme::measure::{BLOCK_WIDE, READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// The answers so far.
#[derive(Default)]
pub struct FirstRunLocal {
    answers: Option<Answers>,
    /// What follows once the name is kept.
    then: Option<Command>,
}

#[derive(Clone)]
struct Answers {
    name: String,
    certificate: Certificate,
    date: String,
    minutes: u32,
}

impl Answers {
    fn of(view: &FirstRunView) -> Self {
        Self { name: view.name.clone(), certificate: view.certificate, date: String::new(), minutes: view.minutes }
    }

    /// The day that is typed: `Ok(None)` for no date, an error sentence for what is no date.
    fn oral(&self, today: StudyDay) -> Result<Option<StudyDay>, &'static str> {
        if self.date.trim().is_empty() {
            return Ok(None);
        }
        match words::read_date(&self.date, today) {
            Some(day) if day < today => Err("That day is past."),
            Some(day) => Ok(Some(day)),
            None => Err("Type a date such as 21 April 2027 or 2027-04-21."),
        }
    }
}

/// Draws the three questions.
pub fn first_run_ui(ui: &mut Ui, view: &FirstRunView, local: &mut FirstRunLocal) -> Option<Command> {
    let mut answers = local.answers.take().unwrap_or_else(|| Answers::of(view));
    let oral = answers.oral(view.today);
    let acts = [
        Act::primary("Start the first watch", keys::ENTER, true).when(oral.is_ok()),
        Act::other("Look round first", keys::letter('L'), false).when(oral.is_ok()),
    ];
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: "first-run" };
    let ((), watch) = sheet.show(ui, &acts, |ui| content_ui(ui, view, &mut answers));
    let command = watch.zip(answers.oral(view.today).ok()).map(|(watch, oral)| {
        Command::Profile(ProfileCommand::FinishFirstRun {
            certificate: answers.certificate,
            oral,
            minutes: answers.minutes,
            watch,
        })
    });
    let name = answers.name.split_whitespace().collect::<Vec<_>>().join(" ");
    local.answers = Some(answers);
    if command.is_some() && !name.is_empty() && name != view.name {
        local.then = command;
        return Some(Command::Settings(SettingsCommand::SetLearner(name)));
    }
    local.then.take().or(command)
}

fn content_ui(ui: &mut Ui, view: &FirstRunView, answers: &mut Answers) {
    let room = room(ui.ctx());
    if room == Room::Tiny {
        questions_ui(ui, view, answers, room);
        ui.add_space(S24);
        caution_ui(ui);
        return;
    }
    let area = Rect::from_min_size(ui.cursor().min, vec2(ui.available_width(), f32::INFINITY));
    let caution = BLOCK_WIDE.min(area.width() * 0.34);
    let left = Rect::from_min_size(area.min, vec2(area.width() - caution - S24 - S24 - S8, f32::INFINITY));
    let mut child = ui.new_child(UiBuilder::new().id_salt("questions").max_rect(left));
    questions_ui(&mut child, view, answers, room);
    let used = child.min_rect();
    let right = Rect::from_min_max(pos2(area.right() - caution, area.top() + S40 + S24), area.max);
    let mut child = ui.new_child(UiBuilder::new().id_salt("caution").max_rect(right));
    caution_ui(&mut child);
    let bottom = used.bottom().max(child.min_rect().bottom());
    let x = ui.painter().round_to_pixel_center(left.right() + S24 + S4);
    ui.painter().vline(x, (area.top() + S8)..=bottom, theme::hairline(ui));
    ui.allocate_space(vec2(ui.available_width(), bottom - ui.cursor().top()));
}

fn questions_ui(ui: &mut Ui, view: &FirstRunView, answers: &mut Answers, room: Room) {
    let gap = if room == Room::Full { S24 } else { S16 };
    ui.add_space(S8);
    let size = if room == Room::Tiny { Size::Head } else { Size::Prompt };
    heading(ui, "Three questions, then your first watch", size, Cut::Regular);
    ui.add_space(if room == Room::Full { S24 } else { S12 });
    name_ui(ui, &mut answers.name);
    ui.add_space(gap - S8);
    question_head(ui, 1, "Which certificate?");
    for certificate in Certificate::ALL {
        let chosen = answers.certificate == certificate;
        if option(ui, chosen, certificate.title(), certificate.regulation()).clicked() {
            answers.certificate = certificate;
        }
    }
    step_by_arrows(ui, answers);
    ui.add_space(gap - S4);
    question_head(ui, 2, "When is the oral?");
    date_ui(ui, view.today, &mut answers.date);
    ui.add_space(gap - S8);
    question_head(ui, 3, "How many minutes a day?");
    ruler(ui, "Minutes a day", &mut answers.minutes, 5, 60, 5);
    ui.add_space(S4);
    label(
        ui,
        &minutes_in_cards(answers.minutes, view.seconds_a_card),
        Size::Label,
        Cut::Regular,
        theme::palette(ui).ink_second,
    );
}

/// The name, which may stay empty: nothing has the focus at first, so that Enter alone begins.
fn name_ui(ui: &mut Ui, name: &mut String) {
    let p = theme::palette(ui);
    ui.horizontal(|ui| {
        let spec = Field { hint: "May stay empty", ..Field::line(Id::new("first-name"), "Your name", FIELD) };
        field(ui, &spec, name);
        ui.add_space(S16);
        label(ui, "Your name, for your reports", Size::Label, Cut::Regular, p.ink_second);
    });
}

/// `Thirty minutes is about 48 cards. Any of the three can be changed under Settings.`
fn minutes_in_cards(minutes: u32, seconds_a_card: f64) -> String {
    let said = english::capital(&words::count_in_words(minutes as usize, "minute"));
    format!("{said} is about {}. Any of the three can be changed under Settings.", cards_in(minutes, seconds_a_card))
}

/// `48 cards`: what fits into these minutes.
pub(crate) fn cards_in(minutes: u32, seconds_a_card: f64) -> String {
    let a_card = if seconds_a_card.is_finite() { seconds_a_card.clamp(1.0, 3600.0) } else { 60.0 };
    let cards = (f64::from(minutes) * 60.0 / a_card).round() as usize;
    words::count(cards, "card")
}

fn question_head(ui: &mut Ui, number: usize, text: &str) {
    let p = theme::palette(ui);
    ui.horizontal(|ui| {
        label(ui, &number.to_string(), Size::Body, Cut::Regular, p.ink_second);
        ui.add_space(S8);
        heading(ui, text, Size::Body, Cut::Semi);
    });
    ui.add_space(S8);
}

/// With nothing focused, up and down choose the certificate, left and right the minutes.
fn step_by_arrows(ui: &Ui, answers: &mut Answers) {
    let at = Certificate::ALL.iter().position(|c| *c == answers.certificate).unwrap_or(0);
    if keys::held(ui.ctx()) != keys::Held::Nothing {
        return;
    }
    if keys::take_repeated(ui, keys::UP) {
        answers.certificate = Certificate::ALL[at.saturating_sub(1)];
    } else if keys::take_repeated(ui, keys::DOWN) {
        answers.certificate = Certificate::ALL[(at + 1).min(Certificate::ALL.len() - 1)];
    } else if keys::take_repeated(ui, keys::LEFT) {
        answers.minutes = answers.minutes.saturating_sub(5).max(5);
    } else if keys::take_repeated(ui, keys::RIGHT) {
        answers.minutes = (answers.minutes + 5).min(60);
    }
}

/// The ruler of minutes a day. What is dragged stays in the draft until it is let go; gives the minutes to show, and
/// those that were chosen where they are others.
pub(crate) fn minutes_ui(ui: &mut Ui, set: u32, draft: &mut Option<u32>) -> (u32, Option<u32>) {
    let mut minutes = draft.unwrap_or(set);
    let dragged = ruler(ui, "Minutes a day", &mut minutes, 5, 120, 5).dragged();
    *draft = dragged.then_some(minutes);
    (minutes, (!dragged && minutes != set).then_some(minutes))
}

/// A day as it is being typed, with the day that stood when that began.
pub(crate) type DayDraft = Option<(Option<StudyDay>, String)>;

/// The day of the oral in a field of its own; takes effect as soon as what is typed is a day.
pub(crate) fn oral_day_ui(
    ui: &mut Ui,
    (oral, today): (Option<StudyDay>, StudyDay),
    draft: &mut DayDraft,
) -> Option<Command> {
    let written = oral.map(words::full_date).unwrap_or_default();
    let mut text = match draft {
        Some((of, text)) if *of == oral => text.clone(),
        _ => written,
    };
    let before = text.clone();
    date_ui(ui, today, &mut text);
    *draft = Some((oral, text.clone()));
    if text == before {
        return None;
    }
    if text.trim().is_empty() {
        return oral.is_some().then_some(Command::Settings(SettingsCommand::SetOral(None)));
    }
    let day = words::read_date(&text, today).filter(|d| *d >= today)?;
    // While it is being typed, `2 May 2027` passes through other days; the text stays as typed.
    (Some(day) != oral).then(|| {
        *draft = Some((Some(day), text));
        Command::Settings(SettingsCommand::SetOral(Some(day)))
    })
}

/// The date as typed, the weekday in the field, and how far it is.
pub(crate) fn date_ui(ui: &mut Ui, today: StudyDay, date: &mut String) {
    let p = theme::palette(ui);
    let id = Id::new("oral-date");
    let read = words::read_date(date, today);
    let empty = date.trim().is_empty();
    let said = match read {
        Some(day) if day < today => "That day is past.".to_owned(),
        Some(day) => words::from_today(day, today),
        None if empty => String::new(),
        None => "Type it like 21 April 2027.".to_owned(),
    };
    let (name, hot) = if empty { ("Type a date", keys::letter('D')) } else { ("No date yet", keys::letter('N')) };
    let said_width = width_of(ui, &said, Size::Label, Cut::Regular);
    let needed = FIELD + S24 + said_width + S16 + width_of(ui, name, Size::Label, Cut::Regular) + S40;
    let in_one_row = needed <= ui.available_width();
    let beside = FIELD + S24 + said_width <= ui.available_width();
    let mut pressed = keys::take(ui, hot);
    ui.horizontal(|ui| {
        field_with_weekday(ui, id, date, read);
        if beside && !said.is_empty() {
            ui.add_space(S24);
            let good = read.is_some_and(|d| d >= today);
            label(ui, &said, Size::Label, Cut::Regular, if good { p.ink } else { p.red_lead });
        }
        if in_one_row {
            ui.add_space(S16);
            pressed |= button(ui, name, Some(hot), false, true).clicked();
        }
    });
    if !beside && !said.is_empty() {
        let good = read.is_some_and(|d| d >= today);
        label(ui, &said, Size::Label, Cut::Regular, if good { p.ink } else { p.red_lead });
    }
    if !in_one_row {
        pressed |= button(ui, name, Some(hot), false, true).clicked();
    }
    if pressed && empty {
        ui.memory_mut(|m| m.request_focus(id));
    } else if pressed {
        date.clear();
    }
}

/// The width of the date's field.
const FIELD: f32 = BLOCK_WIDE - S40;

fn field_with_weekday(ui: &mut Ui, id: Id, date: &mut String, read: Option<StudyDay>) {
    let p = theme::palette(ui);
    let top = ui.cursor().min;
    let spec = Field {
        hint: "No date yet",
        mono: true,
        room_right: S40 * 2.0 + S8,
        ..Field::line(id, "Date of the oral", FIELD)
    };
    field(ui, &spec, date);
    let rect = Rect::from_min_size(top, vec2(FIELD, S40));
    if let Some(day) = read {
        let place = Rect::from_min_max(pos2(rect.right() - S40 * 2.0 - S16, rect.top()), rect.max - vec2(S12, 0.0));
        paint_in(ui, place, Align2::RIGHT_CENTER, words::weekday(day), Size::Label, Cut::Regular, p.ink_second);
    }
}

fn caution_ui(ui: &mut Ui) {
    let p = theme::palette(ui);
    ui.horizontal(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Body)));
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::WedgeUp, p.amber);
        heading(ui, "Caution, before you rely on it", Size::Body, Cut::Semi);
    });
    for paragraph in CAUTION {
        ui.add_space(S16);
        label_in(ui, READING, paragraph, Size::Body, Cut::Regular, p.ink);
    }
    ui.add_space(S16);
    label(ui, "Shown once; kept under About.", Size::Label, Cut::Regular, p.ink_second);
}
