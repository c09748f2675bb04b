//! The sequence in the window: made by keys and by mouse, run, mended, run again; what it says of a failure; and
//! that it fits.

use bedplate::app::program::command::{CardCommand, Command};
use bedplate::domain::answer::Given;
use bedplate::domain::outcome::Notch;
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::stage::{Marked, Stage};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers, Pos2, Vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::window::{Manned, Ship};
use crate::ui::look::fits;
use crate::ui::support::{Bench, SIZES};

const CARD: &str = "dead-ship";
/// An order that works.
const RIGHT: &str = "fans line-cooling cooling-pump compressor line-fuel fuel-pump jacket prime blow start breaker";
const BROKEN: &str = "fans line-cooling compressor cooling-pump fuel-pump prime";

/// A list from keys between spaces.
fn list(keys: &str) -> Vec<String> {
    keys.split_whitespace().map(str::to_owned).collect()
}

fn laid() -> Ship {
    let ship = Ship::new();
    ship.lay(CARD);
    ship
}

fn asked() -> Manned {
    laid().manned()
}

/// With one list run already, after 401 seconds.
fn after(keys: &str) -> Ship {
    let ship = laid();
    ship.give(401, Given::Steps(list(keys)));
    ship
}

/// The steps as they lie ashore, with their keys and words.
fn ashore(bench: &Manned) -> Vec<(String, String)> {
    match bench.ship.card().stage {
        Stage::Asked(AskedView::Sequence(asked)) => {
            asked.steps.into_iter().map(|step| (step.key, step.words)).collect()
        }
        other => panic!("not asked: {other:?}"),
    }
}

fn keys(steps: &[&(String, String)]) -> Vec<String> {
    steps.iter().map(|step| step.0.clone()).collect()
}

/// The words that stand on the sheet as lines, in order.
fn lines(bench: &Bench) -> Vec<String> {
    let nodes = bench.harness.query_all_by(|n| n.role() == Role::ListBoxOption);
    let labels = nodes.filter_map(|n| n.accesskit_node().label());
    let mut lines: Vec<(usize, String)> = labels
        .filter_map(|l| {
            let (number, words) = l.strip_prefix("Line ")?.split_once(": ")?;
            Some((number.parse().ok()?, words.to_owned()))
        })
        .collect();
    lines.sort();
    lines.into_iter().map(|l| l.1).collect()
}

/// Whether something on the page says these words, in sight or scrolled out of it.
fn told(bench: &Bench, words: &str) -> bool {
    let has = |text: Option<String>| text.is_some_and(|t| t.contains(words));
    let mut all = bench.harness.query_all_by(|_| true);
    all.any(|n| has(n.accesskit_node().label()) || has(n.accesskit_node().value()))
}

#[test]
fn a_list_is_made_by_keys_alone() {
    let mut bench = asked();
    let steps = ashore(&bench);
    bench.key(Key::ArrowDown).key(Key::Enter); // the second; then the third is chosen
    bench.key(Key::ArrowDown).key(Key::ArrowDown).key(Key::Enter); // the fifth
    assert_eq!(lines(&bench), [&*steps[1].1, &*steps[4].1]);
    bench.key_with(Modifiers::SHIFT, Key::ArrowUp); // the slot goes between them
    bench.harness.get_by_label(&format!("Put here as line 2: {}", steps[5].1));
    bench.key(Key::ArrowUp).key(Key::Enter); // the fourth into it
    bench.key(Key::ArrowRight).key(Key::Backspace); // over to the sheet, which lifts a line out again
    assert_eq!(lines(&bench).len(), 2);
    bench.key(Key::ArrowRight).key(Key::ArrowUp).key_with(Modifiers::SHIFT, Key::ArrowDown);
    bench.key_with(Modifiers::COMMAND, Key::Enter);
    let [Command::Card(CardCommand::Submit(Given::Steps(steps)))] = &bench.commands()[..] else { panic!("one run") };
    assert_eq!(steps.len(), 2);
    assert!(bench.shows("first run, which counts"), "and it is run");
}

