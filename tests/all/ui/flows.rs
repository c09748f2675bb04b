//! Every flow of the window, through roles and labels, by keys alone where keys do it.

use bedplate::app::program::Program;
use bedplate::app::program::command::{
    CardCommand, Command, LibraryCommand, ProfileCommand, SettingsCommand, WatchCommand,
};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::Given;
use bedplate::domain::attempt::Until;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::ShipOffset;
use bedplate::domain::ids::DeckId;
use bedplate::domain::outcome::Notch;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::kinds::why::WhyAskedView;
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::library::{CardRow, DeckRow, Standing};
use bedplate::present::pages::TroubleKind;
use bedplate::present::stage::{Marked, Stage};
use bedplate::present::watch::FrontState;
use bedplate::present::{Notice, ShellView, View};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::home;
use crate::support::time::TODAY;
use crate::support::window::{Manned, Ship, drawn, key, on};
use crate::ui::support::SIZES;

fn at(route: Route) -> Manned {
    let ship = Ship::new();
    ship.go(route);
    ship.manned()
}

fn first_run() -> Manned {
    Ship::unmanned().manned()
}

/// One of the ship's cards on the sheet.
fn laid(card: &str) -> Manned {
    let ship = Ship::new();
    ship.lay(card);
    ship.manned()
}

fn on_a_card(bench: &Manned) -> bool {
    matches!(bench.ship.view().view, View::WatchCard(_))
}

fn text(words: &str) -> Command {
    Command::Card(CardCommand::Submit(Given::Text(words.to_owned())))
}

#[test]
fn the_first_run_is_answered_by_keys() {
    let mut bench = first_run();
    bench.key(Key::ArrowDown).key(Key::ArrowRight).key(Key::ArrowRight).key(Key::D);
    bench.text("21 April 2027");
    assert!(bench.shows("147 days from today"), "21 April 2027 is 147 days after 25 November 2026");
    assert!(bench.shows("Wednesday"), "21 April 2027 is a Wednesday");
    bench.key(Key::Enter);
    let told = Command::Profile(ProfileCommand::FinishFirstRun {
        certificate: Certificate::Second,
        oral: Some(TODAY.plus(147)),
        minutes: 40,
        watch: true,
    });
    assert_eq!(bench.commands(), [told]);
    assert!(on_a_card(&bench), "the first watch is stood at once");
}

#[test]
fn the_first_run_takes_a_name_and_begins_without_one() {
    let first = home::first_run(30, true);
    let mut bench = first_run();
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), std::slice::from_ref(&first), "one Enter is enough");
    let mut bench = first_run();
    bench.harness.get_by_role_and_label(Role::TextInput, "Your name").focus();
    bench.harness.run();
    bench.text("D. N. Larsen").key(Key::Enter);
    assert_eq!(
        bench.commands(),
        [Command::Settings(SettingsCommand::SetLearner("D. N. Larsen".into())), first],
        "its letters are no commands"
    );
    assert_eq!(bench.ship.view().rail.learner, "D. N. Larsen");
}

#[test]
fn a_first_run_without_a_date_may_look_round_first() {
    let mut bench = first_run();
    bench.key(Key::D).text("soon").key(Key::Enter);
    assert_eq!(bench.commands(), [], "what is no date is not taken");
    assert!(bench.shows("Type it like"), "and the sheet says how to write one");
    bench.key(Key::Escape).key(Key::N).key(Key::L);
    let told = home::first_run(30, false);
    assert_eq!(bench.commands(), [told]);
}

#[test]
fn the_ruler_of_the_first_run_moves_by_mouse_and_by_its_own_keys() {
    let mut bench = first_run();
    let ruler = bench.harness.get_by_role_and_label(Role::Slider, "Minutes a day");
    assert_eq!(ruler.accesskit_node().numeric_value(), Some(30.0));
    let rect = ruler.rect();
    ruler.focus();
    bench.harness.run();
    bench.key(Key::ArrowLeft);
    let ruler = bench.harness.get_by_role_and_label(Role::Slider, "Minutes a day");
    assert_eq!(ruler.accesskit_node().numeric_value(), Some(25.0));
    let far_right = rect.right_center();
    bench.harness.drag_at(far_right);
    bench.harness.run();
    bench.harness.drop_at(far_right);
    bench.harness.run();
    let ruler = bench.harness.get_by_role_and_label(Role::Slider, "Minutes a day");
    assert_eq!(ruler.accesskit_node().numeric_value(), Some(60.0));
}

