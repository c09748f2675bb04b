//! The program without a face: first run, a whole watch, coming back tomorrow, set aside, stubborn cards.

use std::fs;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{
    CardCommand, Command, LibraryCommand, ProfileCommand, SettingsCommand, WatchCommand,
};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::{Given, LinedUp, Pointed, Worked};
use bedplate::domain::attempt::Until;
use bedplate::domain::day::Instant;
use bedplate::domain::ids::CardKey;
use bedplate::domain::kinds::Kind;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::present::kinds::recall::RecallMarkedView;
use bedplate::present::kinds::why::WhyAskedView;
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::pages::TroubleKind;
use bedplate::present::stage::{Marked, RemedyView, Stage};
use bedplate::present::watch::FrontState;
use bedplate::present::{ShellView, View, WatchCardView, WatchFrontView, words};

use crate::support::bundled::{set_aside_in, share_in};
use crate::support::decks;
use crate::support::home;
use crate::support::time::{DAY_MS, MORNING};

/// A program on a home of its own, whose clock the test moves.
struct Bench {
    app: App,
    clock: Arc<AtomicI64>,
    home: tempfile::TempDir,
}

impl Bench {
    fn new() -> Self {
        Self::at(tempfile::tempdir().expect("a temporary folder"))
    }

    /// A learner who has set every card of the decks that come with the program aside.
    fn for_our_own() -> Self {
        let home = tempfile::tempdir().expect("a temporary folder");
        set_aside_in(&home.path().join("profiles/e-dunmore"), Instant(MORNING));
        Self::at(home)
    }

    fn at(home: tempfile::TempDir) -> Self {
        let clock = Arc::new(AtomicI64::new(MORNING));
        let app = Self::start(home.path(), &clock);
        Self { app, clock, home }
    }

    fn start(home: &Path, clock: &Arc<AtomicI64>) -> App {
        share_in(home);
        home::settled(home::setup(home, "e-dunmore", Some("E. Dunmore"), home::by_hand(clock)))
    }

    /// Closes the program and starts it again.
    fn restart(self) -> Self {
        let Self { app, clock, home } = self;
        drop(app);
        let app = Self::start(home.path(), &clock);
        Self { app, clock, home }
    }

    fn pass(&self, ms: i64) {
        self.clock.fetch_add(ms, Ordering::SeqCst);
    }

    fn run(&mut self, command: Command) {
        self.app.command(command);
        self.app.settle();
    }

    fn shell(&mut self) -> Arc<ShellView> {
        self.app.view()
    }

    fn front(&mut self) -> WatchFrontView {
        match &self.shell().view {
            View::WatchFront(front) => (**front).clone(),
            other => panic!("not the front page: {other:?}"),
        }
    }

    fn card(&mut self) -> Option<WatchCardView> {
        match &self.shell().view {
            View::WatchCard(card) => Some((**card).clone()),
            _ => None,
        }
    }

    fn first_run(&mut self, watch: bool) {
        let command = home::first_run(10, watch);
        self.run(command);
    }