#[test]
fn the_chosen_line_moves_and_the_slot_may_follow_a_line() {
    let mut bench = asked();
    let steps = ashore(&bench);
    bench.key(Key::Enter).key(Key::Enter).key(Key::Enter); // the first three
    bench.key(Key::ArrowRight); // onto the first line
    bench.key_with(Modifiers::SHIFT, Key::ArrowDown); // it changes places with the second
    bench.key(Key::Enter); // the slot goes after it, and back ashore
    bench.key(Key::Enter); // something goes between
    bench.key(Key::R);
    let [Command::Card(CardCommand::Submit(Given::Steps(run)))] = &bench.commands()[..] else { panic!("one run") };
    assert_eq!([&run[0], &run[1], &run[3]], [&steps[1].0, &steps[0].0, &steps[2].0]);
    assert_eq!(run.len(), 4);
}

#[test]
fn what_was_done_is_undone_and_done_again() {
    let mut bench = asked();
    let steps = ashore(&bench);
    bench.key(Key::Enter).key(Key::Enter).key(Key::C);
    assert_eq!(lines(&bench), [""; 0], "the sheet is clear");
    bench.key(Key::U);
    assert_eq!(lines(&bench).len(), 2, "and it is not");
    bench.key_with(Modifiers::COMMAND, Key::Z);
    assert_eq!(lines(&bench), [&*steps[0].1]);
    bench.key_with(Modifiers::COMMAND, Key::Y);
    bench.harness.get_by_role_and_label(Role::Button, "Run it").click();
    bench.harness.run();
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Submit(Given::Steps(keys(&[&steps[0], &steps[1]]))))]);
}

#[test]
fn nothing_is_run_while_the_sheet_is_empty() {
    let mut bench = asked();
    bench.key(Key::R).key_with(Modifiers::COMMAND, Key::Enter).key(Key::Backspace).key(Key::U);
    assert_eq!(bench.commands(), []);
}

fn at(bench: &Bench, label: &str) -> Pos2 {
    bench.harness.get_by_label(label).rect().center()
}

fn drag(bench: &mut Bench, from: Pos2, to: Pos2) {
    bench.harness.drag_at(from);
    bench.harness.run_steps(4);
    for share in [0.3, 0.7, 0.95, 1.0] {
        bench.harness.hover_at(from + (to - from) * share);
        bench.harness.run_steps(4);
    }
    bench.harness.drop_at(to);
    bench.harness.run_steps(4);
}

#[test]
fn a_list_is_made_by_mouse() {
    let mut bench = asked();
    for name in ["Ashore: Start the supply fans of the engine space", "Ashore: Start the compressor’s cooling pump"] {
        bench.harness.get_by_role_and_label(Role::ListBoxOption, name).click();
        bench.harness.run();
    }
    let fuel = "Distillate: open quick-closing valve, filter and return";
    let pump = "Start the compressor’s cooling pump";
    let (from, second) =
        (at(&bench, &format!("Ashore: {fuel}")), at(&bench, "Line 2: Start the compressor’s cooling pump"));
    drag(&mut bench, from, second - Vec2::new(0.0, 8.0));
    let fans = "Start the supply fans of the engine space";
    assert_eq!(lines(&bench), [fans, fuel, pump]);
    // Within the sheet: the first line to the end.
    let from = at(&bench, &format!("Line 1: {fans}"));
    let below = at(&bench, "Line 3: Start the compressor’s cooling pump") + Vec2::new(0.0, 30.0);
    drag(&mut bench, from, below);
    assert_eq!(lines(&bench), [fuel, pump, fans]);
    // Off the sheet: lifted out.
    let (from, ashore) =
        (at(&bench, &format!("Line 1: {fuel}")), at(&bench, "Ashore: Synchronise with the emergency generator"));
    drag(&mut bench, from, ashore);
    assert_eq!(lines(&bench), [pump, fans]);
    bench.harness.get_by_role_and_label(Role::Button, "Run it").click();
    bench.harness.run();
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Submit(Given::Steps(list("cooling-pump fans"))))]);
}

#[test]
fn lines_are_moved_and_lifted_out_by_buttons_with_names() {
    let mut bench = asked();
    let breaker = ashore(&bench)[0].1.clone();
    bench.key(Key::Enter).key(Key::Enter);
    bench.harness.get_by_role_and_label(Role::ListBoxOption, &format!("Line 1: {breaker}")).click();
    bench.harness.run();
    let first = format!("Line 1: {breaker}");
    let item = bench.harness.get_by_role_and_label(Role::ListBoxOption, &first);
    assert_eq!(item.accesskit_node().is_selected(), Some(true));
    assert_eq!(item.accesskit_node().position_in_set(), Some(1));
    bench.harness.get_by_role_and_label(Role::Button, "Move the line down").click();
    bench.harness.run();
    assert_eq!(lines(&bench)[1], breaker);
    bench.harness.get_by_role_and_label(Role::Button, &format!("Lift out: {breaker}")).click();
    bench.harness.run();
    assert_eq!(lines(&bench).len(), 1);
    bench.harness.get_by_role_and_label(Role::ListBox, "Ashore");
    bench.harness.get_by_role_and_label(Role::ListBox, "Procedure");
}

