//! Every flow of the window, through roles and labels, by keys alone where keys do it.

use bedplate::app::command::Command;
use bedplate::app::route::Route;
use bedplate::domain::answer::Given;
use bedplate::domain::attempt::Until;
use bedplate::domain::day::ShipOffset;
use bedplate::domain::ids::DeckId;
use bedplate::domain::outcome::Notch;
use bedplate::domain::settings::{Certificate, ThemeChoice};
use bedplate::present::Notice;
use bedplate::present::pages::TroubleKind;
use bedplate::present::watch::FrontState;
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::ui::sample::{SampleProgram, TODAY, key};
use crate::ui::support::Bench;

fn at(route: Route) -> Bench {
    Bench::of(SampleProgram::at(route))
}

fn text(words: &str) -> Command {
    Command::Submit(Given::Text(words.to_owned()))
}

#[test]
fn the_first_run_is_answered_by_keys() {
    let mut bench = at(Route::FirstRun);
    bench.key(Key::ArrowDown).key(Key::ArrowRight).key(Key::ArrowRight).key(Key::D);
    bench.text("21 April 2027");
    assert!(bench.shows("147 days from today"), "21 April 2027 is 147 days after 25 November 2026");
    assert!(bench.shows("Wednesday"), "21 April 2027 is a Wednesday");
    bench.key(Key::Enter);
    let told = Command::FinishFirstRun {
        certificate: Certificate::Second,
        oral: Some(TODAY.plus(147)),
        minutes: 40,
        watch: true,
    };
    assert_eq!(bench.commands(), [told]);
    assert!(bench.shows("Show key points"), "the first watch is stood at once");
}

#[test]
fn the_first_run_takes_a_name_and_begins_without_one() {
    let first = Command::FinishFirstRun { certificate: Certificate::Watch, oral: None, minutes: 30, watch: true };
    let mut bench = at(Route::FirstRun);
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), std::slice::from_ref(&first), "one Enter is enough");
    let mut bench = at(Route::FirstRun);
    bench.harness.get_by_role_and_label(Role::TextInput, "Your name").focus();
    bench.harness.run();
    bench.text("D. N. Larsen").key(Key::Enter);
    assert_eq!(bench.commands(), [Command::SetLearner("D. N. Larsen".into()), first], "its letters are no commands");
}

#[test]
fn a_first_run_without_a_date_may_look_round_first() {
    let mut bench = at(Route::FirstRun);
    bench.key(Key::D).text("soon").key(Key::Enter);
    assert_eq!(bench.commands(), [], "what is no date is not taken");
    assert!(bench.shows("Type it like"), "and the sheet says how to write one");
    bench.key(Key::Escape).key(Key::N).key(Key::L);
    let told = Command::FinishFirstRun { certificate: Certificate::Watch, oral: None, minutes: 30, watch: false };
    assert_eq!(bench.commands(), [told]);
}

#[test]
fn the_ruler_of_the_first_run_moves_by_mouse_and_by_its_own_keys() {
    let mut bench = at(Route::FirstRun);
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
    assert_eq!(bench.commands(), [Command::StandWatch { shorter: false }]);
    bench.key(Key::Enter).key(Key::Num1).key(Key::Num3).key(Key::Num5).key(Key::Minus);
    let said =
        [Command::ShowPoints, Command::Tick(1), Command::Tick(3), Command::Tick(5), Command::SetNotch(Notch::Down)];
    assert_eq!(bench.commands(), said);
    assert!(bench.shows("3 of 5 points"));
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [], "Enter, which showed the points, does not accept");
    bench.key(Key::Space);
    assert_eq!(bench.commands(), [Command::Accept]);
    bench.text("30 bar").key(Key::Enter).key(Key::Enter).key(Key::Space);
    assert_eq!(bench.commands(), [text("30 bar"), Command::Accept], "Enter twice marks once");
    bench.key(Key::Enter).key_with(Modifiers::COMMAND, Key::Enter).key(Key::Space);
    assert_eq!(bench.commands(), [Command::Submit(Given::Links(vec![3])), Command::Accept]);
    bench.key(Key::Space).key(Key::Space).key(Key::Space).key(Key::Space);
    assert_eq!(bench.commands(), [Command::RemedyOn, Command::RemedyOn, Command::RemedyOn, Command::RemedyOn]);
    assert!(bench.shows("46 cards in 27 minutes"), "the end of the watch");
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::LeaveWatch]);
}