    /// Answers the card on the sheet: all of it, or none of it.
    fn answer(&mut self, right: bool) {
        let card = self.card().expect("a card on the sheet");
        self.pass(45_000);
        match card.stage {
            Stage::Asked(AskedView::Recall(_)) => {
                self.run(Command::Card(CardCommand::ShowPoints));
                if right {
                    let Some(Stage::Marked(Marked {
                        view: MarkedView::Recall(RecallMarkedView { points, .. }), ..
                    })) = self.card().map(|c| c.stage)
                    else {
                        panic!("shown")
                    };
                    for point in points {
                        self.run(Command::Card(CardCommand::Tick(point.number)));
                    }
                }
            }
            Stage::Asked(AskedView::Figure(_)) => {
                self.run(Command::Card(CardCommand::Submit(Given::Text("no idea".into()))));
                let Some(Stage::Marked(Marked { view: MarkedView::Figure(_), result })) = self.card().map(|c| c.stage)
                else {
                    panic!("marked")
                };
                assert_eq!(result.worked_out, Outcome::Missed);
                if right {
                    self.run(Command::Card(CardCommand::SetNotch(Notch::Up)));
                }
            }
            Stage::Asked(AskedView::Why(WhyAskedView { links })) => {
                let mut right_order: Vec<usize> = links.iter().map(|l| l.position).collect();
                right_order.sort_unstable();
                let given = if right { right_order } else { Vec::new() };
                self.run(Command::Card(CardCommand::Submit(Given::Links(given))));
                if right {
                    self.run(Command::Card(CardCommand::SetNotch(Notch::Up)));
                }
            }
            Stage::Asked(AskedView::Point(_)) => {
                self.run(Command::Card(CardCommand::Submit(Given::Pointed(Pointed::At([0.0, 0.0])))));
                if right {
                    self.run(Command::Card(CardCommand::SetNotch(Notch::Up)));
                }
            }
            Stage::Asked(AskedView::Lineup(_)) => {
                self.run(Command::Card(CardCommand::Submit(Given::LinedUp(LinedUp::default()))));
                if right {
                    self.run(Command::Card(CardCommand::SetNotch(Notch::Up)));
                }
            }
            Stage::Asked(AskedView::Working(_)) => {
                // As long as a working is expected to take, so that the day's minutes are spent as they were planned.
                self.pass(240_000 - 45_000);
                self.run(Command::Card(CardCommand::Submit(Given::Worked(Worked {
                    text: "no idea".into(),
                    ..Worked::default()
                }))));
                if right {
                    self.run(Command::Card(CardCommand::SetNotch(Notch::Up)));
                }
            }
            other => panic!("not asked: {other:?}"),
        }
        self.run(Command::Card(CardCommand::Accept));
    }
}

#[test]
fn a_new_learner_answers_three_questions_and_stands_the_first_watch() {
    let mut bench = Bench::new();
    assert!(matches!(bench.shell().view, View::FirstRun(_)));
    bench.first_run(true);
    let first = bench.card().expect("the first card is on the sheet");
    assert!(first.clock_runs);
    bench.answer(true);
    let second = bench.card().expect("the second card");
    assert_ne!(first.key, second.key);
}

#[test]
fn stopping_and_coming_back_tomorrow_brings_the_right_cards() {
    let mut bench = Bench::new();
    bench.first_run(true);
    let mut missed = None;
    let mut answered = Vec::new();
    for n in 0..4 {
        let card = bench.card().expect("a card");
        if n == 1 {
            missed = Some(card.key.clone());
        } else {
            answered.push(card.key.clone());
        }
        bench.answer(n != 1);
    }
    let missed = missed.expect("one was missed");
    // The window closes in the middle of the watch.
    let mut bench = bench.restart();
    assert_eq!(bench.front().state, FrontState::Ready);
    bench.pass(DAY_MS);
    bench.run(Command::Go(Route::Watch));
    bench.run(Command::Watch(WatchCommand::Stand { shorter: false }));
    let first = bench.card().expect("a card");
    assert_eq!(first.key, missed, "what slipped comes first");
    assert_eq!(first.block.rows[2].side_value, "once");
    assert!(!answered.contains(&first.key));
}

#[test]
fn a_missed_card_comes_back_in_the_same_watch_until_it_is_answered() {
    let mut bench = Bench::new();
    bench.first_run(true);
    let missed = bench.card().expect("a card").key;
    bench.answer(false);
    let mut came_back = false;
    for _ in 0..200 {
        let Some(card) = bench.card() else { break };
        came_back |= card.key == missed;
        bench.answer(true);
    }
    assert!(came_back);
    let shell = bench.shell();
    let View::WatchEnd(end) = &shell.view else { panic!("the watch has an end: {:?}", shell.view) };
    assert_eq!(end.slipped.len(), 1);
    assert_eq!(end.slipped[0].key, missed);
    bench.run(Command::Watch(WatchCommand::Leave));
    assert_eq!(bench.front().state, FrontState::Done);
}

