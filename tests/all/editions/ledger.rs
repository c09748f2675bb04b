//! What was taken in: which cards are changed for whom, and which history goes on where.

use bedplate::domain::day::Instant;
use bedplate::domain::editions::{Asked, ChangedIn, Edition, EditionCard, Ledger, Lineage, Part, TakenIn, What};
use bedplate::domain::ids::{CardKey, DeckId};

/// An edition of cards, each with its question and the ids that it was.
pub fn edition(deck: &str, number: u32, cards: &[(&str, u32, &[&str])]) -> Edition {
    let key = |id: &&str| CardKey::parse(id).unwrap_or_else(|| CardKey::new(deck, id));
    let card = |(id, value, was): &(&str, u32, &[&str])| EditionCard {
        id: (*id).to_owned(),
        was: was.iter().map(key).collect(),
        asked: asked(*value),
    };
    Edition { deck: DeckId(deck.to_owned()), number, cards: cards.iter().map(card).collect() }
}

pub fn asked(value: u32) -> Asked {
    Asked(vec![Part::one(What::Question, "How much?"), Part::one(What::Value, &value.to_string())])
}

/// Who inherits what, once the last of these editions of each deck stands.
pub fn lineage_of(last: &[&Edition], ledger: &Ledger) -> Lineage {
    let cards: Vec<(CardKey, Vec<CardKey>)> = last
        .iter()
        .flat_map(|edition| {
            edition.cards.iter().map(|card| (CardKey::new(&edition.deck.0, &card.id), card.was.clone()))
        })
        .collect();
    Lineage::of(cards.iter().map(|(key, was)| (key, was.as_slice())), ledger)
}

fn changed(edition: u32, was: u32) -> Option<ChangedIn> {
    Some(ChangedIn { edition, was: asked(was).digest() })
}

const NONE: &[&str] = &[];

#[test]
fn a_card_is_changed_for_who_answered_something_else() {
    let mut ledger = Ledger::default();
    let a = CardKey::new("d", "a");
    ledger.take_in(&edition("d", 1, &[("a", 1, NONE)]), Instant(10));
    assert_eq!(ledger.changed(&a, &a, 1), None);
    ledger.take_in(&edition("d", 2, &[("a", 2, NONE)]), Instant(20));
    ledger.take_in(&edition("d", 3, &[("a", 2, NONE)]), Instant(30));
    assert_eq!(ledger.changed(&a, &a, 1), changed(2, 1), "the first edition in which it asks what it asks now");
    assert_eq!(ledger.changed(&a, &a, 2), None, "it was answered as it is");
    ledger.take_in(&edition("d", 5, &[("a", 1, NONE)]), Instant(40));
    assert_eq!(ledger.changed(&a, &a, 1), None, "it is again as it was answered");
    assert_eq!(ledger.changed(&a, &a, 3), changed(5, 2));
    assert_eq!(
        ledger.changed(&a, &a, 4),
        changed(5, 2),
        "an edition that was passed over is taken for the one before it"
    );
    assert_eq!(ledger.changed(&a, &a, 0), None, "of what was never taken in nothing is claimed");
    // Back to an edition before: the clock may stand still, or have been put back.
    ledger.take_in(&edition("d", 2, &[("a", 2, NONE)]), Instant(7));
    assert_eq!(ledger.changed(&a, &a, 5), changed(2, 1));
    assert_eq!(ledger.changed(&a, &a, 3), None);
    let at: Vec<i64> = ledger.takings(&a.deck).iter().map(|taking| taking.at.0).collect();
    assert_eq!(at, [10, 20, 30, 40, 41]);
}

#[test]
fn what_is_written_under_the_same_number_is_work_in_progress() {
    let mut ledger = Ledger::default();
    let (a, b) = (CardKey::new("d", "a"), CardKey::new("d", "b"));
    ledger.take_in(&edition("d", 1, &[("a", 1, NONE)]), Instant(1));
    let taken = ledger.take_in(&edition("d", 1, &[("a", 7, NONE), ("b", 1, NONE)]), Instant(2));
    assert_eq!((taken.taking, taken.entries.len()), (None, 1), "only what was not there is added");
    assert_eq!(ledger.changed(&a, &a, 1), None);
    ledger.take_in(&edition("d", 2, &[("a", 7, NONE), ("b", 2, NONE)]), Instant(3));
    assert_eq!(ledger.changed(&a, &a, 1), changed(2, 1), "it is told once the number is raised");
    assert_eq!(ledger.changed(&b, &b, 1), changed(2, 1));
}

#[test]
fn a_withdrawn_card_comes_back_as_it_was_answered() {
    let mut ledger = Ledger::default();
    let a = CardKey::new("d", "a");
    ledger.take_in(&edition("d", 1, &[("a", 1, NONE)]), Instant(1));
    let gone = ledger.take_in(&edition("d", 2, &[]), Instant(2));
    assert_eq!((gone.entries.len(), gone.entries[0].digest.as_ref()), (1, None));
    ledger.take_in(&edition("d", 3, &[("a", 1, NONE)]), Instant(3));
    assert_eq!(ledger.changed(&a, &a, 1), None);
    let told = |place| ledger.update(&a.deck, place, &Default::default()).expect("an edition");
    assert_eq!((told(1).withdrawn, told(2).new), (vec!["a".to_owned()], vec!["a".to_owned()]));
    ledger.take_in(&edition("d", 4, &[("a", 9, NONE)]), Instant(4));
    assert_eq!(ledger.changed(&a, &a, 1), changed(4, 1));
}

