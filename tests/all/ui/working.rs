//! A working in the window: lines are typed and worked out, errors stand at their place, a value is taken over as the
//! answer, handed in, tried again; the worksheet on its own page; and that all of it fits.

use bedplate::app::program::command::{CardCommand, Command};
use bedplate::app::program::route::Route;
use bedplate::app::sheet::EditWorksheet;
use bedplate::domain::answer::{Given, Worked};
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::present::kinds::MarkedView;
use bedplate::present::stage::{Marked, Stage};
use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::window::{Manned, Ship};
use crate::ui::look::fits;
use crate::ui::support::{Bench, SIZES};

const CARD: &str = "indicated-power";
/// The same with more figures and longer words.
const LONG: &str = "indicated-power-long";

/// The lines as one would write them, with the slip of the first try.
const FIRST: [&str; 5] = ["A = pi/4 * D^2", "V = A * L", "n = N", "W = p * V", "P = W * n * z"];
/// The same mended.
const SECOND: [&str; 5] = ["A = pi/4 * D^2", "V = A * L", "n = N / 2", "W = p * V", "P = W * n * z"];

fn strings(lines: &[&str]) -> Vec<String> {
    lines.iter().map(|l| (*l).to_owned()).collect()
}

fn written(lines: &[&str], answer: &str) -> Command {
    Command::EditWorksheet(EditWorksheet { lines: strings(lines), answer: answer.to_owned(), entered: None })
}

fn asked() -> Manned {
    with(&[])
}

/// With these lines on the sheet.
fn with(lines: &[&str]) -> Manned {
    let ship = Ship::new();
    ship.lay(CARD).run(written(lines, ""));
    ship.manned()
}

/// A card after these tries, each with its lines.
fn tried(ship: &Ship, card: &str, tries: &[(&[&str], &str)]) {
    ship.lay(card);
    for (n, (lines, text)) in tries.iter().enumerate() {
        if n > 0 {
            ship.run(Command::Card(CardCommand::TryAgain));
        }
        let worked = Worked { text: (*text).to_owned(), lines: strings(lines), ..Worked::default() };
        ship.run(written(lines, text)).give(192, Given::Worked(worked));
    }
}

/// After the first try, which forgot that a four-stroke works on every second revolution.
fn missed() -> Ship {
    let ship = Ship::new();
    tried(&ship, CARD, &[(&FIRST, "3752 kW")]);
    ship
}

/// Whether something on the page is called so, in sight or scrolled out of it.
fn named(bench: &Bench, name: &str) -> bool {
    let has = |text: Option<String>| text.is_some_and(|t| t.contains(name));
    let mut all = bench.harness.query_all_by(|_| true);
    all.any(|n| has(n.accesskit_node().label()) || has(n.accesskit_node().value()))
}

/// What stands in a field.
fn value(bench: &Bench, field: &str) -> String {
    bench.harness.get_by_role_and_label(Role::TextInput, field).accesskit_node().value().unwrap_or_default()
}

fn focused(bench: &Bench, field: &str) -> bool {
    bench.harness.get_by_role_and_label(Role::TextInput, field).accesskit_node().is_focused()
}

/// The last thing that was handed in.
fn handed_in(bench: &Bench) -> Option<Worked> {
    bench.commands().into_iter().rev().find_map(|command| match command {
        Command::Card(CardCommand::Submit(Given::Worked(worked))) => Some(worked),
        _ => None,
    })
}

#[test]
fn a_working_is_done_from_the_first_line_to_the_answer_by_enter_alone() {
    let mut bench = asked();
    assert!(focused(&bench, "Line 1"), "one begins to type at once");
    for line in SECOND {
        bench.text(line).key(Key::Enter);
    }
    for (n, said) in ["0.08042 m squared", "0.03217 m cubed", "360.0 rpm", "52.12 kJ", "1876 kW"].iter().enumerate() {
        assert!(named(&bench, &format!("Result of line {}: {said}", n + 1)), "line {}: {said}", n + 1);
    }
    assert!(focused(&bench, "Line 6"));
    bench.key(Key::Enter);
    assert!(focused(&bench, "Answer"), "Enter on the empty last line goes to the answer");
    let taken = value(&bench, "Answer");
    // 0.25 pi 0.32^2 m2 x 0.4 m x 16.2 bar x 6 1/s x 6: by hand, in kW.
    let by_hand = 0.25 * std::f64::consts::PI * 0.32_f64.powi(2) * 0.4 * 1_620.0 * 36.0;
    let number: f64 = taken.strip_suffix(" kW").expect("in kW").parse().expect("a number");
    // Rounding may cost a hundredth of the one per cent that is allowed.
    assert!((number / by_hand - 1.0).abs() < 1e-4, "{taken} for {by_hand}");
    bench.commands();
    bench.key(Key::Enter);
    let worked = handed_in(&bench).expect("handed in");
    assert_eq!(worked.lines, SECOND);
    assert_eq!(worked.text, taken);
}

