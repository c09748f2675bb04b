//! A learner through an update: a changed card comes first and is unknown until it is answered, a renamed one keeps its
//! history, a withdrawn one is out of all counts and comes back whole.

use std::path::Path;

use bedplate::app::profile::opening::{self, Ready};
use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, LibraryCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::Given;
use bedplate::domain::day::Instant;
use bedplate::domain::ids::{CardKey, DeckId};
use bedplate::domain::memory::order::Reason;
use bedplate::present::stage::Stage;
use bedplate::present::{DeckView, EditionView, View, WatchCardView};

use crate::support::{bundled, decks, home};

const DAY: i64 = 86_400_000;
const START: i64 = home::NOW.0;

/// A figure: its id, what is asked, the value, what else stands in it.
fn figure(id: &str, ask: &str, value: &str, rest: &str) -> String {
    format!(
        "[[figure]]\nid = \"{id}\"\ntopic = \"A-III/1.1.4\"\nask = \"{ask}\"\nvalue = \"{value}\"\nsources = [\"practice\"]\n\
         because = \"So it is.\"\nseconds = 10\n{rest}\n"
    )
}

fn first_edition() -> String {
    figure("air", "To what pressure are the receivers filled?", "30 bar", "")
        + &figure("oil", "At what oil pressure does the engine trip?", "1.5 bar", "")
        + &figure("water", "At what temperature does the jacket water alarm?", "95 degC", "")
        + &figure("speed", "At what speed does the overspeed trip act?", "115 rpm", "")
}

/// One changed, one renamed, one withdrawn, one as it was, one new.
fn second_edition() -> String {
    figure("air", "To what pressure are the receivers filled?", "25 bar", "")
        + &figure("oil-trip", "At what oil pressure does the engine trip?", "1.5 bar", "was = [\"oil\"]")
        + &figure("speed", "At what speed does the overspeed trip act?", "115 rpm", "weight = 3")
        + &figure("level", "What does a full header tank hold?", "400 L", "")
}

fn key(card: &str) -> CardKey {
    CardKey::new("gate", card)
}

/// A home with the deck and nothing else to study, and the profile `a`.
fn new_home() -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a folder");
    bundled::share_in(home.path());
    bundled::set_aside_in(&home.path().join("profiles/a"), Instant(START - DAY));
    write(home.path(), 1, &first_edition());
    home
}

fn write(home: &Path, edition: u32, cards: &str) {
    decks::write_into(&home.join("decks/gate"), "gate", edition, cards);
}

fn open(home: &Path, now: i64) -> App {
    home::started_at(home, now)
}

fn ready(home: &Path, now: i64) -> Ready {
    opening::open(&home::setup(home, "a", None, home::stopped(Instant(now))), Instant(now)).expect("it opens")
}

fn card(app: &mut App) -> WatchCardView {
    match &app.view().view {
        View::WatchCard(card) => (**card).clone(),
        other => panic!("no card: {other:?}"),
    }
}

fn run(app: &mut App, command: Command) {
    app.handle(command);
    app.settle();
}

/// Answers the card on the sheet.
fn answer(app: &mut App, text: &str) {
    run(app, Command::Card(CardCommand::Submit(Given::Text(text.to_owned()))));
    run(app, Command::Card(CardCommand::Accept));
}

/// Answers these cards, one after the other.
fn study(app: &mut App, cards: &[(&str, &str)]) {
    run(app, Command::Watch(WatchCommand::StudyCards(cards.iter().map(|(id, _)| key(id)).collect())));
    for (id, text) in cards {
        assert_eq!(card(app).key, key(id));
        answer(app, text);
    }
    run(app, Command::Watch(WatchCommand::Leave));
}

fn sheet(app: &mut App) -> Option<EditionView> {
    match &app.view().view {
        View::Edition(view) => Some((**view).clone()),
        _ => None,
    }
}

fn deck_page(app: &mut App) -> DeckView {
    run(app, Command::Go(Route::Deck(DeckId("gate".into()))));
    match &app.view().view {
        View::Deck(deck) => (**deck).clone(),
        other => panic!("no deck: {other:?}"),
    }
}

/// A learner who has answered all four, with the second edition put in the place of the first.
fn updated() -> (tempfile::TempDir, App) {
    let home = new_home();
    let mut app = open(home.path(), START);
    study(&mut app, &[("air", "30 bar"), ("oil", "1.5 bar"), ("water", "95 degC"), ("speed", "115 rpm")]);
    drop(app);
    write(home.path(), 2, &second_edition());
    let app = open(home.path(), START + DAY);
    (home, app)
}

