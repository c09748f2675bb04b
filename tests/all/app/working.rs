//! A working in the program without a face: its figures and lines, the second try, practice, the remedy, what is kept
//! as evidence; and the worksheet outside of any card.

use std::fs;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::app::sheet::EditWorksheet;
use bedplate::domain::answer::{Given, Worked};
use bedplate::domain::attempt::Attempt;
use bedplate::domain::day::Instant;
use bedplate::domain::outcome::Outcome;
use bedplate::present::kinds::working::{Round, WorkingAskedView, WorkingMarkedView};
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::library::AnswerView;
use bedplate::present::result::ResultView;
use bedplate::present::stage::Stage;
use bedplate::present::stage::{Marked, RemedyView};
use bedplate::present::worksheet::LineResult;
use bedplate::present::{Tone, View, WatchCardView};
use bedplate::store::{OpenOptions, Store};

use crate::support::bundled::{set_aside_in, share_in};
use crate::support::home;
use crate::support::time::MORNING;

const OURS: &str = "sound-working";

struct Bench {
    app: App,
    clock: Arc<AtomicI64>,
    home: tempfile::TempDir,
}

impl Bench {
    /// A learner who has nothing to do today but the sample's working, which is on the sheet.
    fn new() -> Self {
        let home = tempfile::tempdir().expect("a temporary folder");
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks/sound--working");
        let deck = home.path().join("decks").join(OURS);
        fs::create_dir_all(&deck).expect("made");
        let head = fs::read_to_string(from.join("deck.toml")).expect("readable");
        let id = head.lines().find(|line| line.starts_with("id = ")).expect("an id").to_owned();
        fs::write(deck.join("deck.toml"), head.replace(&id, &format!("id = \"{OURS}\""))).expect("written");
        fs::copy(from.join("cards.toml"), deck.join("cards.toml")).expect("copied");
        set_aside_in(&home.path().join("profiles/e-dunmore"), Instant(MORNING));
        let clock = Arc::new(AtomicI64::new(MORNING));
        let mut bench = Self { app: Self::start(home.path(), &clock), clock, home };
        bench.run(home::first_run(10, false));
        bench.run(Command::Watch(WatchCommand::Stand { shorter: false }));
        bench
    }

    fn start(home: &Path, clock: &Arc<AtomicI64>) -> App {
        share_in(home);
        home::settled(home::setup(home, "e-dunmore", Some("E. Dunmore"), home::by_hand(clock)))
    }

    fn restart(self) -> Self {
        let Self { app, clock, home } = self;
        drop(app);
        Self { app: Self::start(home.path(), &clock), clock, home }
    }

    fn run(&mut self, command: Command) {
        self.app.command(command);
        self.app.settle();
    }

    fn pass(&self, seconds: i64) {
        self.clock.fetch_add(seconds * 1_000, Ordering::SeqCst);
    }

    fn card(&mut self) -> WatchCardView {
        match &self.app.view().view {
            View::WatchCard(card) => (**card).clone(),
            other => panic!("no card: {other:?}"),
        }
    }

    fn asked(&mut self) -> WorkingAskedView {
        match self.card().stage {
            Stage::Asked(AskedView::Working(view)) => view,
            other => panic!("not asked: {other:?}"),
        }
    }

    fn marked(&mut self) -> WorkingMarkedView {
        match self.card().stage {
            Stage::Marked(Marked { view: MarkedView::Working(view), .. }) => view,
            other => panic!("not marked: {other:?}"),
        }
    }

    fn result(&mut self) -> ResultView {
        self.card().stage.result().expect("marked").clone()
    }

    fn write(&mut self, lines: &[&str]) {
        let lines = lines.iter().map(|l| (*l).to_owned()).collect();
        self.run(Command::EditWorksheet(EditWorksheet { lines, ..EditWorksheet::default() }));
    }

