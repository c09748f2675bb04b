//! Where one is in the program.

use crate::domain::ids::{CardKey, DeckId};

/// A place in the program. The watch has its own stages inside `Watch`.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Route {
    /// The three questions.
    FirstRun,
    /// The watch: its front page, a card, or its end, as the watch itself stands.
    #[default]
    Watch,
    /// The mock oral: begin a sitting, or look at those before.
    OralFront,
    /// The sitting being sat.
    Oral,
    /// How orals are shared and passed.
    Blueprint,
    /// What a sitting came to, by its id.
    Debrief(String),
    /// Where the learner stands, competence by competence.
    Competence,
    /// How well the program knows the learner.
    Knowing,
    /// The plan to the oral.
    Plan,
    /// All decks, with the search.
    Library,
    /// A lecturer's class, by its position in the list of the home's classes.
    Class(usize),
    /// One deck: its cards and its problems.
    Deck(DeckId),
    /// What an edition of a deck brought; the edition by its place among those that were taken in.
    Edition(DeckId, usize),
    /// A deck is taken in from a file.
    TakeIn,
    /// A deck is written: which page of that.
    Write(WritePage),
    /// One card of a deck, with its answer.
    Card(CardKey),
    /// The worksheet that stands outside of any card.
    Worksheet,
    /// The learners on this computer.
    Profiles,
    /// Ship's time, theme, scale, minutes, recall target.
    Settings,
    /// A profile's file is taken in, or written.
    BringOver,
    /// What this is, with the caution.
    About,
    /// The profile could not be opened: what happened and what can be done.
    StoreTrouble,
}

/// The pages on which a deck is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WritePage {
    /// A deck is chosen or begun.
    Front,
    /// Its cards, their problems, the card in hand.
    Desk,
    /// The card in hand is answered.
    Card,
    /// How that answer was marked, and what a sample of it is to expect.
    Told,
    /// A card in its form.
    Form,
}
