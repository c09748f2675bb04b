//! A deck to write is chosen, or a new one is begun.

use std::path::PathBuf;

use eframe::egui::{Id, Ui};

use crate::app::program::command::{Command, WritingCommand};
use crate::domain::form::BeginDeck;
use crate::present::writing::WriteFrontView;
use crate::ui::keys;
use crate::ui::kit::{Act, Cell, Column, Field, Room, Sheet, field, head_row, heading, label, label_in, room, row};
use crate::ui::theme::measure::{LIST_ROW, READING, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// What is typed for a new deck, or for a folder elsewhere.
#[derive(Default)]
pub struct FrontLocal {
    cursor: usize,
    asks: Asks,
    deck: BeginDeck,
    folder: String,
    fresh: bool,
}

/// What the page asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Asks {
    #[default]
    Which,
    New,
    Elsewhere,
}

#[derive(Clone, PartialEq)]
enum FrontAct {
    Open,
    New,
    Elsewhere,
    Begin,
    OpenFolder,
    Cancel,
}

impl FrontLocal {
    /// Escape puts the fields away first.
    pub fn takes_escape(&self) -> bool {
        self.asks != Asks::Which
    }

    fn ask(&mut self, asks: Asks) {
        (self.asks, self.fresh) = (asks, true);
    }
}

/// Draws the page.
pub fn write_front_ui(ui: &mut Ui, view: &WriteFrontView, local: &mut FrontLocal) -> Option<Command> {
    let last = view.decks.len().saturating_sub(1);
    if local.asks == Asks::Which {
        let (up, down) = (keys::take_repeated(ui, keys::UP), keys::take_repeated(ui, keys::DOWN));
        local.cursor = if up { local.cursor.saturating_sub(1) } else { local.cursor + usize::from(down) }.min(last);
    }
    let full = |text: &str| !text.trim().is_empty();
    let acts = match local.asks {
        Asks::Which => vec![
            Act::primary("Write this deck", keys::ENTER, FrontAct::Open).when(!view.decks.is_empty()),
            Act::other("Begin a new deck", keys::letter('N'), FrontAct::New),
            Act::other("A folder elsewhere", keys::letter('F'), FrontAct::Elsewhere),
        ],
        Asks::New => vec![
            Act::primary("Begin the deck", keys::ENTER, FrontAct::Begin)
                .when(full(&local.deck.id) && full(&local.deck.title)),
            Act::other("Cancel", keys::ESC, FrontAct::Cancel),
        ],
        Asks::Elsewhere => vec![
            Act::primary("Write this folder", keys::ENTER, FrontAct::OpenFolder).when(full(&local.folder)),
            Act::other("Cancel", keys::ESC, FrontAct::Cancel),
        ],
    };
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "write-front" };
    let (clicked, act) = sheet.show(ui, &acts, |ui| match local.asks {
        Asks::Which => decks_ui(ui, view, local.cursor),
        Asks::New => {
            new_ui(ui, view, local);
            None
        }
        Asks::Elsewhere => {
            elsewhere_ui(ui, local);
            None
        }
    });
    let open = |at: usize| {
        let deck = view.decks.get(at)?;
        Some(Command::Writing(WritingCommand::Open(deck.folder.clone())))
    };
    if let Some(at) = clicked {
        return open(at);
    }
    match act? {
        FrontAct::Open => return open(local.cursor),
        FrontAct::New => {
            local.deck.publisher.clone_from(&view.publisher);
            local.ask(Asks::New);
        }
        FrontAct::Elsewhere => local.ask(Asks::Elsewhere),
        FrontAct::Cancel => local.ask(Asks::Which),
        FrontAct::Begin => {
            // What is typed stays until the deck is there: an id may have been taken.
            return Some(Command::Writing(WritingCommand::Begin(local.deck.clone())));
        }
        FrontAct::OpenFolder => {
            let folder = PathBuf::from(local.folder.trim());
            return Some(Command::Writing(WritingCommand::Open(folder)));
        }
    }
    None
}