    fn hand_in(&mut self, text: &str, lines: &[&str]) {
        let lines = lines.iter().map(|l| (*l).to_owned()).collect();
        self.run(Command::Card(CardCommand::Submit(Given::Worked(Worked {
            text: text.to_owned(),
            lines,
            ..Worked::default()
        }))));
    }

    /// The indicated power of the figures on the sheet, in kW, worked out by hand, times this.
    fn power(&mut self, times: f64) -> String {
        let givens = match self.card().stage {
            Stage::Asked(AskedView::Working(view)) => view.givens,
            Stage::Marked(Marked { view: MarkedView::Working(view), .. }) => view.givens,
            other => panic!("no figures: {other:?}"),
        };
        let figure = |symbol: &str| -> f64 {
            let given = givens.iter().find(|g| g.symbol == symbol).expect("a given");
            given.number.parse().expect("a number")
        };
        let (bore, stroke) = (figure("bore") / 1_000.0, figure("stroke") / 1_000.0);
        let area = std::f64::consts::PI * bore * bore / 4.0;
        let watts = figure("pm") * 1e5 * stroke * area * figure("speed") / 120.0 * figure("cylinders");
        format!("{:.1} kW", watts / 1_000.0 * times)
    }

    fn attempts(self) -> Vec<Attempt> {
        let Self { app, home, .. } = self;
        drop(app);
        let dir = home.path().join("profiles/e-dunmore");
        let opened = Store::open(OpenOptions { dir, now: Instant(MORNING), wake: Arc::new(|| {}) }).expect("opens");
        opened.store.attempts(None, 100).wait().expect("reads")
    }
}

const LINES: [&str; 3] = ["A = pi/4 * bore^2", "V = A * stroke", "P = pm * V * speed / 2 * cylinders"];

#[test]
fn the_question_has_its_figures_and_the_lines_are_worked_out() {
    let mut bench = Bench::new();
    let card = bench.card();
    let view = bench.asked();
    let bore = view.givens.iter().find(|g| g.symbol == "bore").expect("a bore");
    assert!(card.ask.contains(&format!("bore {} mm", bore.number)), "{}", card.ask);
    assert_eq!(view.givens.iter().find(|g| g.symbol == "pm").map(|g| g.name.as_str()), Some("Mean indicated pressure"));
    assert_eq!(view.hint, "In kW, or in any other unit of power.");
    bench.write(&["A = pi/4 * bore^2", "P = pm * A * strok", "Q = P * 2"]);
    let lines = bench.asked().sheet.lines;
    assert_eq!(lines[0].result.value().map(|v| v.unit.as_str()), Some("m²"));
    let LineResult::Wrong { words, place, follows } = &lines[1].result else { panic!("{:?}", lines[1]) };
    assert!(words.starts_with("“strok” is not known.") && words.contains("“stroke”"), "{words}");
    assert_eq!((place.clone(), *follows), (Some(13..18), false));
    assert!(matches!(&lines[2].result, LineResult::Wrong { follows: true, .. }), "{:?}", lines[2]);
}

#[test]
fn a_draw_can_be_made_again_and_the_next_is_another() {
    let (mut one, mut two) = (Bench::new(), Bench::new());
    assert_eq!(one.asked().givens, two.asked().givens, "the same seed draws the same figures");
    one.hand_in("1 kW", &[]);
    let seen: Vec<_> = (0..4)
        .map(|_| {
            one.run(Command::Card(CardCommand::FreshFigures));
            one.asked().givens
        })
        .collect();
    assert!(seen.windows(2).all(|pair| pair[0] != pair[1]), "fresh figures are others");
}