#[test]
fn a_shorter_watch_and_every_state_of_the_front_page() {
    let mut bench = at(Route::Watch);
    bench.key(Key::S);
    assert_eq!(bench.commands(), [Command::StandWatch { shorter: true }]);
    for (state, action, told) in [
        (FrontState::GoOn, "Go on with the watch", Command::StandWatch { shorter: false }),
        (FrontState::NothingDue, "Look into the library", Command::Go(Route::Library)),
        (FrontState::Done, "Look into the library", Command::Go(Route::Library)),
        (FrontState::NoDecks, "Read the deck folders again", Command::RereadDecks),
    ] {
        let mut program = SampleProgram::at(Route::Watch);
        program.sample.front = state;
        let mut bench = Bench::of(program);
        bench.harness.get_by_role_and_label(Role::Button, action);
        bench.key(Key::Enter);
        assert_eq!(bench.commands(), [told], "{state:?}");
    }
}

#[test]
fn a_typed_answer_takes_every_key_and_its_points_are_found() {
    let mut bench = Bench::of(SampleProgram::on(0));
    bench.key(Key::T);
    let field = bench.harness.get_by_role_and_label(Role::MultilineTextInput, "Your answer");
    assert!(field.is_focused());
    assert_eq!(field.value().as_deref(), Some(""), "the key that leads into the field is not typed into it");
    bench.text("the gear pump takes over ").key(Key::Num1).key(Key::Space).key(Key::F).key(Key::A);
    assert_eq!(bench.commands(), [], "digits and letters in a field are text");
    bench.key_with(Modifiers::COMMAND, Key::Enter);
    assert_eq!(bench.commands(), [text("the gear pump takes over 1 fa")]);
    assert!(bench.shows("contradicted"));
    assert!(bench.shows("“the gear pump takes over”"), "the learner's own words are shown as evidence");
    bench.key(Key::Num2);
    assert_eq!(bench.commands(), [Command::Tick(2)], "what was found can be corrected");
}

#[test]
fn key_points_are_checkboxes_with_text_and_state() {
    let mut bench = Bench::of(SampleProgram::on(0));
    bench.key(Key::Enter);
    let label =
        "5. If pressure does not build in the maker’s time, stop the engine at once., safety-critical, not said";
    let row = bench.harness.get_by_role_and_label(Role::CheckBox, label);
    row.click();
    bench.harness.run();
    assert_eq!(bench.commands(), [Command::ShowPoints, Command::Tick(5)]);
    let ticked = label.replace("not said", "said");
    bench.harness.get_by_role_and_label(Role::CheckBox, &ticked).focus();
    bench.harness.run();
    bench.key(Key::Space);
    assert_eq!(bench.commands(), [Command::Tick(5)], "Space ticks the focused row and does nothing else");
    bench.key(Key::Escape).key(Key::Space);
    assert_eq!(bench.commands().last(), Some(&Command::Accept), "with no row in focus Space accepts");
}

#[test]
fn escape_leaves_the_field_first_and_then_the_watch() {
    let mut bench = Bench::of(SampleProgram::on(0));
    bench.key(Key::T).text("abc").key(Key::Escape);
    assert_eq!(bench.commands(), []);
    bench.key(Key::Escape);
    assert_eq!(bench.commands(), [Command::LeaveWatch]);
}

#[test]
fn a_figure_is_marked_and_its_slip_named() {
    let mut bench = Bench::of(SampleProgram::on(1));
    let field = bench.harness.get_by_role_and_label(Role::TextInput, "Your figure, with its unit");
    assert!(field.is_focused(), "one can type at once");
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [], "nothing typed, nothing marked");
    bench.text("3 bar").key(Key::Enter);
    assert_eq!(bench.commands(), [text("3 bar")]);
    assert!(bench.shows("wrong, 90 % too low") && bench.shows("You are out by a power of ten."));
    assert!(bench.shows("Caution:"), "a hazardous card carries its caution");
    bench.key(Key::Plus).key(Key::Space);
    assert_eq!(bench.commands(), [Command::SetNotch(Notch::Up), Command::Accept]);
}

#[test]
fn a_why_is_put_in_order_by_keys_alone() {
    // Ashore, as shuffled by the program: 3, 5 (false), 1, 4, 2.
    let mut bench = Bench::of(SampleProgram::on(2));
    bench.key(Key::ArrowDown).key(Key::ArrowDown).key(Key::Enter); // 1 to the sheet; cursor on 4
    bench.key(Key::ArrowDown).key(Key::ArrowRight); // 2; cursor on 4
    bench.key(Key::Enter); // 4; cursor on 5
    bench.key(Key::Enter); // 5 by mistake; cursor on 3
    bench.harness.get_by_role_and_label(Role::Button, "Line 4: The governor shuts the fuel because of overspeed");
    bench.key(Key::ArrowLeft); // the last one out again
    bench.harness.get_by_role_and_label(Role::Button, "Ashore: The governor shuts the fuel because of overspeed");
    bench.key(Key::ArrowUp).key(Key::ArrowUp).key(Key::Enter); // 3 to the end of the sheet
    bench.key(Key::ArrowDown).key(Key::ArrowDown).key(Key::ArrowDown).key(Key::ArrowDown); // onto the last line
    bench.key_with(Modifiers::SHIFT, Key::ArrowUp); // before 4
    bench.key_with(Modifiers::COMMAND, Key::Enter);
    assert_eq!(bench.commands(), [Command::Submit(Given::Links(vec![1, 2, 3, 4]))]);
    assert!(bench.shows("4 of 4 links in order") && bench.shows("The right order"));
}

