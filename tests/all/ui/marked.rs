//! What stands on a marked card of the real watch: what is missing, the rule and the reason in sight, and an answer that was
//! accepted by mistake taken back.

use std::cell::RefCell;
use std::rc::Rc;

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::present::kinds::recall::RecallMarkedView;
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::stage::Marked;
use bedplate::present::stage::Stage;
use bedplate::present::{View, WatchCardView};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers, Rect, Vec2};
use egui_kittest::kittest::Queryable;

use crate::support::home::started;
use crate::support::window::{Settled, on};
use crate::ui::sitting::wrong;
use crate::ui::support::Bench;

const WINDOW: Vec2 = Vec2::new(1280.0, 800.0);

fn card(app: &Rc<RefCell<App>>) -> Option<WatchCardView> {
    match &app.borrow_mut().view().view {
        View::WatchCard(card) => Some((**card).clone()),
        _ => None,
    }
}

fn watch(home: &std::path::Path) -> (Bench, Rc<RefCell<App>>) {
    let mut app = started(home);
    app.handle(Command::Go(Route::Watch));
    app.handle(Command::Watch(WatchCommand::Stand { shorter: false }));
    app.settle();
    on(app, WINDOW)
}

/// Where a text begins, if the first of its lines is in sight.
fn in_sight(bench: &Bench, words: &str) -> Option<Rect> {
    let window = Rect::from_min_size(Default::default(), WINDOW);
    bench.painted().into_iter().find_map(|(rect, clip, text)| {
        let first = Rect::from_min_size(rect.min, Vec2::new(rect.width(), rect.height().min(24.0)));
        (text.contains(words) && clip.expand(1.0).contains_rect(first) && window.contains_rect(first)).then_some(first)
    })
}

#[test]
fn what_is_missing_the_rule_and_the_reason_stand_above_the_fold() {
    let home = tempfile::tempdir().unwrap();
    let (mut bench, app) = watch(home.path());
    let mut recalls = 0;
    for n in 0..60 {
        let Some(shown) = card(&app) else { break };
        let Some(given) = wrong(&shown) else {
            Settled::run(&app, Command::Watch(WatchCommand::RemedyOn));
            continue;
        };
        Settled::run(&app, Command::Card(CardCommand::Submit(given)));
        bench.harness.run();
        let marked = card(&app).unwrap();
        if let Stage::Marked(Marked { view: MarkedView::Recall(RecallMarkedView { points, .. }), result }) =
            &marked.stage
            && points.len() <= 6
        {
            recalls += 1;
            let what = format!("card {n}, {}", marked.key.card);
            assert!(!result.rule.is_empty(), "{what}");
            let rule = in_sight(&bench, &result.rule).unwrap_or_else(|| panic!("the rule: {what}"));
            let first = points.iter().find(|point| !point.said).unwrap();
            let missing = in_sight(&bench, &first.text).unwrap_or_else(|| panic!("what is missing: {what}"));
            assert!(missing.bottom() < rule.top(), "what is missing comes first: {what}");
            if result.because.is_some() {
                let because = in_sight(&bench, "Because").unwrap_or_else(|| panic!("the reason: {what}"));
                assert!(rule.bottom() <= because.top(), "{what}");
            }
        }
        Settled::run(&app, Command::Card(CardCommand::Accept));
        bench.harness.run();
    }
    assert!(recalls >= 10, "enough of them were seen: {recalls}");
}

#[test]
fn an_answer_accepted_by_mistake_is_taken_back_by_a_key() {
    let home = tempfile::tempdir().unwrap();
    let (mut bench, app) = watch(home.path());
    while !matches!(card(&app).unwrap().stage, Stage::Asked(AskedView::Recall(_))) {
        let given = wrong(&card(&app).unwrap()).unwrap();
        Settled::run(&app, Command::Card(CardCommand::Submit(given)));
        Settled::run(&app, Command::Card(CardCommand::Accept));
    }
    bench.harness.run();
    let first = card(&app).unwrap().key;
    bench.key(Key::Enter).key(Key::Enter);
    assert_eq!(card(&app).unwrap().key, first, "Enter twice does not record a miss");
    bench.key(Key::Num1).key(Key::Space);
    assert_ne!(card(&app).unwrap().key, first, "accepted");
    bench.harness.get_by_role_and_label(Role::Button, "Take back the last answer");
    bench.key_with(Modifiers::COMMAND | Modifiers::CTRL, Key::B);
    let back = card(&app).unwrap();
    assert_eq!(back.key, first, "its card is back");
    let Stage::Marked(Marked { view: MarkedView::Recall(RecallMarkedView { points, .. }), .. }) = &back.stage else {
        panic!("{:?}", back.stage)
    };
    assert!(points[0].said, "as it was marked");
    let ask: String = back.ask.split_whitespace().take(3).collect::<Vec<_>>().join(" ");
    assert!(in_sight(&bench, &ask).is_some(), "from its top");
}
