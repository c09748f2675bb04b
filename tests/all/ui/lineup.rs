//! The line-up in the window: valves turned by keys and by mouse, checked, mended, checked again; what it says of what
//! blocks and what leaks; that it fits.

use bedplate::app::program::command::{CardCommand, Command};
use bedplate::app::views::kinds::lineup::checked as checked_view;
use bedplate::domain::answer::{Given, LinedUp};
use bedplate::domain::outcome::Notch;
use bedplate::present::kinds::MarkedView;
use bedplate::present::stage::{Marked, Stage};
use bedplate::present::{ShellView, View};
use eframe::egui::accesskit::{Role, Toggled};
use eframe::egui::{Event, Key, Modifiers, MouseWheelUnit, Pos2, Rect, TouchPhase, Vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::networks::{FILTER_ONE, LARGE, fuel_network, large_deck};
use crate::support::window::{Manned, Ship, drawn};
use crate::ui::look::fits;
use crate::ui::support::{Bench, SIZES};

/// A line-up on the sheet.
fn laid(card: &str) -> Ship {
    let ship = Ship::with(large_deck);
    ship.lay(card);
    ship
}

fn asked() -> Manned {
    laid("fuel-line").manned()
}

/// The fuel line, checked after 80 seconds with these open and its cocks to the first filter.
fn checked(open: &str) -> Ship {
    let ship = laid("fuel-line");
    ship.give(80, Given::LinedUp(lined_up(open, FILTER_ONE)));
    ship
}

/// Checked with the return shut.
fn blocked() -> Manned {
    checked("qcv inlet").manned()
}

/// Checked with the cross-connection open.
fn leaking() -> Ship {
    checked("qcv inlet return cross")
}

fn works() -> Ship {
    checked("qcv inlet return")
}

/// What has the focus.
fn focused(bench: &Bench) -> String {
    let found = bench.harness.query_all_by(|n| n.is_focused()).find_map(|n| n.accesskit_node().label());
    found.unwrap_or_default()
}

fn told(bench: &Bench, words: &str) -> bool {
    let has = |text: Option<String>| text.is_some_and(|t| t.contains(words));
    let mut all = bench.harness.query_all_by(|_| true);
    all.any(|n| has(n.accesskit_node().label()) || has(n.accesskit_node().value()))
}

fn lined_up(open: &str, ways: &[(&str, &str)]) -> LinedUp {
    LinedUp {
        open: open.split_whitespace().map(str::to_owned).collect(),
        ways: ways.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect(),
    }
}

const QCV: &str = "Quick-closing valve (after Distillate service tank)";

#[test]
fn tab_goes_through_what_can_be_turned_column_by_column() {
    let mut bench = asked();
    let mut order = Vec::new();
    for _ in 0..7 {
        bench.key(Key::Tab);
        order.push(focused(&bench));
    }
    let wanted = [
        "Drain to sludge, shut",
        &format!("{QCV}, open"),
        "Cross-connection, shut",
        "Inlet cock, to neither way",
        "Outlet cock, to neither way",
        "Return valve, shut",
        "Inlet valve, open",
    ];
    assert_eq!(order, wanted);
    bench.key_with(Modifiers::SHIFT, Key::Tab);
    assert_eq!(focused(&bench), "Return valve, shut", "and with Shift back");
    bench.key(Key::Tab).key(Key::Tab);
    assert!(!focused(&bench).contains("valve"), "after the last one Tab goes on: {}", focused(&bench));
}

#[test]
fn space_turns_what_has_the_focus_and_enter_checks() {
    let mut bench = asked();
    bench.key(Key::Tab).key(Key::Space);
    assert_eq!(focused(&bench), "Drain to sludge, open");
    bench.key(Key::Space).key(Key::Tab).key(Key::Tab).key(Key::Tab);
    for state in ["to Filter 1", "to Filter 2", "to Filter 1"] {
        bench.key(Key::Space);
        assert_eq!(focused(&bench), format!("Inlet cock, {state}"));
        assert!(bench.shows(state));
    }
    assert_eq!(bench.commands(), []);
    bench.key(Key::Enter);
    let set = lined_up("qcv inlet", &[("inlet-cock", "filter-one")]);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Submit(Given::LinedUp(set)))]);
}