#[test]
fn a_focused_slip_is_chosen_and_the_arrows_keep_to_the_list() {
    let mut bench = asked();
    let steps = ashore(&bench);
    bench.harness.get_by_label(&format!("Ashore: {}", steps[4].1)).focus();
    bench.harness.run();
    bench.key(Key::ArrowDown);
    let after = format!("Ashore: {}", steps[5].1);
    let next = bench.harness.get_by_label(&after);
    assert!(next.is_focused(), "the focus follows the choice");
    bench.key(Key::ArrowUp).key(Key::Enter);
    assert_eq!(lines(&bench), [&*steps[4].1]);
}

#[test]
fn a_broken_run_says_what_happened_why_and_how_bad_it_is() {
    let bench = after(BROKEN).manned();
    for words in [
        "first run, which counts: 2 of 6 lines",
        "supply fans running",
        "The compressor runs hot: no cooling water.",
        "Missing: “Compressor cooled”.",
        "“Start the compressor’s cooling pump” gives it; that step stands at line 4 of your procedure.",
        "Damage",
        "on the scale: no effect, trip, damage, injury",
        "not run",
        "Missed: goal not reached, 2 steps broken",
    ] {
        assert!(bench.shows(words), "{words}");
    }
    bench.harness.get_by_label("Line 3: Line the compressor up to one receiver and start it unloaded: fails");
    bench.harness.get_by_label("Line 4: Start the compressor’s cooling pump: not run");
    bench.harness.get_by_label("Compressor cooled: does not hold, missing");
    bench.harness.get_by_label("Supply fans running: holds");
    bench.harness.get_by_role_and_label(Role::Heading, "The compressor runs hot: no cooling water.");
    assert!(told(&bench, "Line 5, Start the fuel supply pump: trip"), "later failures are told too");
    assert!(told(&bench, "you left that step ashore"), "and where the missing step is");
}

#[test]
fn a_broken_run_is_mended_and_run_again_and_the_first_one_counts() {
    let mut bench = after(BROKEN).manned();
    bench.key(Key::M);
    assert_eq!(lines(&bench).len(), 6, "the list stands as it was");
    let failed = "Line 3: Line the compressor up to one receiver and start it unloaded";
    assert_eq!(bench.harness.get_by_label(failed).accesskit_node().is_selected(), Some(true), "what failed is chosen");
    bench.key_with(Modifiers::SHIFT, Key::ArrowDown).key(Key::R);
    let mended = list("fans line-cooling cooling-pump compressor fuel-pump prime");
    assert_eq!(bench.commands(), [Command::Card(CardCommand::RunAgain(mended))]);
    assert!(told(&bench, "run two: 4 of 6 lines; the first run counts"));
    assert!(bench.shows("The supply pump trips: no flow.") && bench.shows("Trip"));
    assert!(bench.shows("Missed: goal not reached, 2 steps broken"), "the outcome is that of the first run");
    bench.key(Key::M).key(Key::Escape);
    assert!(bench.shows("The supply pump trips: no flow."), "Escape leads back to the run");
    bench.key(Key::Plus);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::SetNotch(Notch::Up))]);
    assert!(bench.shows("Prompted: goal not reached"));
    bench.ship.run(Command::Card(CardCommand::SetNotch(Notch::None)));
    bench.key(Key::Space);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Accept)]);
    assert!(bench.shows("no line yet"), "missed, it is asked again, and begins with an empty sheet");
}