#[test]
fn a_watch_is_stood_by_keys() {
    let mut bench = at(Route::Watch);
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Watch(WatchCommand::Stand { shorter: false })]);
    assert!(on_a_card(&bench));
    let ship = bench.ship;
    ship.run(Command::Watch(WatchCommand::StudyCards(["priming-pump", "full-air", "blackout"].map(key).to_vec())));
    let mut bench = ship.manned();
    bench.key(Key::Enter).key(Key::Num1).key(Key::Num3).key(Key::Num5).key(Key::Minus);
    let said = [
        Command::Card(CardCommand::ShowPoints),
        Command::Card(CardCommand::Tick(1)),
        Command::Card(CardCommand::Tick(3)),
        Command::Card(CardCommand::Tick(5)),
        Command::Card(CardCommand::SetNotch(Notch::Down)),
    ];
    assert_eq!(bench.commands(), said);
    assert!(bench.shows("3 of 5 points"));
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [], "Enter, which showed the points, does not accept");
    bench.key(Key::Space);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Accept)]);
    bench.text("30 bar").key(Key::Enter).key(Key::Enter).key(Key::Space);
    assert_eq!(bench.commands(), [text("30 bar"), Command::Card(CardCommand::Accept)], "Enter twice marks once");
    let Stage::Asked(AskedView::Why(WhyAskedView { links })) = bench.ship.card().stage else {
        panic!("the why is asked")
    };
    bench.key(Key::Enter).key_with(Modifiers::COMMAND, Key::Enter).key(Key::Space);
    assert_eq!(
        bench.commands(),
        [Command::Card(CardCommand::Submit(Given::Links(vec![links[0].position]))), Command::Card(CardCommand::Accept)]
    );
    // What was missed is asked again before the watch is over.
    let mut again = Vec::new();
    while on_a_card(&bench) {
        let card = bench.ship.card();
        match card.stage {
            Stage::Asked(AskedView::Recall(_)) => {
                bench.key(Key::Enter).key(Key::Num1).key(Key::Num2).key(Key::Num3).key(Key::Num4).key(Key::Num5);
            }
            Stage::Asked(AskedView::Why(_)) => {
                bench.ship.run(Command::Card(CardCommand::Submit(Given::Links(vec![1, 2, 3, 4]))));
                bench.harness.run();
            }
            other => panic!("{other:?}"),
        }
        bench.key(Key::Space);
        again.push(card.key);
    }
    assert_eq!(again, [key("priming-pump"), key("blackout")]);
    bench.commands();
    assert!(bench.shows("3 cards in"), "the end of the watch");
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Watch(WatchCommand::Leave)]);
}

#[test]
fn a_remedy_is_gone_through_by_keys() {
    let ship = Ship::new();
    ship.remedy("earth-lamp");
    let mut bench = ship.manned();
    bench.key(Key::Space).key(Key::Space).key(Key::Space).key(Key::Space);
    assert_eq!(
        bench.commands(),
        [
            Command::Watch(WatchCommand::RemedyOn),
            Command::Watch(WatchCommand::RemedyOn),
            Command::Watch(WatchCommand::RemedyOn),
            Command::Watch(WatchCommand::RemedyOn)
        ]
    );
    assert!(bench.shows("Show key points"), "and the card is asked once more");
}