#[test]
fn a_stubborn_card_is_taken_apart() {
    let mut bench = Bench::for_our_own();
    decks::write(
        bench.home.path(),
        "marram-light",
        "[[recall]]\nid = \"vents\"\ntopic = \"A-III/1.1.4\"\nask = \"Name the vents.\"\n\
         points = [{ say = \"Forward\" }, { say = \"Aft\" }]\nbecause = \"They breathe.\"\nsources = [\"practice\"]\nweight = 3\n",
    );
    bench.run(Command::Go(Route::Library));
    bench.first_run(false);
    bench.run(Command::Library(LibraryCommand::RereadDecks));
    bench.run(Command::Go(Route::Watch));
    bench.run(Command::Watch(WatchCommand::Stand { shorter: false }));
    for _ in 0..4 {
        assert!(matches!(bench.card().map(|c| c.stage), Some(Stage::Asked(AskedView::Recall(_)))));
        bench.answer(false);
    }
    let Some(Stage::Remedy(RemedyView { parts, shown, .. })) = bench.card().map(|c| c.stage) else {
        panic!("a remedy")
    };
    assert_eq!((parts.len(), shown), (4, 1), "two points, the reason, the source");
    for _ in 0..parts.len() {
        bench.run(Command::Watch(WatchCommand::RemedyOn));
    }
    assert!(
        matches!(bench.card().map(|c| c.stage), Some(Stage::Asked(AskedView::Recall(_)))),
        "asked once more after the remedy"
    );
    bench.answer(false);
    assert!(matches!(bench.shell().view, View::WatchEnd(_)), "and then it rests until tomorrow");
}

#[test]
fn a_card_set_aside_until_a_day_is_back_on_that_day() {
    let mut bench = Bench::new();
    bench.first_run(true);
    let card = bench.card().expect("a card");
    let until = card.today.plus(2);
    bench.run(Command::Library(LibraryCommand::SetAside { card: card.key.clone(), until: Until::Day(until) }));
    assert_ne!(bench.card().expect("the next card").key, card.key);
    let seen = |bench: &mut Bench| {
        bench.run(Command::Go(Route::Card(card.key.clone())));
        match &bench.shell().view {
            View::Card(page) => page.standing.word(),
            other => panic!("not a card: {other:?}"),
        }
    };
    let mut bench = bench.restart();
    assert_eq!(seen(&mut bench), "set aside");
    bench.pass(2 * DAY_MS);
    assert_eq!(seen(&mut bench), "not yet asked");
}

#[test]
fn a_typed_answer_can_be_corrected_and_keeps_the_words() {
    let mut bench = Bench::for_our_own();
    decks::write(
        bench.home.path(),
        "marram-light",
        "[[recall]]\nid = \"sea-chest\"\ntopic = \"A-III/1.1.4\"\nask = \"When do we change to the high sea suction?\"\n\
         points = [{ say = \"In shallow or muddy water\", accept = [\"shallow water\"] }, { say = \"Before the pilot boards\" }]\n\
         sources = [\"practice\"]\nweight = 3\n",
    );
    bench.first_run(false);
    bench.run(Command::Library(LibraryCommand::RereadDecks));
    bench.run(Command::Watch(WatchCommand::Stand { shorter: false }));
    let card = bench.card().expect("our card");
    assert_eq!((card.key.card.as_str(), card.kind), ("sea-chest", Kind::Recall));
    bench.run(Command::Card(CardCommand::Submit(Given::Text("in shallow water".into()))));
    let shown = |bench: &mut Bench| match bench.card().map(|c| c.stage) {
        Some(Stage::Marked(Marked { view: MarkedView::Recall(RecallMarkedView { points, typed }), result })) => {
            (points, typed, result)
        }
        other => panic!("not shown: {other:?}"),
    };
    let (points, typed, result) = shown(&mut bench);
    assert_eq!((points[0].said, points[1].said), (true, false));
    assert_eq!(points[0].evidence.as_deref(), Some("shallow water"));
    assert_eq!(typed.as_deref(), Some("in shallow water"));
    assert_eq!(result.worked_out, Outcome::Missed, "one of two is 50 %");
    bench.run(Command::Card(CardCommand::Tick(2)));
    let (points, typed, result) = shown(&mut bench);
    assert_eq!((points[0].said, points[1].said), (true, true));
    assert_eq!(typed.as_deref(), Some("in shallow water"));
    assert!(result.worked_out >= Outcome::Answered);
}

