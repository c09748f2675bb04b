//! What a publisher checks beyond soundness: whether decks together ask each thing once, give nothing away, weigh
//! sensibly and cover the tables. It looks at sound decks, several at a time; none of it keeps a deck from being used.

mod balance;
mod claims;
mod coverage;
mod finding;
mod giving_away;
mod phrases;
mod twins;

pub use coverage::{CompetenceCards, Coverage, DeckCards, coverage};
pub use finding::{Finding, Sort};

use crate::domain::deck::Deck;

/// Everything that a publisher should look at in these decks, by sort and then in their order. Competences without
/// cards are told where `whole` says that the decks are meant to cover the tables together.
pub fn findings(decks: &[&Deck], whole: bool) -> Vec<Finding> {
    let mut found = twins::check(decks);
    found.extend(giving_away::check(decks));
    found.extend(balance::check(decks));
    found.extend(phrases::check(decks));
    if whole {
        found.extend(coverage::check(decks));
    }
    found.sort_by_key(|finding| finding.sort);
    found
}
