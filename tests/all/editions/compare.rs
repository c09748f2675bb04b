//! Two editions of a deck compared: what is a change of each kind of card, and what is none.

use std::collections::BTreeSet;
use std::fs;

use bedplate::deck::{Severity, read_deck};
use bedplate::domain::deck::Deck;
use bedplate::domain::editions::{Edition, Renamed, Update, What, compare};
use proptest::prelude::*;

use crate::support::cards::stage;

fn update(old: &Deck, new: &Deck) -> Update {
    compare(Some(&Edition::of(old)), &Edition::of(new))
}

/// What is another in the one card of a deck, after its text is changed so.
fn changes(card: &str, from: &str, to: &str) -> Vec<What> {
    assert!(card.contains(from), "{from}");
    let (old, new) = (stage(card), stage(&card.replace(from, to)));
    let (before, after) = (Edition::of(&old), Edition::of(&new));
    let update = compare(Some(&before), &after);
    assert!(update.new.is_empty() && update.withdrawn.is_empty() && update.renamed.is_empty(), "{update:?}");
    let is_same = before.cards[0].asked.digest() == after.cards[0].asked.digest();
    assert_eq!(is_same, update.changed.is_empty(), "the digest says the same: {from} -> {to}");
    assert_eq!(update.same + update.changed.len(), 1);
    update.changed.iter().flat_map(|changed| changed.differences.iter().map(|difference| difference.what)).collect()
}

const COMMON: &str = "topic = \"A-III/1.1.4\"\nsources = [\"practice\"]\n";

fn recall() -> String {
    format!(
        "[[recall]]\nid = \"stops\"\n{COMMON}ask = \"Why does the priming pump stop?\"\nbecause = \"It saves the pump.\"\n\
         seconds = 20\nweight = 2\nheading = \"Starting\"\nprobes = [{{ after = \"all\", ask = \"And else?\", points = [{{ say = \"Nothing more\" }}] }}]\n\
         points = [\n  {{ say = \"The engine drives its own pump\", accept = [\"engine driven pump\"], critical = true }},\n  \
         {{ say = \"A switch sees running pressure\", accept = [\"switch sees pressure\"], reject = [\"low pressure stops\"] }},\n]\n"
    )
}

#[test]
fn of_a_recall_the_question_and_the_points_count() {
    let card = recall();
    for (from, to, what) in [
        ("priming pump stop?", "priming pump not stop?", vec![What::Question]),
        ("A switch sees running pressure", "A switch sees full pressure", vec![What::Points]),
        (", critical = true", "", vec![What::Critical]),
        (", critical = true", ", critical = false", vec![What::Critical]),
        ("stop?", "halt?\\n\\nGive two reasons.", vec![What::Question]),
        // No change.
        ("Why does the priming", "Why does\\n  the priming", vec![]),
        ("It saves the pump.", "It saves current.", vec![]),
        ("seconds = 20", "seconds = 40", vec![]),
        ("weight = 2", "weight = 3", vec![]),
        ("heading = \"Starting\"", "heading = \"Pumps\"", vec![]),
        ("accept = [\"engine driven pump\"]", "accept = [\"attached pump\"]", vec![]),
        ("reject = [\"low pressure stops\"]", "reject = []", vec![]),
        ("topic = \"A-III/1.1.4\"", "topic = \"A-III/1.2.1\"", vec![]),
        ("And else?", "And what else?", vec![]),
        ("seconds = 20", "seconds = 20\ncaution = \"Stop it first.\"", vec![]),
        ("weight = 2", "weight = 2\nsamples = [{ text = \"no idea\", outcome = \"missed\" }]", vec![]),
    ] {
        assert_eq!(changes(&card, from, to), what, "{from} -> {to}");
    }
}

