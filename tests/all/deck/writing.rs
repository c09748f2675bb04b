//! Texts of decks changed key by key: what is not meant stays byte for byte, and what is written reads back as it was meant.

use std::fs;

use bedplate::deck::writing::{
    Place, SampleForm, Unwritable, begun, blank_form, form_of, has_form, in_sight, usual_topic, with_card,
    with_new_card, with_sample,
};
use bedplate::deck::{Severity, read_deck};
use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::form::{BeginDeck, CardForm, Holds, PointForm};
use bedplate::domain::kinds::Kind;
use bedplate::domain::outcome::Outcome;

use crate::support::decks::head;
use crate::support::window::ship_deck;

/// A file of cards with remarks.
pub const CARDS: &str = r#"# Lubrication, by E. Dunmore. Do not sort these.

[[recall]]                       # the first that new joiners get
id = "priming-pump"
topic = "A-III/1.1.4"
# the question as the chief asks it
ask = "Why does the priming pump stop?"   # short on purpose
points = [
  # what everybody says
  { say = "The engine's own pump takes over", accept = ["own pump takes over", "gear pump feeds"], critical = true },
  { say = "A pressure switch stops it", accept = ["pressure switch stops it"] }, # seen at orals
]
because = "Left running it hides a worn pump."
sources = ["practice"]
seconds = 40

[[figure]]
id = "full-air"
topic = "A-III/1.1.4"
ask = "To what pressure are the receivers filled?"
value = "30 bar"     # gauge
within = "1 bar"
because = "Most engines are built for it."
sources = ["practice"]
seconds = 8
"#;

fn pump() -> Place {
    Place { kind: Kind::Recall, nth: 0, id: "priming-pump".to_owned() }
}

fn air() -> Place {
    Place { kind: Kind::Figure, nth: 0, id: "full-air".to_owned() }
}

pub fn text(text: &str) -> Holds {
    Holds::Text(text.to_owned())
}

fn points(form: &CardForm) -> Vec<PointForm> {
    match form.part("points") {
        Some(Holds::Points(points)) => points.clone(),
        other => panic!("no points: {other:?}"),
    }
}

/// Lines of the second text that are not in the first, and the other way round.
pub fn differences(before: &str, after: &str) -> (Vec<String>, Vec<String>) {
    let only =
        |a: &str, b: &str| a.lines().filter(|line| !b.lines().any(|other| other == *line)).map(str::to_owned).collect();
    (only(before, after), only(after, before))
}

/// The deck of these cards without an error.
pub fn sound(cards: &str) {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("deck.toml"), head("own-plant", 1)).expect("written");
    fs::write(folder.path().join("cards.toml"), cards).expect("written");
    let reading = read_deck(folder.path());
    let errors: Vec<_> = reading.problems.iter().filter(|problem| problem.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}\n{cards}");
}

#[test]
fn a_form_that_says_the_same_changes_no_byte() {
    for name in ["said.toml", "sequence.toml", "lineup.toml", "working.toml", "point.toml"] {
        let cards = fs::read_to_string(ship_deck().join(name)).expect("readable");
        let reading = read_deck(ship_deck());
        for card in reading.written.iter().filter(|card| card.file == name && has_form(card.kind)) {
            let place = Place { kind: card.kind, nth: card.nth, id: card.id.clone().unwrap_or_default() };
            let form = form_of(&cards, &place).expect("a form");
            assert_eq!(with_card(&cards, &place, &form), Ok(cards.clone()), "{place:?}");
        }
    }
    let windows = CARDS.replace('\n', "\r\n");
    let form = form_of(&windows, &pump()).expect("a form");
    assert_eq!(with_card(&windows, &pump(), &form), Ok(windows.clone()));
}

#[test]
fn only_what_the_form_says_otherwise_is_written() {
    let mut form = form_of(CARDS, &pump()).expect("a form");
    assert_eq!(form.text("ask"), "Why does the priming pump stop?");
    form.set("ask", text("Why does the \"priming\" pump\nstop?"));
    form.set("heading", text("Starting"));
    form.set("seconds", text("35"));
    let changed = with_card(CARDS, &pump(), &form).expect("written");
    let (gone, new) = differences(CARDS, &changed);
    assert_eq!(gone, ["ask = \"Why does the priming pump stop?\"   # short on purpose", "seconds = 40"]);
    assert_eq!(
        new,
        [
            "ask = \"\"\"",
            "Why does the \\\"priming\\\" pump",
            "stop?\"\"\"   # short on purpose",
            "seconds = 35",
            "heading = \"Starting\""
        ]
    );
    assert!(form_of(&changed, &pump()).expect("a form").says_as(&form));
    sound(&changed);
}

