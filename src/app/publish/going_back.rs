//! Going back to the edition that was in use before; going back once more undoes it.

use std::fs;
use std::path::Path;

use crate::app::profile::shelf::Origin;
use crate::app::publish::at_hand::{self, AtHand};
use crate::app::publish::news::{Done, News, Signature};
use crate::deck::sealed::{LIST, PublicKey, Refusal, SIGNATURE, verify};
use crate::domain::editions::{Edition, compare};
use crate::domain::ids::is_id;
use crate::store::taken_in::{self, Before, TakenIn, Turn};

/// Puts the edition before in use; the one that was is kept in its place.
pub fn go_back(home: &Path, deck: &str) -> News {
    let refused = |code, text: String| News::refused(Refusal::rule(code, text));
    let failed = |error: String| News::refused(Refusal::unreadable("not-written", error));
    let state = match is_id(deck).then(|| taken_in::state(home, deck)) {
        None => return refused("no-such-deck", format!("`{deck}` is no id of a deck")),
        Some(Err(error)) => return failed(error.to_string()),
        Some(Ok(state)) => state,
    };
    if state.before.is_none() {
        let text = format!("of `{deck}` no edition before is kept, so there is nothing to go back to");
        return refused("no-edition-before", text);
    }
    let turn = match Turn::take(home) {
        Ok(turn) => turn,
        Err(error) => return failed(error.to_string()),
    };
    let state = match taken_in::state(home, deck) {
        Ok(state) => state,
        Err(error) => return failed(error.to_string()),
    };
    let is_now = at_hand::find(home, deck, &state);
    let Some(next) = swapped(&state, is_now.as_ref()) else {
        return refused("no-edition-before", format!("of `{deck}` no edition before is kept"));
    };
    let is_next = at_hand::find(home, deck, &next);
    let Some(is_next) = is_next else {
        return refused("no-edition-before", format!("the edition of `{deck}` from before is no longer there"));
    };
    let (was, now) = (is_now.as_ref().and_then(|at_hand| at_hand.read().deck), is_next.read().deck);
    let Some(now) = now else {
        return refused("no-edition-before", format!("the edition of `{deck}` from before can no longer be read"));
    };
    if let Err(error) = turn.set(deck, &next) {
        return failed(error.to_string());
    }
    let signed_by = signed_by(home, deck, &next);
    let signature = if signed_by.is_some() { Signature::Good } else { Signature::None };
    News {
        deck: Some(deck.to_owned()),
        title: Some(now.title.clone()),
        edition: Some(now.edition),
        publisher: Some(now.publisher.clone()),
        was_edition: is_now.as_ref().map(|at_hand| at_hand.edition),
        signature: Some(signature),
        key: signed_by.as_ref().map(|key| key.line().to_owned()),
        key_number: signed_by.as_ref().map(PublicKey::number),
        update: Some(compare(was.as_ref().map(Edition::of).as_ref(), &Edition::of(&now))),
        done: Done::TakenIn,
        ..News::unknown()
    }
}

/// The key of the deck, where the edition in use is signed by it.
fn signed_by(home: &Path, deck: &str, state: &TakenIn) -> Option<PublicKey> {
    let folder = taken_in::folder(home, deck, state.in_use.as_ref()?);
    let key = PublicKey::from_line(state.key.as_deref()?).ok()?;
    let (list, signature) = (fs::read(folder.join(LIST)).ok()?, fs::read(folder.join(SIGNATURE)).ok()?);
    verify(&list, &signature, &key).is_ok().then_some(key)
}

/// The state with the edition before in use.
fn swapped(state: &TakenIn, is_now: Option<&AtHand>) -> Option<TakenIn> {
    let now = match (&state.in_use, is_now) {
        (Some(in_use), _) => Some(Before::TakenIn(in_use.clone())),
        (None, Some(at_hand)) => Some(Before::Elsewhere { edition: at_hand.edition }),
        (None, None) => None,
    };
    let (in_use, before) = match state.before.clone()? {
        Before::Elsewhere { .. } => (None, now),
        Before::TakenIn(mut before) => {
            // It is wished for: it goes before what lies elsewhere.
            if let Some(at_hand) = is_now.filter(|at_hand| !matches!(at_hand.origin, Origin::TakenIn { .. })) {
                before.over = before.over.max(at_hand.edition);
            }
            (Some(before), now)
        }
    };
    Some(TakenIn { key: state.key.clone(), in_use, before })
}
