//! Any attempts at all: what goes in comes out, in order, once, whatever the order and however often it is kept.

use std::collections::BTreeMap;

use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{Attempt, Evidence};
use bedplate::domain::day::{Instant, ShipOffset};
use bedplate::domain::ids::{AttemptId, CardKey};
use bedplate::domain::memory::CardMemory;
use bedplate::domain::outcome::{Notch, Outcome};
use proptest::prelude::*;

use super::basics::{known, open};

fn given() -> impl Strategy<Value = Given> {
    prop_oneof![
        any::<String>().prop_map(Given::Text),
        prop::collection::vec(1usize..10, 0..6).prop_map(Given::Said),
        prop::collection::vec(1usize..10, 0..6).prop_map(Given::Links),
    ]
}

fn evidence() -> impl Strategy<Value = Evidence> {
    let points = || prop::collection::vec(1usize..10, 0..5);
    (given(), any::<u32>(), points(), points()).prop_map(|(given, edition, points_said, points_missed)| Evidence {
        given,
        edition,
        points_said,
        points_missed,
    })
}

fn attempt() -> impl Strategy<Value = Attempt> {
    // Few instants and cards, so that they meet; now and then the ends of the range.
    let at = prop_oneof![8 => 0i64..5, 1 => any::<i64>()];
    let place = ("[a-z0-9-]{1,3}", "[ab]", at, -720i32..=840);
    let what = (any::<String>(), evidence(), 1u32..=4, -1i64..=1, prop_oneof![0.0..1e6, Just(0.0), Just(f64::MAX)]);
    (any::<u128>(), place, what).prop_map(
        |(id, (deck, card, at, ship), (device, evidence, outcome, notch, seconds))| Attempt {
            id: AttemptId(uuid::Uuid::from_u128(id).to_string()),
            card: CardKey::new(&deck, &card),
            at: Instant(at),
            ship: ShipOffset::from_minutes(ship).unwrap(),
            device,
            evidence,
            outcome: Outcome::from_number(outcome).unwrap(),
            notch: Notch::from_number(notch),
            seconds,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(60) })]

    #[test]
    fn what_is_recorded_is_read(
        attempts in prop::collection::vec(attempt(), 1..25),
        again in prop::collection::vec(any::<prop::sample::Index>(), 0..10),
        page in 1usize..7,
    ) {
        let dir = tempfile::tempdir().unwrap();
        let opened = open(dir.path());
        let mut cache: BTreeMap<String, (CardKey, CardMemory)> = BTreeMap::new();
        for (n, a) in attempts.iter().enumerate() {
            let memory = CardMemory { seconds_total: n as f64, ..known(&Attempt { seconds: 1.0, ..a.clone() }, n as u32) };
            opened.store.record(a.clone(), memory).wait().unwrap();
            cache.insert(a.card.to_string(), (a.card.clone(), memory));
        }
        for index in &again {
            let a = index.get(&attempts);
            opened.store.record(a.clone(), known(&Attempt { seconds: 1.0, ..a.clone() }, 999)).wait().unwrap();
        }
        drop(opened);

        let opened = open(dir.path());
        let mut sorted = attempts.clone();
        sorted.sort_by(|a, b| (a.at, &a.id).cmp(&(b.at, &b.id)));
        prop_assert_eq!(opened.attempts_count, attempts.len() as u64);
        prop_assert_eq!(&opened.store.attempts(None, usize::MAX).wait().unwrap(), &sorted);
        let mut paged: Vec<Attempt> = Vec::new();
        loop {
            let more = opened.store.attempts(paged.last().map(|a| a.id.clone()), page).wait().unwrap();
            if more.is_empty() { break }
            prop_assert!(more.len() <= page);
            paged.extend(more);
        }
        prop_assert_eq!(&paged, &sorted);
        let card = &attempts[0].card;
        let of_card: Vec<_> = sorted.iter().filter(|a| a.card == *card).cloned().collect();
        prop_assert_eq!(opened.store.attempts_of(card.clone()).wait().unwrap(), of_card);
        let (from, to) = (Instant(1), Instant(4));
        let between: Vec<_> = sorted.iter().filter(|a| from <= a.at && a.at < to).cloned().collect();
        prop_assert_eq!(opened.store.attempts_between(from, to).wait().unwrap(), between);
        prop_assert_eq!(opened.memory, cache.into_values().collect::<Vec<_>>());
    }

    /// Two computers' attempts joined either way round, in any pieces, give the same.
    #[test]
    fn joining_is_a_union(attempts in prop::collection::vec(attempt(), 1..20), cut in any::<prop::sample::Index>()) {
        let cut = cut.index(attempts.len());
        let read = |first: &[Attempt], second: &[Attempt]| {
            let dir = tempfile::tempdir().unwrap();
            let store = open(dir.path()).store;
            let new = store.unite(first.to_vec()).wait().unwrap() + store.unite(second.to_vec()).wait().unwrap();
            (new, store.attempts(None, usize::MAX).wait().unwrap())
        };
        let (a, b) = (&attempts[..cut], &attempts[cut / 2..]);
        let one = read(a, b);
        prop_assert_eq!(&one, &read(b, a));
        prop_assert_eq!(one.0, one.1.len() as u64);
    }
}
