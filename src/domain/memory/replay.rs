//! Memory worked out anew from the attempts, which are the only truth about learning.

use std::collections::HashMap;

use crate::domain::attempt::Attempt;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;

/// What is known of each card.
pub type Memories = HashMap<CardKey, CardMemory>;

/// The step of a replay: takes the next attempt in. Attempts come as the store gives them, in order of time and then of
/// id, each once.
pub fn replay(model: &Model) -> impl FnMut(&mut Memories, Attempt) + Send + 'static {
    let model = model.clone();
    move |memories, attempt| {
        let next = model.after(memories.get(&attempt.card), &attempt);
        memories.insert(attempt.card, next);
    }
}

/// One card's memory from the attempts at it, in order of time; none where there are none.
pub fn replay_card(model: &Model, attempts: &[Attempt]) -> Option<CardMemory> {
    attempts.iter().fold(None, |before, attempt| Some(model.after(before.as_ref(), attempt)))
}
