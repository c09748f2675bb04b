//! Taking a deck in: which file, whose deck it is, what it brings, yes or no.

use std::path::PathBuf;

use eframe::egui::{Id, Ui};

use crate::app::program::command::{Command, LibraryCommand};
use crate::app::program::route::Route;
use crate::present::taking_in::{OfferView, RefusedView, TakeInView};
use crate::ui::keys;
use crate::ui::kit::{Act, Field, Room, Sheet, field, heading, label_in, room};
use crate::ui::theme::measure::{PROMPT, READING, S4, S8, S12, S24};
use crate::ui::theme::{self, Cut, Size};

/// The file as typed.
#[derive(Default)]
pub struct TakeInLocal {
    typed: String,
    begun: bool,
}

impl TakeInLocal {
    /// The file that was typed, which then stands there no more.
    fn named(&mut self) -> PathBuf {
        plain(&std::mem::take(&mut self.typed))
    }
}

fn file_id() -> Id {
    Id::new("take-in-file")
}

/// Draws the page.
pub fn take_in_ui(ui: &mut Ui, view: &TakeInView, local: &mut TakeInLocal) -> Option<Command> {
    if *view != TakeInView::Empty {
        local.begun = false;
    } else if !local.begun {
        local.begun = true;
        ui.memory_mut(|m| m.request_focus(file_id()));
    }
    let library = |command| Some(Command::Library(command));
    let acts = match view {
        TakeInView::Empty => {
            let look = Act::primary("Look into it", keys::ENTER, None);
            vec![look.when(!local.typed.trim().is_empty())]
        }
        TakeInView::Busy { .. } => Vec::new(),
        TakeInView::Refused(_) => vec![
            Act::primary("To the library", keys::ENTER, library(LibraryCommand::PutFileAway)),
            Act::other("Another file", keys::letter('T'), library(LibraryCommand::AskForFile)),
        ],
        TakeInView::Offered(_) => vec![
            Act::primary("Yes, take it in", keys::letter('Y'), library(LibraryCommand::TakeIn)),
            Act::other("No", keys::letter('N'), library(LibraryCommand::PutFileAway)),
        ],
    };
    let sheet = Sheet { framed: true, block: None, folded: false, scroll: "take-in" };
    let ((), act) = sheet.show(ui, &acts, |ui| match view {
        TakeInView::Empty => empty_ui(ui, local),
        TakeInView::Busy { sentence } => busy_ui(ui, sentence),
        TakeInView::Refused(refused) => refused_ui(ui, refused),
        TakeInView::Offered(offer) => offer_ui(ui, offer),
    });
    // Only now, since the last signs may have come together with the key.
    act.map(|command| command.unwrap_or_else(|| Command::Library(LibraryCommand::LookInto(local.named()))))
}

/// Where Escape leads.
pub fn leave_take_in(view: &TakeInView) -> (&'static str, Command) {
    match view {
        TakeInView::Busy { .. } => ("Back to the library", Command::Go(Route::Library)),
        _ => ("Back to the library", Command::Library(LibraryCommand::PutFileAway)),
    }
}

/// A path as a person may have pasted it: in quotes, or as the address of a file.
fn plain(typed: &str) -> PathBuf {
    let typed = typed.trim();
    let quoted = typed.strip_prefix(['"', '\'']).and_then(|rest| rest.strip_suffix(['"', '\'']));
    let typed = quoted.unwrap_or(typed);
    match typed.strip_prefix("file://") {
        Some(path) => PathBuf::from(path.replace("%20", " ")),
        None => PathBuf::from(typed),
    }
}

fn title_ui(ui: &mut Ui, words: &str) {
    ui.add_space(S12);
    heading(ui, words, if room(ui.ctx()) == Room::Tiny { Size::Head } else { Size::Prompt }, Cut::Semi);
    ui.add_space(S4);
}

fn empty_ui(ui: &mut Ui, local: &mut TakeInLocal) {
    let p = theme::palette(ui);
    title_ui(ui, "Take in a deck");
    let words = "Drop the file of a deck anywhere on this window, or write here where it lies. It is looked into first; \
                 nothing is kept before you say so.";
    label_in(ui, PROMPT, words, Size::Body, Cut::Regular, p.ink_second);
    ui.add_space(S12);
    let width = READING.min(ui.available_width());
    let spec = Field { hint: "standing-orders-1.bedplate", ..Field::line(file_id(), "File of the deck", width) };
    field(ui, &spec, &mut local.typed);
}

fn busy_ui(ui: &mut Ui, sentence: &str) {
    let p = theme::palette(ui);
    title_ui(ui, "Take in a deck");
    label_in(ui, PROMPT, sentence, Size::Body, Cut::Regular, p.ink_second);
}

fn refused_ui(ui: &mut Ui, refused: &RefusedView) {
    let p = theme::palette(ui);
    title_ui(ui, &refused.headline);
    label_in(ui, PROMPT, &refused.sentence, Size::Body, Cut::Regular, p.ink);
    if !refused.detail.is_empty() {
        ui.add_space(S24);
        heading(ui, "More exactly", Size::Label, Cut::Semi);
        ui.add_space(S4);
        label_in(ui, PROMPT, &refused.detail, Size::Label, Cut::Regular, p.ink_second);
    }
}

fn offer_ui(ui: &mut Ui, offer: &OfferView) {
    let p = theme::palette(ui);
    title_ui(ui, &offer.title);
    for fact in &offer.facts {
        let words = format!("{}: {}", fact.label, fact.words);
        label_in(ui, PROMPT, &words, Size::Body, Cut::Regular, p.ink);
        ui.add_space(S4);
    }
    if let Some(key) = &offer.key {
        // In a face that tells l from I and 0 from O: it is to be compared sign by sign.
        label_in(ui, PROMPT, key, Size::Label, Cut::Mono, p.ink);
    }
    ui.add_space(S12);
    heading(ui, "What it brings", Size::Body, Cut::Semi);
    for words in &offer.news {
        ui.add_space(S4);
        label_in(ui, PROMPT, words, Size::Body, Cut::Regular, p.ink);
    }
    ui.add_space(S24);
    let last = offer.questions.len().saturating_sub(1);
    for (n, words) in offer.questions.iter().enumerate() {
        let cut = if n == last { Cut::Semi } else { Cut::Regular };
        label_in(ui, PROMPT, words, Size::Body, cut, p.ink);
        ui.add_space(S8);
    }
}