#[test]
fn points_in_another_order_are_no_change_and_links_are() {
    let points = "points = [{ say = \"The engine runs\" }, { say = \"The switch opens\" }]";
    let turned = "points = [{ say = \"The switch opens\" }, { say = \"The engine runs\" }]";
    let card = format!("[[recall]]\nid = \"a\"\n{COMMON}ask = \"What happens?\"\n{points}\n");
    assert_eq!(changes(&card, points, turned), []);
    let links = "links = [\"Fuel fails\", \"The engine stops\"]\nfalse_links = [\"Wind\", \"Rain\"]";
    let card = format!("[[why]]\nid = \"a\"\n{COMMON}ask = \"Why?\"\n{links}\n");
    assert_eq!(changes(&card, "\"Wind\", \"Rain\"", "\"Rain\", \"Wind\""), []);
    assert_eq!(changes(&card, "\"Wind\"", "\"Snow\""), [What::FalseLinks]);
    assert_eq!(
        changes(&card, "\"Fuel fails\", \"The engine stops\"", "\"The engine stops\", \"Fuel fails\""),
        [What::Links]
    );
}

#[test]
fn of_a_figure_the_value_and_the_tolerance_count_however_they_are_spelt() {
    let card = format!("[[figure]]\nid = \"a\"\n{COMMON}ask = \"How much?\"\nvalue = \"30 bar\"\nwithin = \"2 %\"\n");
    for (from, to, what) in [
        ("30 bar", "30.0 bar", vec![]),
        ("30 bar", "3.0e1 bar", vec![]),
        ("30 bar", "31 bar", vec![What::Value]),
        ("30 bar", "30 MPa", vec![What::Value]),
        ("2 %", "2.0 %", vec![]),
        ("2 %", "1 %", vec![What::Tolerance]),
        ("within = \"2 %\"\n", "", vec![What::Tolerance]),
    ] {
        assert_eq!(changes(&card, from, to), what, "{from} -> {to}");
    }
    let critical = card
        .replace("[[figure]]", "[[recall]]")
        .replace("value = \"30 bar\"\nwithin = \"2 %\"", "points = [{ say = \"Thirty bar\" }]");
    let update = update(&stage(&card), &stage(&critical));
    let what: Vec<What> = update.changed[0].differences.iter().map(|difference| difference.what).collect();
    assert_eq!(what, [What::Kind, What::Points, What::Value, What::Tolerance], "another kind under the same id");
}

#[test]
fn of_a_working_slips_are_no_change_and_the_method_is() {
    let card = format!(
        "[[working]]\nid = \"a\"\n{COMMON}ask = \"Find the area of a bore of {{bore}}.\"\n[working.givens]\n\
         bore = {{ say = \"Bore\", from = \"280 mm\", to = \"400 mm\", step = \"10 mm\" }}\n[[working.line]]\nname = \"area\"\nis = \"pi * bore^2 / 4\"\n\
         [working.answer]\nis = \"area\"\nunit = \"m2\"\nwithin = \"1 %\"\n[[working.slip]]\nis = \"4 * area\"\ntell = \"You forgot the quarter.\"\n"
    );
    for (from, to, what) in [
        ("You forgot the quarter.", "The quarter is missing.", vec![]),
        ("is = \"4 * area\"", "is = \"2 * area\"", vec![]),
        ("is = \"pi * bore^2 / 4\"", "is = \"pi  *  bore^2 / 4\"", vec![]),
        ("280 mm", "290 mm", vec![What::Givens]),
        ("say = \"Bore\"", "say = \"Cylinder bore\"", vec![What::Givens]),
        ("pi * bore^2 / 4\"", "pi * bore^2 / 4 + 0 * bore^2\"", vec![What::Method]),
        ("unit = \"m2\"", "unit = \"mm2\"", vec![What::Answer]),
        ("1 %", "2 %", vec![What::Tolerance]),
    ] {
        assert_eq!(changes(&card, from, to), what, "{from} -> {to}");
    }
}