#[test]
fn an_error_is_said_at_its_place_once_the_typing_rests() {
    let mut bench = asked();
    bench.harness.event(Event::Text("A = pi/4 * bor".to_owned()));
    bench.harness.run_steps(2);
    assert!(value(&bench, "Line 1").ends_with("bor") && !named(&bench, "“bor”"), "half a word is no error");
    bench.harness.run_steps(4);
    assert!(named(&bench, "Line 1: “bor” is not known."));
    bench.key(Key::Backspace).key(Key::Backspace).key(Key::Backspace).text("D").key(Key::Enter);
    assert!(!named(&bench, "is not known") && named(&bench, "Result of line 1"));
    bench.text("p + L").key(Key::Enter);
    assert!(named(&bench, "Line 2: "), "a line that is left is judged at once");
}

#[test]
fn lines_come_and_go_and_the_cursor_with_them() {
    let mut bench = with(&["A = D^2", "B = A * L"]);
    assert!(focused(&bench, "Line 3"), "the work goes on below what is there");
    bench.key(Key::ArrowUp).key(Key::ArrowUp).key(Key::Enter);
    assert!(focused(&bench, "Line 2") && value(&bench, "Line 2").is_empty(), "a new line after the first");
    assert_eq!(value(&bench, "Line 3"), "B = A * L");
    bench.text("H = L / 2").key(Key::ArrowDown).key(Key::ArrowDown).key(Key::ArrowDown);
    assert!(focused(&bench, "Answer"), "below the last line stands the answer");
    bench.key(Key::ArrowUp).key(Key::ArrowUp).key(Key::ArrowUp);
    assert!(focused(&bench, "Line 2"));
    for _ in 0.."H = L / 2".len() {
        bench.key(Key::Backspace);
    }
    assert_eq!(value(&bench, "Line 2"), "");
    bench.key(Key::Backspace);
    assert_eq!(value(&bench, "Line 2"), "B = A * L", "the empty line is taken out");
    assert!(focused(&bench, "Line 1"));
}

#[test]
fn an_earlier_line_is_recalled_and_what_was_typed_is_not_lost() {
    let ship = Ship::new();
    ship.go(Route::Worksheet);
    for line in ["eta = 0.62", "Q = 40 m3/h"] {
        ship.run(Command::EditWorksheet(EditWorksheet { entered: Some(line.to_owned()), ..EditWorksheet::default() }));
    }
    ship.lay(CARD);
    let mut bench = ship.manned();
    bench.text("dr");
    let ctrl = Modifiers::COMMAND;
    bench.key_with(ctrl, Key::ArrowUp);
    assert_eq!(value(&bench, "Line 1"), "Q = 40 m3/h");
    bench.key_with(ctrl, Key::ArrowUp).key_with(ctrl, Key::ArrowUp);
    assert_eq!(value(&bench, "Line 1"), "eta = 0.62", "the oldest stays");
    bench.key_with(ctrl, Key::ArrowDown).key_with(ctrl, Key::ArrowDown);
    assert_eq!(value(&bench, "Line 1"), "dr");
}

#[test]
fn the_value_of_the_line_with_the_keyboard_is_taken_over() {
    let mut bench = with(&SECOND);
    bench.harness.get_by_label("Take line 5 as the answer");
    bench.key(Key::ArrowUp).key(Key::ArrowUp).key_with(Modifiers::COMMAND, Key::T);
    assert!(value(&bench, "Answer").ends_with(" kJ"), "line 4 has the keyboard: {}", value(&bench, "Answer"));
    bench.harness.get_by_label("Take line 5 as the answer").click();
    bench.harness.run();
    assert!(value(&bench, "Answer").ends_with(" kW"));
    bench.commands();
    bench.key_with(Modifiers::COMMAND, Key::Enter);
    assert!(handed_in(&bench).expect("handed in").text.ends_with(" kW"));
}