#[test]
fn a_shorter_watch_and_every_state_of_the_front_page() {
    let mut bench = at(Route::Watch);
    bench.key(Key::S);
    assert_eq!(bench.commands(), [Command::Watch(WatchCommand::Stand { shorter: true })]);
    let front = |ship: &Ship| match &ship.view().view {
        View::WatchFront(front) => (**front).clone(),
        other => panic!("not the front page: {other:?}"),
    };
    let aside = |ship: &Ship, but: Option<&str>| {
        ship.go(Route::Deck(DeckId("marram-light".to_owned())));
        let View::Deck(deck) = ship.view().view.clone() else { panic!("a deck") };
        for card in deck.cards.iter().filter(|row| Some(row.key.card.as_str()) != but) {
            ship.run(Command::Library(LibraryCommand::SetAside { card: card.key.clone(), until: Until::ForGood }));
        }
        ship.run(Command::DismissNotice).go(Route::Watch);
    };
    type Bring<'a> = &'a dyn Fn(&Ship);
    let states: [(FrontState, Bring, &str, Command); 3] = [
        (
            FrontState::GoOn,
            &|ship| {
                ship.run(Command::Watch(WatchCommand::Stand { shorter: false }))
                    .run(Command::Watch(WatchCommand::Leave));
            },
            "Go on with the watch",
            Command::Watch(WatchCommand::Stand { shorter: false }),
        ),
        (FrontState::NothingDue, &|ship| aside(ship, None), "Look into the library", Command::Go(Route::Library)),
        (
            FrontState::Done,
            &|ship| {
                aside(ship, Some("full-air"));
                ship.run(Command::Watch(WatchCommand::Stand { shorter: false }));
                ship.give(11, Given::Text("30 bar".to_owned()))
                    .run(Command::Card(CardCommand::Accept))
                    .run(Command::Watch(WatchCommand::Leave));
            },
            "Look into the library",
            Command::Go(Route::Library),
        ),
    ];
    for (state, bring, action, told) in states {
        let ship = Ship::new();
        bring(&ship);
        assert_eq!(front(&ship).state, state);
        let mut bench = ship.manned();
        bench.harness.get_by_role_and_label(Role::Button, action);
        bench.key(Key::Enter);
        assert_eq!(bench.commands(), [told], "{state:?}");
    }
    // The program brings decks and mends them: that there is none at all is only ever said where they cannot be read.
    let ship = Ship::new();
    let mut none = front(&ship);
    (none.state, none.bar, none.weak) = (FrontState::NoDecks, None, Vec::new());
    let mut bench = drawn(ShellView { view: View::WatchFront(Box::new(none)), ..(*ship.view()).clone() }, SIZES[0]);
    bench.harness.get_by_role_and_label(Role::Button, "Read the deck folders again");
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Library(LibraryCommand::RereadDecks)]);
}

#[test]
fn a_typed_answer_takes_every_key_and_its_points_are_found() {
    let mut bench = laid("priming-pump");
    bench.key(Key::T);
    let field = bench.harness.get_by_role_and_label(Role::MultilineTextInput, "Your answer");
    assert!(field.is_focused());
    assert_eq!(field.value().as_deref(), Some(""), "the key that leads into the field is not typed into it");
    bench.text("the gear pump takes over, someone switches it off ");
    bench.key(Key::Num1).key(Key::Space).key(Key::F).key(Key::A);
    assert_eq!(bench.commands(), [], "digits and letters in a field are text");
    bench.key_with(Modifiers::COMMAND, Key::Enter);
    assert_eq!(bench.commands(), [text("the gear pump takes over, someone switches it off 1 fa")]);
    assert!(bench.shows("contradicted"));
    assert!(bench.shows("“gear pump takes over”"), "the learner's own words are shown as evidence");
    bench.key(Key::Num2);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Tick(2))], "what was found can be corrected");
    let Stage::Marked(Marked { view: MarkedView::Recall(shown), .. }) = bench.ship.card().stage else {
        panic!("shown")
    };
    let points = shown.points;
    assert_eq!(points.iter().map(|point| point.said).collect::<Vec<_>>(), [true, true, false, false, false]);
}