#[test]
fn lines_and_clock_outlast_leaving_the_page() {
    let mut bench = Bench::new();
    bench.write(&LINES);
    let before = bench.asked();
    bench.pass(60);
    bench.run(Command::Go(Route::Worksheet));
    bench.run(Command::Go(Route::Watch));
    assert_eq!(bench.asked(), before, "the worksheet page leaves the sheet as it is");
    bench.run(Command::Go(Route::Library));
    bench.pass(600);
    bench.run(Command::Go(Route::Watch));
    bench.run(Command::Watch(WatchCommand::Stand { shorter: false }));
    let after = bench.asked();
    assert_eq!((&after.givens, &after.sheet.lines), (&before.givens, &before.sheet.lines));
    assert_eq!(bench.card().seconds, 60, "the clock goes on from where it was");
    bench.run(Command::Watch(WatchCommand::Leave));
    bench.run(Command::Watch(WatchCommand::Stand { shorter: false }));
    assert_eq!(bench.asked().sheet.lines, before.sheet.lines);
}

#[test]
fn a_right_working_is_answered_and_kept_with_its_figures_and_lines() {
    let mut bench = Bench::new();
    let (right, givens) = (bench.power(1.0), bench.asked().givens);
    bench.write(&LINES);
    bench.pass(400);
    bench.hand_in(&right, &LINES);
    let view = bench.marked();
    assert_eq!(bench.result().outcome, Outcome::Answered, "{view:?}");
    assert_eq!(view.tries.len(), 1);
    assert_eq!(view.tries[0].tone, Tone::Good);
    assert!(view.tries[0].words.contains("right, within 1 % of "), "{}", view.tries[0].words);
    assert!(!view.may_try_again && view.expected.is_some());
    assert_eq!(bench.result().because.as_deref(), Some("Each cylinder does its work once in two revolutions."));
    bench.run(Command::Card(CardCommand::Accept));
    let attempts = bench.attempts();
    let [attempt] = attempts.as_slice() else { panic!("one attempt: {attempts:?}") };
    let Given::Worked(worked) = &attempt.evidence.given else { panic!("{:?}", attempt.evidence) };
    assert_eq!((worked.text.as_str(), worked.lines.as_slice()), (right.as_str(), &LINES.map(str::to_owned)[..]));
    assert!(worked.seed.is_some() && worked.first.is_none());
    let bore = givens.iter().find(|g| g.symbol == "bore").expect("a bore");
    assert_eq!(worked.givens.get("bore"), Some(&format!("{} mm", bore.number)));
    assert_eq!(worked.givens.len(), givens.len());
}

#[test]
fn a_right_second_try_makes_a_missed_one_prompted_and_never_more() {
    let mut bench = Bench::new();
    let (right, wrong) = (bench.power(1.0), bench.power(2.0));
    bench.pass(120);
    bench.hand_in(&wrong, &["P = pm * stroke"]);
    let view = bench.marked();
    assert_eq!(bench.result().worked_out, Outcome::Missed);
    assert!(view.tries[0].words.ends_with("A four-stroke fires every second revolution."), "{}", view.tries[0].words);
    assert!(view.may_try_again && view.expected.is_none() && view.method.is_none());
    assert_eq!(bench.result().because, None, "the reason would give the method away");
    bench.pass(100);
    bench.run(Command::Card(CardCommand::TryAgain));
    let view = bench.asked();
    assert_eq!((view.round, view.before.len()), (Round::Second, 1));
    assert!(view.before[0].words.starts_with("First try, "), "{}", view.before[0].words);
    assert_eq!(view.sheet.lines[0].text, "P = pm * stroke", "one mends what one has");
    assert!(bench.card().clock_runs);
    bench.pass(72);
    bench.hand_in(&right, &LINES);
    let view = bench.marked();
    assert_eq!(bench.result().worked_out, Outcome::Prompted);
    assert!(
        bench.result().detail.starts_with("right at the second try, 3 min 12 s. Next "),
        "{}",
        bench.result().detail
    );
    assert_eq!(view.tries.iter().map(|t| t.tone).collect::<Vec<_>>(), [Tone::Bad, Tone::Good]);
    assert!(!view.may_try_again, "there are two tries and no third");
    bench.run(Command::Card(CardCommand::TryAgain));
    bench.marked();
    bench.run(Command::Card(CardCommand::Accept));
    let attempts = bench.attempts();
    assert_eq!(attempts[0].outcome, Outcome::Prompted);
    let Given::Worked(worked) = &attempts[0].evidence.given else { panic!("{:?}", attempts[0]) };
    assert_eq!((worked.first.as_deref(), worked.text.as_str()), (Some(wrong.as_str()), right.as_str()));
}

