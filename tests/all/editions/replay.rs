//! Taking in, answering and updating in any order: what is replayed from the store is what was held while it went on.

use std::collections::{BTreeMap, HashMap};

use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{Attempt, Evidence};
use bedplate::domain::day::{Instant, ShipOffset};
use bedplate::domain::editions::{Edition, Ledger, Lineage};
use bedplate::domain::ids::{AttemptId, CardKey};
use bedplate::domain::memory::model::Model;
use bedplate::domain::memory::replay::{Memories, replay, replay_card};
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::store::Store;
use proptest::prelude::*;

use super::ledger::{asked, edition, lineage_of};
use crate::store::basics::{NOW, open};

const DECKS: [&str; 2] = ["one", "two"];
const IDS: [&str; 4] = ["a", "b", "c", "e"];

/// What may happen.
#[derive(Debug, Clone)]
enum Step {
    /// An edition of a deck (from 0) comes in, by its number.
    Install(usize, u32),
    /// One of the cards that stand is answered, so.
    Answer(usize, u32),
    /// The last answer is taken back.
    TakeBack,
    /// The program is closed and opened again.
    Restart,
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    let step = prop_oneof![
        3 => (0..2usize, 1..5u32).prop_map(|(deck, number)| Step::Install(deck, number)),
        8 => (0..8usize, 1..5u32).prop_map(|(card, outcome)| Step::Answer(card, outcome)),
        1 => Just(Step::TakeBack),
        1 => Just(Step::Restart),
    ];
    prop::collection::vec(step, 4..40)
}

/// What each edition of each deck holds: by card whether it is there, what it asks, which card it was (from 0, of the own
/// deck below four, of the other from there on).
type Contents = Vec<Vec<Vec<(bool, u32, Option<usize>)>>>;

fn contents() -> impl Strategy<Value = Contents> {
    let card = (prop::bool::weighted(0.7), 0..3u32, prop::option::weighted(0.4, 0..8usize));
    let deck = prop::collection::vec(prop::collection::vec(card, 4), 4);
    prop::collection::vec(deck, 2)
}

fn edition_of(contents: &Contents, deck: usize, number: u32) -> Edition {
    let cards = &contents[deck][number as usize - 1];
    let there = |n: usize| cards[n].0;
    let mut taken = Vec::new();
    let mut of = edition(DECKS[deck], number, &[]);
    for (n, (_, value, was)) in cards.iter().enumerate().filter(|(_, card)| card.0) {
        // What the check of a deck would refuse is left out.
        let was = was.filter(|past| (*past >= 4 || !there(*past)) && !taken.contains(past));
        taken.extend(was);
        let past = was.map(|past| CardKey::new(DECKS[if past < 4 { deck } else { 1 - deck }], IDS[past % 4]));
        of.cards.push(bedplate::domain::editions::EditionCard {
            id: IDS[n].to_owned(),
            was: past.into_iter().collect(),
            asked: asked(*value),
        });
    }
    of
}

/// A learner as the program holds one while it runs.
struct Live {
    store: Store,
    ledger: Ledger,
    lineage: Lineage,
    memory: Memories,
    standing: BTreeMap<usize, Edition>,
}

impl Live {
    /// As the program opens: whatever stands is read again.
    fn open(dir: &std::path::Path, standing: BTreeMap<usize, Edition>, model: &Model) -> Self {
        let store = open(dir).store;
        let ledger = store.ledger().wait().expect("read");
        let mut live = Self { store, ledger, lineage: Lineage::default(), memory: Memories::new(), standing };
        live.regroup(model);
        live
    }

    fn regroup(&mut self, model: &Model) {
        self.lineage = lineage_of(&self.standing.values().collect::<Vec<_>>(), &self.ledger);
        self.store.go_by(self.lineage.clone()).wait().expect("done");
        self.memory = self.store.fold_attempts(Memories::new(), replay(model)).wait().expect("read");
    }

    fn cards(&self) -> Vec<(CardKey, u32)> {
        let of = |edition: &Edition| {
            let key = |id: &str| CardKey::new(&edition.deck.0, id);
            edition.cards.iter().map(|card| (key(&card.id), edition.number)).collect::<Vec<_>>()
        };
        self.standing.values().flat_map(of).collect()
    }

    /// The cards that are changed for the learner.
    fn changed(&self) -> BTreeMap<CardKey, u32> {
        let cards: Vec<CardKey> = self.cards().into_iter().map(|(key, _)| key).collect();
        let last = self.store.last_attempts(cards).wait().expect("read");
        let changed = last.into_iter().filter_map(|(key, attempt)| {
            let changed = self.ledger.changed(&key, &attempt.card, attempt.evidence.edition)?;
            Some((key, changed.edition))
        });
        changed.collect()
    }
}