#[test]
fn of_a_sequence_what_the_steps_do_counts_and_not_how_they_are_called_inside() {
    let card = format!(
        "[[sequence]]\nid = \"a\"\n{COMMON}ask = \"Start the compressor.\"\nstart = [\"power\"]\ngoal = [\"air\"]\n\
         [sequence.fact]\npower = \"Power on\"\ncooled = \"Cooling on\"\nair = \"Air in the receiver\"\n\
         [[sequence.step]]\nkey = \"cool\"\nsay = \"Start the cooling pump\"\nneeds = [\"power\"]\ngives = [\"cooled\"]\n\
         [[sequence.step]]\nkey = \"run\"\nsay = \"Start the compressor\"\nneeds = [\"power\", \"cooled\"]\ngives = [\"air\"]\n\
         [[sequence.step.fault]]\nwithout = \"cooled\"\nseverity = \"damage\"\ntell = \"It runs hot.\"\n\
         [[sequence.step]]\nkey = \"tie\"\nsay = \"Close the tie breaker\"\ntrap = true\nseverity = \"trip\"\ntell = \"It trips.\"\n"
    );
    for (from, to, what) in [
        ("It runs hot.", "It seizes.", vec![]),
        ("\"power\", \"cooled\"", "\"cooled\", \"power\"", vec![]),
        ("key = \"cool\"", "key = \"cooling\"", vec![]),
        ("severity = \"damage\"", "severity = \"injury\"", vec![What::Steps]),
        ("severity = \"trip\"", "severity = \"no-effect\"", vec![What::Steps]),
        ("say = \"Start the compressor\"", "say = \"Run the compressor\"", vec![What::Steps]),
        ("needs = [\"power\", \"cooled\"]", "needs = [\"cooled\"]", vec![What::Steps]),
        ("Air in the receiver", "Receiver at 30 bar", vec![What::Goal, What::Steps]),
    ] {
        assert_eq!(changes(&card, from, to), what, "{from} -> {to}");
    }
    assert_eq!(changes(&card, "cooled", "cool-water"), [], "the key of a fact");
    let (head, steps) = card.split_once("[[sequence.step]]").expect("steps");
    let steps: Vec<&str> = steps.split("[[sequence.step]]").collect();
    let turned: String = steps.iter().rev().map(|step| format!("[[sequence.step]]{step}")).collect();
    assert!(update(&stage(&card), &stage(&format!("{head}{turned}"))).is_empty(), "steps are offered shuffled");
}

#[test]
fn of_a_line_up_the_network_counts_and_not_where_it_is_drawn() {
    let card = format!(
        "[[lineup]]\nid = \"a\"\n{COMMON}ask = \"Line up fuel to the engine.\"\n\
         [[lineup.node]]\nkey = \"tank\"\nkind = \"tank\"\nname = \"Service tank\"\nat = [1, 1]\nmedium = \"fuel-oil\"\n\
         [[lineup.node]]\nkey = \"valve\"\nkind = \"valve\"\nname = \"Outlet valve\"\nat = [3, 1]\nopen = false\n\
         [[lineup.node]]\nkey = \"engine\"\nkind = \"engine\"\nname = \"Engine\"\nat = [5, 1]\n\
         [[lineup.node]]\nkey = \"drain\"\nkind = \"valve\"\nname = \"Drain\"\nat = [3, 3]\n\
         [[lineup.node]]\nkey = \"sludge\"\nkind = \"tank\"\nname = \"Sludge tank\"\nat = [5, 3]\n\
         [[lineup.pipe]]\nfrom = \"tank\"\nto = \"valve\"\n[[lineup.pipe]]\nfrom = \"valve\"\nto = \"engine\"\n\
         [[lineup.pipe]]\nfrom = \"tank\"\nto = \"drain\"\n[[lineup.pipe]]\nfrom = \"drain\"\nto = \"sludge\"\n\
         [[lineup.demand]]\nname = \"Tank to engine\"\nflow = [\"tank\", \"engine\"]\n\
         [[lineup.demand]]\nname = \"Nothing to sludge\"\nnever = [\"tank\", \"sludge\"]\n"
    );
    for (from, to, what) in [
        ("at = [5, 3]", "at = [6, 3]", vec![]),
        ("from = \"valve\"\nto = \"engine\"", "from = \"engine\"\nto = \"valve\"", vec![]),
        ("open = false", "open = true", vec![What::Nodes]),
        (
            "kind = \"valve\"\nname = \"Outlet valve\"",
            "kind = \"quick-closing\"\nname = \"Outlet valve\"",
            vec![What::Nodes],
        ),
        (
            "from = \"drain\"\nto = \"sludge\"",
            "from = \"drain\"\nto = \"sludge\"\n[[lineup.pipe]]\nfrom = \"drain\"\nto = \"engine\"",
            vec![What::Pipes],
        ),
        ("never = [\"tank\", \"sludge\"]", "flow = [\"tank\", \"sludge\"]", vec![What::Demands]),
    ] {
        assert_eq!(changes(&card, from, to), what, "{from} -> {to}");
    }
}