#[test]
fn the_sheet_says_what_the_edition_brought_and_is_seen_again_on_the_decks_page() {
    let (home, mut app) = updated();
    let view = sheet(&mut app).expect("it comes by itself");
    assert_eq!((&view.headline[..], view.fresh, view.more), ("What is new in edition 2", true, 0));
    let told: Vec<(String, Vec<String>)> = view
        .groups
        .iter()
        .map(|group| {
            let row = |row: &bedplate::present::editions::EditionRow| format!("{} / {}", row.ask, row.what);
            (group.heading.clone(), group.cards.iter().map(row).collect())
        })
        .collect();
    let expected = [
        ("One card is changed", "To what pressure are the receivers filled? / The value"),
        ("One card is new", "What does a full header tank hold? / "),
        ("One card is renamed", "At what oil pressure does the engine trip? / It was oil"),
        ("One card is withdrawn", "At what temperature does the jacket water alarm? / "),
    ];
    assert_eq!(told, expected.map(|(heading, card)| (heading.to_owned(), vec![card.to_owned()])));
    assert_eq!(view.sentence, "In place of edition 1. One card is as it was.");
    // Killed before it was looked at, it comes again; looked at, it does not.
    drop(app);
    let mut app = open(home.path(), START + DAY + 1);
    assert!(sheet(&mut app).is_some());
    run(&mut app, Command::Library(LibraryCommand::EditionSeen));
    assert!(matches!(app.view().view, View::WatchFront(_)), "on to the watch");
    drop(app);
    let mut app = open(home.path(), START + DAY + 2);
    assert!(sheet(&mut app).is_none());
    let deck = deck_page(&mut app);
    let rows: Vec<(&str, &str)> = deck.editions.iter().map(|row| (&row.edition[..], &row.brought[..])).collect();
    assert_eq!(
        rows,
        [("Edition 2", "1 changed, 1 new, 1 renamed, 1 withdrawn"), ("Edition 1", "the first here, 4 cards")]
    );
    run(&mut app, Command::Go(Route::Edition(DeckId("gate".into()), 1)));
    let again = sheet(&mut app).expect("seen again");
    assert_eq!((again.groups, again.fresh), (view.groups, false));
}

#[test]
fn a_changed_card_comes_first_and_shows_old_beside_new_after_the_answer() {
    let (home, mut app) = updated();
    run(&mut app, Command::Library(LibraryCommand::EditionSeen));
    let View::WatchFront(front) = &app.view().view else { panic!("no front page") };
    assert!(
        front.sentence.starts_with("One card is changed by a new edition and comes before all others. Then"),
        "{}",
        front.sentence
    );
    run(&mut app, Command::Watch(WatchCommand::Stand { shorter: false }));
    let asked = card(&mut app);
    assert_eq!(asked.key, key("air"));
    let changed = asked.changed.expect("it is changed");
    assert_eq!((&changed.heading[..], changed.parts), ("Changed in edition 2", None), "nothing is given away");
    run(&mut app, Command::Card(CardCommand::Submit(Given::Text("30 bar".into()))));
    let marked = card(&mut app);
    assert!(matches!(marked.stage, Stage::Marked(_)));
    let parts = marked.changed.expect("still").parts.expect("after the answer");
    let line = |lines: &[bedplate::present::editions::ChangedLine]| lines[0].text.clone();
    assert_eq!(
        (&parts[0].what[..], line(&parts[0].was), line(&parts[0].is)),
        ("The value", "30 bar".into(), "25 bar".into())
    );
    run(&mut app, Command::Card(CardCommand::Accept));
    assert_ne!(card(&mut app).key, key("air"));
    // Taken back, it is changed again; accepted, it is a card like any other, though it was missed.
    run(&mut app, Command::Watch(WatchCommand::TakeBack));
    assert!(card(&mut app).changed.is_some_and(|changed| changed.parts.is_some()));
    run(&mut app, Command::Card(CardCommand::Accept));
    while card(&mut app).key != key("air") {
        let text = match card(&mut app).key.card.as_str() {
            "level" => "400 L",
            "speed" => "115 rpm",
            _ => "1.5 bar",
        };
        answer(&mut app, text);
    }
    assert_eq!(card(&mut app).changed, None, "it has been answered since");
    drop(app);
    let learner = ready(home.path(), START + DAY + 60_000).profile.learner;
    assert_eq!(learner.editions.count(), 0);
    assert_eq!(learner.memory[&key("air")].seen, 2, "memory goes on");
}

