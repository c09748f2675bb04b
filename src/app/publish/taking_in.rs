//! Taking a deck in: looked into first, then put in use, all of it or nothing.

use std::path::Path;

use crate::app::profile::shelf::{DECK, Origin};
use crate::app::publish::at_hand::AtHand;
use crate::app::publish::keys;
use crate::app::publish::news::{Done, News};
use crate::app::publish::offer::{LookedInto, Offered, look_into};
use crate::deck::sealed::{LIST, Refusal, SIGNATURE, Signed};
use crate::domain::taking_in::{Verdict, Wishes};
use crate::store::StoreError;
use crate::store::taken_in::{self, Before, Edition, FileToKeep, Step, TakenIn, Turn};

/// Takes in the deck in the bytes of a file, where it may be; `step` is told how far that is.
pub fn take_in(home: &Path, bytes: &[u8], wishes: Wishes, step: &mut dyn FnMut(Step)) -> News {
    // Nothing is written for what is refused, not even that somebody was at it.
    let LookedInto { mut news, offered, .. } = look_into(home, bytes, wishes);
    let Some(mut offered) = offered else { return news };
    if offered.verdict == Verdict::AlreadyThere && !is_to_be_bound(&offered) {
        return News { done: Done::AlreadyThere, ..news };
    }
    let turn = match Turn::take(home) {
        Ok(turn) => turn,
        Err(error) => return failed(news, error),
    };
    if taken_in::state(home, &offered.sealed.head.deck).as_ref() != Ok(&offered.state) {
        // Somebody else has been at it since.
        let again = look_into(home, bytes, wishes);
        news = again.news;
        match again.offered {
            Some(anew) => offered = anew,
            None => return news,
        }
    }
    if let Signed::By(key) = &offered.sealed.signed
        && let Err(error) = keys::trust_for(home, &offered.sealed.head.deck, key)
    {
        return failed(news, error);
    }
    match offered.verdict {
        Verdict::AlreadyThere => {
            let bound = TakenIn { key: offered.sealed.head.key.clone(), ..offered.state.clone() };
            let kept = if is_to_be_bound(&offered) { turn.set(&offered.sealed.head.deck, &bound) } else { Ok(()) };
            match kept {
                Ok(()) => News { done: Done::AlreadyThere, ..news },
                Err(error) => failed(news, error),
            }
        }
        Verdict::TakeIn | Verdict::Refused(_) => match put(&turn, &offered, step) {
            Ok(_) => News { done: Done::TakenIn, ..news },
            Err(error) => failed(news, error),
        },
    }
}

/// The deck is bound to no key, and this edition of it is signed.
fn is_to_be_bound(offered: &Offered) -> bool {
    offered.state.key.is_none() && offered.sealed.head.key.is_some()
}

fn failed(news: News, error: impl std::fmt::Display) -> News {
    News { refused: Some(Refusal::unreadable("not-written", error.to_string())), ..news }
}

fn put(turn: &Turn, offered: &Offered, step: &mut dyn FnMut(Step)) -> Result<TakenIn, StoreError> {
    let (sealed, head) = (&offered.sealed, &offered.sealed.head);
    let paths: Vec<String> = sealed.files.keys().map(|path| format!("{DECK}/{path}")).collect();
    let mut kept: Vec<FileToKeep<'_>> =
        paths.iter().zip(sealed.files.values()).map(|(path, bytes)| (path.as_str(), bytes.as_slice())).collect();
    kept.push((LIST, &sealed.list));
    kept.extend(sealed.signature.iter().map(|signature| (SIGNATURE, signature.as_slice())));
    let contents = sealed.contents();
    let name = format!("{}-{}", head.edition, contents.get(..12).unwrap_or(&contents));
    let (over, before) = match &offered.at_hand {
        None => (0, offered.state.in_use.clone().map(Before::TakenIn)),
        Some(AtHand { origin: Origin::TakenIn { over }, .. }) => {
            (*over, offered.state.in_use.clone().map(Before::TakenIn))
        }
        Some(elsewhere) => (elsewhere.edition, Some(Before::Elsewhere { edition: elsewhere.edition })),
    };
    let next = |folder: String| TakenIn {
        key: offered.state.key.clone().or_else(|| head.key.clone()),
        in_use: Some(Edition { folder, edition: head.edition, contents, over }),
        before,
    };
    turn.put(&head.deck, &name, &kept, next, step)
}