#[test]
fn another_content_of_a_drawing_is_a_change_and_another_name_of_the_file_is_none() {
    let folder = tempfile::tempdir().expect("a folder");
    let svg = |x: u8| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 100\"><rect id=\"qcv\" x=\"{x}\" y=\"10\" width=\"20\" \
             height=\"20\"><title>Quick-closing valve</title></rect><rect id=\"pump\" x=\"60\" y=\"60\" width=\"20\" height=\"20\">\
             <title>Pump</title></rect></svg>"
        )
    };
    let read = |file: &str, text: &str, part: &str| {
        crate::support::cards::write_stage(
            folder.path(),
            &format!(
                "[[point]]\nid = \"a\"\n{COMMON}ask = \"Find it.\"\ndrawing = \"pictures/{file}\"\npart = \"{part}\"\n"
            ),
        );
        fs::create_dir_all(folder.path().join("pictures")).expect("a folder");
        fs::write(folder.path().join("pictures").join(file), text).expect("written");
        let reading = read_deck(folder.path());
        assert!(!reading.problems.iter().any(|p| p.severity == Severity::Error), "{:?}", reading.problems);
        reading.deck.expect("a deck")
    };
    let first = read("fuel.svg", &svg(10), "qcv");
    let what = |new: &Deck| -> Vec<What> {
        update(&first, new).changed.iter().flat_map(|c| c.differences.iter().map(|d| d.what)).collect()
    };
    assert_eq!(what(&read("fuel.svg", &svg(10), "qcv")), []);
    assert_eq!(what(&read("other.svg", &svg(10), "qcv")), []);
    assert_eq!(what(&read("fuel.svg", &svg(12), "qcv")), [What::Drawing]);
    assert_eq!(what(&read("fuel.svg", &svg(10), "pump")), [What::Target]);
}

fn figure(id: &str, was: &str, value: u32) -> String {
    let was = if was.is_empty() { String::new() } else { format!("was = {was}\n") };
    format!("[[figure]]\nid = \"{id}\"\n{was}{COMMON}ask = \"How much is {}?\"\nvalue = \"{value} bar\"\n", letters(id))
}

/// Ids that differ in a digit would ask nearly the same.
fn letters(id: &str) -> String {
    id.bytes().map(|b| char::from(if b.is_ascii_digit() { b - b'0' + b'q' } else { b })).collect()
}

fn renamed(from: &str, to: &str) -> Renamed {
    Renamed { from: from.to_owned(), to: to.to_owned() }
}

#[test]
fn cards_are_new_renamed_withdrawn_and_come_back() {
    let first = stage(&[figure("a", "", 1), figure("b", "", 2), figure("c", "", 3), figure("d", "", 4)].concat());
    let at_first = compare(None, &Edition::of(&first));
    assert_eq!((at_first.was_edition, at_first.new.len(), at_first.same), (None, 4, 0), "at first all are new");
    // a stays, b goes on as e with its question in other words, c goes, f comes.
    let second =
        stage(&[figure("a", "", 1), figure("e", "[\"b\"]", 2), figure("d", "", 5), figure("f", "", 6)].concat());
    let to_second = update(&first, &second);
    let changed: Vec<&str> = to_second.changed.iter().map(|changed| changed.id.as_str()).collect();
    assert_eq!(changed, ["e", "d"], "renamed and altered is both");
    assert_eq!(to_second.renamed, [renamed("b", "e")]);
    assert_eq!((to_second.new, to_second.withdrawn, to_second.same), (vec!["f".into()], vec!["c".into()], 1));
    let back = update(&second, &stage(&[figure("a", "", 1), figure("c", "", 3)].concat()));
    assert_eq!(back.new, ["c"], "what comes back is told as new");
    assert_eq!(back.withdrawn, ["e", "d", "f"]);
}