fn decks_ui(ui: &mut Ui, view: &WriteFrontView, cursor: usize) -> Option<usize> {
    let p = theme::palette(ui);
    ui.add_space(S4);
    heading(ui, "Which deck do you write?", Size::Head, Cut::Semi);
    ui.add_space(S4);
    let words = format!("A deck is a folder of text files. A new one is put into {}.", view.folder);
    label_in(ui, READING, &words, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S16);
    if view.decks.is_empty() {
        label(ui, "You have no deck of your own yet.", Size::Body, Cut::Regular, p.ink);
        return None;
    }
    let narrow = room(ui.ctx()) == Room::Tiny;
    let wide = [Column::Share(1.0), Column::Share(0.7), Column::Share(1.2)];
    let small = [Column::Share(1.0), Column::Share(0.8)];
    let columns: &[Column] = if narrow { &small } else { &wide };
    head_row(ui, columns, if narrow { &["Deck", "In it"] } else { &["Deck", "In it", "Folder"] });
    let mut clicked = None;
    for (at, deck) in view.decks.iter().enumerate() {
        let current = at == cursor;
        let folder = deck.folder.display().to_string();
        let cells =
            [Cell { strong: current, ..Cell::text(&deck.title) }, Cell::quiet(&deck.detail), Cell::quiet(&folder)];
        let name = format!("{}, {}, {folder}", deck.title, deck.detail);
        if row(ui, columns, &cells, LIST_ROW, (true, current), &name).clicked() {
            clicked = Some(at);
        }
    }
    clicked
}

fn new_ui(ui: &mut Ui, view: &WriteFrontView, local: &mut FrontLocal) {
    let p = theme::palette(ui);
    ui.add_space(S4);
    heading(ui, "A new deck", Size::Head, Cut::Semi);
    let fresh = std::mem::take(&mut local.fresh);
    let FrontLocal { deck, .. } = local;
    let topic = view.topics.iter().find(|(key, _)| *key == deck.topic.trim()).map(|(_, title)| title.as_str());
    let topic_says = match (topic, deck.topic.trim()) {
        (Some(title), _) => title.to_owned(),
        (None, "") => {
            "A competence of the STCW Code, such as A-III/1.2.1; new cards begin with it. May stay empty.".to_owned()
        }
        (None, _) => "There is no such competence; FORMAT.md lists them all.".to_owned(),
    };
    let said = [
        ("Id", "Lower-case letters, digits and hyphens. It never changes: answers are filed under it.".to_owned()),
        ("Title", "For people.".to_owned()),
        ("Topic", topic_says),
        ("Publisher", "Whose deck it is. May stay empty.".to_owned()),
    ];
    let texts = [&mut deck.id, &mut deck.title, &mut deck.topic, &mut deck.publisher];
    for (at, ((name, says), text)) in said.iter().zip(texts).enumerate() {
        ui.add_space(S12);
        label(ui, name, Size::Label, Cut::Semi, p.ink);
        ui.add_space(S4);
        let response = field(ui, &Field::line(Id::new(("new-deck", at)), name, READING), text);
        if fresh && at == 0 {
            response.request_focus();
        }
        label_in(ui, READING, says, Size::Small, Cut::Regular, p.ink_second);
    }
    ui.add_space(S24);
}

fn elsewhere_ui(ui: &mut Ui, local: &mut FrontLocal) {
    let p = theme::palette(ui);
    ui.add_space(S4);
    heading(ui, "A folder elsewhere", Size::Head, Cut::Semi);
    ui.add_space(S4);
    let words = "The folder in which the deck’s deck.toml lies, such as on a stick or in a shared folder.";
    label_in(ui, READING, words, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S8);
    let response = field(ui, &Field::line(Id::new("other-folder"), "Folder of the deck", READING), &mut local.folder);
    if std::mem::take(&mut local.fresh) {
        response.request_focus();
    }
}
