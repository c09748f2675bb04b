//! Views with what nobody expects: endless words, empty texts, other scripts, hundreds of rows, at every size.
//! Nothing panics, and everything stands somewhere.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use bedplate::app::command::Command;
use bedplate::app::program::Program;
use bedplate::domain::answer::{Given, Pointed};
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::drawing::{DrawingPlace, PartShown};
use bedplate::present::library::Severity;
use bedplate::present::shell::RailView;
use bedplate::present::watch::{FrontState, Stage};
use bedplate::present::working::{GivenRow, LineResult, ValueView};
use bedplate::present::{Notice, Place, ShellView, View};
use bedplate::ui::{Window, theme};
use eframe::egui::{Event, Key, Modifiers, Shape};
use egui_kittest::Harness;
use proptest::prelude::*;

use crate::ui::sample::data;
use crate::ui::sample::{OnCard, key};
use crate::ui::sample_point::PointProgram;
use crate::ui::sample_working::WorkingProgram;
use crate::ui::support::SIZES;

struct Fixed(Rc<RefCell<Arc<ShellView>>>);

impl Program for Fixed {
    fn view(&mut self) -> Arc<ShellView> {
        Arc::clone(&self.0.borrow())
    }

    fn command(&mut self, _: Command) {}

    fn tick(&mut self) -> Option<Duration> {
        None
    }

    fn theme(&self) -> ThemeChoice {
        ThemeChoice::Night
    }

    fn scale_percent(&self) -> u32 {
        100
    }

    fn still(&self) -> bool {
        true
    }
}

fn views(words: &str, rows: usize) -> Vec<View> {
    let w = || words.to_owned();
    let mut front = data::front(FrontState::Ready);
    (front.headline, front.sentence) = (w(), w());
    front.block.rows.iter_mut().for_each(|r| (r.value, r.side_value) = (w(), w()));
    if let Some(bar) = &mut front.bar {
        bar.parts.iter_mut().for_each(|p| p.label = w());
        bar.parts.truncate(rows);
    }
    front.weak.iter_mut().for_each(|a| (a.name, a.recall) = (w(), f64::NAN));
    let said = OnCard { given: Some(Given::Text(w())), said: vec![1], ..OnCard::default() };
    let mut card = data::card(0, &said);
    (card.ask, card.place, card.caution) = (w(), w(), Some(w()));
    if let Stage::RecallShown { points, result, .. } = &mut card.stage {
        points.iter_mut().for_each(|p| (p.text, p.evidence) = (w(), Some(w())));
        (result.detail, result.because) = (w(), Some(w()));
    }
    let mut end = data::end();
    end.slipped.iter_mut().for_each(|s| (s.ask, s.why, s.next) = (w(), w(), w()));
    let mut library = data::library("suction");
    library.decks.iter_mut().for_each(|d| (d.title, d.publisher, d.edition) = (w(), w(), w()));
    let mut deck = data::deck();
    let row = deck.cards[0].clone();
    deck.cards = (0..rows)
        .map(|n| {
            let mut c = row.clone();
            c.key = key(&format!("c{n}"));
            c.ask = w();
            c
        })
        .collect();
    deck.problems.iter_mut().for_each(|p| (p.message, p.mend, p.place) = (w(), w(), w()));
    deck.problems.iter_mut().for_each(|p| p.severity = Severity::Error);
    let mut page = data::card_page(&key("x"), false);
    (page.ask, page.standing_detail) = (w(), w());
    let lines = vec![w(); rows.min(60)];
    let asked = WorkingProgram { answer: w(), lines, long: true, ..WorkingProgram::default() };
    let tried: Vec<&str> = vec![words; rows.min(40)];
    let tried = WorkingProgram { shown: true, long: true, ..WorkingProgram::after(&[(&tried, words)]) };
    let mut strained = [asked.stage_of_card(), tried.stage_of_card()].into_iter();
    let mut working = || {
        let mut view = card.clone();
        view.key = key("working");
        view.stage = strain(strained.next().unwrap_or(Stage::RecallAsked), words);
        View::WatchCard(Box::new(view))
    };
    let (working_asked, working_marked) = (working(), working());
    let mut worksheet = bedplate::app::views::working::page(Default::default());
    worksheet.sheet = asked.sheet();
    let mut profiles = data::profiles();
    profiles.profiles.iter_mut().for_each(|p| p.learner = w());
    let points = [[800.0, 360.0], [1.0, 1e6], [1e6, 1.0]].map(|size| point(words, size, rows));
    let rest = vec![
        View::WatchFront(Box::new(front)),
        View::WatchCard(Box::new(card)),
        View::WatchEnd(Box::new(end)),
        View::Library(Box::new(library)),
        View::Deck(Box::new(deck)),
        View::Card(Box::new(page)),
        View::Profiles(Box::new(profiles)),
        working_asked,
        working_marked,
        View::Worksheet(Box::new(worksheet)),
    ];
    points.into_iter().chain(rest).collect()
}

