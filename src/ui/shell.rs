//! The shell: rail, page head, notice, and the page that the view names.

use eframe::egui::{Align2, Rect, Ui, UiBuilder, pos2, vec2};

use crate::app::program::command::{BringCommand, Command, LibraryCommand, SettingsCommand};
use crate::app::program::route::{Route, WritePage};
use crate::present::{ShellView, View};
use crate::ui::keys::KeyLine;
use crate::ui::kit::{self, Room, paint_in, room};
use crate::ui::screens;
use crate::ui::theme::measure::{HEAD, HEAD_LOW, PROGRESS, S4, S8, S12, S16, S24, S40, SHEET, SHEET_WIDEST};
use crate::ui::theme::{self, Cut, Size};
use crate::ui::{keys, rail};

/// Drafts, choices not yet made, scroll: what screens keep between frames, and nothing else.
#[derive(Default)]
pub struct Locals {
    /// The keys of the page, while they stand in its place.
    help: Option<Vec<KeyLine>>,
    page: Option<std::mem::Discriminant<View>>,
    before_card: Option<Route>,
    before_worksheet: Option<Route>,
    first_run: screens::FirstRunLocal,
    card: screens::CardLocal,
    write_card: screens::CardLocal,
    write_front: screens::FrontLocal,
    write_desk: screens::DeskLocal,
    write_form: screens::FormLocal,
    oral_front: screens::OralFrontLocal,
    oral: screens::OralLocal,
    blueprint: screens::BlueprintLocal,
    debrief: screens::DebriefLocal,
    competence: screens::CompetenceLocal,
    plan: screens::PlanLocal,
    library: screens::LibraryLocal,
    deck: screens::DeckLocal,
    card_page: screens::CardPageLocal,
    take_in: screens::TakeInLocal,
    profiles: screens::ProfilesLocal,
    settings: screens::SettingsLocal,
    bring_over: screens::BringOverLocal,
    worksheet: screens::WorksheetPageLocal,
}

impl Locals {
    /// Escape means something on the page itself, before it leads away from it.
    fn takes_escape(&self, view: &View) -> bool {
        match view {
            View::WriteFront(_) => self.write_front.takes_escape(),
            View::WriteDesk(_) => self.write_desk.takes_escape(),
            View::WriteCard(_) => self.write_card.takes_escape(),
            View::WriteForm(_) => self.write_form.takes_escape(),
            _ => {
                self.card.takes_escape()
                    || self.oral.takes_escape()
                    || self.debrief.takes_escape()
                    || self.card_page.takes_escape()
            }
        }
    }

    /// On another page nothing has the focus, so that its keys work, and its keys are not shown.
    fn follow(&mut self, ui: &Ui, view: &View) {
        let page = std::mem::discriminant(view);
        if self.page == Some(page) {
            return;
        }
        let first = self.page.is_none();
        (self.page, self.help) = (Some(page), None);
        self.card.put_picture_away();
        self.write_card.put_picture_away();
        self.write_desk.put_picture_away();
        self.oral.put_picture_away();
        self.card_page.put_picture_away();
        match view {
            View::Library(_) => self.before_card = Some(Route::Library),
            View::WatchEnd(_) => self.before_card = Some(Route::Watch),
            View::Card(_) | View::Worksheet(_) => {}
            _ => self.before_card = None,
        }
        if !first && let Some(focused) = ui.memory(|m| m.focused()) {
            ui.memory_mut(|m| m.surrender_focus(focused));
        }
    }
}

/// Draws everything; returns what was asked for.
pub fn shell_ui(ui: &mut Ui, view: &ShellView, scale_percent: u32, locals: &mut Locals) -> Vec<Command> {
    keys::settle(ui);
    let whole = ui.ctx().content_rect();
    ui.painter().rect_filled(whole, 0, theme::palette(ui).ground);
    locals.follow(ui, &view.view);
    let mut commands = Vec::new();
    commands.extend(scale_keys(ui, scale_percent));
    commands.extend(dropped(ui, &view.view));
    let room = room(ui.ctx());
    let bare = matches!(view.view, View::Opening | View::FirstRun(_) | View::Clock(_) | View::StoreTrouble(_));
    let mut rest = whole;
    if !bare {
        let rect = Rect::from_min_size(whole.min, vec2(rail::width(room), whole.height()));
        commands.extend(rail::rail_ui(ui, rect, &view.rail));
        rest.min.x = rect.right();
    }
    if !bare {
        commands.extend(worksheet_key(ui, view, locals));
    }
    let page = page_rect(rest, room, bare);
    let mut child = ui.new_child(UiBuilder::new().id_salt(page_salt(&view.view)).max_rect(page));
    commands.extend(page_ui(&mut child, page, view, room, bare, locals));
    if commands.contains(&Command::Go(Route::Worksheet)) {
        locals.before_worksheet = route_of(&view.view).or(locals.before_worksheet.take());
    }
    commands
}