#[test]
fn ships_time_moves_the_study_day() {
    let mut bench = Bench::new();
    bench.first_run(false);
    assert_eq!(bench.front().date, "Wednesday 25 November");
    // 08:00Z is 21:00 of the day before at UTC-11.
    let west = bedplate::domain::day::ShipOffset::from_minutes(-660).expect("in range");
    bench.run(Command::Settings(SettingsCommand::SetShip(west)));
    assert_eq!(bench.front().date, "Tuesday 24 November");
    let shell = bench.shell();
    assert_eq!((shell.rail.clock.as_str(), shell.rail.offset.as_str()), ("21:00", "UTC−11"));
}

#[test]
fn the_recall_target_moves_what_is_due() {
    let mut bench = Bench::new();
    bench.first_run(true);
    let key = bench.card().expect("a card").key;
    bench.answer(true);
    bench.run(Command::Watch(WatchCommand::Leave));
    // In how many days the card comes back, as its page says.
    let days = |bench: &mut Bench| {
        bench.run(Command::Go(Route::Card(key.clone())));
        let shell = bench.shell();
        let View::Card(page) = &shell.view else { panic!("not a card: {:?}", shell.view) };
        let said = |days: &u32| format!("Next on {}. ", words::day(page.today.plus(*days)));
        (1..300).find(|n| page.standing_detail.starts_with(&said(n))).unwrap_or_else(|| panic!("{page:?}"))
    };
    let usual = days(&mut bench);
    bench.run(Command::Settings(SettingsCommand::SetRecallTarget(0.75)));
    let later = days(&mut bench);
    bench.run(Command::Settings(SettingsCommand::SetRecallTarget(0.97)));
    let sooner = days(&mut bench);
    assert!(sooner < usual && usual < later, "{sooner}, {usual} and {later} days");
    let mut bench = bench.restart();
    assert_eq!((bench.front().target_percent, days(&mut bench)), (97, sooner), "over a restart");
}

#[test]
fn the_library_finds_cards_as_one_types() {
    let mut bench = Bench::new();
    bench.first_run(false);
    bench.run(Command::Go(Route::Library));
    bench.run(Command::Library(LibraryCommand::Search("prim pump".into())));
    let shell = bench.shell();
    let View::Library(library) = &shell.view else { panic!("not the library") };
    let search = library.search.as_ref().expect("hits");
    assert!(!search.hits.is_empty());
    assert!(search.hits.iter().all(|hit| hit.snippet.iter().any(|part| part.marked)), "{:?}", search.hits);
    bench.run(Command::Library(LibraryCommand::Search("\" OR 1=1 -- *".into())));
    bench.run(Command::Library(LibraryCommand::Search(String::new())));
    let shell = bench.shell();
    let View::Library(library) = &shell.view else { panic!("not the library") };
    assert!(library.search.is_none());
}

