//! A sitting of twenty turns in the window, at every size: question, clock, field and actions never leave it.

use std::cell::RefCell;
use std::rc::Rc;

use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, OralCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::{Given, LinedUp, Pointed, Worked};
use bedplate::domain::oral::Way;
use bedplate::present::kinds::AskedView;
use bedplate::present::kinds::why::WhyAskedView;
use bedplate::present::stage::Stage;
use bedplate::present::{OralView, WatchCardView};
use eframe::egui::{Key, Rect, Vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::home::{begin_mock, oral, started};
use crate::support::window::{Settled, on};
use crate::ui::support::Bench;

/// As designed, the least window, a tall one, and the least at 200 %, in points.
const WINDOWS: [Vec2; 4] =
    [Vec2::new(1280.0, 800.0), Vec2::new(1024.0, 640.0), Vec2::new(1400.0, 1650.0), Vec2::new(512.0, 320.0)];

/// A typed sitting of so many lead questions in a window, at its first one.
fn sat(home: &std::path::Path, questions: usize, window: Vec2) -> (Bench, Rc<RefCell<App>>) {
    let mut app = started(home);
    app.handle(Command::Go(Route::OralFront));
    begin_mock(&mut app, questions, Way::Write, 20);
    on(app, window)
}

/// A wrong answer to a card, while it is asked.
pub fn wrong(card: &WatchCardView) -> Option<Given> {
    Some(match &card.stage {
        Stage::Asked(AskedView::Recall(_)) => Given::Text("Somebody looks at something and writes it down".to_owned()),
        Stage::Asked(AskedView::Figure(_)) => Given::Text("3 bar".to_owned()),
        Stage::Asked(AskedView::Why(WhyAskedView { links })) => Given::Links(vec![links[0].position]),
        Stage::Asked(AskedView::Sequence(asked)) => Given::Steps(vec![asked.steps[0].key.clone()]),
        Stage::Asked(AskedView::Lineup(_)) => Given::LinedUp(LinedUp::default()),
        Stage::Asked(AskedView::Working(_)) => Given::Worked(Worked { text: "3 kW".to_owned(), ..Worked::default() }),
        Stage::Asked(AskedView::Point(_)) => Given::Pointed(Pointed::At([1.0, 1.0])),
        _ => return None,
    })
}

fn inside(window: Vec2, rect: Rect) -> bool {
    Rect::from_min_size(Default::default(), window).expand(0.5).contains_rect(rect)
}

/// Where a text is seen: its place, cut by what clips it.
fn seen(bench: &Bench, words: &str) -> Vec<(Rect, Rect)> {
    bench.painted().into_iter().filter(|(.., text)| text == words).map(|(rect, clip, _)| (rect, clip)).collect()
}

/// The first words of a question as they are painted.
fn question_in_sight(bench: &Bench, ask: &str, window: Vec2) -> bool {
    let plain: String = ask.chars().filter(|c| !"*`_".contains(*c)).collect();
    let begin: String = plain.split_whitespace().take(3).collect::<Vec<_>>().join(" ");
    bench.painted().into_iter().any(|(rect, clip, text)| {
        let first_line = Rect::from_min_size(rect.min, Vec2::new(rect.width(), rect.height().min(18.0)));
        text.contains(&begin) && clip.expand(1.0).contains_rect(first_line) && inside(window, first_line)
    })
}

fn check(bench: &mut Bench, view: &OralView, window: Vec2, turn: usize) {
    let what = format!("{window}, turn {turn}, {}: {}", view.card.key.card, view.card.ask);
    assert!(question_in_sight(bench, &view.card.ask, window), "the question is in sight: {what}");
    let clock = format!("{}:{:02}", view.answer.seconds / 60, view.answer.seconds % 60);
    let clocks = bench.painted().into_iter().filter(|(.., text)| text.contains(&clock));
    assert!(
        clocks.filter(|(rect, clip, _)| clip.contains_rect(*rect)).any(|(r, ..)| inside(window, r)),
        "a clock: {what}"
    );
    for name in ["Your answer", "Your figure, with its unit"] {
        for field in bench.harness.query_all_by_label(name) {
            let role = format!("{:?}", field.accesskit_node().role());
            if role.contains("TextInput") {
                assert!(inside(window, field.rect()), "the field {name}, {:?}: {what}", field.rect());
            }
        }
    }
    let typed = matches!(view.card.stage, Stage::Asked(AskedView::Recall(_)) | Stage::Asked(AskedView::Figure(_)));
    assert_eq!(bench.harness.query_all_by_label("Hand in").count(), usize::from(typed), "{what}");
    for name in ["Hand in", "I don’t know", "Pause"] {
        for act in bench.harness.query_all_by_label(name) {
            assert!(inside(window, act.rect()), "{name}, {:?}: {what}", act.rect());
        }
        let places = seen(bench, name);
        assert!(places.iter().all(|(rect, clip)| clip.expand(1.0).contains_rect(*rect)), "{name} is cut: {what}");
    }
}

#[test]
fn question_clock_field_and_actions_stay_in_sight_over_twenty_turns() {
    for window in WINDOWS {
        let home = tempfile::tempdir().unwrap();
        let (mut bench, shared) = sat(home.path(), 20, window);
        let mut turns = 0;
        loop {
            let Some(view) = oral(&mut shared.borrow_mut()) else { break };
            turns += 1;
            check(&mut bench, &view, window, turns);
            if turns == 20 {
                break;
            }
            Settled::run(&shared, Command::Card(CardCommand::Submit(wrong(&view.card).unwrap())));
            bench.harness.run();
            assert!(bench.shows("Keep the answer") || bench.shows("Accept"), "{window}, turn {turns}: it is marked");
            Settled::run(&shared, Command::Card(CardCommand::Accept));
            bench.harness.run();
        }
        assert_eq!(turns, 20, "{window}: so many were asked");
    }
}

/// Passes over questions until one is answered in a field of several lines.
fn until_a_recall(app: &Rc<RefCell<App>>) {
    loop {
        let stage = oral(&mut app.borrow_mut()).unwrap().card.stage;
        if matches!(stage, Stage::Asked(AskedView::Recall(_))) {
            return;
        }
        Settled::run(app, Command::Oral(OralCommand::NothingToSay));
    }
}

#[test]
fn escape_leaves_the_field_and_then_keys_are_keys() {
    let home = tempfile::tempdir().unwrap();
    let (mut bench, shared) = sat(home.path(), 10, WINDOWS[0]);
    until_a_recall(&shared);
    bench.harness.run();
    let field = |bench: &Bench| {
        let field =
            bench.harness.get_by_role_and_label(eframe::egui::accesskit::Role::MultilineTextInput, "Your answer");
        (field.is_focused(), field.value().unwrap_or_default())
    };
    assert_eq!(field(&bench), (true, String::new()), "the field is ready");
    let key_boxes = |bench: &Bench| ["K", "P"].map(|face| seen(bench, face).len());
    assert_eq!(key_boxes(&bench), [0, 0], "keys that do not work in the field are not shown");
    bench.key(Key::K).key(Key::P);
    assert_eq!(field(&bench), (true, "kp".to_owned()), "letters are text");
    bench.key(Key::Backspace).key(Key::Backspace).key(Key::Escape);
    bench.harness.run();
    assert_eq!(field(&bench), (false, String::new()), "left, it stays left");
    assert_eq!(key_boxes(&bench), [1, 1], "now they work");
    bench.key(Key::P);
    assert!(bench.shows("Paused"));
    bench.key(Key::Space);
    assert!(field(&bench).0, "who goes on can type at once");
}

#[test]
fn what_is_typed_is_not_thrown_away_by_one_stroke() {
    let home = tempfile::tempdir().unwrap();
    let (mut bench, shared) = sat(home.path(), 10, WINDOWS[0]);
    until_a_recall(&shared);
    bench.harness.run();
    bench.text("Tell the bridge").key(Key::Escape).key(Key::K);
    assert!(bench.shows("Tell the bridge"), "it still stands in the field");
    bench.key(Key::P).key(Key::Space);
    assert!(bench.shows("Tell the bridge"), "after a pause too");
}
