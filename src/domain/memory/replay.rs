//! Memory rebuilt from the attempts, which are the only truth about learning.

use std::collections::HashMap;

use crate::domain::attempt::Attempt;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;

/// Works out every card's memory from attempts in any order: they are taken by time, then by id, each id once.
pub fn replay(model: &Model, attempts: &[Attempt]) -> HashMap<CardKey, CardMemory> {
    let mut ordered: Vec<&Attempt> = attempts.iter().collect();
    ordered.sort_by(|a, b| (a.at, &a.id).cmp(&(b.at, &b.id)));
    ordered.dedup_by(|a, b| a.id == b.id);
    let mut memories = HashMap::new();
    for attempt in ordered {
        let next = model.after(memories.get(&attempt.card), attempt);
        memories.insert(attempt.card.clone(), next);
    }
    memories
}

/// One card's memory from the attempts at it, in order of time; none where there are none.
pub fn replay_card(model: &Model, attempts: &[Attempt]) -> Option<CardMemory> {
    attempts.iter().fold(None, |before, attempt| Some(model.after(before.as_ref(), attempt)))
}