#[test]
fn a_damaged_profile_is_set_aside_and_the_backup_taken() {
    let mut bench = Bench::new();
    bench.first_run(true);
    bench.answer(true);
    // The next start makes a backup that holds the answer.
    let bench = bench.restart();
    let Bench { app, clock, home } = bench;
    drop(app);
    let dir = home.path().join("profiles/e-dunmore");
    fs::write(dir.join("profile.sqlite"), vec![0x5a; 50_000]).expect("damaged");
    let app = Bench::start(home.path(), &clock);
    let mut bench = Bench { app, clock, home };
    let shell = bench.shell();
    let View::StoreTrouble(trouble) = &shell.view else { panic!("no trouble: {:?}", shell.view) };
    assert!(matches!(&trouble.kind, TroubleKind::Damaged { backup: Some(_) }), "{trouble:?}");
    bench.run(Command::Profile(ProfileCommand::RestoreBackup));
    assert_eq!(bench.front().block.rows[0].side_value, format!("1 of {}", cards_on_the_shelf()));
    assert!(bench.shell().notice.as_ref().is_some_and(|n| n.text.contains("set aside")));
    let aside = fs::read_dir(&dir).expect("a folder").flatten().any(|e| {
        e.file_name().to_string_lossy().contains("damaged") && fs::metadata(e.path()).is_ok_and(|m| m.len() == 50_000)
    });
    assert!(aside, "the damaged file is not deleted");
}

fn cards_on_the_shelf() -> usize {
    crate::support::bundled::cards().len()
}

#[test]
fn a_second_window_on_one_profile_is_refused() {
    let mut bench = Bench::new();
    bench.first_run(true);
    let mut second = Bench::start(bench.home.path(), &bench.clock);
    let shell = second.view();
    let View::StoreTrouble(trouble) = &shell.view else { panic!("not refused: {:?}", shell.view) };
    assert_eq!(trouble.kind, TroubleKind::InUse);
    second.command(Command::Go(Route::Profiles));
    assert!(matches!(&second.view().view, View::Profiles(p) if p.profiles.len() == 1 && !p.profiles[0].open));
    second.command(Command::Go(Route::Watch));
    assert!(matches!(second.view().view, View::StoreTrouble(_)));
    bench.answer(true);
    drop(bench.app);
    second.command(Command::Profile(ProfileCommand::RetryOpen));
    second.settle();
    assert!(matches!(second.view().view, View::WatchFront(_)));
}

#[test]
fn two_learners_keep_apart_on_one_computer() {
    let mut bench = Bench::new();
    bench.first_run(true);
    bench.answer(true);
    bench.run(Command::Profile(ProfileCommand::New("A. Lindqvist".into())));
    assert!(matches!(bench.shell().view, View::FirstRun(_)), "a new learner is asked the three questions");
    bench.first_run(false);
    assert_eq!(bench.shell().rail.learner, "A. Lindqvist");
    assert!(bench.front().block.rows[0].side_value.starts_with("0 of"));
    bench.run(Command::Go(Route::Profiles));
    let shell = bench.shell();
    let View::Profiles(profiles) = &shell.view else { panic!("not the profiles") };
    assert_eq!(profiles.profiles.len(), 2);
    bench.run(Command::Profile(ProfileCommand::Open("e-dunmore".into())));
    assert!(bench.front().block.rows[0].side_value.starts_with("1 of"));
}

#[test]
fn every_goal_of_a_sequence_stands_in_the_strip_of_facts() {
    let mut bench = Bench::for_our_own();
    let steps: String = (1..=6)
        .map(|n| format!("[[sequence.step]]\nkey = \"s{n}\"\nsay = \"Do {n}\"\ngives = [\"goal-{n}\"]\n"))
        .collect();
    let facts: String = (1..=6).map(|n| format!("goal-{n} = \"Goal {n}\"\n")).collect();
    let deck = format!(
        "[[sequence]]\nid = \"goals\"\ntopic = \"A-III/1.1.4\"\nask = \"Reach them all.\"\nbecause = \"All count.\"\n\
         sources = [\"practice\"]\nseconds = 60\nweight = 3\nstart = [\"one\", \"two\", \"three\"]\n\
         goal = [\"goal-1\", \"goal-2\", \"goal-3\", \"goal-4\", \"goal-5\", \"goal-6\", \"three\"]\n\
         [sequence.fact]\none = \"One\"\ntwo = \"Two\"\nthree = \"Three\"\n{facts}{steps}"
    );
    decks::write(bench.home.path(), "marram-light", &deck);
    bench.first_run(false);
    bench.run(Command::Library(LibraryCommand::RereadDecks));
    bench.run(Command::Watch(WatchCommand::Stand { shorter: false }));
    let Some(Stage::Asked(AskedView::Sequence(asked))) = bench.card().map(|c| c.stage) else {
        panic!("a sequence is asked")
    };
    let shown: Vec<&str> = asked.facts.iter().map(|fact| fact.name.as_str()).collect();
    assert_eq!(shown, ["One", "Two", "Three", "Goal 1", "Goal 2", "Goal 3", "Goal 4", "Goal 5", "Goal 6"]);
}