#[test]
fn key_points_are_checkboxes_with_text_and_state() {
    let mut bench = laid("priming-pump");
    bench.key(Key::Enter);
    let label =
        "5. If pressure does not build in the maker’s time, stop the engine at once., safety-critical, not said";
    let row = bench.harness.get_by_role_and_label(Role::CheckBox, label);
    row.click();
    bench.harness.run();
    assert_eq!(bench.commands(), [Command::Card(CardCommand::ShowPoints), Command::Card(CardCommand::Tick(5))]);
    let ticked = label.replace("not said", "said");
    bench.harness.get_by_role_and_label(Role::CheckBox, &ticked).focus();
    bench.harness.run();
    bench.key(Key::Space);
    assert_eq!(
        bench.commands(),
        [Command::Card(CardCommand::Tick(5))],
        "Space ticks the focused row and does nothing else"
    );
    bench.key(Key::Escape).key(Key::Space);
    assert_eq!(
        bench.commands().last(),
        Some(&Command::Card(CardCommand::Accept)),
        "with no row in focus Space accepts"
    );
}

#[test]
fn escape_leaves_the_field_first_and_then_the_watch() {
    let mut bench = laid("priming-pump");
    bench.key(Key::T).text("abc").key(Key::Escape);
    assert_eq!(bench.commands(), []);
    bench.key(Key::Escape);
    assert_eq!(bench.commands(), [Command::Watch(WatchCommand::Leave)]);
}

#[test]
fn a_figure_is_marked_and_its_slip_named() {
    let mut bench = laid("full-air");
    let field = bench.harness.get_by_role_and_label(Role::TextInput, "Your figure, with its unit");
    assert!(field.is_focused(), "one can type at once");
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [], "nothing typed, nothing marked");
    bench.text("3 bar").key(Key::Enter);
    assert_eq!(bench.commands(), [text("3 bar")]);
    assert!(bench.shows("90 % out") && bench.shows("It is 10 times too small"));
    assert!(bench.shows("Caution:"), "a hazardous card carries its caution");
    bench.key(Key::Plus).key(Key::Space);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::SetNotch(Notch::Up)), Command::Card(CardCommand::Accept)]);
}

#[test]
fn a_why_is_put_in_order_by_keys_alone() {
    let mut bench = laid("blackout");
    let Stage::Asked(AskedView::Why(WhyAskedView { links })) = bench.ship.card().stage else { panic!("asked") };
    let shuffled: Vec<usize> = links.iter().map(|link| link.position).collect();
    let (mut ashore, mut cursor) = (shuffled.clone(), 0usize);
    let mut take = |bench: &mut Manned, link: usize, by: Key| {
        let at = ashore.iter().position(|one| *one == link).expect("it lies ashore");
        while cursor != at {
            bench.key(if cursor < at { Key::ArrowDown } else { Key::ArrowUp });
            cursor = if cursor < at { cursor + 1 } else { cursor - 1 };
        }
        bench.key(by);
        ashore.remove(at);
        cursor = at.min(ashore.len().saturating_sub(1));
    };
    take(&mut bench, 1, Key::Enter);
    take(&mut bench, 2, Key::ArrowRight);
    take(&mut bench, 4, Key::Enter);
    take(&mut bench, 5, Key::Enter); // by mistake
    bench.harness.get_by_role_and_label(Role::Button, "Line 4: The governor shuts the fuel because of overspeed");
    bench.key(Key::ArrowLeft); // the last one out again
    bench.harness.get_by_role_and_label(Role::Button, "Ashore: The governor shuts the fuel because of overspeed");
    bench.key(Key::ArrowUp).key(Key::ArrowUp);
    let before = shuffled.iter().position(|one| *one == 5) < shuffled.iter().position(|one| *one == 3);
    if before {
        bench.key(Key::ArrowDown);
    }
    bench.key(Key::Enter); // 3 to the end of the sheet
    bench.harness.get_by_role_and_label(Role::Button, "Line 4: Frequency falls and the under-frequency relay acts");
    bench.key(Key::ArrowDown).key(Key::ArrowDown).key(Key::ArrowDown).key(Key::ArrowDown); // onto the last line
    bench.key_with(Modifiers::SHIFT, Key::ArrowUp); // before 4
    bench.key_with(Modifiers::COMMAND, Key::Enter);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Submit(Given::Links(vec![1, 2, 3, 4])))]);
    assert!(bench.shows("4 of 4 links in order") && bench.shows("The right order"));
}

