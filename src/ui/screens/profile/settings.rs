//! The learner's choices.

use eframe::egui::{Align2, CursorIcon, EventFilter, Id, Sense, Ui, WidgetInfo, WidgetType, accesskit, pos2, vec2};

use crate::app::program::command::{Command, SettingsCommand};
use crate::app::program::route::Route;
use crate::domain::certificate::Certificate;
use crate::domain::day::ShipOffset;
use crate::domain::english;
use crate::domain::settings::ThemeChoice;
use crate::present::{SettingsView, words};
use crate::ui::keys::{self, Held, Hot};
use crate::ui::kit::{self, Act, Field, Room, Sheet, button, field, heading, label, label_in, option, room, toggle};
use crate::ui::screens::profile::first_run::{DayDraft, cards_in, minutes_ui, oral_day_ui};
use crate::ui::theme::measure::{BLOCK_WIDE, ITEM, READING, S4, S8, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Drafts of the name and the date, and the ruler while it is dragged.
#[derive(Default)]
pub struct SettingsLocal {
    name: Option<String>,
    date: DayDraft,
    minutes: Option<u32>,
}

/// Draws the settings. Each takes effect as it is made.
pub fn settings_ui(ui: &mut Ui, view: &SettingsView, local: &mut SettingsLocal) -> Option<Command> {
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "settings" };
    let acts: [Act<Command>; 0] = [];
    let (command, _) = sheet.show(ui, &acts, |ui| content_ui(ui, view, local));
    command
}

fn content_ui(ui: &mut Ui, view: &SettingsView, local: &mut SettingsLocal) -> Option<Command> {
    ui.add_space(S8);
    let width = ui.available_width();
    if room(ui.ctx()) == Room::Tiny {
        let first = about_oral_ui(ui, view, local);
        ui.add_space(S24);
        return first.or(about_window_ui(ui, view));
    }
    let mut command = None;
    ui.horizontal_top(|ui| {
        let half = (width - S40 * 1.5) * 0.55;
        ui.vertical(|ui| {
            ui.set_width(half);
            command = about_oral_ui(ui, view, local);
        });
        ui.add_space(S40 * 1.5);
        ui.vertical(|ui| {
            ui.set_width(width - half - S40 * 1.5);
            command = command.take().or(about_window_ui(ui, view));
        });
    });
    ui.add_space(S16);
    command
}

fn group(ui: &mut Ui, title: &str) {
    heading(ui, title, Size::Body, Cut::Semi);
    ui.add_space(S8);
}

fn about_oral_ui(ui: &mut Ui, view: &SettingsView, local: &mut SettingsLocal) -> Option<Command> {
    let mut command = name_ui(ui, view, local);
    ui.add_space(S24);
    group(ui, "Certificate");
    for certificate in Certificate::ALL {
        let chosen = view.certificate == certificate;
        if option(ui, chosen, certificate.title(), certificate.regulation()).clicked() && !chosen {
            command = Some(Command::Settings(SettingsCommand::SetCertificate(certificate)));
        }
    }
    ui.add_space(S24);
    group(ui, "Day of the oral");
    command = oral_day_ui(ui, (view.oral, view.today), &mut local.date).or(command);
    ui.add_space(S24);
    group(ui, "Minutes a day");
    let (minutes, chosen) = minutes_ui(ui, view.minutes, &mut local.minutes);
    command = chosen.map(|it| Command::Settings(SettingsCommand::SetMinutes(it))).or(command);
    let said = english::capital(&words::count_in_words(minutes as usize, "minute"));
    let said = format!("{said}, about {}.", cards_in(minutes, view.seconds_a_card));
    label(ui, &said, Size::Label, Cut::Regular, theme::palette(ui).ink_second);
    ui.add_space(S24);
    group(ui, "Typed answers");
    if toggle(ui, view.second_reader, "Second reader").clicked() {
        command = Some(Command::Settings(SettingsCommand::SetSecondReader(!view.second_reader)));
    }
    ui.add_space(S4);
    let words = "Reads what the sentence says, beside the words. Off: answers are marked by their words alone.";
    label_in(ui, READING, words, Size::Label, Cut::Regular, theme::palette(ui).ink_second);
    ui.add_space(S24);
    group(ui, "Another computer of yours");
    let hot = keys::letter('B');
    if button(ui, "Bring over", Some(hot), false, true).clicked() || keys::take(ui, hot) {
        command = Some(Command::Go(Route::BringOver));
    }
    command
}

fn name_ui(ui: &mut Ui, view: &SettingsView, local: &mut SettingsLocal) -> Option<Command> {
    group(ui, "Learner");
    let id = Id::new("learner-name");
    let mut name = local.name.clone().unwrap_or_else(|| view.learner.clone());
    let enter = ui.memory(|m| m.has_focus(id)) && keys::take(ui, keys::ENTER);
    let response = field(ui, &Field::line(id, "Your name", BLOCK_WIDE), &mut name);
    if enter {
        response.surrender_focus();
    }
    if response.has_focus() && !enter {
        local.name = Some(name);
        return None;
    }
    local.name = None;
    let name = name.trim().to_owned();
    (!name.is_empty() && name != view.learner).then_some(Command::Settings(SettingsCommand::SetLearner(name)))
}

