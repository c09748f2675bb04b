//! Views with what nobody expects: endless words, empty texts, other scripts, hundreds of rows, at every size.
//! Nothing panics, and everything stands somewhere.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::{Arc, OnceLock};
use std::time::Duration;

use bedplate::app::program::Program;
use bedplate::app::program::command::{CardCommand, Command, LibraryCommand};
use bedplate::app::program::route::Route;
use bedplate::app::sheet::EditWorksheet;
use bedplate::domain::answer::{Given, Pointed, Worked};
use bedplate::domain::ids::DeckId;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::drawing::{DrawingPlace, PartShown};
use bedplate::present::kinds::recall::RecallMarkedView;
use bedplate::present::kinds::working::{GivenRow, MarkedLine};
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::library::Severity;
use bedplate::present::shell::RailView;
use bedplate::present::stage::{Marked, Stage};
use bedplate::present::worksheet::{LineResult, ValueView, WorkLine};
use bedplate::present::{
    CardPageView, DeckView, LibraryView, Notice, Place, ProfilesView, ShellView, View, WatchCardView, WatchEndView,
    WatchFrontView, WorksheetPageView,
};
use bedplate::ui::{Window, theme};
use eframe::egui::{Event, Key, Modifiers, Shape};
use egui_kittest::Harness;
use proptest::prelude::*;

use crate::support::window::{Ship, key};
use crate::ui::support::SIZES;

/// Pages as the program shows them, whose words are then put in the place of.
struct Pages {
    front: WatchFrontView,
    recall: WatchCardView,
    end: WatchEndView,
    library: LibraryView,
    deck: DeckView,
    card: CardPageView,
    profiles: ProfilesView,
    working_asked: WatchCardView,
    working_marked: WatchCardView,
    worksheet: WorksheetPageView,
    point: WatchCardView,
}