#[test]
fn a_why_is_put_in_order_by_mouse_and_false_links_are_named() {
    let mut bench = laid("blackout");
    for name in [
        "Ashore: The fuel filter of the generator engine blocks",
        "Ashore: The governor shuts the fuel because of overspeed",
    ] {
        bench.harness.get_by_role_and_label(Role::Button, name).click();
        bench.harness.run();
    }
    let from = bench.harness.get_by_label("Ashore: The engine loses power and slows down").rect().center();
    let first = bench.harness.get_by_label("Line 1: The fuel filter of the generator engine blocks").rect();
    bench.harness.drag_at(from);
    bench.harness.run();
    bench.harness.hover_at(first.center());
    bench.harness.run();
    bench.harness.hover_at(first.center_bottom());
    bench.harness.run();
    bench.harness.drop_at(first.center_bottom());
    bench.harness.run();
    bench.harness.get_by_label("Line 2: The engine loses power and slows down");
    bench.harness.get_by_label("Mark the order").click();
    bench.harness.run();
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Submit(Given::Links(vec![1, 2, 5])))]);
    assert!(bench.shows("belongs nowhere"));
    assert!(bench.shows("Source: SOLAS 1974"), "a source too long for the title block is said in full");
}

#[test]
fn a_card_is_set_aside_and_a_fault_reported() {
    let ship = Ship::new();
    ship.run(Command::Watch(WatchCommand::StudyCards(["priming-pump", "earth-lamp", "full-air"].map(key).to_vec())));
    let mut bench = ship.manned();
    bench.key(Key::Enter).key(Key::A).key(Key::Escape).key(Key::A).key(Key::Enter);
    let week =
        Command::Library(LibraryCommand::SetAside { card: key("priming-pump"), until: Until::Day(TODAY.plus(7)) });
    assert_eq!(bench.commands(), [Command::Card(CardCommand::ShowPoints), week]);
    assert_eq!(bench.ship.card().key, key("earth-lamp"), "the next card is on the sheet");
    bench.key(Key::A).key(Key::G);
    assert_eq!(bench.commands(), [], "while it is asked, nothing is set aside");
    bench.key(Key::Enter).key(Key::A).key(Key::G);
    let good = Command::Library(LibraryCommand::SetAside { card: key("earth-lamp"), until: Until::ForGood });
    assert_eq!(bench.commands(), [Command::Card(CardCommand::ShowPoints), good]);
    assert_eq!(bench.ship.card().key, key("full-air"));
    bench.text("30 bar").key(Key::Enter);
    bench.commands();
    bench.key(Key::F).text("The figure is that of the old receivers").key(Key::Enter);
    let note = "The figure is that of the old receivers".to_owned();
    assert_eq!(bench.commands(), [Command::Library(LibraryCommand::ReportFault { card: key("full-air"), note })]);
    bench.harness.get_by_label_contains("Noted. It stands with the card in the library.");
    bench.key(Key::X);
    assert_eq!(bench.commands(), [Command::DismissNotice]);
    assert!(bench.ship.view().notice.is_none());
    assert_eq!(bench.ship.page("full-air").faults.len(), 1);
}

#[test]
fn the_library_is_searched_as_one_types() {
    let mut bench = at(Route::Library);
    bench.key(Key::Slash).text("silt at fr");
    assert_eq!(
        bench.commands(),
        [Command::Library(LibraryCommand::Search("silt at fr".to_owned()))],
        "the slash is not typed"
    );
    bench.text("ame 42");
    assert_eq!(bench.commands(), [Command::Library(LibraryCommand::Search("silt at frame 42".to_owned()))]);
    assert!(bench.shows("When do we change from the low to the high sea suction"));
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Go(Route::Card(key("sea-suctions")))]);
    bench.key(Key::Escape);
    assert_eq!(bench.commands(), [Command::Go(Route::Library)], "back to where it was opened");
    assert!(bench.shows("When do we change from the low to the high sea suction"), "and the search is still there");
}