fn about_window_ui(ui: &mut Ui, view: &SettingsView) -> Option<Command> {
    let p = theme::palette(ui);
    let mut command = None;
    group(ui, "Ship’s time");
    let value = format!("{}  {}", view.clock, view.ship.label());
    let ship = |by: i32| ShipOffset::from_minutes(view.ship.minutes() + by);
    let can = (ship(-30).is_some(), ship(30).is_some());
    if let Some(by) = stepper(ui, "Ship’s time", &value, can) {
        command = ship(30 * by).map(|it| Command::Settings(SettingsCommand::SetShip(it)));
    }
    ui.add_space(S4);
    let words = "Half an hour back or on, as the ship’s clocks move. A study day ends at 04:00.";
    label_in(ui, READING, words, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S24);
    group(ui, "Recall target");
    let percent = (view.recall_target * 100.0).round() as i32;
    let can = (percent > 70, percent < 99);
    if let Some(by) = stepper(ui, "Recall target", &format!("{percent} %"), can) {
        command =
            Some(Command::Settings(SettingsCommand::SetRecallTarget(f64::from((percent + by).clamp(70, 99)) / 100.0)));
    }
    ui.add_space(S4);
    let words = "The chance of recall at which a card comes back. Higher means more cards a day.";
    label_in(ui, READING, words, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S24);
    group(ui, "Recordings of mock orals are kept for");
    let days = view.keep_recordings_days;
    let can = (days > 1, days < 365);
    let value = words::count(days as usize, "day");
    if let Some(by) = stepper(ui, "Recordings kept", &value, can) {
        command = Some(Command::Settings(SettingsCommand::KeepRecordings(kept_days(days, by))));
    }
    ui.add_space(S24);
    group(ui, "Theme");
    for (choice, name, note) in [
        (ThemeChoice::System, "As the system", ""),
        (ThemeChoice::Sheet, "Sheet", "light"),
        (ThemeChoice::Night, "Night", "dark"),
    ] {
        if option(ui, view.theme == choice, name, note).clicked() && view.theme != choice {
            command = Some(Command::Settings(SettingsCommand::SetTheme(choice)));
        }
    }
    ui.add_space(S24);
    group(ui, "Scale");
    let scale = view.scale_percent;
    let can = (scale > 80, scale < 200);
    if let Some(by) = stepper(ui, "Scale", &format!("{scale} %"), can) {
        let wished = i64::from(scale) + 10 * i64::from(by);
        command = u32::try_from(wished.clamp(80, 200)).ok().map(|it| Command::Settings(SettingsCommand::SetScale(it)));
    }
    ui.add_space(S16);
    if toggle(ui, view.still, "No motion").clicked() {
        command = Some(Command::Settings(SettingsCommand::SetStill(!view.still)));
    }
    command
}

/// Days one step further: by ones up to two weeks, then by weeks.
fn kept_days(days: u32, by: i32) -> u32 {
    match by {
        1.. if days < 14 => days + 1,
        1.. => days + 7,
        _ if days <= 14 => days.saturating_sub(1),
        _ => days.saturating_sub(7).max(14),
    }
    .clamp(1, 365)
}

/// A value with an arrow for less and an arrow for more, each to be pressed by mouse; with the focus on the value, the arrow
/// keys do the same. Returns -1 or 1.
fn stepper(ui: &mut Ui, name: &str, value: &str, (down, up): (bool, bool)) -> Option<i32> {
    let mut by = None;
    ui.horizontal(|ui| {
        if step(ui, &format!("{name}: less"), keys::TO_LEFT, down) {
            by = Some(-1);
        }
        by = by.or(value_ui(ui, name, value).filter(|by| if *by < 0 { down } else { up }));
        if step(ui, &format!("{name}: more"), keys::RIGHT, up) {
            by = Some(1);
        }
    });
    by
}

/// The value, which can have the focus: by then the arrow keys are its own.
fn value_ui(ui: &mut Ui, name: &str, value: &str) -> Option<i32> {
    let p = theme::palette(ui);
    let (_, rect) = ui.allocate_space(vec2(S40 * 4.0, ITEM));
    let id = ui.id().with(("stepper", name));
    let response = ui.interact(rect, id, Sense::click());
    if response.clicked() {
        response.request_focus();
    }
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Slider, true, name));
    ui.ctx().accesskit_node_builder(id, |node: &mut accesskit::Node| {
        node.set_role(accesskit::Role::SpinButton);
        node.set_value(value);
        node.add_action(accesskit::Action::Increment);
        node.add_action(accesskit::Action::Decrement);
    });
    let asked = |action| ui.input(|i| i.has_accesskit_action_request(id, action));
    let mut by =
        if asked(accesskit::Action::Increment) { Some(1) } else { asked(accesskit::Action::Decrement).then_some(-1) };
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Choice);
        let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|m| m.set_focus_lock_filter(id, filter));
        if keys::take_repeated(ui, keys::TO_LEFT) {
            by = Some(-1);
        } else if keys::take_repeated(ui, keys::RIGHT) {
            by = Some(1);
        }
    }
    kit::paint(ui.painter(), rect.center(), Align2::CENTER_CENTER, value, Size::Body, Cut::Mono, p.ink);
    kit::ring_focus(ui, &response, rect.shrink2(vec2(S4, S4)));
    by
}

/// An arrow for the mouse; the keyboard steps on the value itself.
fn step(ui: &mut Ui, name: &str, hot: Hot, enabled: bool) -> bool {
    let p = theme::palette(ui);
    let (id, rect) = ui.allocate_space(vec2(S24 + S4, ITEM));
    let response = ui.interact(rect, id, if enabled { Sense::click() } else { Sense::hover() });
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, enabled, name));
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Button);
    }
    let ink = match (enabled, response.hovered()) {
        (true, true) => p.bronze,
        (true, false) => p.ink,
        _ => p.hairline,
    };
    let line = if enabled { p.line } else { p.hairline };
    let drawn = kit::key_box(ui, pos2(rect.left() + S4, rect.center().y), hot.face, ink, line);
    kit::ring_focus(ui, &response, drawn);
    enabled && response.on_hover_cursor(CursorIcon::PointingHand).clicked()
}
