//! The library: every deck as a row, and a search over all text as one types.

use eframe::egui::text::LayoutJob;
use eframe::egui::{Id, Rect, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::command::{Command, LibraryCommand};
use crate::app::program::route::{Route, WritePage};
use crate::present::library::{DeckRow, Hit, SearchView, Severity};
use crate::present::{LibraryView, Tone, words};
use crate::ui::keys::{self, Held};
use crate::ui::kit::{
    Act, Cell, Column, Field, Mark, Room, Sheet, field, head_row, key_box, label, label_in, lines, ring_focus, room,
    row,
};
use crate::ui::theme::measure::{LIST_ROW, MARK, READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// The search as typed, and which row the cursor is on.
#[derive(Default)]
pub struct LibraryLocal {
    typed: String,
    cursor: usize,
    begun: bool,
}

fn search_id() -> Id {
    Id::new("library-search")
}

#[derive(Clone, Copy, PartialEq)]
enum LibraryAct {
    Open,
    TakeIn,
    Reread,
    Write,
}

/// Draws the library.
pub fn library_ui(ui: &mut Ui, view: &LibraryView, local: &mut LibraryLocal) -> Option<Command> {
    if !local.begun {
        local.begun = true;
        local.typed = view.search.as_ref().map(|s| s.query.clone()).unwrap_or_default();
    }
    let mut command = None;
    if keys::take(ui, keys::SLASH) {
        ui.memory_mut(|m| m.request_focus(search_id()));
    }
    let searching = !local.typed.trim().is_empty();
    let hits = view.search.as_ref().filter(|_| searching);
    let count = hits.map_or(view.decks.len(), |s| s.hits.len());
    if searching && keys::take(ui, keys::ESC) {
        local.typed.clear();
        command = Some(Command::Library(LibraryCommand::Search(String::new())));
    }
    let open = Act::primary(if searching { "Open the card" } else { "Open the deck" }, keys::ENTER, LibraryAct::Open);
    let acts = [
        open.when(count > 0),
        Act::other("Take in a deck", keys::letter('T'), LibraryAct::TakeIn),
        Act::other("Write a deck", keys::letter('W'), LibraryAct::Write),
        Act::other("Read the folders again", keys::letter('R'), LibraryAct::Reread),
    ];
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "library" };
    let (inside, act) = sheet.show(ui, &acts, |ui| content_ui(ui, view, hits, local, count));
    let chosen = || match hits {
        Some(found) => found.hits.get(local.cursor).map(|h| Route::Card(h.key.clone())),
        None => view.decks.get(local.cursor).map(|d| Route::Deck(d.id.clone())),
    };
    match act {
        Some(LibraryAct::Open) => chosen().map(Command::Go),
        Some(LibraryAct::TakeIn) => Some(Command::Library(LibraryCommand::AskForFile)),
        Some(LibraryAct::Reread) => Some(Command::Library(LibraryCommand::RereadDecks)),
        Some(LibraryAct::Write) => Some(Command::Go(Route::Write(WritePage::Front))),
        None => inside.or(command),
    }
}

fn content_ui(
    ui: &mut Ui,
    view: &LibraryView,
    hits: Option<&SearchView>,
    local: &mut LibraryLocal,
    count: usize,
) -> Option<Command> {
    let command = search_ui(ui, local);
    cursor_by_arrows(ui, local, count);
    let opened = match hits {
        Some(found) => hits_ui(ui, found, local.cursor),
        None if view.decks.is_empty() => {
            empty_ui(ui, &view.folders);
            None
        }
        None => decks_ui(ui, &view.decks, local.cursor),
    };
    command.or(opened)
}

fn cursor_by_arrows(ui: &Ui, local: &mut LibraryLocal, count: usize) {
    let in_search = ui.memory(|m| m.has_focus(search_id()));
    let (up, down) = if in_search {
        // One line has no up and down of its own.
        (keys::take_in_line(ui, keys::UP), keys::take_in_line(ui, keys::DOWN))
    } else {
        (keys::take_repeated(ui, keys::UP), keys::take_repeated(ui, keys::DOWN))
    };
    local.cursor = if up { local.cursor.saturating_sub(1) } else { local.cursor + usize::from(down) };
    local.cursor = local.cursor.min(count.saturating_sub(1));
}

fn search_ui(ui: &mut Ui, local: &mut LibraryLocal) -> Option<Command> {
    let p = theme::palette(ui);
    ui.add_space(S4);
    let width = (READING - S40 * 2.0).min(ui.available_width());
    let top = ui.cursor().min;
    let spec =
        Field { hint: "Search every deck", room_right: S24, ..Field::line(search_id(), "Search every deck", width) };
    let before = local.typed.clone();
    field(ui, &spec, &mut local.typed);
    ui.memory_mut(|m| {
        let filter = eframe::egui::EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..eframe::egui::EventFilter::default()
        };
        m.set_focus_lock_filter(search_id(), filter);
    });
    key_box(ui, pos2(top.x + width - S16 - S12, top.y + S16 + S4), keys::SLASH.face, p.ink_second, p.line);
    ui.add_space(S12);
    (local.typed != before).then(|| {
        local.cursor = 0;
        Command::Library(LibraryCommand::Search(local.typed.clone()))
    })
}