#[test]
fn a_right_order_stands_in_the_place_of_the_facts() {
    let mut bench = after("fans back-feed").manned();
    assert!(bench.shows("This step belongs to no right order."));
    bench.key(Key::W);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::ShowRightOrder)]);
    bench.harness.get_by_label("11. Close the generator breaker to the dead busbar");
    let Stage::Marked(Marked { view: MarkedView::Sequence(run), .. }) = bench.ship.card().stage else { panic!("run") };
    let note = run.right_order.expect("it was asked for").note;
    assert!(note.contains("One of ") && told(&bench, &note) && !told(&bench, "What holds in the plant now"), "{note}");
    bench.key(Key::W);
    assert_eq!(bench.commands(), [], "it is there already");
    assert!(bench.shows("What holds in the plant now"));
}

#[test]
fn what_the_plant_did_by_itself_is_asked_about() {
    let mut bench = after(RIGHT).manned();
    bench.key(Key::X);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Explain)]);
    let card = bench.ship.card();
    assert!(matches!(card.stage, Stage::Asked(AskedView::Why(_))) && bench.shows(&card.ask), "{}", card.ask);
    let own = "The engine’s own pump has taken over; the electric one stops.";
    assert_eq!(card.ask, format!("{own} Give the causes in order, from the first to that."));
}

#[test]
fn a_run_that_works_says_so_and_tells_what_the_plant_did_by_itself() {
    let mut bench = after(RIGHT).manned();
    let own =
        "By itself: The engine’s own pump has taken over; the electric one stops. (no longer: priming pump running)";
    bench.harness.get_by_label(own);
    bench.harness.get_by_label("Priming pump running: does not hold");
    bench.harness.get_by_label("Main switchboard live: holds");
    bench.harness.get_by_label_contains("It works: every line did its work");
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), []);
    bench.key(Key::Space);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Accept)]);
}

#[test]
fn a_list_that_ends_too_early_names_what_is_left() {
    let bench = after("fans line-cooling").manned();
    bench.harness.get_by_label("The goal is not reached");
    let said = "At the end “Main switchboard live” does not hold. “Close the generator breaker to the dead busbar” \
                would give it; you left that step ashore.";
    bench.harness.get_by_label(said);
}

#[test]
fn a_run_is_played_line_by_line_and_is_skipped_by_a_key() {
    let ship = after(BROKEN);
    let mut bench = ship.moving();
    assert!(
        !bench.shows("cooling line of") && !bench.shows("Missed: goal not reached, 2 steps broken"),
        "it has only begun"
    );
    bench.harness.run_steps(13);
    assert!(bench.shows("supply fans running"), "after 120 ms of the window's clock the first line is told");
    bench.harness.get_by_label("Supply fans running: holds");
    assert!(!bench.shows("The compressor runs hot"));
    bench.harness.get_by_role_and_label(Role::Button, "Skip to the result");
    bench.harness.key_press(Key::S);
    bench.harness.run_steps(3);
    assert_eq!(bench.commands(), [], "the key that ends the playing accepts nothing");
    assert!(bench.shows("The compressor runs hot") && bench.shows("Missed: goal not reached, 2 steps broken"));
}

#[test]
fn at_every_size_what_happened_is_in_sight() {
    let ship = after(BROKEN);
    for size in SIZES {
        let bench = ship.window(size);
        let seen = bench.painted().into_iter().any(|(rect, clip, text)| {
            text.starts_with("The compressor runs hot") && clip.contains_rect(rect.shrink(2.0))
        });
        assert!(seen, "{size:?}");
    }
}

#[test]
fn at_every_size_nothing_nothing_is_cut_or_covered_and_the_primary_action_is_in_the_window() {
    let ship = Ship::new();
    let run = |keys: &str| {
        ship.lay(CARD).give(401, Given::Steps(list(keys)));
    };
    type Bring<'a> = &'a dyn Fn();
    let stages: [(&str, Bring, &[Key]); 6] = [
        (
            "asked",
            &|| {
                ship.lay(CARD);
            },
            &[],
        ),
        (
            "three lines",
            &|| {
                ship.lay(CARD);
            },
            &[Key::Enter, Key::Enter, Key::Enter],
        ),
        ("broken", &|| run(BROKEN), &[]),
        ("mended", &|| run(BROKEN), &[Key::M]),
        ("right order", &|| run(BROKEN), &[Key::W]),
        ("works", &|| run(RIGHT), &[]),
    ];
    for size in SIZES {
        for (name, bring, keys) in &stages {
            bring();
            let mut bench = ship.window(size);
            for key in *keys {
                bench.key(*key);
            }
            fits(&bench, &format!("sequence {name}"), size);
        }
    }
}
