//! An assignment at the learner's: its decks are looked into first, then all of it is taken in, or nothing.

use std::path::Path;

use crate::app::class::assignments;
use crate::app::class::envelope::{Attached, FileFault, read_assignment};
use crate::app::publish::news::News;
use crate::app::publish::offer::look_into;
use crate::app::publish::taking_in::take_in;
use crate::deck::sealed::Refusal;
use crate::domain::roster::Assignment;
use crate::domain::taking_in::{Rule, Wishes};

/// What taking an assignment in came to.
#[derive(Debug)]
pub struct Received {
    /// The assignment; none where the file could not be read.
    pub assignment: Option<Assignment>,
    /// What came of each of its decks.
    pub decks: Vec<News>,
    /// Why it was not taken in.
    pub refused: Option<Refusal>,
}

impl Received {
    fn refused(assignment: Option<Assignment>, decks: Vec<News>, refusal: Refusal) -> Self {
        Self { assignment, decks, refused: Some(refusal) }
    }
}

/// Takes an assignment in. A deck of which the home has the same edition or a higher one already, from the program or taken
/// in, stays as it is; for all others the rules for decks hold.
pub fn receive(home: &Path, bytes: &[u8], wishes: Wishes) -> Received {
    let (assignment, attached) = match read_assignment(bytes) {
        Ok(read) => read,
        Err(fault) => return Received::refused(None, Vec::new(), refusal_of(&fault)),
    };
    let mut news = Vec::new();
    let mut wanted: Vec<&Attached> = Vec::new();
    for deck in &attached {
        let looked = look_into(home, &deck.bytes, wishes).news;
        match &looked.refused {
            None => wanted.push(deck),
            Some(_) if is_there(&looked) => {}
            Some(refusal) => {
                let refusal = refusal.clone();
                news.push(looked);
                return Received::refused(Some(assignment), news, refusal);
            }
        }
        news.push(News { refused: None, ..looked });
    }
    for deck in wanted {
        let taken = take_in(home, &deck.bytes, wishes, &mut |_| {});
        let place = news.iter_mut().find(|news| news.deck.as_deref() == Some(&deck.deck.0));
        let refusal = taken.refused.clone();
        if let Some(place) = place {
            *place = taken;
        }
        if let Some(refusal) = refusal {
            return Received::refused(Some(assignment), news, refusal);
        }
    }
    match assignments::keep(home, &assignment.without_words()) {
        Ok(()) => Received { assignment: Some(assignment), decks: news, refused: None },
        Err(trouble) => {
            let refusal = Refusal::unreadable("not-written", trouble.to_string());
            Received::refused(Some(assignment), news, refusal)
        }
    }
}

/// The home has the deck already, of this edition or a higher one.
fn is_there(news: &News) -> bool {
    let by_rule = |rule: Rule| news.refused.as_ref().is_some_and(|refusal| refusal.code == rule.code());
    let has_it = news.was_edition.zip(news.edition).is_some_and(|(was, offered)| was >= offered);
    has_it && (by_rule(Rule::Bundled) || by_rule(Rule::OlderEdition))
}

/// A fault of a file as a refusal.
pub fn refusal_of(fault: &FileFault) -> Refusal {
    match fault {
        FileFault::NotOne(_) => Refusal::unreadable("not-an-assignment", fault.to_string()),
        FileFault::Newer => Refusal::unreadable("newer", fault.to_string()),
        FileFault::Damaged => Refusal::rule("damaged", fault.to_string()),
        FileFault::Senseless(_) => Refusal::rule("senseless", fault.to_string()),
    }
}