#[test]
fn two_cards_made_into_one_and_a_card_of_another_deck_are_renamed() {
    let first = stage(&[figure("a", "", 1), figure("b", "", 2)].concat());
    let joined = stage(&[figure("a", "[\"b\"]", 1)].concat());
    let update_of = |new: &Deck| {
        let update = update(&first, new);
        (update.renamed, update.new, update.withdrawn, update.same)
    };
    assert_eq!(update_of(&joined), (vec![renamed("b", "a")], vec![], vec![], 0));
    let moved =
        stage(&[figure("a", "", 1), figure("b", "", 2), figure("z", "[\"other-deck/y\", \"gone\"]", 3)].concat());
    assert_eq!(update_of(&moved), (vec![renamed("other-deck/y", "z")], vec![], vec![], 2));
    let never_there = stage(&[figure("a", "", 1), figure("b", "", 2), figure("z", "[\"gone\"]", 3)].concat());
    assert_eq!(update_of(&never_there), (vec![], vec!["z".into()], vec![], 2), "an edition was passed over");
    // What the check of a deck refuses is compared all the same: the first of two has a past, and none has a standing one.
    let mut torn = Edition::of(&moved);
    torn.cards[1].id = "x".into();
    for n in [0, 1, 2] {
        torn.cards[n].was =
            vec!["stage/a", "stage/b"].iter().filter_map(|key| bedplate::domain::ids::CardKey::parse(key)).collect();
    }
    let update = compare(Some(&Edition::of(&first)), &torn);
    assert_eq!((update.renamed, update.new), (vec![renamed("b", "a")], vec!["x".into(), "z".into()]));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(300) })]

    /// However two editions look, every card of the new one is told once, and of the old one none is lost.
    #[test]
    fn every_card_of_both_editions_is_accounted_for(
        old in prop::collection::btree_map(0u8..8, 0u8..3, 0..8),
        new in prop::collection::btree_map(0u8..8, (0u8..3, prop::collection::vec(0u8..8, 0..3)), 0..8),
    ) {
        use bedplate::domain::editions::{Asked, EditionCard, Part};
        use bedplate::domain::ids::{CardKey, DeckId};
        let id = |n: &u8| format!("c{n}");
        let card = |n: &u8, value: u8, was: &[u8]| EditionCard {
            id: id(n),
            was: was.iter().map(|n| CardKey::new("d", &id(n))).collect(),
            asked: Asked(vec![Part::one(What::Value, &value.to_string())]),
        };
        let edition = |number: u32, cards: Vec<EditionCard>| Edition { deck: DeckId("d".into()), number, cards };
        let before = edition(1, old.iter().map(|(n, value)| card(n, *value, &[])).collect());
        let after = edition(2, new.iter().map(|(n, (value, was))| card(n, *value, was)).collect());
        let update = compare(Some(&before), &after);
        let changed: BTreeSet<&str> = update.changed.iter().map(|c| c.id.as_str()).collect();
        let to: BTreeSet<&str> = update.renamed.iter().map(|r| r.to.as_str()).collect();
        let from: BTreeSet<&str> = update.renamed.iter().map(|r| r.from.as_str()).collect();
        prop_assert_eq!(from.len(), update.renamed.len(), "no past goes to two");
        let told: BTreeSet<&str> = changed.union(&to).copied().chain(update.new.iter().map(String::as_str)).collect();
        prop_assert_eq!(told.len() + update.same, new.len());
        prop_assert!(update.new.iter().all(|n| !changed.contains(n.as_str()) && !to.contains(n.as_str())));
        for n in old.keys() {
            let name = id(n);
            let places = [new.contains_key(n), from.contains(name.as_str()), update.withdrawn.contains(&name)];
            prop_assert_eq!(places.iter().filter(|is| **is).count(), 1, "{} in {:?}", name, &update);
        }
        for n in old.keys().filter(|n| new.contains_key(*n)) {
            prop_assert_eq!(changed.contains(id(n).as_str()), old[n] != new[n].0);
        }
        prop_assert!(compare(Some(&after), &after).is_empty());
    }
}