fn pages() -> &'static Pages {
    static PAGES: OnceLock<Pages> = OnceLock::new();
    PAGES.get_or_init(|| {
        let ship = Ship::new();
        macro_rules! shown {
            ($kind:ident) => {
                match &ship.view().view {
                    View::$kind(view) => (**view).clone(),
                    other => panic!("another page: {other:?}"),
                }
            };
        }
        let lines = || vec!["A = pi/4 * D^2".to_owned(), "n = N".to_owned(), "P = p * L * A * n * z".to_owned()];
        let worked = || Given::Worked(Worked { text: "3752 kW".to_owned(), lines: lines(), ..Worked::default() });
        let work =
            || Command::EditWorksheet(EditWorksheet { lines: lines(), answer: "3752 kW".to_owned(), entered: None });
        let front = shown!(WatchFront);
        // Missed at first, so that the end has something to name.
        ship.lay("full-air").give(11, Given::Text("3 bar".to_owned())).run(Command::Card(CardCommand::Accept));
        ship.give(11, Given::Text("30 bar".to_owned())).run(Command::Card(CardCommand::Accept));
        let end = shown!(WatchEnd);
        ship.lay("priming-pump").give(30, Given::Text("the gear pump takes over".to_owned()));
        let recall = ship.card();
        ship.go(Route::Library).run(Command::Library(LibraryCommand::Search("suction".to_owned())));
        let library = shown!(Library);
        ship.go(Route::Deck(DeckId("marram-light".to_owned())));
        let deck = shown!(Deck);
        let card = ship.page("sea-suctions");
        ship.go(Route::Profiles);
        let profiles = shown!(Profiles);
        ship.lay("indicated-power-long").run(work());
        let working_asked = ship.card();
        ship.give(192, worked()).run(Command::Card(CardCommand::ShowMethod));
        let working_marked = ship.card();
        ship.go(Route::Worksheet).run(work());
        let worksheet = shown!(Worksheet);
        ship.lay("find-it").run(Command::Card(CardCommand::DrawFor(DrawingPlace {
            width: 40,
            height: 18,
            rim: 1.0,
            tint: None,
        })));
        ship.give(6, Given::Pointed(Pointed::Part("vent".to_owned())));
        let point = ship.card();
        Pages { front, recall, end, library, deck, card, profiles, working_asked, working_marked, worksheet, point }
    })
}

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
    let pages = pages();
    let mut front = pages.front.clone();
    (front.headline, front.sentence) = (w(), w());
    front.block.rows.iter_mut().for_each(|r| (r.value, r.side_value) = (w(), w()));
    if let Some(bar) = &mut front.bar {
        bar.parts.iter_mut().for_each(|p| p.label = w());
        bar.parts.truncate(rows);
    }
    front.weak.iter_mut().for_each(|a| (a.name, a.recall) = (w(), f64::NAN));
    let mut card = pages.recall.clone();
    (card.ask, card.place, card.caution) = (w(), w(), Some(w()));
    if let Stage::Marked(Marked { view: MarkedView::Recall(RecallMarkedView { points, typed }), result }) =
        &mut card.stage
    {
        *typed = Some(w());
        points.iter_mut().for_each(|p| (p.text, p.evidence) = (w(), Some(w())));
        (result.detail, result.because) = (w(), Some(w()));
    }
    let mut end = pages.end.clone();
    assert!(!end.slipped.is_empty());
    end.slipped.iter_mut().for_each(|s| (s.ask, s.why, s.next) = (w(), w(), w()));
    let mut library = pages.library.clone();
    library.decks.iter_mut().for_each(|d| (d.title, d.publisher, d.edition) = (w(), w(), w()));
    let mut deck = pages.deck.clone();
    assert!(!deck.problems.is_empty());
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
    let mut page = pages.card.clone();
    (page.ask, page.standing_detail) = (w(), w());
    let working = |card: &WatchCardView, lines: usize| {
        let mut view = card.clone();
        view.stage = strain(more_lines(view.stage, words, lines), words);
        (view.ask, view.place) = (w(), w());
        View::WatchCard(Box::new(view))
    };
    let (working_asked, working_marked) =
        (working(&pages.working_asked, rows.min(60)), working(&pages.working_marked, rows.min(40)));
    let mut worksheet = pages.worksheet.clone();
    let line = WorkLine { text: w(), ..worksheet.sheet.lines[0].clone() };
    worksheet.sheet.lines = vec![line; rows.clamp(1, 60)];
    let mut profiles = pages.profiles.clone();
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
    let mut card = pages().point.clone();
    if let Stage::Marked(Marked { view: MarkedView::Point(view), result }) = &mut card.stage {
        let drawing = Arc::make_mut(&mut view.drawing.drawing);
        drawing.size = size;
        drawing.parts.truncate(rows.max(8));
        drawing.parts.iter_mut().for_each(|part| (part.name, part.look) = (words.to_owned(), Some(words.to_owned())));
        (view.reason, result.because) = (words.to_owned(), Some(words.to_owned()));
        card.shown = Some(PartShown { drawing: view.drawing.clone(), part: rows });
    }
    (card.ask, card.place) = (words.to_owned(), words.to_owned());
    View::WatchCard(Box::new(card))
}

/// A working with so many lines, each of these words.
fn more_lines(mut stage: Stage, words: &str, lines: usize) -> Stage {
    match &mut stage {
        Stage::Asked(AskedView::Working(view)) => {
            let line = WorkLine { text: words.to_owned(), ..view.sheet.lines[0].clone() };
            view.sheet.lines = vec![line; lines.max(1)];
            view.answer = words.to_owned();
        }
        Stage::Marked(Marked { view: MarkedView::Working(view), .. }) => {
            assert!(view.method.is_some());
            let line = MarkedLine { text: words.to_owned(), ..view.lines[0].clone() };
            view.lines = vec![line; lines];
        }
        _ => {}
    }
    stage
}

/// A working whose every text is these words.
fn strain(mut stage: Stage, words: &str) -> Stage {
    let value = |v: &mut ValueView| (v.number, v.unit) = (words.to_owned(), words.to_owned());
    let given = |g: &mut GivenRow| {
        (g.name, g.symbol, g.number, g.unit) = (words.to_owned(), words.to_owned(), words.to_owned(), words.to_owned());
    };
    match &mut stage {
        Stage::Asked(AskedView::Working(view)) => {
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
        Stage::Marked(Marked { view: MarkedView::Working(view), .. }) => {
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
        class: true,
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