#[test]
fn a_sequence_is_run_mended_explained_and_its_first_run_counts() {
    let mut bench = Bench::for_our_own();
    bench.first_run(false);
    let key = CardKey::new("auxiliary-power", "start-an-alternator");
    bench.run(Command::Library(LibraryCommand::SetAside { card: key.clone(), until: Until::Back }));
    bench.run(Command::Go(Route::Watch));
    bench.run(Command::Watch(WatchCommand::Stand { shorter: false }));
    let Some(Stage::Asked(AskedView::Sequence(asked))) = bench.card().map(|c| c.stage) else {
        panic!("a sequence is asked")
    };
    assert!(asked.steps.len() > 10 && !asked.facts.is_empty());
    let run = |bench: &mut Bench| match bench.card().map(|c| c.stage) {
        Some(Stage::Marked(Marked { view: MarkedView::Sequence(run), .. })) => run,
        other => panic!("not run: {other:?}"),
    };
    // First the wrong way round: the sheet breaks, with what was missing and where it stands in the list.
    let wrong: Vec<String> = asked.steps.iter().map(|s| s.key.clone()).collect();
    bench.run(Command::Card(CardCommand::Submit(Given::Steps(wrong))));
    let first = run(&mut bench);
    assert_eq!(first.run, 1);
    assert!(!first.failures.is_empty());
    assert!(first.failures.iter().all(|f| !f.cause.is_empty() && !f.reason().is_empty()));
    let worked_out = |bench: &mut Bench| bench.card().and_then(|c| Some(c.stage.result()?.worked_out));
    let outcome = worked_out(&mut bench);
    bench.run(Command::Card(CardCommand::ShowRightOrder));
    let order = run(&mut bench).right_order.expect("a right order");
    assert!(order.note.contains("450"), "{}", order.note);
    // Then mended by it: it works, and the first run's outcome stands.
    let key_of = |words: &String| asked.steps.iter().find(|s| s.words == *words).expect("a step").key.clone();
    bench.run(Command::Card(CardCommand::RunAgain(order.words.iter().map(key_of).collect())));
    let second = run(&mut bench);
    assert!(second.works() && second.run == 2);
    assert_eq!(worked_out(&mut bench), outcome);
    assert!(second.explain, "the priming pump has stopped by itself");
    bench.run(Command::Card(CardCommand::Explain));
    let card = bench.card().expect("a question");
    let Stage::Asked(AskedView::Why(WhyAskedView { links })) = card.stage else {
        panic!("not a why: {:?}", card.stage)
    };
    assert_eq!((card.kind, card.key.card.as_str()), (Kind::Why, "start-an-alternator--why"));
    let mut right: Vec<usize> = links.iter().map(|l| l.position).collect();
    right.sort_unstable();
    bench.run(Command::Card(CardCommand::Submit(Given::Links(right))));
    assert!(matches!(bench.card().map(|c| c.stage), Some(Stage::Marked(Marked { view: MarkedView::Why(_), .. }))));
    bench.run(Command::Card(CardCommand::Accept));
    let back = run(&mut bench);
    assert!(!back.explain, "each run is asked about once");
    bench.run(Command::Card(CardCommand::Accept));
    assert_eq!(outcome, Some(Outcome::Missed));
    let again = bench.card().expect("what was missed comes back in the same watch");
    assert_eq!(again.key, key);
    assert!(matches!(again.stage, Stage::Asked(AskedView::Sequence(_))), "accepted, and asked anew: {:?}", again.stage);
}