#[test]
fn nothing_is_handed_in_without_an_answer() {
    let mut bench = with(&FIRST);
    bench.key_with(Modifiers::COMMAND, Key::Enter);
    assert_eq!(handed_in(&bench), None);
}

#[test]
fn a_wrong_working_is_tried_again_shown_and_accepted_by_keys() {
    let mut bench = missed().manned();
    assert!(named(&bench, "A four-stroke fires every second revolution."));
    let Stage::Marked(Marked { view: MarkedView::Working(view), result }) = bench.ship.card().stage else {
        panic!("marked")
    };
    assert_eq!(result.worked_out, Outcome::Prompted, "right lines with a slip in one of them");
    assert!(named(&bench, "Line 1: A = pi/4 * D^2 = 0.08042 m squared. As the method’s area."));
    assert!(named(&bench, format!("Line 3: n = N = 720.0 rpm. {}", view.lines[2].words).trim_end()));
    assert!(!named(&bench, "1876"), "the right answer is not given away before the second try");
    assert!(!named(&bench, "Two revolutions make one working cycle."), "nor the reason");
    bench.key(Key::T);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::TryAgain)]);
    assert!(named(&bench, "The second try, on the same figures."));
    bench.key(Key::Escape).key(Key::Escape);
    assert_eq!(
        bench.commands().last(),
        Some(&Command::Card(CardCommand::BackToMarking)),
        "Escape leads back to the marking"
    );
    bench.key(Key::M);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::ShowMethod)]);
    assert!(named(&bench, "Method, line 1: area = pi * D^2 / 4 = 0.08042 m squared. Your line 1."));
    assert!(named(&bench, "The right answer: 1876 kW, within 1 %."));
    assert!(bench.harness.query_by_label("Try again").is_none(), "who has seen the method has no second try");
    bench.key(Key::M);
    assert!(!named(&bench, "Method, line 1"), "and put away again");
    assert_eq!(bench.commands(), []);
    bench.key(Key::N);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::FreshFigures)]);
    assert!(focused(&bench, "Line 1") && named(&bench, "Fresh figures, for practice"));
    bench.key(Key::Escape).key(Key::Escape);
    assert_eq!(bench.commands().last(), Some(&Command::Card(CardCommand::BackToMarking)));
    bench.key(Key::Plus).key(Key::Space);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::SetNotch(Notch::Up)), Command::Card(CardCommand::Accept)]);
    let history = bench.ship.page(CARD).history;
    assert_eq!(history.iter().map(|row| row.outcome).collect::<Vec<_>>(), [Outcome::Answered], "and is kept so");
}

#[test]
fn the_second_try_begins_with_the_lines_of_the_first() {
    let mut bench = missed().manned();
    bench.key(Key::T);
    for (n, line) in FIRST.iter().enumerate() {
        assert_eq!(value(&bench, &format!("Line {}", n + 1)), *line);
    }
    assert!(named(&bench, "First try, 3752 kW."));
    assert!(bench.harness.query_by_label("Mark it").is_some());
    assert_eq!(value(&bench, "Answer"), "");
}

#[test]
fn letters_in_a_line_are_text_and_no_command() {
    let mut bench = asked();
    for key in [Key::M, Key::N, Key::T, Key::A, Key::F] {
        bench.key(key);
    }
    assert_eq!(value(&bench, "Line 1"), "mntaf");
    assert!(bench.commands().iter().all(|c| matches!(c, Command::EditWorksheet(_))));
}