#[test]
fn a_valve_is_a_button_with_name_state_and_what_it_is_joined_with() {
    let mut bench = asked();
    let shut = bench.harness.get_by_role_and_label(Role::Button, "Return valve, shut");
    assert_eq!(shut.accesskit_node().toggled(), Some(Toggled::False));
    let joined = shut.accesskit_node().description().unwrap_or_default();
    assert_eq!(joined, "Valve. From Auxiliary engine 2. To Distillate service tank.");
    shut.click();
    bench.harness.run();
    let open = bench.harness.get_by_role_and_label(Role::Button, "Return valve, open");
    assert_eq!(open.accesskit_node().toggled(), Some(Toggled::True));
    bench.key(Key::R);
    bench.harness.get_by_role_and_label(Role::Button, "Return valve, shut");
    for label in ["Distillate service tank", "Supply pump", "Filter 1, filter", "Auxiliary engine 2, engine"] {
        bench.harness.get_by_role_and_label(Role::Label, label);
    }
}

#[test]
fn what_is_fixed_says_so_and_is_no_button() {
    let mut bench = asked();
    let fixed = "Quick-closing valve (after Residual service tank), open, fixed as found";
    let node = bench.harness.get_by_role_and_label(Role::Label, fixed);
    node.click();
    bench.harness.run();
    bench.harness.get_by_role_and_label(Role::Label, fixed);
    assert!(bench.shows("open, fixed"));
}

#[test]
fn valves_are_turned_by_mouse_where_they_stand() {
    let mut bench = asked();
    for name in ["Return valve, shut", "Cross-connection, shut", "Inlet valve, open", "Outlet cock, to neither way"] {
        let at = bench.harness.get_by_label(name).rect().center();
        bench.harness.drag_at(at);
        bench.harness.drop_at(at);
        bench.harness.run();
    }
    bench.harness.get_by_role_and_label(Role::Button, "Check").click();
    bench.harness.run();
    let set = lined_up("qcv return cross", &[("outlet-cock", "filter-one")]);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Submit(Given::LinedUp(set)))]);
}

#[test]
fn before_the_check_the_demands_stand_without_a_state() {
    let bench = asked();
    for name in ["Service tank to supply pump", "Return to service tank", "Nothing to or from the residual tank"] {
        bench.harness.get_by_role_and_label(Role::Label, name);
    }
    assert!(!bench.shows("met") && !bench.shows("flooded"));
    assert!(bench.shows("open") && bench.shows("shut") && bench.shows("Fuel oil"));
}

#[test]
fn the_actions_under_the_drawing_turn_and_go_on_too() {
    let mut bench = asked();
    for (press, wanted) in [("Next valve", "Drain to sludge, shut"), ("Turn", "Drain to sludge, open")] {
        bench.harness.get_by_role_and_label(Role::Button, press).click();
        bench.harness.run();
        assert_eq!(focused(&bench), wanted);
    }
    bench.harness.get_by_role_and_label(Role::Button, "As found").click();
    bench.harness.run();
    bench.harness.get_by_label("Drain to sludge, shut");
}

#[test]
fn arrows_go_to_the_valve_on_that_side() {
    let mut bench = asked();
    bench.key(Key::Tab).key(Key::ArrowRight);
    assert_eq!(focused(&bench), format!("{QCV}, open"));
    bench.key(Key::ArrowRight);
    assert_eq!(focused(&bench), "Inlet cock, to neither way");
    bench.key(Key::ArrowRight).key(Key::ArrowRight);
    assert_eq!(focused(&bench), "Inlet valve, open");
    bench.key(Key::ArrowUp);
    assert_eq!(focused(&bench), "Return valve, shut");
    bench.key(Key::ArrowUp);
    assert_eq!(focused(&bench), "Return valve, shut", "where there is none the focus stays");
}

#[test]
fn a_check_names_each_demand_with_its_state_and_reason() {
    let bench = blocked();
    bench.harness.get_by_role_and_label(Role::Label, "Service tank to supply pump: met");
    bench.harness.get_by_role_and_label(Role::Label, "Return to service tank: not met, Return valve is shut");
    for words in ["Return valve is shut", "not met", "met", "flooded", "Prompted:", "3 of 4 demands met"] {
        assert!(bench.shows(words), "{words}");
    }
    assert!(told(&bench, "Prompted: 3 of 4 demands met, 1 min 20 s. Next "));
    assert!(told(&bench, "The supply and the return are shifted as a pair"), "the reason of the card stands there");
}

#[test]
fn what_flows_and_must_not_is_said_in_words() {
    let bench = leaking().manned();
    assert!(bench.shows("must not flow"), "on the pipe, and in the legend");
    let said = "Nothing to or from the residual tank: not met, it flows by Cross-connection";
    bench.harness.get_by_role_and_label(Role::Label, said);
    assert!(told(&bench, "Red: it flows where nothing may."));
    assert!(bench.shows("Missed:"));
}