#[test]
fn a_why_is_put_in_order_by_mouse_and_false_links_are_named() {
    let mut bench = Bench::of(SampleProgram::on(2));
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
    assert_eq!(bench.commands(), [Command::Submit(Given::Links(vec![1, 2, 5]))]);
    assert!(bench.shows("belongs nowhere"));
    assert!(bench.shows("Source: SOLAS 1974"), "a source too long for the title block is said in full");
}

#[test]
fn a_card_is_set_aside_and_a_fault_reported() {
    let mut bench = Bench::of(SampleProgram::on(0));
    bench.key(Key::Enter).key(Key::A).key(Key::Escape).key(Key::A).key(Key::Enter);
    let week = Command::SetAside { card: key("priming-pump"), until: Until::Day(TODAY.plus(7)) };
    assert_eq!(bench.commands(), [Command::ShowPoints, week]);
    bench.key(Key::A).key(Key::G);
    assert_eq!(bench.commands(), [Command::SetAside { card: key("priming-pump"), until: Until::ForGood }]);
    bench.key(Key::F).text("Point 2 names the wrong switch").key(Key::Enter);
    let note = "Point 2 names the wrong switch".to_owned();
    assert_eq!(bench.commands(), [Command::ReportFault { card: key("priming-pump"), note }]);
    bench.harness.get_by_label_contains("The report is kept");
    bench.key(Key::X);
    assert_eq!(bench.commands(), [Command::DismissNotice]);
}

#[test]
fn the_library_is_searched_as_one_types() {
    let mut bench = at(Route::Library);
    bench.key(Key::Slash).text("suc");
    assert_eq!(bench.commands(), [Command::Search("suc".to_owned())], "the slash is not typed");
    bench.text("tion");
    assert_eq!(bench.commands(), [Command::Search("suction".to_owned())]);
    assert!(bench.shows("The low suction then draws silt"));
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Go(Route::Card(key("sea-suctions")))]);
    bench.key(Key::Escape);
    assert_eq!(bench.commands(), [Command::Go(Route::Library)], "back to where it was opened");
    assert!(bench.shows("The low suction then draws silt"), "and the search is still there");
}

#[test]
fn a_card_leads_back_to_where_it_was_opened() {
    let deck = Route::Deck(DeckId("marram-light".to_owned()));
    let mut bench = at(deck.clone());
    bench.key(Key::Enter).key(Key::Escape);
    assert_eq!(bench.commands(), [Command::Go(Route::Card(key("sea-suctions"))), Command::Go(deck)]);
}

#[test]
fn what_had_the_focus_has_it_no_more_on_another_page() {
    let mut bench = at(Route::Watch);
    bench.harness.get_by_role_and_label(Role::Button, "Library").focus();
    bench.harness.run();
    bench.key(Key::Enter).key(Key::Enter);
    let deck = Route::Deck(DeckId("auxiliary-power".to_owned()));
    assert_eq!(bench.commands(), [Command::Go(Route::Library), Command::Go(deck)]);
}

#[test]
fn a_search_without_hits_says_so_and_is_put_away_by_escape() {
    let mut bench = at(Route::Library);
    bench.key(Key::Slash).text("zzz");
    assert!(bench.shows("Nothing in any deck for “zzz”."));
    bench.key(Key::Escape).key(Key::Escape);
    assert_eq!(bench.commands().last(), Some(&Command::Search(String::new())));
    assert!(bench.shows("Compressed air, fuel and lubrication"));
}

#[test]
fn a_deck_is_opened_by_keys_and_shows_its_problems_at_their_lines() {
    let mut bench = at(Route::Library);
    bench.key(Key::ArrowDown).key(Key::ArrowDown).key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Go(Route::Deck(DeckId("marram-light".to_owned())))]);
    assert!(bench.shows("cards/cooling.toml:41:9") && bench.shows("warning") && bench.shows("point-unmatchable"));
    bench.key(Key::ArrowDown).key(Key::R).key(Key::Enter);
    assert_eq!(bench.commands(), [Command::RereadDecks, Command::Go(Route::Card(key("full-air")))]);
}