#[test]
fn a_wrong_second_try_changes_nothing() {
    let mut bench = Bench::new();
    bench.hand_in("1 kW", &[]);
    bench.run(Command::Card(CardCommand::TryAgain));
    bench.hand_in("2 kW", &[]);
    let view = bench.marked();
    assert_eq!((bench.result().worked_out, view.may_try_again), (Outcome::Missed, false));
    assert!(view.expected.is_some(), "now it is said");
    assert!(bench.result().detail.starts_with("two tries, "), "{}", bench.result().detail);
}

#[test]
fn a_second_try_may_be_left_and_begun_again() {
    let mut bench = Bench::new();
    bench.hand_in("1 kW", &[]);
    bench.run(Command::Card(CardCommand::TryAgain));
    bench.run(Command::Card(CardCommand::BackToMarking));
    assert!(bench.marked().may_try_again);
}

#[test]
fn who_has_seen_the_method_has_no_second_try() {
    let mut bench = Bench::new();
    bench.hand_in("1 kW", &[]);
    bench.run(Command::Card(CardCommand::ShowMethod));
    let right = bench.power(1.0);
    let view = bench.marked();
    let method = view.method.expect("shown");
    assert_eq!(method[0].text, "area = pi * bore^2 / 4");
    let number: f64 = method[1].value.number.parse().expect("a number");
    let by_hand: f64 = right.trim_end_matches(" kW").parse().expect("a number");
    assert!((number / by_hand - 1.0).abs() < 1e-3, "{method:?} for {right}");
    assert!(!view.may_try_again && view.expected.is_some());
    bench.run(Command::Card(CardCommand::TryAgain));
    bench.hand_in(&right, &[]);
    assert_eq!(bench.result().worked_out, Outcome::Missed);
}

#[test]
fn practice_with_fresh_figures_changes_no_outcome() {
    let mut bench = Bench::new();
    let givens = bench.asked().givens;
    bench.hand_in("1 kW", &[]);
    bench.run(Command::Card(CardCommand::FreshFigures));
    let view = bench.asked();
    assert_eq!(view.round, Round::Practice);
    assert!(view.sheet.lines.iter().all(|l| l.text.is_empty()) && view.givens != givens);
    assert!(!bench.card().clock_runs);
    bench.write(&LINES);
    assert!(bench.asked().sheet.lines[2].result.value().is_some(), "its lines are worked out with its figures");
    let right = bench.power(1.0);
    bench.hand_in(&right, &LINES);
    let view = bench.marked();
    assert!(view.practice && view.tries[0].tone == Tone::Good);
    assert_eq!(bench.result().worked_out, Outcome::Missed, "what counts is the first try");
    bench.run(Command::Card(CardCommand::BackToMarking));
    let view = bench.marked();
    assert_eq!((view.practice, view.givens == givens, view.may_try_again), (false, true, true));
    bench.run(Command::Card(CardCommand::Accept));
    let attempts = bench.attempts();
    assert_eq!((attempts.len(), attempts[0].outcome), (1, Outcome::Missed));
}

#[test]
fn an_answer_that_is_no_figure_is_missed_and_nothing_breaks() {
    let mut bench = Bench::new();
    bench.hand_in("no idea", &["A =", "))((", "= 3"]);
    assert_eq!(bench.result().worked_out, Outcome::Missed);
}

