//! What may be done on a card.

use crate::app::program::command::{CardCommand, Command};
use crate::ui::keys;
use crate::ui::kit::Act;
use crate::ui::screens::card::aside::AsideAct;

/// What may be done on a card.
#[derive(Clone)]
pub(crate) enum CardAct {
    /// A command as it stands.
    Run(Command),
    /// Something that the card's kind does with its drafts.
    Own(Own),
    /// Setting aside, or reporting a fault.
    Aside(AsideAct),
    /// Show what an edition has changed of the card.
    ShowChanged,
}

/// What a kind does with its own drafts. Each kind offers some of these, and knows what they mean there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Own {
    /// Hand in, check or run what is typed, placed or set.
    HandIn,
    /// Put the cursor into the answer's field.
    Type,
    /// Undo the last change.
    Undo,
    /// Take everything off the sheet.
    Clear,
    /// Put everything back as it was found.
    AsFound,
    /// Turn what is chosen.
    Turn,
    /// Choose the next thing.
    Next,
    /// Play what is being played to its end.
    ToTheEnd,
    /// Mend what was marked, and try again.
    Mend,
    /// Back from mending.
    BackToMarked,
    /// Show what would have been right, or put it away.
    ShowRight,
}

impl CardAct {
    /// Whether it shows what would have been right, or lets the learner find it out.
    pub(crate) fn shows_what_is_right(&self) -> bool {
        matches!(
            self,
            CardAct::Own(Own::Mend | Own::ShowRight)
                | CardAct::Run(
                    Command::Card(CardCommand::Explain)
                        | Command::Card(CardCommand::TryAgain)
                        | Command::Card(CardCommand::FreshFigures)
                )
        )
    }
}

/// The state of the program around a card, as far as actions depend on it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Moment {
    /// An answer is being kept: nothing can be accepted until it is.
    pub(crate) keeping: bool,
    /// The answer that was typed is being read.
    pub(crate) reading: bool,
    /// The window is very small: what has its key needs no place of its own.
    pub(crate) tiny: bool,
}

/// Accepts the outcome.
pub(crate) fn accept(moment: Moment) -> Act<CardAct> {
    Act::primary("Accept", keys::SPACE, CardAct::Run(Command::Card(CardCommand::Accept))).when(!moment.keeping)
}

/// While a typed answer is being read: it can be taken back into the field.
pub(crate) fn reading() -> Vec<Act<CardAct>> {
    let run = |command| CardAct::Run(Command::Card(command));
    vec![
        Act::primary(READING, keys::CTRL_ENTER, run(CardCommand::Withdraw)).when(false),
        Act::other("Back to the field", keys::ESC, run(CardCommand::Withdraw)),
    ]
}

/// What stands in the place of the action while a typed answer is being read.
pub(crate) const READING: &str = "Reading…";

/// Sets the card aside, or reports a fault in it.
pub(crate) fn aside() -> [Act<CardAct>; 2] {
    [
        Act::other("Set aside", keys::letter('A'), CardAct::Aside(AsideAct::Choose)),
        Act::other("Report a fault", keys::letter('F'), CardAct::Aside(AsideAct::Report)),
    ]
}

/// What may be done at every marked card whose kind adds nothing.
pub(crate) fn marked(moment: Moment) -> Vec<Act<CardAct>> {
    std::iter::once(accept(moment)).chain(aside()).collect()
}