/// A marked point on a drawing of this size, whose parts all have these words for a name.
fn point(words: &str, size: [f64; 2], rows: usize) -> View {
    let given = Given::Pointed(Pointed::Part("vent".to_owned()));
    let mut program = PointProgram::after("supply-pump", given);
    program.command(Command::DrawFor(DrawingPlace { width: 40, height: 18, rim: 1.0, tint: None }));
    let View::WatchCard(mut card) = program.view().view.clone() else { panic!("a card") };
    if let Stage::PointMarked(view) = &mut card.stage {
        let drawing = Arc::make_mut(&mut view.drawing.drawing);
        drawing.size = size;
        drawing.parts.truncate(rows.max(8));
        drawing.parts.iter_mut().for_each(|part| (part.name, part.look) = (words.to_owned(), Some(words.to_owned())));
        (view.reason, view.result.because) = (words.to_owned(), Some(words.to_owned()));
        card.shown = Some(PartShown { drawing: view.drawing.clone(), part: rows });
    }
    (card.ask, card.place) = (words.to_owned(), words.to_owned());
    View::WatchCard(card)
}

/// A working whose every text is these words.
fn strain(mut stage: Stage, words: &str) -> Stage {
    let value = |v: &mut ValueView| (v.number, v.unit) = (words.to_owned(), words.to_owned());
    let given = |g: &mut GivenRow| {
        (g.name, g.symbol, g.number, g.unit) = (words.to_owned(), words.to_owned(), words.to_owned(), words.to_owned());
    };
    match &mut stage {
        Stage::WorkingAsked(view) => {
            view.givens.iter_mut().for_each(given);
            view.hint = words.to_owned();
            for line in &mut view.sheet.lines {
                line.note = words.to_owned();
                match &mut line.result {
                    LineResult::Value(v) => value(v),
                    LineResult::Wrong { words: said, place, .. } => {
                        (*said, *place) = (words.to_owned(), Some(3..words.chars().count() + 90));
                    }
                    LineResult::Nothing | LineResult::Pending => {}
                }
            }
        }
        Stage::WorkingMarked(view) => {
            view.givens.iter_mut().for_each(given);
            value(&mut view.answer);
            view.tries.iter_mut().for_each(|t| (t.words, t.note) = (words.to_owned(), words.to_owned()));
            view.expected = Some(words.to_owned());
            view.lines.iter_mut().for_each(|l| l.words = words.to_owned());
            for line in view.method.iter_mut().flatten() {
                (line.text, line.yours) = (words.to_owned(), words.to_owned());
                value(&mut line.value);
            }
        }
        _ => {}
    }
    stage
}

fn shell(words: &str, view: View) -> ShellView {
    let rail = RailView {
        place: Some(Place::Watch),
        learner: words.to_owned(),
        clock: "23:59".to_owned(),
        offset: words.to_owned(),
        oral: Some(words.to_owned()),
    };
    let notice = Some(Notice::failed(words));
    ShellView { rail, title: words.to_owned(), context: words.to_owned(), notice, progress: Some(f32::NAN), view }
}

fn draw(words: &str, rows: usize) {
    let shown = Rc::new(RefCell::new(Arc::new(shell(words, View::Opening))));
    let mut window = Window::new(Box::new(Fixed(Rc::clone(&shown))));
    let mut begun = false;
    let mut harness = Harness::builder().with_size(SIZES[0]).build_ui(move |ui| {
        if std::mem::replace(&mut begun, true) {
            window.before(ui.ctx());
            window.frame(ui);
        } else {
            theme::install(ui.ctx());
        }
    });
    for size in SIZES {
        harness.set_size(size);
        for view in views(words, rows) {
            *shown.borrow_mut() = Arc::new(shell(words, view));
            harness.run_steps(2);
            let key =
                |key| Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers: Modifiers::NONE };
            [Key::PageDown, Key::ArrowDown, Key::Tab].into_iter().for_each(|k| harness.event(key(k)));
            harness.run_steps(4);
            for clipped in &harness.output().shapes {
                stands_somewhere(&clipped.shape, words);
            }
        }
    }
}

fn stands_somewhere(shape: &Shape, words: &str) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|s| stands_somewhere(s, words)),
        Shape::Text(text) => {
            let rect = text.galley.rect.translate(text.pos.to_vec2());
            assert!(rect.is_finite(), "“{words}”: a text stands nowhere: {rect:?}");
        }
        _ => {}
    }
}

#[test]
fn endless_and_empty_words_are_drawn() {
    draw(&"Hochdruckkraftstoffeinspritzpumpenantriebswelle".repeat(8), 3);
    draw("", 0);
    draw("**\n- \n1. *`_", 1);
    draw("مضخة الوقود\u{202e}abc \u{0}\u{7f} 燃料泵 🚢", 400);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]
    #[test]
    fn any_words_are_drawn(words in "\\PC{0,200}", rows in 0_usize..20) {
        draw(&words, rows);
    }
}