#[test]
fn a_renamed_card_is_held_against_what_was_answered_under_its_former_key() {
    let mut ledger = Ledger::default();
    ledger.take_in(&edition("d", 1, &[("a", 1, NONE), ("b", 2, NONE)]), Instant(1));
    let second = edition("d", 2, &[("c", 1, &["a"]), ("e", 3, &["b"])]);
    ledger.take_in(&second, Instant(2));
    let [a, b, c, e] = ["a", "b", "c", "e"].map(|id| CardKey::new("d", id));
    assert_eq!(ledger.changed(&c, &a, 1), None);
    assert_eq!(ledger.changed(&e, &b, 1), changed(2, 2), "renamed and altered");
    let lineage = lineage_of(&[&second], &ledger);
    assert_eq!(lineage.keys_of(&c), [c.clone(), a.clone()]);
    assert_eq!(lineage.heir(CardKey::new("d", "a--why")), CardKey::new("d", "c--why"), "answers about runs go along");
    assert_eq!(ledger.as_now(&e, &lineage.keys_of(&e)).into_iter().collect::<Vec<_>>(), [(1, false), (2, true)]);
    // What is renamed once more keeps all of it, though the last edition names one step alone.
    let third = edition("d", 3, &[("f", 1, &["c"]), ("e", 3, NONE)]);
    ledger.take_in(&third, Instant(3));
    let lineage = lineage_of(&[&third], &ledger);
    let f = CardKey::new("d", "f");
    assert_eq!(lineage.heir(a.clone()), f);
    assert_eq!(lineage.heir(b), e, "a past that is no longer named stays where it went");
    assert_eq!(ledger.changed(&f, &a, 1), None);
}

#[test]
fn a_past_goes_to_one_card_whatever_comes_first() {
    let first = edition("one", 1, &[("x", 1, NONE), ("y", 1, NONE)]);
    let without = edition("one", 2, &[("y", 1, NONE)]);
    let other = edition("two", 1, &[("b", 1, &["one/x"]), ("a", 1, &["one/x"]), ("c", 1, &["one/y"])]);
    let x = CardKey::new("one", "x");
    let mut ledger = Ledger::default();
    for (at, edition) in [&first, &other].into_iter().enumerate() {
        ledger.take_in(edition, Instant(at as i64));
    }
    assert_eq!(lineage_of(&[&first, &other], &ledger), Lineage::default(), "a card that stands keeps its own");
    ledger.take_in(&without, Instant(9));
    let lineage = lineage_of(&[&without, &other], &ledger);
    assert_eq!(lineage.heir(x.clone()), CardKey::new("two", "a"), "of two the first by its key");
    assert!(!lineage.has_heir(&CardKey::new("one", "y")), "it stands in its deck");
    // One of its own deck comes before those of others; what was claimed before gives way to a claim of now.
    let claimed = edition("one", 3, &[("z", 1, &["x"])]);
    ledger.take_in(&claimed, Instant(10));
    assert_eq!(lineage_of(&[&claimed, &other], &ledger).heir(x.clone()), CardKey::new("one", "z"));
    let corrected = edition("one", 4, &[("z", 1, NONE), ("w", 1, &["x"])]);
    ledger.take_in(&corrected, Instant(11));
    assert_eq!(lineage_of(&[&corrected], &ledger).heir(x), CardKey::new("one", "w"));
}

#[test]
fn what_an_edition_changed_is_told_in_full_with_the_texts_and_in_numbers_without() {
    let mut ledger = Ledger::default();
    let mut texts = std::collections::BTreeMap::new();
    let deck = DeckId("d".to_owned());
    for (at, edition) in [
        edition("d", 1, &[("a", 1, NONE), ("b", 1, NONE), ("c", 1, NONE), ("s", 1, NONE)]),
        edition("d", 2, &[("a", 2, NONE), ("r", 2, &["b"]), ("n", 1, NONE), ("s", 1, NONE)]),
    ]
    .iter()
    .enumerate()
    {
        let TakenIn { asked, .. } = ledger.take_in(edition, Instant(at as i64));
        texts.extend(asked);
    }
    let needed = ledger.needed(&deck, 1);
    texts.retain(|digest, _| needed.contains(digest));
    let told = ledger.update(&deck, 1, &texts).expect("an edition");
    let plain = ledger.update(&deck, 1, &Default::default()).expect("an edition");
    for update in [&told, &plain] {
        let ids: Vec<&str> = update.changed.iter().map(|changed| changed.id.as_str()).collect();
        assert_eq!(
            (ids, &update.new[..], &update.withdrawn[..]),
            (vec!["a", "r"], &["n".into()][..], &["c".into()][..])
        );
        assert_eq!((update.renamed.len(), update.same, update.was_edition), (1, 1, Some(1)));
    }
    let difference = &told.changed[0].differences[0];
    assert_eq!((difference.what, &difference.was[0].text[..], &difference.is[0].text[..]), (What::Value, "1", "2"));
    assert_eq!(ledger.update(&deck, 2, &texts), None);
    assert_eq!(ledger.update(&deck, 0, &texts).expect("the first").new.len(), 4);
}