#[test]
fn points_are_moved_added_and_left_out_with_their_remarks() {
    let mut form = form_of(CARDS, &pump()).expect("a form");
    let mut all = points(&form);
    all.swap(0, 1);
    all[0].critical = true;
    all[0].reject.push("someone switches it off".to_owned());
    all[1].accept.remove(0);
    all.push(PointForm {
        say: "It stays in automatic".to_owned(),
        accept: vec!["stays in automatic".to_owned()],
        ..PointForm::default()
    });
    form.set("points", Holds::Points(all));
    let changed = with_card(CARDS, &pump(), &form).expect("written");
    for kept in [
        "# what everybody says",
        "# seen at orals",
        "# the question as the chief asks it",
        "# Lubrication, by E. Dunmore.",
    ] {
        assert!(changed.contains(kept), "{kept} in\n{changed}");
    }
    assert!(form_of(&changed, &pump()).expect("a form").says_as(&form), "{changed}");
    sound(&changed);
    form.set("points", Holds::Points(vec![points(&form).remove(1)]));
    let form = {
        let mut form = form;
        let mut kept = points(&form);
        kept[0].was = Some(0);
        form.set("points", Holds::Points(kept));
        form
    };
    let one = with_card(CARDS, &pump(), &form).expect("written");
    assert!(one.contains("# what everybody says") && one.contains("# seen at orals"), "{one}");
    assert_eq!(points(&form_of(&one, &pump()).expect("a form")).len(), 1, "{one}");
    sound(&one);
}

#[test]
fn what_is_emptied_goes_and_its_remark_stays() {
    let mut form = form_of(CARDS, &air()).expect("a form");
    form.set("within", text("  "));
    let changed = with_card(CARDS, &air(), &form).expect("written");
    assert_eq!(differences(CARDS, &changed).0, ["within = \"1 bar\""]);
    let mut form = form_of(CARDS, &pump()).expect("a form");
    form.set("ask", text(""));
    assert!(
        with_card(CARDS, &pump(), &form).expect("written").contains("# the question as the chief asks it\npoints = [")
    );
}

#[test]
fn a_new_card_stands_at_the_end_and_is_sound() {
    for kind in [Kind::Recall, Kind::Figure, Kind::Why] {
        let mut form = blank_form(kind).expect("it has a form");
        form.id = "stop-at-once".to_owned();
        for (key, words) in [
            ("topic", "A-III/1.1.4"),
            ("ask", "What do you do where no pressure builds, and what did the chief say of \\ and \"quotes\"?"),
            ("because", "Bearings without oil last seconds."),
            ("seconds", "20"),
            ("value", "2.5 bar"),
        ] {
            form.set(key, text(words));
        }
        form.set("sources", Holds::List(vec!["practice".to_owned()]));
        form.set("links", Holds::List(vec!["The filter blocks".to_owned(), "The engine starves".to_owned()]));
        let point = PointForm { say: "Stop the engine at once".to_owned(), critical: true, ..PointForm::default() };
        form.set("points", Holds::Points(vec![point]));
        let changed = with_new_card(CARDS, &form).expect("written");
        assert!(changed.starts_with(CARDS), "what was there stays byte for byte");
        let nth = usize::from(kind != Kind::Why);
        let back = form_of(&changed, &Place { kind, nth, id: form.id.clone() }).expect("a form");
        assert!(back.says_as(&form), "{back:?}");
        sound(&changed);
    }
    assert_eq!(blank_form(Kind::Working), None);
}

#[test]
fn what_cannot_be_written_is_told_and_nothing_is_changed() {
    let mut form = form_of(CARDS, &pump()).expect("a form");
    form.set("seconds", text("soon"));
    assert_eq!(with_card(CARDS, &pump(), &form), Err(Unwritable::NoNumber { key: "seconds".to_owned() }));
    let broken = CARDS.replace("because = \"Left", "because = Left");
    assert_eq!(form_of(&broken, &pump()), Err(Unwritable::Broken { line: 13 }));
    let gone = Place { id: "gone".to_owned(), ..pump() };
    assert_eq!(form_of(CARDS, &gone), Err(Unwritable::Gone));
    let odd = CARDS.replace("seconds = 40", "seconds = \"forty\"");
    assert_eq!(form_of(&odd, &pump()), Err(Unwritable::Otherwise { key: "seconds".to_owned() }));
    let mut new = blank_form(Kind::Figure).expect("it has a form");
    new.id = "Full Air".to_owned();
    assert_eq!(with_new_card(CARDS, &new), Err(Unwritable::BadId));
}

#[test]
fn a_card_is_found_where_others_came_before_it() {
    let other = "[[recall]]\nid = \"other\"\nask = \"Which?\"\n\n";
    let moved = CARDS.replacen("[[recall]]", &format!("{other}[[recall]]"), 1);
    let form = form_of(&moved, &pump()).expect("it is found by its id");
    assert_eq!(form.text("ask"), "Why does the priming pump stop?");
}

