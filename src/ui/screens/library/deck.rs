//! One deck: what it is, its problems at their lines, its cards and where they stand.

use eframe::egui::{Rect, Ui, vec2};

use crate::app::program::command::{Command, LibraryCommand, WritingCommand};
use crate::app::program::route::Route;
use crate::domain::english;
use crate::present::editions::WithdrawnRow;
use crate::present::library::{CardRow, ProblemRow, Severity, SourceRow, Standing};
use crate::present::{DeckView, Tone, words};
use crate::ui::keys;
use crate::ui::kit::{Act, Cell, Column, Mark, Room, Sheet, head_row, heading, label_in, rich, room, row};
use crate::ui::screens::card::prompt::caution_ui;
use crate::ui::theme::measure::{LIST_ROW, READING, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Which card the cursor is on.
#[derive(Default)]
pub struct DeckLocal {
    deck: Option<crate::domain::ids::DeckId>,
    cursor: usize,
    moved: bool,
}

/// Draws one deck.
pub fn deck_ui(ui: &mut Ui, view: &DeckView, local: &mut DeckLocal) -> Option<Command> {
    if local.deck.as_ref() != Some(&view.id) {
        *local = DeckLocal { deck: Some(view.id.clone()), ..DeckLocal::default() };
    }
    let last = view.cards.len().saturating_sub(1);
    let (up, down) = (keys::take_repeated(ui, keys::UP), keys::take_repeated(ui, keys::DOWN));
    local.moved = up || down;
    local.cursor = if up { local.cursor.saturating_sub(1) } else { local.cursor + usize::from(down) }.min(last);
    let newest = view.editions.first().filter(|taken| taken.place > 0);
    let newest = newest.map(|taken| Command::Go(Route::Edition(view.id.clone(), taken.place)));
    let chosen = view.cards.get(local.cursor).map(|card| Command::Go(Route::Card(card.key.clone())));
    let mut acts = vec![
        Act::primary("Open the card", keys::ENTER, chosen).when(!view.cards.is_empty()),
        Act::other("Read the deck again", keys::letter('R'), Some(Command::Library(LibraryCommand::RereadDecks))),
    ];
    if let Some(folder) = &view.own {
        let write = Command::Writing(WritingCommand::Open(folder.clone()));
        acts.push(Act::other("Write this deck", keys::letter('W'), Some(write)));
    }
    if newest.is_some() {
        acts.push(Act::other("What was new", keys::letter('E'), newest));
    }
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "deck" };
    let (opened, act) = sheet.show(ui, &acts, |ui| content_ui(ui, view, local));
    match act {
        Some(command) => command,
        None => opened,
    }
}

fn content_ui(ui: &mut Ui, view: &DeckView, local: &DeckLocal) -> Option<Command> {
    let p = theme::palette(ui);
    ui.add_space(S4);
    heading(ui, &view.title, Size::Head, Cut::Semi);
    if let Some(about) = &view.about {
        ui.add_space(S4);
        rich(ui, about, READING, Size::Body, p.ink);
    }
    ui.add_space(S8);
    let facts: Vec<String> = view.facts.iter().map(|fact| format!("{}: {}", fact.label, fact.words)).collect();
    label_in(ui, f32::INFINITY, &facts.join("  ·  "), Size::Label, Cut::Regular, p.ink_second);
    if let Some(caution) = &view.caution {
        ui.add_space(S12);
        caution_ui(ui, caution);
    }
    let edition = editions_ui(ui, view).or(back_ui(ui, view));
    withdrawn_ui(ui, &view.withdrawn);
    if !view.problems.is_empty() {
        problems_ui(ui, &view.problems);
    }
    ui.add_space(S24);
    heading(ui, &words::count(view.cards.len(), "card"), Size::Body, Cut::Semi);
    let command = cards_ui(ui, &view.cards, local).or(edition);
    sources_ui(ui, &view.sources);
    command
}