#[test]
fn until_it_is_answered_the_recall_of_a_changed_card_is_unknown_and_it_is_owed_first() {
    let (home, app) = updated();
    drop(app);
    let ready = ready(home.path(), START + DAY);
    let (learner, shelf) = (&ready.profile.learner, &ready.shelf);
    let day = learner.day(Instant(START + DAY));
    assert_eq!(learner.recall(&key("air"), day), None);
    assert!(learner.recall(&key("speed"), day).is_some());
    assert!(learner.memory.contains_key(&key("air")), "memory itself is kept");
    let states = learner.states(shelf, day, day);
    let of_gate: Vec<bool> = shelf
        .cards()
        .map(|(deck, _)| deck.id.0 == "gate")
        .zip(&states)
        .filter(|(is, _)| *is)
        .map(|(_, s)| s.recall.is_some())
        .collect();
    assert_eq!(of_gate, [false, true, true, false], "air is unknown, level is new");
    for exam in [None, Some(day.plus(20))] {
        let mut learner = learner.clone();
        learner.settings.oral = exam;
        let order = learner.order(shelf, day, 600.0);
        assert_eq!((order.items[0].key.clone(), order.items[0].reason), (key("air"), Reason::Changed), "{exam:?}");
        assert_eq!(order.items.iter().filter(|item| item.key == key("air")).count(), 1);
        assert_eq!(learner.order(shelf, day, 0.0).items.len(), 1, "it is owed though the minutes are spent");
    }
    // A card that was never answered counts as new, whatever was changed of it.
    let (keys, cards) = learner.plan_cards(shelf, day);
    let trace = |id: &str| keys.iter().position(|of| *of == key(id)).map(|at| cards[at].trace.is_some());
    assert_eq!([trace("air"), trace("oil-trip"), trace("level")], [Some(false), Some(true), Some(false)]);
}

#[test]
fn a_changed_card_that_was_never_answered_is_new() {
    let home = new_home();
    let mut app = open(home.path(), START);
    study(&mut app, &[("speed", "115 rpm")]);
    drop(app);
    write(home.path(), 2, &second_edition());
    let learner = ready(home.path(), START + DAY).profile.learner;
    assert_eq!(learner.editions.count(), 0);
}

#[test]
fn a_renamed_card_goes_on_with_its_history_and_the_answers_stay_as_they_were_filed() {
    let (home, mut app) = updated();
    run(&mut app, Command::Go(Route::Card(key("oil-trip"))));
    let View::Card(page) = &app.view().view else { panic!("no page") };
    assert_eq!(page.history.len(), 1);
    assert!(page.standing_detail.contains("Asked 1 time"), "{}", page.standing_detail);
    study(&mut app, &[("oil-trip", "2 bar"), ("oil-trip", "1.5 bar")]);
    drop(app);
    let ready = ready(home.path(), START + DAY + 1);
    let learner = &ready.profile.learner;
    assert_eq!(learner.memory[&key("oil-trip")].seen, 3);
    assert!(!learner.memory.contains_key(&key("oil")), "it counts once");
    let listed = ready.profile.store.list_attempts(None, 100).wait().expect("read");
    let filed: Vec<&str> = listed.iter().map(|listed| listed.attempt.card.card.as_str()).collect();
    assert_eq!(filed, ["air", "oil", "water", "speed", "oil-trip", "oil-trip"]);
    // Back to the edition before: each card has what was answered under its own key.
    drop(ready);
    write(home.path(), 1, &first_edition());
    let back = self::ready(home.path(), START + DAY + 2).profile.learner;
    assert_eq!((back.memory[&key("oil")].seen, back.memory[&key("oil-trip")].seen), (1, 2));
    assert_eq!(back.editions.count(), 0, "what was answered is asked again as it was");
}