proptest! {
    // Each case opens a profile of its own.
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(40) })]

    #[test]
    fn replay_gives_what_was_held_in_whatever_order_things_came(contents in contents(), steps in steps()) {
        let dir = tempfile::tempdir().expect("a folder");
        let model = Model::standard(0.90);
        let mut live = Live::open(dir.path(), BTreeMap::new(), &model);
        // What was asked of each answer, by its id: the truth that the ledger knows by editions alone.
        let mut truth: HashMap<String, (CardKey, u32)> = HashMap::new();
        let mut given: Vec<AttemptId> = Vec::new();
        let mut at = NOW.0;
        for (n, step) in steps.iter().enumerate() {
            at += 7 * 3_600_000;
            match step {
                Step::Install(deck, number) => {
                    let new = edition_of(&contents, *deck, *number);
                    let taken = live.ledger.take_in(&new, Instant(at));
                    live.store.keep_editions(vec![taken]).wait().expect("kept");
                    live.standing.insert(*deck, new);
                    live.regroup(&model);
                }
                Step::Answer(card, outcome) => {
                    let cards = live.cards();
                    if cards.is_empty() {
                        continue;
                    }
                    let (key, edition) = cards[card % cards.len()].clone();
                    let value = live.standing.values().find(|of| of.deck == key.deck).expect("it stands");
                    let value = value.card(&key.card).expect("it stands").asked.0[1].lines[0].text.parse().expect("a number");
                    let attempt = Attempt {
                        id: AttemptId(format!("{n:08}")),
                        card: key.clone(),
                        at: Instant(at),
                        ship: ShipOffset::default(),
                        device: "bench".into(),
                        evidence: Evidence { given: Given::Text("1".into()), edition, points_said: vec![], points_missed: vec![] },
                        outcome: Outcome::from_number(*outcome).expect("1 to 4"),
                        notch: Notch::None,
                        seconds: 20.0,
                    };
                    let memory = model.after(live.memory.get(&key), &attempt);
                    live.store.record(attempt.clone(), memory).wait().expect("kept");
                    live.memory.insert(key.clone(), memory);
                    truth.insert(attempt.id.0.clone(), (key, value));
                    given.push(attempt.id);
                }
                Step::TakeBack => {
                    let Some(id) = given.pop() else { continue };
                    let model = model.clone();
                    let left = live.store.void_attempts(vec![id], Instant(at), move |left| replay_card(&model, left));
                    for (key, memory) in left.wait().expect("taken back") {
                        match memory {
                            Some(memory) => live.memory.insert(key, memory),
                            None => live.memory.remove(&key),
                        };
                    }
                }
                Step::Restart => {
                    let Live { store, standing, memory, lineage, .. } = live;
                    drop(store);
                    live = Live::open(dir.path(), standing, &model);
                    prop_assert_eq!(&live.lineage, &lineage);
                    prop_assert_eq!(&live.memory, &memory, "what is replayed is what was held");
                }
            }
            let replayed = live.store.fold_attempts(Memories::new(), replay(&model)).wait().expect("read");
            prop_assert_eq!(&replayed, &live.memory);
            prop_assert_eq!(&live.store.ledger().wait().expect("read"), &live.ledger);
            // A card is changed exactly where it asks something else than was last answered of its history.
            let counting = live.store.attempts(None, 1_000).wait().expect("read");
            let mut last: HashMap<CardKey, u32> = HashMap::new();
            for attempt in &counting {
                last.insert(attempt.card.clone(), truth[&attempt.id.0].1);
            }
            let is_changed = |edition: &Edition, card: &bedplate::domain::editions::EditionCard| {
                let key = CardKey::new(&edition.deck.0, &card.id);
                last.get(&key).is_some_and(|value| asked(*value) != card.asked).then_some(key)
            };
            let expected: Vec<CardKey> = live.standing.values()
                .flat_map(|edition| edition.cards.iter().filter_map(move |card| is_changed(edition, card)))
                .collect();
            let mut found: Vec<CardKey> = live.changed().into_keys().collect();
            let mut expected = expected;
            (found.sort(), expected.sort());
            prop_assert_eq!(found, expected);
            // The answers themselves are never written anew.
            for listed in live.store.list_attempts(None, 1_000).wait().expect("read") {
                prop_assert_eq!(&listed.attempt.card, &truth[&listed.attempt.id.0].0);
            }
        }
    }

    /// Two decks that come in turn about end as they do in any other order.
    #[test]
    fn the_order_of_decks_makes_no_difference(contents in contents(), order in prop::collection::vec(any::<bool>(), 8)) {
        let editions = |deck: usize| (1..5u32).map(move |number| (deck, number));
        let in_turn = |order: &[bool]| {
            let (mut one, mut two) = (editions(0), editions(1));
            let mut all = Vec::new();
            for first in order {
                all.extend(if *first { one.next() } else { two.next() });
            }
            all.extend(one);
            all.extend(two);
            let mut ledger = Ledger::default();
            for (at, (deck, number)) in all.into_iter().enumerate() {
                ledger.take_in(&edition_of(&contents, deck, number), Instant(at as i64));
            }
            ledger
        };
        let last = [edition_of(&contents, 0, 4), edition_of(&contents, 1, 4)];
        let (a, b) = (in_turn(&order), in_turn(&[]));
        prop_assert_eq!(lineage_of(&[&last[0], &last[1]], &a), lineage_of(&[&last[0], &last[1]], &b));
        for key in DECKS.iter().flat_map(|deck| IDS.map(|id| CardKey::new(deck, id))) {
            for edition in 0..6 {
                prop_assert_eq!(a.changed(&key, &key, edition), b.changed(&key, &key, edition));
            }
        }
    }
}