#[test]
fn the_worksheet_is_reached_from_every_page_and_leads_back() {
    for route in [Route::Library, Route::Settings, Route::Watch] {
        let ship = Ship::new();
        ship.go(route.clone());
        let mut bench = ship.manned();
        bench.key(Key::F2);
        assert_eq!(bench.commands(), [Command::Go(Route::Worksheet)]);
        assert!(focused(&bench, "Line 1"));
        bench.key(Key::F2);
        assert_eq!(bench.commands(), [Command::Go(route)], "the same key leads back, from inside a line too");
    }
    let ship = Ship::new();
    ship.go(Route::Library);
    let mut bench = ship.manned();
    bench.harness.get_by_role_and_label(Role::Button, "Worksheet").click();
    bench.harness.run();
    bench.key(Key::Escape).key(Key::Escape);
    assert_eq!(bench.commands(), [Command::Go(Route::Worksheet), Command::Go(Route::Library)]);
}

#[test]
fn on_its_own_page_a_worksheet_has_no_answer_and_can_be_cleared() {
    let ship = Ship::new();
    ship.go(Route::Worksheet).run(written(&["D = 320 mm"], ""));
    let mut bench = ship.manned();
    bench.text("A = pi / 4 * D^2").key(Key::Enter);
    assert!(named(&bench, "Result of line 2: 0.08042 m squared"));
    assert!(bench.harness.query_by_role_and_label(Role::TextInput, "Answer").is_none());
    assert!(named(&bench, "sqrt(x): the square root"));
    bench.key_with(Modifiers::COMMAND, Key::L);
    assert_eq!(value(&bench, "Line 1"), "");
    let Some(Command::EditWorksheet(work)) = bench.commands().pop() else { panic!("told") };
    assert_eq!(work.lines, [] as [&str; 0]);
}

#[test]
fn it_fits_at_every_size() {
    let ship = Ship::new();
    let ten = [FIRST, SECOND].concat();
    let endless = format!("x = {}1", "D / D + ".repeat(40));
    let lay = |card: &str, lines: &[&str], answer: &str| {
        ship.lay(card).run(written(lines, answer));
    };
    let both: [(&[&str], &str); 2] = [(&FIRST, "3752 kW"), (&SECOND, "1876 kW")];
    type Bring<'a> = &'a dyn Fn();
    let states: [(&str, Bring); 11] = [
        ("empty", &|| lay(CARD, &[], "")),
        ("lines", &|| lay(CARD, &FIRST, "3752 kW")),
        ("wrong lines", &|| lay(CARD, &["A = pi/4 * D^2", "V = A * stroke", "W = p + V", "P = W *", "(((1"], "")),
        ("missed", &|| tried(&ship, CARD, &both[..1])),
        ("second try", &|| {
            tried(&ship, CARD, &both[..1]);
            ship.run(Command::Card(CardCommand::TryAgain));
        }),
        ("second try marked", &|| tried(&ship, CARD, &both)),
        ("model working", &|| {
            tried(&ship, CARD, &both);
            ship.run(Command::Card(CardCommand::ShowMethod));
        }),
        ("long", &|| lay(LONG, &ten, "")),
        ("long marked", &|| {
            tried(&ship, LONG, &[(&ten, "3.752 MW")]);
            ship.run(Command::Card(CardCommand::ShowMethod));
        }),
        ("endless line", &|| lay(CARD, &[&endless], "")),
        ("worksheet", &|| {
            ship.go(Route::Worksheet).run(written(&SECOND, ""));
        }),
    ];
    for size in SIZES {
        for (name, bring) in states {
            bring();
            fits(&ship.window(size), name, size);
        }
    }
}

#[test]
fn the_line_with_the_keyboard_and_the_verdict_are_in_sight() {
    let ship = Ship::new();
    for size in SIZES {
        ship.lay(LONG).run(written(&[FIRST, SECOND].concat(), ""));
        let mut bench = ship.window(size);
        bench.key(Key::ArrowUp);
        let line = bench.harness.get_by_role_and_label(Role::TextInput, "Line 10").rect();
        let seen = bench
            .painted()
            .iter()
            .any(|(rect, clip, _)| line.contains(rect.center()) && clip.contains_rect(rect.shrink(2.0)));
        assert!(seen, "line 10 at {size:?}: {line:?}");
        tried(&ship, CARD, &[(&FIRST, "3752 kW")]);
        let bench = ship.window(size);
        let seen = bench
            .painted()
            .iter()
            .any(|(rect, clip, text)| text.contains("every second revolution") && clip.contains_rect(rect.shrink(2.0)));
        assert!(seen, "the verdict at {size:?}");
    }
}