#[test]
fn a_withdrawn_card_is_out_of_all_counts_and_comes_back_whole() {
    let (home, mut app) = updated();
    let deck = deck_page(&mut app);
    let gone: Vec<(&str, &str)> = deck.withdrawn.iter().map(|row| (&row.ask[..], &row.answered[..])).collect();
    assert_eq!(gone.len(), 1);
    assert_eq!(gone[0].0, "At what temperature does the jacket water alarm?");
    assert!(gone[0].1.starts_with("Asked 1 time, last on "), "{}", gone[0].1);
    drop(app);
    let text = home::terminal(
        home.path(),
        &["export", "attempts", "--profile", home.path().join("profiles/a").to_str().expect("a name")],
        "",
    );
    assert!(text.contains("gate/water"), "kept in exports: {text}");
    let before = {
        let ready = ready(home.path(), START + DAY);
        let learner = &ready.profile.learner;
        let day = learner.day(Instant(START + DAY));
        let cards = ready.shelf.cards().filter(|(deck, _)| deck.id.0 == "gate").count();
        assert_eq!(cards, 4);
        assert!(learner.order(&ready.shelf, day.plus(400), 9e9).items.iter().all(|item| item.key != key("water")));
        learner.memory[&key("water")]
    };
    let third = second_edition() + &figure("water", "At what temperature does the jacket water alarm?", "95 degC", "");
    write(home.path(), 3, &third);
    let mut app = open(home.path(), START + 2 * DAY);
    let view = sheet(&mut app).expect("a sheet");
    assert_eq!(view.groups.iter().map(|group| &group.heading[..]).collect::<Vec<_>>(), ["One card is new"]);
    assert_eq!(deck_page(&mut app).withdrawn, []);
    drop(app);
    let ready = ready(home.path(), START + 2 * DAY);
    assert_eq!(ready.profile.learner.memory[&key("water")], before, "whole");
    assert!(!ready.profile.learner.is_changed(&key("water")));
}

#[test]
fn a_deck_with_an_error_withdraws_nothing_and_is_taken_in_once_it_is_mended() {
    let home = new_home();
    let mut app = open(home.path(), START);
    study(&mut app, &[("air", "30 bar"), ("water", "95 degC")]);
    drop(app);
    write(home.path(), 2, &second_edition().replace("400 L", "400 furlong-pints"));
    let mut app = open(home.path(), START + DAY);
    assert!(sheet(&mut app).is_none());
    assert_eq!(deck_page(&mut app).withdrawn, []);
    // Mended and read again, while the program runs.
    write(home.path(), 2, &second_edition());
    run(&mut app, Command::Library(LibraryCommand::RereadDecks));
    assert!(sheet(&mut app).is_some());
    run(&mut app, Command::Library(LibraryCommand::EditionSeen));
    run(&mut app, Command::Watch(WatchCommand::Stand { shorter: false }));
    assert_eq!(card(&mut app).key, key("air"));
    assert!(card(&mut app).changed.is_some());
}

#[test]
fn under_the_same_number_nothing_is_told() {
    let home = new_home();
    let mut app = open(home.path(), START);
    study(&mut app, &[("air", "30 bar")]);
    write(home.path(), 1, &second_edition());
    run(&mut app, Command::Library(LibraryCommand::RereadDecks));
    assert!(sheet(&mut app).is_none());
    drop(app);
    assert_eq!(ready(home.path(), START + DAY).profile.learner.editions.count(), 0);
    write(home.path(), 2, &second_edition());
    assert_eq!(ready(home.path(), START + DAY).profile.learner.editions.count(), 1);
}

#[test]
fn the_terminal_says_what_is_new_and_what_was_changed() {
    let (home, app) = updated();
    drop(app);
    let profile = home.path().join("profiles/a");
    let arguments = [
        "watch",
        "--plain",
        "--profile",
        profile.to_str().expect("a name"),
        "--cards",
        "1",
        "--now",
        "2027-01-16T08:00:00Z",
    ];
    let text = home::terminal(home.path(), &arguments, "25 bar\n\n");
    for words in
        ["What is new in edition 2", "One card is withdrawn", "Changed in edition 2", "before: 30 bar", "now: 25 bar"]
    {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(text.find("Changed in edition 2").expect("asked") < text.find("before: 30 bar").expect("answered"));
}

/// The store's own file of version 4, whose answers were given before anything was known of editions.
#[test]
fn an_old_profile_takes_in_what_is_at_hand_and_claims_nothing() {
    let home = tempfile::tempdir().expect("a folder");
    bundled::share_in(home.path());
    let profile = home.path().join("profiles/a");
    std::fs::create_dir_all(&profile).expect("a folder");
    let stored = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/store/profile-v4.sqlite");
    std::fs::copy(stored, profile.join("profile.sqlite")).expect("copied");
    let ready = ready(home.path(), START);
    let editions = &ready.profile.learner.editions;
    assert_eq!((editions.count(), ready.news.len()), (0, 0));
    let decks = ready.shelf.usable().count();
    assert!(decks > 5);
    assert_eq!(editions.ledger.len(), decks, "each is taken in as it is");
    assert_eq!(ready.profile.store.ledger().wait().expect("read"), editions.ledger);
    let seen: u32 = ready.profile.learner.memory.values().map(|memory| memory.seen).sum();
    assert_eq!(seen, 101, "every answer counts as before");
}