/// The editions that were taken in, where there is more than one: each opens what it brought.
fn editions_ui(ui: &mut Ui, view: &DeckView) -> Option<Command> {
    if view.editions.len() < 2 {
        return None;
    }
    ui.add_space(S24);
    heading(ui, "Editions", Size::Body, Cut::Semi);
    let columns = [Column::Text(88.0), Column::Text(184.0), Column::Share(1.0)];
    let mut command = None;
    for taken in &view.editions {
        let said = format!("{}, taken in on {}: {}", taken.edition, taken.day, taken.brought);
        let cells = [Cell::text(&taken.edition), Cell::quiet(&taken.day), Cell::text(&taken.brought)];
        // The first one brought nothing that there was before.
        let opens = taken.place > 0;
        if row(ui, &columns, &cells, LIST_ROW, (opens, false), &said).clicked() && opens {
            command = Some(Command::Go(Route::Edition(view.id.clone(), taken.place)));
        }
    }
    command
}

/// The edition that was in use before, where it is kept: one row brings it back.
fn back_ui(ui: &mut Ui, view: &DeckView) -> Option<Command> {
    let edition = view.back?;
    ui.add_space(S12);
    let words = format!("Go back to edition {edition}");
    let columns = [Column::Text(232.0), Column::Share(1.0)];
    let cells = [Cell { strong: true, ..Cell::text(&words) }, Cell::quiet("It is kept, and going back can be undone.")];
    let narrow = room(ui.ctx()) == Room::Tiny;
    let (columns, cells) = if narrow { (&columns[1..], &cells[..1]) } else { (&columns[..], &cells[..]) };
    let pressed = row(ui, columns, cells, LIST_ROW, (true, false), &words).clicked();
    pressed.then(|| Command::Library(LibraryCommand::GoBack(view.id.clone())))
}

/// Cards that are in the deck no more, with what is kept of them.
fn withdrawn_ui(ui: &mut Ui, withdrawn: &[WithdrawnRow]) {
    if withdrawn.is_empty() {
        return;
    }
    let p = theme::palette(ui);
    ui.add_space(S24);
    heading(ui, &format!("{} withdrawn", words::count(withdrawn.len(), "card")), Size::Body, Cut::Semi);
    ui.add_space(S4);
    let text =
        "Not asked and not counted any more. What was answered is kept, and counts again if the card comes back.";
    label_in(ui, f32::INFINITY, text, Size::Label, Cut::Regular, p.ink_second);
    let columns = [Column::Share(2.0), Column::Share(1.0)];
    for card in withdrawn {
        let said = format!("{} {}", card.ask, card.answered);
        row(ui, &columns, &[Cell::text(&card.ask), Cell::quiet(&card.answered)], LIST_ROW, (false, false), &said);
    }
}

fn problems_ui(ui: &mut Ui, problems: &[ProblemRow]) {
    let p = theme::palette(ui);
    ui.add_space(S24);
    heading(ui, &words::count(problems.len(), "problem"), Size::Body, Cut::Semi);
    ui.add_space(S4);
    let columns = [Column::Text(96.0), Column::Text(248.0), Column::Share(1.0)];
    let narrow = [Column::Text(88.0), Column::Share(1.0)];
    for problem in problems {
        let (tone, shape) = (problem.severity.tone(), severity_mark(problem.severity));
        let severity = Cell::text(problem.severity.word()).toned(tone).marked(Some(shape));
        let place = Cell { tone: Tone::Quiet, ..Cell::figure(&problem.place) };
        let said = format!(
            "{} at {}: {} {} ({})",
            problem.severity.word(),
            problem.place,
            problem.message,
            problem.mend,
            problem.code
        );
        if room(ui.ctx()) == Room::Tiny {
            row(ui, &narrow, &[severity, place], LIST_ROW, (false, false), &said);
        } else {
            row(ui, &columns, &[severity, place, Cell::quiet(&problem.code)], LIST_ROW, (false, false), &said);
        }
        ui.add_space(S4);
        ui.horizontal_top(|ui| {
            ui.add_space(S24);
            ui.vertical(|ui| {
                label_in(ui, f32::INFINITY, &problem.message, Size::Label, Cut::Regular, p.ink);
                if !problem.mend.is_empty() {
                    label_in(ui, f32::INFINITY, &problem.mend, Size::Label, Cut::Italic, p.ink_second);
                }
            });
        });
        ui.add_space(S8);
    }
}

