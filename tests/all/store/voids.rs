//! Attempts taken back: they stay in the file and count for nothing.

use std::collections::HashMap;

use bedplate::domain::attempt::Attempt;
use bedplate::domain::day::Instant;
use bedplate::domain::ids::{AttemptId, CardKey};
use bedplate::domain::memory::CardMemory;
use bedplate::domain::memory::model::Model;
use bedplate::domain::memory::replay::{Memories, replay, replay_card};
use bedplate::domain::outcome::Outcome;
use bedplate::store::{Store, StoreError, Ticket};
use proptest::prelude::*;

use super::basics::{NOW, attempt, open};

fn void(store: &Store, model: &Model, ids: &[&AttemptId]) -> Ticket<Vec<(CardKey, Option<CardMemory>)>> {
    let model = model.clone();
    let ids = ids.iter().map(|id| (*id).clone()).collect();
    store.void_attempts(ids, NOW, move |left| replay_card(&model, left))
}

#[test]
fn what_is_taken_back_stays_in_the_file_and_counts_for_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let model = Model::standard(0.9);
    let opened = open(dir.path());
    let all = [attempt("drain", 0), attempt("earth-fault", 5), attempt("drain", 9)];
    let mut memory: HashMap<CardKey, CardMemory> = HashMap::new();
    for a in &all {
        let next = model.after(memory.get(&a.card), a);
        opened.store.record(a.clone(), next).wait().unwrap();
        memory.insert(a.card.clone(), next);
    }
    let first = model.after(None, &all[0]);
    let told = void(&opened.store, &model, &[&all[2].id]).wait().unwrap();
    assert_eq!(told, [(all[2].card.clone(), Some(first))], "as it was before the second answer");
    // Twice, and together with another: harmless.
    let told = void(&opened.store, &model, &[&all[2].id, &all[1].id]).wait().unwrap();
    assert_eq!(told, [(all[0].card.clone(), Some(first)), (all[1].card.clone(), None)]);
    // Handing the same attempt in again does not bring it back by the back door.
    opened.store.record(all[2].clone(), model.after(Some(&first), &all[2])).wait().unwrap();
    drop(opened);

    let opened = open(dir.path());
    let left = &all[..1];
    assert_eq!(opened.attempts_count, 1);
    assert_eq!(opened.memory, [(all[0].card.clone(), first)]);
    assert_eq!(opened.store.attempts(None, 9).wait().unwrap(), left);
    assert_eq!(opened.store.attempts(None, 1).wait().unwrap(), left);
    assert_eq!(opened.store.attempts(Some(all[0].id.clone()), 1).wait().unwrap(), []);
    assert_eq!(opened.store.attempts_of(all[0].card.clone()).wait().unwrap(), left);
    assert_eq!(opened.store.attempts_between(NOW, Instant(i64::MAX)).wait().unwrap(), left);
    assert_eq!(opened.store.fold_attempts(Vec::new(), |v, a| v.push(a)).wait().unwrap(), left);
    let listed = opened.store.list_attempts(None, 9).wait().unwrap();
    let marks: Vec<_> = listed.iter().map(|l| (&l.attempt, l.voided)).collect();
    assert_eq!(marks, [(&all[0], false), (&all[1], true), (&all[2], true)]);
}

#[test]
fn an_answer_that_is_not_there_cannot_be_taken_back() {
    let dir = tempfile::tempdir().unwrap();
    let model = Model::standard(0.9);
    let opened = open(dir.path());
    let a = attempt("drain", 0);
    opened.store.record(a.clone(), model.after(None, &a)).wait().unwrap();
    let unknown = AttemptId("no-such-answer".to_owned());
    match void(&opened.store, &model, &[&a.id, &unknown]).wait() {
        Err(StoreError::Refused { what, .. }) => assert!(what.contains("no-such-answer"), "{what}"),
        other => panic!("{other:?}"),
    }
    assert_eq!(opened.store.attempts(None, 9).wait().unwrap(), [a], "nothing of the request was done");
}

/// Joining the attempts of another computer does not bring one back that was taken back here.
#[test]
fn joining_does_not_bring_it_back() {
    let dir = tempfile::tempdir().unwrap();
    let model = Model::standard(0.9);
    let opened = open(dir.path());
    let a = attempt("drain", 0);
    opened.store.record(a.clone(), model.after(None, &a)).wait().unwrap();
    void(&opened.store, &model, &[&a.id]).wait().unwrap();
    assert_eq!(opened.store.unite(vec![a]).wait(), Ok(0));
    assert_eq!(opened.store.attempts(None, 9).wait().unwrap(), []);
}

/// A backup is made of a taking-back as of any change.
#[test]
fn it_is_a_change_that_a_backup_is_made_of() {
    let dir = tempfile::tempdir().unwrap();
    let model = Model::standard(0.9);
    let opened = open(dir.path());
    let a = attempt("drain", 0);
    opened.store.record(a.clone(), model.after(None, &a)).wait().unwrap();
    drop(opened);
    drop(open(dir.path()));
    let count = || bedplate::store::backup::list(dir.path()).unwrap().len();
    let before = count();
    void(&open(dir.path()).store, &model, &[&a.id]).wait().unwrap();
    drop(open(dir.path()));
    assert_eq!(count(), before + 1);
}

/// What is done: an answer to one of three cards, or a taking-back of the n-th last that counts.
#[derive(Debug, Clone)]
enum Act {
    Answer(usize, u32, i64),
    TakeBack(usize),
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(40) })]

    /// Any answers, any of them taken back: the memory that is kept is that of a replay of the rest.
    #[test]
    fn what_is_left_is_a_replay_of_the_rest(
        acts in prop::collection::vec(
            prop_oneof![
                2 => (0usize..3, 1u32..=4, 0i64..200_000).prop_map(|(c, o, s)| Act::Answer(c, o, s)),
                1 => (0usize..4).prop_map(Act::TakeBack),
            ],
            1..25,
        ),
    ) {
        let dir = tempfile::tempdir().unwrap();
        let model = Model::standard(0.9);
        let opened = open(dir.path());
        let mut left: Vec<Attempt> = Vec::new();
        let (mut memory, mut at) = (HashMap::new(), 0);
        for act in acts {
            match act {
                Act::Answer(card, outcome, seconds) => {
                    at += seconds;
                    let outcome = Outcome::from_number(outcome).unwrap();
                    let a = Attempt { outcome, ..attempt(&format!("card-{card}"), at) };
                    let next = model.after(memory.get(&a.card), &a);
                    opened.store.record(a.clone(), next).wait().unwrap();
                    memory.insert(a.card.clone(), next);
                    left.push(a);
                }
                Act::TakeBack(n) if n < left.len() => {
                    let a = left.remove(left.len() - 1 - n);
                    for (card, known) in void(&opened.store, &model, &[&a.id]).wait().unwrap() {
                        match known {
                            Some(known) => memory.insert(card, known),
                            None => memory.remove(&card),
                        };
                    }
                }
                Act::TakeBack(_) => {}
            }
            let mut replayed = Memories::new();
            left.iter().cloned().for_each(|a| (replay(&model))(&mut replayed, a));
            prop_assert_eq!(&memory, &replayed);
        }
        drop(opened);
        let opened = open(dir.path());
        prop_assert_eq!(opened.memory.into_iter().collect::<HashMap<_, _>>(), memory);
        prop_assert_eq!(opened.store.attempts(None, 99).wait().unwrap(), left);
    }
}