#[test]
fn samples_are_written_where_samples_stand() {
    let sample = |words: &str| SampleForm {
        answer: Answer { given: Given::Text(words.to_owned()), seconds: None },
        says: vec![1],
        denies: Vec::new(),
        outcome: Some(Outcome::Prompted),
    };
    let once = with_sample(CARDS, &pump(), &sample("The gear pump feeds \"by itself\".")).expect("written");
    let twice = with_sample(&once, &pump(), &sample("Own pump takes over")).expect("written");
    let (gone, new) = differences(CARDS, &twice);
    assert_eq!(gone, [""; 0]);
    assert_eq!(
        new,
        [
            "samples = [",
            "  { text = \"The gear pump feeds \\\"by itself\\\".\", says = [1], outcome = \"prompted\" },",
            "  { text = \"Own pump takes over\", says = [1], outcome = \"prompted\" },",
        ]
    );
    let tables = CARDS.to_owned() + "\n[[figure.samples]]\ntext = \"30 bar\"\noutcome = \"answered\"\n";
    let figure = SampleForm { says: Vec::new(), outcome: Some(Outcome::Missed), ..sample("3 bar") };
    let changed = with_sample(&tables, &air(), &figure).expect("written");
    assert!(
        changed.starts_with(&tables)
            && changed.ends_with("\n[[figure.samples]]\ntext = \"3 bar\"\noutcome = \"missed\"\n"),
        "{changed}"
    );
    sound(&changed);
}

#[test]
fn a_sequences_sample_stands_below_its_own_tables() {
    let cards = fs::read_to_string(ship_deck().join("sequence.toml")).expect("readable");
    let reading = read_deck(ship_deck());
    let card = reading.written.iter().find(|card| card.kind == Kind::Sequence).expect("a sequence");
    let place = Place { kind: card.kind, nth: card.nth, id: card.id.clone().unwrap_or_default() };
    let sample = SampleForm {
        answer: Answer { given: Given::Steps(Vec::new()), seconds: None },
        says: Vec::new(),
        denies: Vec::new(),
        outcome: Some(Outcome::Missed),
    };
    let changed = with_sample(&cards, &place, &sample).expect("written");
    assert_eq!(differences(&cards, &changed).0, [""; 0]);
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("deck.toml"), fs::read(ship_deck().join("deck.toml")).expect("readable"))
        .expect("written");
    fs::write(folder.path().join("sequence.toml"), &changed).expect("written");
    let after = read_deck(folder.path());
    let after = after.deck.iter().flat_map(|deck| &deck.cards).find(|card| card.key.card == place.id).expect("sound");
    assert_eq!(after.samples.len(), 1, "{changed}");
}

#[test]
fn a_deck_that_is_begun_has_a_sound_head_and_no_cards_yet() {
    let deck = BeginDeck {
        id: "boiler-water".to_owned(),
        title: "Boiler \"water\"".to_owned(),
        topic: "A-III/1.1.4".to_owned(),
        publisher: String::new(),
    };
    let folder = tempfile::tempdir().expect("a folder");
    let files = begun(&deck).expect("begun");
    for (name, text) in &files {
        fs::write(folder.path().join(name), text).expect("written");
    }
    let reading = read_deck(folder.path());
    assert_eq!(reading.deck.as_ref().map(|deck| deck.title.as_str()), Some("Boiler \"water\""));
    assert!(reading.problems.iter().all(|problem| problem.severity != Severity::Error || problem.code == "empty-deck"));
    assert_eq!(usual_topic(&files[1].1), Some("A-III/1.1.4"));
    assert_eq!(begun(&BeginDeck { id: "Boiler".to_owned(), ..deck }), Err(Unwritable::BadId));
}

#[test]
fn cards_know_where_they_stand_and_stay_in_sight_while_their_file_is_broken() {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |cards: &str| {
        fs::write(folder.path().join("deck.toml"), head("own-plant", 1)).expect("written");
        fs::write(folder.path().join("cards.toml"), cards).expect("written");
        read_deck(folder.path())
    };
    let good = write(CARDS);
    let lines: Vec<(Option<&str>, usize, bool)> =
        good.written.iter().map(|card| (card.id.as_deref(), card.line, card.sound)).collect();
    assert_eq!(lines, [(Some("priming-pump"), 3, true), (Some("full-air"), 17, true)]);
    let seen = in_sight(&[], &good);
    assert!(seen.iter().all(|card| card.card.is_some() && !card.stale));
    let broken = write(&CARDS.replace("because = \"Left", "because = Left"));
    assert_eq!(broken.broken, ["cards.toml"]);
    let still = in_sight(&seen, &broken);
    let told: Vec<(Option<&str>, bool)> = still.iter().map(|card| (card.written.id.as_deref(), card.stale)).collect();
    assert_eq!(told, [(Some("priming-pump"), true), (Some("full-air"), false)]);
    assert_eq!(still[0].card, seen[0].card);
    // What was taken out of a file that can be read is gone.
    let shorter = write(&CARDS[..CARDS.find("[[figure]]").expect("there")]);
    assert_eq!(in_sight(&still, &shorter).len(), 1);
    let unsound = write(&CARDS.replace("value = \"30 bar\"", "value = \"30 bars and more\""));
    let wrong = in_sight(&seen, &unsound);
    assert!(wrong[1].stale && !wrong[1].written.sound, "the last good one stays, marked so");
}