fn rows(ship: &Ship) -> Vec<CardRow> {
    match &ship.view().view {
        View::Deck(deck) => deck.cards.clone(),
        other => panic!("not a deck: {other:?}"),
    }
}

fn decks(ship: &Ship) -> Vec<DeckRow> {
    match &ship.view().view {
        View::Library(library) => library.decks.clone(),
        other => panic!("not the library: {other:?}"),
    }
}

#[test]
fn a_card_leads_back_to_where_it_was_opened() {
    let deck = Route::Deck(DeckId("marram-light".to_owned()));
    let mut bench = at(deck.clone());
    let first = rows(&bench.ship)[0].key.clone();
    bench.key(Key::Enter).key(Key::Escape);
    assert_eq!(bench.commands(), [Command::Go(Route::Card(first)), Command::Go(deck)]);
}

#[test]
fn what_had_the_focus_has_it_no_more_on_another_page() {
    let mut bench = at(Route::Watch);
    bench.harness.get_by_role_and_label(Role::Button, "Library").focus();
    bench.harness.run();
    bench.key(Key::Enter);
    let deck = Route::Deck(decks(&bench.ship)[0].id.clone());
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Go(Route::Library), Command::Go(deck)]);
}

#[test]
fn a_search_without_hits_says_so_and_is_put_away_by_escape() {
    let mut bench = at(Route::Library);
    bench.key(Key::Slash).text("zzz");
    assert!(bench.shows("Nothing in any deck for “zzz”."));
    bench.key(Key::Escape).key(Key::Escape);
    assert_eq!(bench.commands().last(), Some(&Command::Library(LibraryCommand::Search(String::new()))));
    assert!(bench.shows(&decks(&bench.ship)[0].title), "the decks stand there again");
}

#[test]
fn a_deck_is_opened_by_keys_and_shows_its_problems_at_their_lines() {
    let mut bench = at(Route::Library);
    let ours = DeckId("marram-light".to_owned());
    let at = decks(&bench.ship).iter().position(|deck| deck.id == ours).expect("it is there");
    for _ in 0..at {
        bench.key(Key::ArrowDown);
    }
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Go(Route::Deck(ours))]);
    let View::Deck(deck) = bench.ship.view().view.clone() else { panic!("a deck") };
    assert!(deck.problems.iter().any(|p| p.place == "working.toml:11:1" && p.code == "hiding-name"));
    let first = &deck.problems[0];
    for words in [&*first.place, first.severity.word(), &*first.code] {
        assert!(bench.shows(words), "{words}");
    }
    let second = rows(&bench.ship)[1].key.clone();
    bench.key(Key::ArrowDown).key(Key::R).key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Library(LibraryCommand::RereadDecks), Command::Go(Route::Card(second))]);
}

#[test]
fn the_cursor_goes_through_a_deck_of_thousands_and_stays_in_sight() {
    let ship = Ship::new();
    ship.go(Route::Deck(DeckId("marram-light".to_owned())));
    let View::Deck(mut deck) = ship.view().view.clone() else { panic!("a deck") };
    let row = deck.cards[0].clone();
    let card =
        |n: usize| CardRow { key: key(&format!("many-{n}")), ask: format!("Question {n} of many"), ..row.clone() };
    deck.cards = (0..5000).map(card).collect();
    let mut bench = drawn(ShellView { view: View::Deck(deck), ..(*ship.view()).clone() }, SIZES[0]);
    assert!(bench.painted().len() < 400, "what is out of sight is not drawn");
    for _ in 0..60 {
        bench.key(Key::ArrowDown);
    }
    assert!(bench.shows("Question 60 of many"));
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Go(Route::Card(key("many-60")))]);
}