#[test]
fn a_stubborn_working_is_taken_apart_line_by_line_with_its_values() {
    let mut bench = Bench::new();
    for _ in 0..4 {
        bench.hand_in("1 kW", &[]);
        bench.run(Command::Card(CardCommand::Accept));
    }
    let card = bench.card();
    let Stage::Remedy(RemedyView { parts, .. }) = card.stage else { panic!("a remedy: {:?}", card.stage) };
    let labels: Vec<&str> = parts.iter().map(|p| p.label.as_str()).collect();
    assert_eq!(
        labels,
        ["The figures", "Line 1 of 2", "Line 2 of 2", "The answer", "The reason", "Where it comes from"]
    );
    assert!(parts[0].text.contains("bore = "), "{}", parts[0].text);
    assert!(parts[1].text.starts_with("`area = π · bore² / 4` = 0."), "{}", parts[1].text);
    assert!(parts[3].text.ends_with(" kW, within 1 %"), "{}", parts[3].text);
    assert!(!card.ask.contains('{'), "{}", card.ask);
    for _ in 0..parts.len() {
        bench.run(Command::Watch(WatchCommand::RemedyOn));
    }
    bench.asked();
}

#[test]
fn the_library_shows_the_method_and_asks_with_gaps() {
    let mut bench = Bench::new();
    let key = bench.card().key;
    bench.run(Command::Go(Route::Card(key)));
    let shell = bench.app.view();
    let View::Card(page) = &shell.view else { panic!("{:?}", shell.view) };
    assert_eq!(page.ask, "Find the indicated power of a four-stroke engine with … cylinders of bore ….");
    let AnswerView::Method(method) = &page.answer else { panic!("{:?}", page.answer) };
    assert_eq!(method.lines[0], "area = pi * bore^2 / 4");
    let bore = method.givens.iter().find(|g| g.symbol == "bore").expect("a bore");
    assert_eq!((bore.number.as_str(), bore.unit.as_str()), ("280 to 400", "mm"));
    assert_eq!(method.answer, "power, in kW, within 1 %");
}

#[test]
fn the_standing_worksheet_is_worked_out_and_kept_with_the_profile() {
    let mut bench = Bench::new();
    bench.run(Command::Go(Route::Worksheet));
    bench.write(&["D = 320 mm", "A = pi / 4 * D^2"]);
    let sheet = |bench: &mut Bench| match &bench.app.view().view {
        View::Worksheet(page) => page.sheet.clone(),
        other => panic!("not the worksheet: {other:?}"),
    };
    // pi/4 x 0.32^2 = 0.080425 m2, by hand.
    assert_eq!(sheet(&mut bench).lines[1].result.value().map(|v| v.words()), Some("0.08042 m²".to_owned()));
    let mut bench = bench.restart();
    bench.run(Command::Go(Route::Worksheet));
    assert_eq!(sheet(&mut bench).lines[1].text, "A = pi / 4 * D^2");
    assert!(sheet(&mut bench).lines[1].result.value().is_some());
}

#[test]
fn lines_entered_anywhere_can_be_recalled_everywhere_in_the_session() {
    let mut bench = Bench::new();
    bench.run(Command::Go(Route::Worksheet));
    for line in ["a = 1", "b = 2", "a = 1"] {
        let entered = Some(line.to_owned());
        bench.run(Command::EditWorksheet(EditWorksheet {
            lines: vec![line.to_owned()],
            entered,
            ..EditWorksheet::default()
        }));
    }
    bench.run(Command::Go(Route::Watch));
    assert_eq!(*bench.asked().sheet.earlier, ["a = 1", "b = 2"], "the newest first, each once");
    bench.hand_in("1 kW", &["c = 3"]);
    bench.run(Command::Card(CardCommand::FreshFigures));
    assert_eq!(bench.asked().sheet.earlier[0], "c = 3", "what was handed in too");
}