#[test]
fn the_cursor_goes_through_a_deck_of_thousands_and_stays_in_sight() {
    let mut program = SampleProgram::at(Route::Deck(DeckId("marram-light".to_owned())));
    program.sample.many = 5000;
    let mut bench = Bench::of(program);
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
    assert_eq!(bench.commands(), [Command::SetAside { card: key("sea-suctions"), until: Until::ForGood }]);
    bench.key(Key::B);
    assert_eq!(bench.commands(), [Command::SetAside { card: key("sea-suctions"), until: Until::Back }]);
}

#[test]
fn settings_take_effect_as_they_are_made() {
    let mut bench = at(Route::Settings);
    bench.key(Key::W).key(Key::E).key(Key::G).key(Key::H);
    assert_eq!(bench.commands(), [], "no letter changes a setting");
    bench.harness.get_by_role_and_label(Role::SpinButton, "Ship’s time").focus();
    bench.harness.run();
    bench.key(Key::ArrowRight).key(Key::ArrowLeft).key(Key::ArrowLeft);
    let ship = |m| Command::SetShip(ShipOffset::from_minutes(m).unwrap_or_default());
    assert_eq!(bench.commands(), [ship(210), ship(180), ship(150)]);
    bench.harness.get_by_role_and_label(Role::Button, "Recall target: less").click();
    bench.harness.run();
    assert_eq!(bench.commands(), [Command::SetRecallTarget(0.89)]);
    bench.key_with(Modifiers::COMMAND, Key::Plus);
    assert_eq!(bench.commands(), [Command::SetScale(110)]);
    bench.key_with(Modifiers::COMMAND, Key::Num0);
    assert_eq!(bench.commands(), [Command::SetScale(100)]);
    for (name, role, told) in [
        ("Night, dark", Role::RadioButton, Command::SetTheme(ThemeChoice::Night)),
        ("No motion", Role::CheckBox, Command::SetStill(true)),
        ("Chief engineer officer, STCW III/2", Role::RadioButton, Command::SetCertificate(Certificate::Chief)),
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
    assert_eq!(bench.commands(), [Command::SetLearner("E. Dunmore Jr".to_owned())]);
    bench.key(Key::N);
    assert_eq!(bench.commands(), [Command::SetOral(None)]);
    bench.key(Key::D).text("2027-01-05");
    assert_eq!(bench.commands(), [Command::SetOral(Some(TODAY.plus(41)))]);
}

#[test]
fn a_learner_is_made_and_another_opened() {
    let mut bench = at(Route::Profiles);
    bench.key(Key::ArrowDown).key(Key::Enter);
    assert_eq!(bench.commands(), [Command::OpenProfile("t-varga".to_owned())]);
    bench.key(Key::N).text("N. Quill").key(Key::Enter);
    assert_eq!(bench.commands(), [Command::NewProfile("N. Quill".to_owned())]);
}

#[test]
fn a_damaged_store_offers_its_backup() {
    let mut program = SampleProgram::at(Route::StoreTrouble);
    program.sample.trouble = TroubleKind::Damaged { backup: Some("Tuesday 24 November, 20:42".to_owned()) };
    let mut bench = Bench::of(program);
    bench.key(Key::Enter).key(Key::E);
    assert_eq!(bench.commands(), [Command::RestoreBackup, Command::StartAfresh]);
    let mut bench = at(Route::StoreTrouble);
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::RetryOpen]);
}

#[test]
fn the_question_mark_lists_the_keys_of_the_page() {
    let mut bench = Bench::of(SampleProgram::on(0));
    bench.key(Key::Enter).key(Key::Questionmark);
    bench.harness.get_by_label_contains("Tick a point as said");
    bench.key(Key::Num1);
    assert_eq!(bench.commands(), [Command::ShowPoints], "while the keys are shown the card rests");
    bench.key(Key::Escape).key(Key::Num1);
    assert_eq!(bench.commands(), [Command::Tick(1)]);
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
    let mut program = SampleProgram::at(Route::Watch);
    program.sample.notice = Some(Notice::done("Kept."));
    let mut benches = vec![Bench::of(program)];
    for route in [
        Route::FirstRun,
        Route::Library,
        Route::Deck(DeckId("marram-light".to_owned())),
        Route::Card(key("sea-suctions")),
        Route::Profiles,
        Route::Settings,
        Route::About,
        Route::StoreTrouble,
    ] {
        benches.push(at(route));
    }
    benches.extend((0..4).map(|n| Bench::of(SampleProgram::on(n))));
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
