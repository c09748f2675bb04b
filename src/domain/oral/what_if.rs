//! "And if ... now?": questions whose answer comes from the plant model or the model of the piping, not from a list.

use super::probe::Drafted;
use crate::domain::card::Card;
use crate::domain::kinds::WhatIf;

/// Every "what if" that a card's model gives, in a fixed order.
pub(super) fn all(card: &Card) -> Vec<Drafted> {
    card.body.as_kind().what_ifs().into_iter().map(drafted).collect()
}

/// The "what ifs" that ask for what was missed: the point (its words) of an answer to the card itself.
pub(super) fn about(card: &Card, missed: &str) -> Vec<Drafted> {
    card.body.as_kind().what_ifs_about(missed).into_iter().map(drafted).collect()
}

fn drafted(what_if: WhatIf) -> Drafted {
    let WhatIf { id, lead_in, ask, points } = what_if;
    Drafted { id, lead_in: lead_in.to_owned(), ask, points }
}