#[test]
fn what_nothing_can_mend_says_so() {
    // The reader refuses a line-up that no setting meets, so that no card comes to this; the page can say it all the same.
    let ship = checked("qcv inlet");
    let mut card = ship.card();
    let Stage::Marked(Marked { view: MarkedView::Lineup(view), .. }) = &mut card.stage else {
        panic!("{:?}", card.stage)
    };
    let mut network = fuel_network();
    let fixed = network.node_of("return").expect("it is there");
    network.nodes[fixed].fixed = true;
    *view = checked_view(&network, view.set.clone(), 1, None, false);
    let shown = ShellView { view: View::WatchCard(Box::new(card)), ..(*ship.view()).clone() };
    let bench = drawn(shown, SIZES[0]);
    let said = "Return to service tank: not met, nothing that can be turned would do it";
    bench.harness.get_by_role_and_label(Role::Label, said);
}

#[test]
fn a_line_up_is_mended_and_checked_again_and_the_first_check_counts() {
    let mut bench = blocked();
    bench.key(Key::M);
    assert!(bench.shows("as last checked") && bench.shows("Return valve is shut"));
    for _ in 0..6 {
        bench.key(Key::Tab);
    }
    assert_eq!(focused(&bench), "Return valve, shut");
    bench.key(Key::Space).key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::CheckAgain(lined_up("qcv inlet return", FILTER_ONE)))]);
    assert!(bench.shows("check two; the first counts"));
    bench.harness.get_by_role_and_label(Role::Label, "Return to service tank: met");
    assert!(bench.shows("3 of 4 demands met"), "the outcome is that of the first check");
    bench.key(Key::Plus).key(Key::Space);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::SetNotch(Notch::Up)), Command::Card(CardCommand::Accept)]);
    assert!(matches!(bench.ship.view().view, View::WatchEnd(_)), "what was not missed is not asked again");
}

#[test]
fn escape_leads_from_mending_back_to_the_check() {
    let mut bench = blocked();
    bench.key(Key::M).key(Key::Tab).key(Key::Space);
    assert!(bench.shows("as last checked"));
    bench.key(Key::Escape);
    assert!(bench.shows("Prompted:") && !bench.shows("as last checked"));
    bench.harness.get_by_label("Drain to sludge, shut");
    assert_eq!(bench.commands(), []);
}

#[test]
fn turning_a_valve_after_the_check_begins_to_mend_it() {
    let mut bench = blocked();
    bench.harness.get_by_role_and_label(Role::Button, "Return valve, shut").click();
    bench.harness.run();
    assert!(bench.shows("as last checked"));
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::CheckAgain(lined_up("qcv inlet return", FILTER_ONE)))]);
}

#[test]
fn a_setting_that_works_is_shown_with_what_stands_otherwise() {
    let mut bench = blocked();
    bench.key(Key::W);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::ShowRightSetting)]);
    assert!(bench.shows("One that works") && bench.shows("with the fewest open"));
    assert!(bench.shows("Shut: Drain to sludge, Cross-connection"));
    bench.harness.get_by_role_and_label(Role::Label, "Return valve, open, otherwise than you had it");
    bench.key(Key::W);
    assert_eq!(bench.commands(), [], "it is there already");
    assert!(bench.shows("Return valve is shut"), "and the learner's own stands there again");
}

#[test]
fn a_check_that_works_offers_no_mending() {
    let mut bench = works().manned();
    assert!(bench.harness.query_by_label("Correct it").is_none());
    bench.harness.get_by_role_and_label(Role::Button, "Show one that works");
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [], "Enter, which checked it, does not accept");
    bench.key(Key::Space);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Accept)]);
}

#[test]
fn the_flood_spreads_pipe_by_pipe_and_is_skipped_by_a_key() {
    let ship = works();
    let mut bench = ship.moving();
    assert!(!bench.shows("Answered:"), "it has only begun");
    bench.harness.get_by_role_and_label(Role::Button, "Skip to the result");
    let boxes = |bench: &Bench| bench.harness.output().shapes.len();
    let begun = boxes(&bench);
    bench.harness.run_steps(60);
    assert!(boxes(&bench) > begun, "more is flooded");
    assert!(!bench.shows("Answered:"));
    bench.harness.key_press(Key::Enter);
    bench.harness.run_steps(3);
    assert!(!bench.shows("Answered:"), "Enter, which checked it, does nothing more");
    bench.harness.key_press(Key::S);
    bench.harness.run_steps(3);
    assert_eq!(bench.commands(), [], "the key that ends the flooding accepts nothing");
    assert!(bench.shows("Answered:"));
}

/// The place of a word on the drawing.
fn place(bench: &Bench, word: &str) -> Option<Rect> {
    bench.painted().into_iter().find(|(_, _, text)| text == word).map(|(rect, ..)| rect)
}