/// A file that was dropped on the window, wherever on it and whatever page is in front.
fn dropped(ui: &Ui, view: &View) -> Option<Command> {
    let path = ui.input(|input| input.raw.dropped_files.first().map(|file| file.path().to_owned()))?;
    match view {
        View::Opening | View::FirstRun(_) | View::Clock(_) | View::StoreTrouble(_) => None,
        View::BringOver(_) => Some(Command::Bring(BringCommand::LookInto(path.to_string_lossy().into_owned()))),
        _ => Some(Command::Library(LibraryCommand::LookInto(path))),
    }
}

/// The key that leads to the worksheet from every page, and back again.
fn worksheet_key(ui: &Ui, view: &ShellView, locals: &Locals) -> Option<Command> {
    if !keys::take(ui, keys::WORKSHEET) {
        return None;
    }
    let back = locals.before_worksheet.clone().unwrap_or_default();
    Some(Command::Go(if matches!(view.view, View::Worksheet(_)) { back } else { Route::Worksheet }))
}

/// Where a page is; `None` for the worksheet and for pages that one cannot go to.
fn route_of(view: &View) -> Option<Route> {
    match view {
        View::WatchFront(_) | View::WatchCard(_) | View::WatchEnd(_) => Some(Route::Watch),
        View::OralFront(_) => Some(Route::OralFront),
        View::Oral(_) => Some(Route::Oral),
        View::Blueprint(_) => Some(Route::Blueprint),
        View::Debrief(v) => Some(Route::Debrief(v.id.clone())),
        View::Competence(_) => Some(Route::Competence),
        View::Knowing(_) => Some(Route::Knowing),
        View::Plan(_) => Some(Route::Plan),
        View::Class(v) => Some(Route::Class(v.at)),
        View::Library(_) => Some(Route::Library),
        View::Deck(deck) => Some(Route::Deck(deck.id.clone())),
        View::Edition(v) => Some(Route::Edition(v.deck.clone(), v.place)),
        View::TakeIn(_) => Some(Route::TakeIn),
        View::Card(card) => Some(Route::Card(card.key.clone())),
        View::WriteFront(_) => Some(Route::Write(WritePage::Front)),
        View::WriteDesk(_) => Some(Route::Write(WritePage::Desk)),
        View::WriteCard(_) => Some(Route::Write(WritePage::Card)),
        View::WriteTold(_) => Some(Route::Write(WritePage::Told)),
        View::WriteForm(_) => Some(Route::Write(WritePage::Form)),
        View::Profiles(_) => Some(Route::Profiles),
        View::Settings(_) => Some(Route::Settings),
        View::BringOver(_) => Some(Route::BringOver),
        View::About(_) => Some(Route::About),
        View::Worksheet(_) | View::Opening | View::FirstRun(_) | View::Clock(_) | View::StoreTrouble(_) => None,
    }
}

fn page_salt(view: &View) -> std::mem::Discriminant<View> {
    std::mem::discriminant(view)
}

fn scale_keys(ui: &Ui, scale: u32) -> Option<Command> {
    let larger = keys::take(ui, keys::ZOOM_IN);
    let smaller = keys::take(ui, keys::ZOOM_OUT);
    let plain = keys::take(ui, keys::ZOOM_PLAIN);
    let wished = match (larger, smaller, plain) {
        (true, ..) => scale + 10,
        (_, true, _) => scale.saturating_sub(10),
        (.., true) => 100,
        _ => return None,
    };
    let wished = wished.clamp(80, 200);
    (wished != scale).then_some(Command::Settings(SettingsCommand::SetScale(wished)))
}

