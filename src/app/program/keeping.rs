//! What is on its way into the store: the screen moves on only when the store has answered.

use crate::domain::attempt::Attempt;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::oral::Turn;
use crate::store::Ticket;

/// Cards with their memory from now on; none where nothing is known of them any more.
pub(in crate::app) type Changed = Vec<(CardKey, Option<CardMemory>)>;

/// An answer of the watch on its way into the store.
pub(in crate::app) struct Keeping {
    pub(in crate::app) attempt: Attempt,
    pub(in crate::app) memory: CardMemory,
    pub(in crate::app) why_missed: Option<String>,
    pub(in crate::app) ticket: Ticket<()>,
}

/// An answered turn of a sitting on its way into the store.
pub(in crate::app) struct KeepingTurn {
    pub(in crate::app) turn: Turn,
    pub(in crate::app) attempt: Option<(Attempt, CardMemory)>,
    pub(in crate::app) ticket: Ticket<()>,
}

/// All that is on its way into the store.
#[derive(Default)]
pub(in crate::app) struct OnItsWay {
    /// The answer of the watch.
    pub(in crate::app) answer: Option<Keeping>,
    /// An answer that is being taken back.
    pub(in crate::app) back: Option<Ticket<Changed>>,
    /// The turn of the sitting.
    pub(in crate::app) turn: Option<KeepingTurn>,
    /// Settings and other changes that no screen waits for.
    pub(in crate::app) changes: Vec<Ticket<()>>,
}