#[test]
fn a_card_of_the_library_is_set_aside_and_brought_back() {
    let mut bench = at(Route::Card(key("sea-suctions")));
    bench.key(Key::A).key(Key::G);
    assert_eq!(
        bench.commands(),
        [Command::Library(LibraryCommand::SetAside { card: key("sea-suctions"), until: Until::ForGood })]
    );
    assert_eq!(bench.ship.page("sea-suctions").standing, Standing::SetAside);
    bench.key(Key::B);
    assert_eq!(
        bench.commands(),
        [Command::Library(LibraryCommand::SetAside { card: key("sea-suctions"), until: Until::Back })]
    );
    assert_eq!(bench.ship.page("sea-suctions").standing, Standing::Unseen);
}

#[test]
fn settings_take_effect_as_they_are_made() {
    let mut bench = at(Route::Settings);
    bench.key(Key::W).key(Key::E).key(Key::G).key(Key::H);
    assert_eq!(bench.commands(), [], "no letter changes a setting");
    bench.harness.get_by_role_and_label(Role::SpinButton, "Ship’s time").focus();
    bench.harness.run();
    bench.key(Key::ArrowRight).key(Key::ArrowLeft).key(Key::ArrowLeft);
    let ship = |m| Command::Settings(SettingsCommand::SetShip(ShipOffset::from_minutes(m).unwrap_or_default()));
    assert_eq!(bench.commands(), [ship(210), ship(180), ship(150)]);
    bench.harness.get_by_role_and_label(Role::Button, "Recall target: less").click();
    bench.harness.run();
    assert_eq!(bench.commands(), [Command::Settings(SettingsCommand::SetRecallTarget(0.89))]);
    bench.key_with(Modifiers::COMMAND, Key::Plus);
    assert_eq!(bench.commands(), [Command::Settings(SettingsCommand::SetScale(110))]);
    bench.key_with(Modifiers::COMMAND, Key::Num0);
    assert_eq!(bench.commands(), [Command::Settings(SettingsCommand::SetScale(100))]);
    for (name, role, told) in [
        ("Night, dark", Role::RadioButton, Command::Settings(SettingsCommand::SetTheme(ThemeChoice::Night))),
        ("No motion", Role::CheckBox, Command::Settings(SettingsCommand::SetStill(true))),
        (
            "Chief engineer officer, STCW III/2",
            Role::RadioButton,
            Command::Settings(SettingsCommand::SetCertificate(Certificate::Chief)),
        ),
    ] {
        bench.harness.get_by_role_and_label(role, name).click();
        bench.harness.run();
        assert_eq!(bench.commands(), [told], "{name}");
    }
}

#[test]
fn name_and_date_are_typed_in_the_settings() {
    let mut bench = at(Route::Settings);
    bench.harness.get_by_role_and_label(Role::TextInput, "Your name").focus();
    bench.harness.run();
    bench.key(Key::End).text(" Jr").key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Settings(SettingsCommand::SetLearner("E. Dunmore Jr".to_owned()))]);
    bench.key(Key::N);
    assert_eq!(bench.commands(), [Command::Settings(SettingsCommand::SetOral(None))]);
    bench.key(Key::D).text("2027-01-05");
    assert_eq!(bench.commands(), [Command::Settings(SettingsCommand::SetOral(Some(TODAY.plus(41))))]);
}

#[test]
fn a_learner_is_made_and_another_opened() {
    let ship = Ship::new();
    ship.run(Command::Profile(ProfileCommand::New("T. Varga".to_owned())))
        .run(Command::Profile(ProfileCommand::Open("e-dunmore".to_owned())));
    ship.go(Route::Profiles);
    let mut bench = ship.manned();
    bench.key(Key::ArrowDown).key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Profile(ProfileCommand::Open("t-varga".to_owned()))]);
    assert_eq!(bench.ship.view().rail.learner, "T. Varga");
    let ship = bench.ship;
    ship.run(Command::Profile(ProfileCommand::Open("e-dunmore".to_owned()))).go(Route::Profiles);
    let mut bench = ship.manned();
    bench.key(Key::N).text("N. Quill").key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Profile(ProfileCommand::New("N. Quill".to_owned()))]);
    assert!(matches!(bench.ship.view().view, View::FirstRun(_)), "who is new is asked the three questions");
}