/// Where the page stands: margins by room, no wider or higher than a sheet may be.
fn page_rect(rest: Rect, room: Room, bare: bool) -> Rect {
    let (side, bottom) = match room {
        Room::Full => (S40, S24),
        Room::Folded => (S24, S16),
        Room::Tiny => (S8, S8),
    };
    let width = (rest.width() - 2.0 * side).min(if bare { SHEET } else { SHEET_WIDEST });
    let height = rest.height() - bottom;
    Rect::from_min_size(pos2((rest.center().x - width / 2.0).round(), rest.top()), vec2(width, height))
}

fn head_height(room: Room) -> f32 {
    if room == Room::Full { HEAD } else { HEAD_LOW }
}

fn page_ui(ui: &mut Ui, page: Rect, view: &ShellView, room: Room, bare: bool, locals: &mut Locals) -> Option<Command> {
    let head = Rect::from_min_size(page.min, vec2(page.width(), head_height(room)));
    let mut command = head_ui(ui, head, view, bare, locals);
    let mut sheet = Rect::from_min_max(pos2(page.left(), head.bottom()), page.max);
    if let Some(progress) = view.progress {
        progress_ui(ui, sheet, progress);
    }
    if let Some(notice) = &view.notice {
        let (height, away) = kit::notice(ui, sheet, notice);
        sheet.min.y += height + S8;
        if away {
            command = Some(Command::DismissNotice);
        }
    }
    let mut child = ui.new_child(UiBuilder::new().id_salt("sheet").max_rect(sheet));
    if let Some(lines) = &locals.help {
        if screens::keys_sheet_ui(&mut child, lines) {
            locals.help = None;
        }
        return command;
    }
    keys::noting_offers(&mut child, |ui| screen_ui(ui, &view.view, locals)).or(command)
}

fn progress_ui(ui: &Ui, sheet: Rect, progress: f32) {
    let p = theme::palette(ui);
    let line = Rect::from_min_size(pos2(sheet.left(), sheet.top() - S4), vec2(sheet.width(), PROGRESS));
    ui.painter().rect_filled(line, 0, p.hairline);
    let done = Rect::from_min_size(line.min, vec2(line.width() * progress.clamp(0.0, 1.0), PROGRESS));
    ui.painter().rect_filled(done, 0, p.ink_second);
}

/// Title and context at the left, keys at the right.
fn head_ui(ui: &mut Ui, head: Rect, view: &ShellView, bare: bool, locals: &mut Locals) -> Option<Command> {
    let p = theme::palette(ui);
    let middle = if head.height() < HEAD { head.center().y } else { head.top() + S12 + 20.0 };
    let mut left = head.left();
    if bare {
        kit::logo(ui.painter(), pos2(left + S12, middle), p.ink, p.bronze);
        left += S24 + S12;
    }
    let mut right = head.right();
    let before = if matches!(view.view, View::Worksheet(_)) { &locals.before_worksheet } else { &locals.before_card };
    let leave = screens::leave(&view.view, before.as_ref()).filter(|_| locals.help.is_none());
    let (response, edge) = kit::link(ui, pos2(right, middle), "Keys", keys::HELP);
    if response.clicked() || keys::take(ui, keys::HELP) || keys::take(ui, keys::HELP_ANYWHERE) {
        let offered = keys::offers(ui.ctx());
        locals.help = if locals.help.is_none() { Some(key_lines(view, offered, locals)) } else { None };
    }
    right = edge - S16;
    let mut command = None;
    if let Some((name, wish)) = leave {
        let (response, edge) = kit::link(ui, pos2(right, middle), name, keys::ESC);
        right = edge - S16;
        let busy = locals.takes_escape(&view.view);
        if response.clicked() || (!busy && keys::take(ui, keys::ESC)) {
            command = Some(wish);
        }
    }
    let width = kit::width_of(ui, &view.title, Size::Head, Cut::Semi).min(right - left);
    let mut child = ui.new_child(
        UiBuilder::new()
            .id_salt("head")
            .max_rect(Rect::from_min_size(pos2(left, middle - S16 + 2.0), vec2(width + 1.0, S24 + S4))),
    );
    kit::heading(&mut child, &view.title, Size::Head, Cut::Semi);
    let context = Rect::from_min_max(pos2(left + width + S12, middle - S12), pos2(right, middle + S16));
    if !view.context.is_empty() && context.width() > S24 {
        paint_in(ui, context, Align2::LEFT_CENTER, &view.context, Size::Label, Cut::Regular, p.ink_second);
    }
    command
}