fn severity_mark(severity: Severity) -> Mark {
    match severity {
        Severity::Error => Mark::Cross,
        Severity::Warning => Mark::WedgeDown,
        Severity::Advice => Mark::Ring,
    }
}

fn cards_ui(ui: &mut Ui, cards: &[CardRow], local: &DeckLocal) -> Option<Command> {
    let narrow = room(ui.ctx()) == Room::Tiny;
    let full = [Column::Text(56.0), Column::Share(2.0), Column::Share(0.8), Column::Text(112.0), Column::Text(88.0)];
    let small = [Column::Share(1.0), Column::Text(112.0)];
    if narrow {
        head_row(ui, &small, &["Question", "Stands"]);
    } else {
        head_row(ui, &full, &["Kind", "Question", "Heading", "Stands", "Next"]);
    }
    let columns: &[Column] = if narrow { &small } else { &full };
    let mut command = None;
    let top = ui.cursor().min;
    let (first, last) = in_sight(ui, cards.len());
    ui.add_space(first as f32 * LIST_ROW);
    for (index, card) in cards.iter().enumerate().take(last).skip(first) {
        let cells = cells(card, index == local.cursor, narrow);
        let said =
            format!("{}, {}, {}, {}", card.ask, english::capital(card.kind.word()), card.standing.word(), card.next);
        let state = (true, index == local.cursor);
        if ui.push_id(index, |ui| row(ui, columns, &cells, LIST_ROW, state, &said)).inner.clicked() {
            command = Some(Command::Go(Route::Card(card.key.clone())));
        }
    }
    ui.add_space((cards.len() - last) as f32 * LIST_ROW);
    if local.moved {
        let at = top + vec2(0.0, local.cursor as f32 * LIST_ROW);
        ui.scroll_to_rect(Rect::from_min_size(at, vec2(ui.available_width(), LIST_ROW)), None);
    }
    command
}

/// Which rows are drawn: those in sight, and some before and after them, so that the focus can go on to them.
fn in_sight(ui: &Ui, count: usize) -> (usize, usize) {
    const MORE: f32 = 12.0;
    let (top, clip) = (ui.cursor().top(), ui.clip_rect());
    let first = ((clip.top() - top) / LIST_ROW - MORE).max(0.0) as usize;
    let last = ((clip.bottom() - top) / LIST_ROW + MORE).max(0.0) as usize;
    (first.min(count), last.min(count))
}

fn cells(card: &CardRow, current: bool, narrow: bool) -> Vec<Cell> {
    let ask = Cell { strong: current, ..Cell::text(&card.ask) };
    let stands = Cell::text(card.standing.word()).toned(card.standing.tone());
    let stands = stands.marked(Some(standing_mark(card.standing)));
    if narrow {
        return vec![ask, stands];
    }
    vec![
        Cell::quiet(english::capital(card.kind.word())),
        ask,
        Cell::quiet(&card.heading),
        stands,
        Cell::quiet(&card.next),
    ]
}

/// The shape of a standing.
pub(super) fn standing_mark(standing: Standing) -> Mark {
    match standing {
        Standing::Unseen | Standing::WorkingUp => Mark::Ring,
        Standing::Holding => Mark::Dot,
        Standing::Slipped => Mark::WedgeDown,
        Standing::SetAside => Mark::Cross,
    }
}

/// The sources, each with its sort.
pub(crate) fn sources_ui(ui: &mut Ui, sources: &[SourceRow]) {
    if sources.is_empty() {
        return;
    }
    let p = theme::palette(ui);
    ui.add_space(S24);
    heading(ui, "Sources", Size::Body, Cut::Semi);
    for source in sources {
        ui.add_space(S4);
        let said = source.title.to_lowercase().contains(&source.kind.to_lowercase());
        let words =
            if said { source.title.clone() } else { format!("{} ({})", source.title, source.kind.to_lowercase()) };
        label_in(ui, READING, &words, Size::Label, Cut::Regular, p.ink);
    }
    ui.add_space(S16);
}
