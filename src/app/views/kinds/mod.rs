//! What a card's kind shows of it: one file for a kind, each with its [`KindView`], and the one list of them.

use std::sync::Arc;

use crate::app::sheet::{AnswerSheet, Marked};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::kinds::{Body, each_kind};
use crate::present::drawing::DrawingView;
use crate::present::kinds::lineup::SchematicView;
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::library::AnswerView;
use crate::present::stage::RemedyPart;
use crate::present::worksheet::WorksheetView;

pub use working::page as worksheet_page;

/// A card on a sheet, with what is read and worked out beside it.
pub(super) struct Laid<'a> {
    /// The card.
    pub(super) card: &'a Card,
    /// How far it has come.
    pub(super) sheet: &'a AnswerSheet,
    /// Drawing of the card, as far as it is read.
    pub(super) drawing: Option<DrawingView>,
    /// The lines of a working, as far as they are worked out.
    pub(super) worksheet: WorksheetView,
    /// What would have been right is told later, in the debrief of an oral.
    pub(super) withheld: bool,
    /// The words of key points that are missing may be read.
    pub(super) missing_told: bool,
}

/// What a kind of card shows.
pub(super) trait KindView {
    /// The question as it is put, Markdown.
    fn question(&self, card: &Card, _sheet: &AnswerSheet) -> String {
        card.ask.clone()
    }

    /// The question outside of any watch, where no figures are drawn.
    fn blank(&self, card: &Card) -> String {
        card.ask.clone()
    }

    /// While the question stands.
    fn asked(&self, laid: Laid<'_>) -> AskedView;

    /// Once the answer is marked.
    fn marked(&self, laid: Laid<'_>, marked: &Marked) -> MarkedView;

    /// How much of it was right, before the time taken: `4 of 5 points, `; empty where the outcome says it all.
    fn tally(&self, _marked: &Marked, _sheet: &AnswerSheet) -> String {
        String::new()
    }

    /// Whether the card's reason may be told after this marking.
    fn tells_reason(&self, _marked: &Marked, _sheet: &AnswerSheet) -> bool {
        true
    }

    /// What a remedy uncovers of it one by one, before the reason and the sources.
    fn remedy(&self, card: &Card, sheet: Option<&AnswerSheet>) -> Vec<RemedyPart>;

    /// What was set on the sheet, in words, for a debrief; none where it is none of this kind's.
    fn given(&self, _given: &Given) -> Option<String> {
        None
    }

    /// Whether it is answered in the column of a sitting, beside the conversation; the others take the whole sheet.
    fn is_narrow(&self) -> bool {
        false
    }

    /// Whether the head of its sheet is folded, and stays so in its remedy.
    fn is_folded(&self) -> bool {
        false
    }

    /// The answer, for the page of the card.
    fn answer(&self, card: &Card) -> AnswerView;

    /// Whether something can be proved of it before anyone answers it.
    fn can_be_proved(&self) -> bool {
        false
    }

    /// What can be proved of it, in sentences, or why it cannot be; none of kinds of which nothing can.
    fn proof(&self, _card: &Card) -> Option<Result<Vec<String>, String>> {
        None
    }

    /// The drawing of its network, as it is asked.
    fn schematic(&self) -> Option<Arc<SchematicView>> {
        None
    }

    /// The part of its drawing that is the answer, by its number.
    fn part(&self) -> Option<usize> {
        None
    }
}

/// Declares the kinds' files, and finds what the kind of a card shows.
macro_rules! views {
    ($($(#[$doc:meta])* $name:ident($held:ty): $file:ident;)+) => {
        $(pub mod $file;)+

        /// What the kind of a card shows.
        pub(super) fn of(card: &Card) -> &dyn KindView {
            match &card.body {
                $(Body::$name(held) => held,)+
            }
        }
    };
}

each_kind!(views);

/// What can be proved of a card, in sentences.
pub fn proof(card: &Card) -> Option<Result<Vec<String>, String>> {
    of(card).proof(card)
}

/// Whether something can be proved of a card.
pub fn can_be_proved(card: &Card) -> bool {
    of(card).can_be_proved()
}

/// What stands for an answer that has no words.
pub const SET: &str = "Set on the sheet.";

/// What was given to a card, in words.
pub fn given_words(card: &Card, given: &Given) -> String {
    match given {
        Given::Text(text) => text.trim().to_owned(),
        Given::Said(said) if said.is_empty() => "No point ticked.".to_owned(),
        Given::Said(said) => {
            let said: Vec<String> = said.iter().map(ToString::to_string).collect();
            format!("Points ticked: {}.", said.join(", "))
        }
        given => of(card).given(given).unwrap_or_else(|| SET.to_owned()),
    }
}

/// The question of a card outside of any watch, Markdown: a working's has gaps for its figures.
pub fn blank(card: &Card) -> String {
    of(card).blank(card)
}

/// Things in their order, as a line: `1. A  2. B`.
fn in_order(things: impl Iterator<Item = String>) -> String {
    (1..).zip(things).map(|(n, thing)| format!("{n}. {thing}")).collect::<Vec<_>>().join("  ")
}

/// A part of a remedy that is not safety-critical.
fn part(label: impl Into<String>, text: impl Into<String>) -> RemedyPart {
    RemedyPart { label: label.into(), text: text.into(), critical: false }
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;

    use super::*;
    use crate::deck::read_deck;

    /// The state machine steps through as many parts as are shown.
    #[test]
    fn a_remedy_shows_as_many_parts_as_it_is_stepped_through() {
        let decks = fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("decks")).expect("the decks").flatten();
        let mut cards = 0;
        for deck in decks.filter_map(|entry| read_deck(&entry.path()).deck) {
            for card in &deck.cards {
                let shown = of(card).remedy(card, None).len() + usize::from(card.because.is_some()) + 1;
                assert_eq!(shown, card.remedy_parts(), "{}", card.key);
                cards += 1;
            }
        }
        assert!(cards > 500, "{cards}");
    }
}