/// Every key that does something now, from what the page offered when it was last drawn.
fn key_lines(view: &ShellView, offered: Vec<KeyLine>, locals: &mut Locals) -> Vec<KeyLine> {
    let of_worksheet = matches!(view.view, View::Worksheet(_));
    let before = if of_worksheet { &locals.before_worksheet } else { &locals.before_card };
    let is_tried = matches!(view.view, View::WriteCard(_));
    let card = if is_tried { &mut locals.write_card } else { &mut locals.card };
    let drafts = (card, &mut locals.oral);
    let mut lines = screens::key_lines(&view.view, offered, drafts, before.as_ref());
    if view.notice.is_some() {
        lines.push(KeyLine::of("X", "Put the notice away"));
    }
    lines.extend([
        KeyLine::of("F2", "The worksheet, from everywhere and back"),
        KeyLine::of("TAB", "To the next thing; with Shift to the one before"),
        KeyLine::of("PAGE UP, PAGE DOWN", "Scroll the sheet"),
        KeyLine::of("CTRL + , CTRL −", "Everything larger, smaller; Ctrl 0 as designed"),
        KeyLine::of("?, F1", "These keys; F1 from inside a field too"),
    ]);
    lines
}

fn screen_ui(ui: &mut Ui, view: &View, locals: &mut Locals) -> Option<Command> {
    match view {
        View::Opening => {
            screens::opening_ui(ui);
            None
        }
        View::FirstRun(v) => screens::first_run_ui(ui, v, &mut locals.first_run),
        View::WatchFront(v) => screens::watch_front_ui(ui, v),
        View::WatchCard(v) => screens::watch_card_ui(ui, v, &mut locals.card),
        View::WatchEnd(v) => screens::watch_end_ui(ui, v),
        View::OralFront(v) => screens::oral_front_ui(ui, v, &mut locals.oral_front),
        View::Oral(v) => screens::oral_ui(ui, v, &mut locals.oral),
        View::Blueprint(v) => screens::blueprint_ui(ui, v, &mut locals.blueprint),
        View::Competence(v) => screens::competence_ui(ui, v, &mut locals.competence),
        View::Knowing(v) => screens::knowing_ui(ui, v),
        View::Class(v) => screens::class_ui(ui, v),
        View::Plan(v) => screens::plan_ui(ui, v, &mut locals.plan),
        View::Debrief(v) => screens::debrief_ui(ui, v, &mut locals.debrief),
        View::Library(v) => screens::library_ui(ui, v, &mut locals.library),
        View::Deck(v) => screens::deck_ui(ui, v, &mut locals.deck),
        View::Edition(v) => screens::edition_ui(ui, v),
        View::TakeIn(v) => screens::take_in_ui(ui, v, &mut locals.take_in),
        View::Card(v) => screens::card_page_ui(ui, v, &mut locals.card_page),
        View::Profiles(v) => screens::profiles_ui(ui, v, &mut locals.profiles),
        View::Settings(v) => screens::settings_ui(ui, v, &mut locals.settings),
        View::BringOver(v) => screens::bring_over_ui(ui, v, &mut locals.bring_over),
        View::WriteFront(v) => screens::write_front_ui(ui, v, &mut locals.write_front),
        View::WriteDesk(v) => screens::write_desk_ui(ui, v, &mut locals.write_desk),
        View::WriteCard(v) => screens::watch_card_ui(ui, v, &mut locals.write_card),
        View::WriteTold(v) => screens::write_told_ui(ui, v),
        View::WriteForm(v) => screens::write_form_ui(ui, v, &mut locals.write_form),
        View::Worksheet(v) => screens::worksheet_page_ui(ui, v, &mut locals.worksheet),
        View::About(v) => screens::about_ui(ui, v),
        View::Clock(v) => screens::clock_ui(ui, v),
        View::StoreTrouble(v) => screens::trouble_ui(ui, v),
    }
}