#[test]
fn the_drawing_comes_closer_by_keys_and_all_of_it_is_shown_again() {
    let mut bench = asked();
    let before = place(&bench, "Supply").or(place(&bench, "Supply pump")).expect("it is named");
    bench.key(Key::Plus).key(Key::Plus);
    let after = place(&bench, "Supply").or(place(&bench, "Supply pump")).expect("still in sight");
    assert!(after.height() > before.height() * 1.4, "{before:?} {after:?}");
    assert!(bench.shows("Arrows move the drawing, 0 shows all"));
    let at = bench.harness.get_by_label("Supply pump").rect();
    bench.key(Key::ArrowRight);
    let moved = bench.harness.get_by_label("Supply pump").rect();
    assert!(moved.left() < at.left() - 20.0, "the arrow moves it");
    bench.key(Key::Num0);
    let whole = place(&bench, "Supply").or(place(&bench, "Supply pump")).expect("all of it");
    assert!((whole.height() - before.height()).abs() < 1.0 && !bench.shows("0 shows all"));
    bench.key(Key::Z).key_with(Modifiers::SHIFT, Key::Z);
    assert!(!bench.shows("0 shows all"), "Z and Shift Z do the same");
    assert_eq!(bench.commands(), []);
}

#[test]
fn the_wheel_brings_closer_what_is_under_the_pointer() {
    let mut bench = asked();
    let at = bench.harness.get_by_label("Inlet cock, to neither way").rect().center();
    bench.harness.hover_at(at);
    bench.harness.run();
    for _ in 0..4 {
        bench.harness.event(Event::MouseWheel {
            unit: MouseWheelUnit::Point,
            delta: Vec2::new(0.0, 60.0),
            phase: TouchPhase::Move,
            modifiers: Modifiers::NONE,
        });
        bench.harness.run();
    }
    let now = bench.harness.get_by_label("Inlet cock, to neither way").rect();
    assert!((now.center() - at).length() < 4.0, "it stays where it is: {at:?} {now:?}");
    assert!(now.width() > 60.0, "and is larger: {now:?}");
    let drag = |bench: &mut Bench, from: Pos2, by: Vec2| {
        bench.harness.hover_at(from);
        bench.harness.run();
        bench.harness.drag_at(from);
        bench.harness.run();
        bench.harness.hover_at(from + by);
        bench.harness.run();
        bench.harness.drop_at(from + by);
        bench.harness.run();
    };
    drag(&mut bench, at + Vec2::new(60.0, 90.0), Vec2::new(-40.0, 0.0));
    let dragged = bench.harness.get_by_label("Inlet cock, to neither way").rect();
    assert!(
        (dragged.center() - now.center() - Vec2::new(-40.0, 0.0)).length() < 6.0,
        "it is dragged: {now:?} {dragged:?}"
    );
}

#[test]
fn in_a_large_network_what_gets_the_focus_comes_into_sight() {
    for size in SIZES {
        let mut bench = laid(LARGE).manned_at(size);
        bench.key(Key::Z).key(Key::Z).key(Key::Z);
        for n in 0..22 {
            bench.key(Key::Tab);
            let label = focused(&bench);
            let rect = bench.harness.get_by_label(&label).rect();
            let window = Rect::from_min_size(Pos2::ZERO, size);
            assert!(window.contains_rect(rect), "{size:?}: number {n}, {label}, stands at {rect:?}");
        }
    }
}

#[test]
fn at_every_size_nothing_is_cut_or_covered_and_the_primary_action_is_in_the_window() {
    let ship = laid("fuel-line");
    let check = |open: &str| {
        ship.lay("fuel-line").give(80, Given::LinedUp(lined_up(open, FILTER_ONE)));
    };
    type Bring<'a> = &'a dyn Fn();
    let stages: [(&str, Bring, &[Key]); 9] = [
        (
            "asked",
            &|| {
                ship.lay("fuel-line");
            },
            &[],
        ),
        (
            "small",
            &|| {
                ship.lay("bilge-suction");
            },
            &[Key::Tab, Key::Space],
        ),
        (
            "large",
            &|| {
                ship.lay(LARGE);
            },
            &[],
        ),
        (
            "long names",
            &|| {
                ship.lay("fuel-line-long");
            },
            &[],
        ),
        ("blocked", &|| check("qcv"), &[]),
        ("leaking", &|| check("qcv inlet return cross"), &[]),
        ("mended", &|| check("qcv inlet return cross"), &[Key::M, Key::Tab, Key::Space]),
        ("right setting", &|| check("qcv inlet return cross"), &[Key::W]),
        ("works", &|| check("qcv inlet return"), &[]),
    ];
    for size in SIZES {
        for (name, bring, keys) in &stages {
            bring();
            let mut bench = ship.window(size);
            for key in *keys {
                bench.key(*key);
            }
            fits(&bench, &format!("line-up {name}"), size);
        }
    }
}