#[test]
fn a_damaged_store_offers_its_backup() {
    let damaged = || {
        Ship::with(|home| {
            std::fs::write(home.join("profiles/e-dunmore/profile.sqlite"), vec![0x5a; 50_000]).expect("damaged");
        })
    };
    for (key, told) in [
        (Key::Enter, Command::Profile(ProfileCommand::RestoreBackup)),
        (Key::E, Command::Profile(ProfileCommand::StartAfresh)),
    ] {
        let ship = damaged();
        let View::StoreTrouble(trouble) = ship.view().view.clone() else { panic!("no trouble") };
        assert!(matches!(trouble.kind, TroubleKind::Damaged { backup: Some(_) }), "{trouble:?}");
        let mut bench = ship.manned();
        bench.key(key);
        assert_eq!(bench.commands(), [told]);
        assert!(matches!(bench.ship.view().view, View::WatchFront(_) | View::FirstRun(_)), "and the program is open");
    }
    let ship = Ship::new();
    let (mut bench, second) = on(ship.second(), SIZES[0]);
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Profile(ProfileCommand::RetryOpen)]);
    assert!(matches!(second.borrow_mut().view().view, View::StoreTrouble(_)), "the first one is still open");
}

#[test]
fn the_question_mark_lists_the_keys_of_the_page() {
    let mut bench = laid("priming-pump");
    bench.key(Key::Enter).key(Key::Questionmark);
    bench.harness.get_by_label_contains("Tick a point as said");
    bench.key(Key::Num1);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::ShowPoints)], "while the keys are shown the card rests");
    bench.key(Key::Escape).key(Key::Num1);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Tick(1))]);
}

#[test]
fn the_rail_leads_everywhere_and_names_the_current_place() {
    let mut bench = at(Route::Watch);
    for (name, route) in [
        ("Library", Route::Library),
        ("Settings", Route::Settings),
        ("About", Route::About),
        ("E. Dunmore: learners on this computer", Route::Profiles),
        ("Watch", Route::Watch),
    ] {
        bench.harness.get_by_role_and_label(Role::Button, name).click();
        bench.harness.run();
        assert_eq!(bench.commands(), [Command::Go(route)], "{name}");
    }
    assert!(bench.shows("20:42") && bench.shows("UTC+3") && bench.shows("Oral in 41 days"));
}

#[test]
fn every_page_has_a_heading_and_all_that_can_be_pressed_has_a_name() {
    let ship = Ship::new();
    let mut benches =
        vec![drawn(ShellView { notice: Some(Notice::done("Kept.")), ..(*ship.view()).clone() }, SIZES[0])];
    for route in [
        Route::Library,
        Route::Deck(DeckId("marram-light".to_owned())),
        Route::Card(key("sea-suctions")),
        Route::Profiles,
        Route::Settings,
        Route::BringOver,
        Route::About,
    ] {
        ship.go(route);
        benches.push(ship.window(SIZES[0]));
    }
    for card in ["priming-pump", "full-air", "blackout"] {
        ship.lay(card);
        benches.push(ship.window(SIZES[0]));
    }
    ship.remedy("earth-lamp");
    benches.push(ship.window(SIZES[0]));
    benches.push(on(ship.second(), SIZES[0]).0);
    let new = Ship::unmanned();
    benches.push(new.window(SIZES[0]));
    for bench in &benches {
        assert!(bench.harness.query_all_by_role(Role::Heading).count() > 0);
        for role in [Role::Button, Role::CheckBox, Role::RadioButton, Role::Slider, Role::TextInput] {
            for node in bench.harness.query_all_by_role(role) {
                let label = node.accesskit_node().label();
                assert!(label.is_some_and(|l| !l.trim().is_empty()), "{role:?} without a name");
            }
        }
    }
}