fn decks_ui(ui: &mut Ui, decks: &[DeckRow], cursor: usize) -> Option<Command> {
    let narrow = room(ui.ctx()) == Room::Tiny;
    let full =
        [Column::Share(1.4), Column::Figure(64.0), Column::Share(1.0), Column::Figure(72.0), Column::Text(120.0)];
    let small = [Column::Share(1.0), Column::Figure(56.0), Column::Text(88.0)];
    let columns: &[Column] = if narrow { &small } else { &full };
    if narrow {
        head_row(ui, columns, &["Deck", "Cards", "Problems"]);
    } else {
        head_row(ui, columns, &["Deck", "Edition", "Publisher", "Cards", "Problems"]);
    }
    let mut command = None;
    for (index, deck) in decks.iter().enumerate() {
        let current = index == cursor;
        let title = Cell { strong: current, ..Cell::text(&deck.title) };
        let cards = Cell::figure(words::figure(deck.cards));
        let problems = problems_cell(deck);
        let cells = if narrow {
            vec![title, cards, problems]
        } else {
            vec![title, Cell::figure(&deck.edition), Cell::quiet(&deck.publisher), cards, problems]
        };
        let name = format!(
            "{}, edition {}, {}, {}, {}",
            deck.title,
            deck.edition,
            deck.publisher,
            words::count(deck.cards, "card"),
            words::count(deck.problems, "problem")
        );
        let response = row(ui, columns, &cells, LIST_ROW, (true, current), &name);
        if current && ui.input(|i| i.key_pressed(eframe::egui::Key::ArrowDown)) {
            response.scroll_to_me(None);
        }
        if response.clicked() {
            command = Some(Command::Go(Route::Deck(deck.id.clone())));
        }
    }
    command
}

fn problems_cell(deck: &DeckRow) -> Cell {
    let (tone, shape) = match deck.worst {
        Some(Severity::Error) => (Tone::Bad, Some(Mark::WedgeDown)),
        Some(Severity::Warning) => (Tone::Weak, Some(Mark::WedgeDown)),
        Some(Severity::Advice) | None => (Tone::Quiet, None),
    };
    let words = match deck.worst {
        Some(worst @ (Severity::Error | Severity::Warning)) => format!("{}, {}", deck.problems, worst.word()),
        _ => deck.problems.to_string(),
    };
    Cell::text(words).toned(tone).marked(shape)
}

fn empty_ui(ui: &mut Ui, folders: &[String]) {
    let p = theme::palette(ui);
    ui.add_space(S16);
    label(ui, "There are no decks.", Size::Body, Cut::Semi, p.ink);
    ui.add_space(S4);
    let words = format!(
        "Decks are looked for in {}. Put a deck’s folder there and read again, or take in the file of one.",
        folders.join(" and ")
    );
    label_in(ui, READING, &words, Size::Body, Cut::Regular, p.ink_second);
}

fn hits_ui(ui: &mut Ui, found: &SearchView, cursor: usize) -> Option<Command> {
    let p = theme::palette(ui);
    if found.hits.is_empty() {
        let words = format!("Nothing in any deck for “{}”.", found.query);
        label(ui, &words, Size::Body, Cut::Regular, p.ink_second);
        return None;
    }
    let mut command = None;
    for (index, hit) in found.hits.iter().enumerate() {
        if hit_ui(ui, hit, index == cursor) {
            command = Some(Command::Go(Route::Card(hit.key.clone())));
        }
    }
    if found.more > 0 {
        ui.add_space(S8);
        let words = format!("{} more. Type more of it to narrow the search.", words::figure(found.more));
        label(ui, &words, Size::Label, Cut::Regular, p.ink_second);
    }
    command
}

/// A hit: the question, the deck, the words around the match. True when it was opened.
fn hit_ui(ui: &mut Ui, hit: &Hit, current: bool) -> bool {
    let p = theme::palette(ui);
    let width = ui.available_width();
    let cut = if current { Cut::Semi } else { Cut::Regular };
    let ask = lines(ui, &hit.ask, width, 1, Size::Label, cut, p.ink);
    let mut job = LayoutJob::default();
    job.append(&format!("{}: ", hit.deck), 0.0, theme::format(Size::Label, Cut::Regular, p.ink_second));
    for part in &hit.snippet {
        let mut format = theme::format(Size::Label, Cut::Regular, p.ink_second);
        if part.marked {
            format = theme::format(Size::Label, Cut::Semi, p.ink);
            format.underline = eframe::egui::Stroke::new(1.5, p.bronze);
        }
        job.append(&part.text, 0.0, format);
    }
    job.wrap = eframe::egui::text::TextWrapping { max_width: width, max_rows: 2, ..Default::default() };
    let snippet = ui.painter().layout_job(job);
    let height = ask.size().y + snippet.size().y + S12;
    let (id, rect) = ui.allocate_space(vec2(width, height));
    let response = ui.interact(rect, id, Sense::click());
    let words: String = hit.snippet.iter().map(|s| s.text.as_str()).collect();
    let said = format!("{}. {}: {words}", hit.ask, hit.deck);
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Button);
    }
    if current || response.hovered() {
        ui.painter().rect_filled(rect.expand2(vec2(S8, 0.0)), 0, p.raised);
    }
    if current {
        let bar = Rect::from_min_size(rect.min - vec2(S8 + MARK, 0.0), vec2(MARK, height));
        ui.painter().rect_filled(bar, 0, p.bronze);
    }
    let top = rect.top() + S4 + 1.0;
    let ask_height = ask.size().y;
    ui.painter().galley(pos2(rect.left(), top), ask, p.ink);
    ui.painter().galley(pos2(rect.left(), top + ask_height), snippet, p.ink_second);
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
    ring_focus(ui, &response, rect.expand2(vec2(S4, -2.0)));
    response.on_hover_cursor(eframe::egui::CursorIcon::PointingHand).clicked()
}
