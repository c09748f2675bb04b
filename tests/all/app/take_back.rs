//! Taking the last accepted answer back: the program is as it was before it was accepted.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use bedplate::app::profile::opening;
use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, LibraryCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::app::program::setup::Setup;
use bedplate::domain::answer::Given;
use bedplate::domain::attempt::Until;
use bedplate::domain::day::Instant;
use bedplate::domain::ids::CardKey;
use bedplate::domain::memory::CardMemory;
use bedplate::domain::memory::replay::{Memories, replay};
use bedplate::domain::outcome::Notch;
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::stage::Marked;
use bedplate::present::stage::Stage;
use bedplate::present::{ShellView, View, WatchCardView};

use crate::support::decks;
use crate::support::home;
use crate::support::time::MORNING;

const CARDS: [&str; 4] = ["vents", "drains", "sea-chest", "slops"];

struct Bench {
    app: App,
    clock: Arc<AtomicI64>,
    home: tempfile::TempDir,
}

fn setup(home: &Path, clock: &Arc<AtomicI64>) -> Setup {
    home::setup(home, "e-dunmore", Some("E. Dunmore"), home::by_hand(clock))
}

impl Bench {
    /// A watch on our own four cards is being stood.
    fn new() -> Self {
        let home = tempfile::tempdir().expect("a temporary folder");
        write_deck(home.path());
        let clock = Arc::new(AtomicI64::new(MORNING));
        crate::support::bundled::share_in(home.path());
        let app = home::settled(setup(home.path(), &clock));
        let mut bench = Self { app, clock, home };
        bench.run(home::first_run(30, false));
        bench.begin();
        bench
    }

    fn begin(&mut self) {
        self.run(Command::Watch(WatchCommand::StudyCards(
            CARDS.iter().map(|c| CardKey::new("marram-light", c)).collect(),
        )));
    }

    fn run(&mut self, command: Command) {
        self.app.command(command);
        self.app.settle();
    }

    fn shell(&mut self) -> Arc<ShellView> {
        self.app.view()
    }

    fn card(&mut self) -> Option<WatchCardView> {
        match &self.shell().view {
            View::WatchCard(card) => Some((**card).clone()),
            _ => None,
        }
    }

    /// Marks the card on the sheet, one point said or none.
    fn mark(&mut self, right: bool) {
        self.clock.fetch_add(20_000, Ordering::SeqCst);
        self.run(Command::Card(CardCommand::ShowPoints));
        if right {
            self.run(Command::Card(CardCommand::Tick(1)));
        }
    }

    fn answer(&mut self, right: bool) {
        self.mark(right);
        self.run(Command::Card(CardCommand::Accept));
    }

    /// What the profile holds once the program is closed: each card's memory as kept, and as a replay of the attempts
    /// that count gives it; how many count, and how many are in the file.
    fn kept(self) -> Kept {
        let Self { app, clock, home } = self;
        drop(app);
        let ready = opening::open(&setup(home.path(), &clock), Instant(MORNING)).expect("opened");
        let sorted = |memory: std::collections::HashMap<CardKey, CardMemory>| {
            let mut all: Vec<_> = memory.into_iter().collect();
            all.sort_by(|a, b| a.0.cmp(&b.0));
            all
        };
        let store = &ready.profile.store;
        let replayed =
            store.fold_attempts(Memories::new(), replay(&ready.profile.learner.model)).wait().expect("replayed");
        Kept {
            counting: store.attempts(None, 999).wait().expect("read").len(),
            in_file: store.list_attempts(None, 999).wait().expect("read").len(),
            memory: sorted(ready.profile.learner.memory),
            replayed: sorted(replayed),
        }
    }
}

struct Kept {
    counting: usize,
    in_file: usize,
    memory: Vec<(CardKey, CardMemory)>,
    replayed: Vec<(CardKey, CardMemory)>,
}

fn write_deck(home: &Path) {
    let cards: String = CARDS
        .iter()
        .map(|id| {
            format!(
                "[[recall]]\nid = \"{id}\"\ntopic = \"A-III/1.1.4\"\nask = \"What of the {id}?\"\n\
                 points = [{{ say = \"They are shut\" }}]\nsources = [\"practice\"]\nweight = 3\n\n"
            )
        })
        .collect();
    decks::write(home, "marram-light", &cards);
}

/// The sheet as it is compared: without the clock.
fn sheet(card: &WatchCardView) -> WatchCardView {
    WatchCardView { can_take_back: false, ..card.clone() }
}

#[test]
fn the_card_lies_on_the_sheet_again_as_it_was_marked() {
    let mut bench = Bench::new();
    assert!(!bench.card().expect("a card").can_take_back, "there is nothing to take back yet");
    bench.mark(true);
    bench.run(Command::Card(CardCommand::SetNotch(Notch::Down)));
    let before = bench.card().expect("marked");
    let progress = bench.shell().context.clone();
    bench.run(Command::Card(CardCommand::Accept));
    let next = bench.card().expect("the next card");
    assert_ne!(next.key, before.key);
    assert!(next.can_take_back);
    bench.run(Command::Watch(WatchCommand::TakeBack));
    let back = bench.card().expect("the card is back");
    assert_eq!(sheet(&back), sheet(&before), "points, ticks, notch and time");
    assert_eq!(bench.shell().context, progress);
    assert!(bench.shell().notice.as_ref().is_some_and(|n| n.text.contains("taken back")));
    // It can be changed and accepted anew; the watch goes on with the same next card.
    bench.run(Command::Card(CardCommand::SetNotch(Notch::None)));
    bench.run(Command::Card(CardCommand::Accept));
    assert_eq!(bench.card().map(|c| c.key), Some(next.key));
    let kept = bench.kept();
    assert_eq!((kept.counting, kept.in_file), (1, 2), "the one taken back stays in the file");
    assert_eq!(kept.memory, kept.replayed);
    assert_eq!(kept.memory[0].1.seen, 1);
}

#[test]
fn nothing_is_taken_back_where_nothing_was_accepted() {
    let mut bench = Bench::new();
    let before = bench.card().expect("a card");
    bench.run(Command::Watch(WatchCommand::TakeBack));
    assert_eq!(bench.card().map(|c| c.key), Some(before.key));
    assert!(bench.shell().notice.as_ref().is_some_and(|n| n.text.contains("no accepted answer")));
    // Elsewhere than in the watch nothing happens at all.
    bench.answer(true);
    bench.run(Command::Go(Route::Library));
    bench.run(Command::Watch(WatchCommand::TakeBack));
    assert_eq!(bench.kept().counting, 1);
}

#[test]
fn the_last_answer_is_taken_back_from_the_end_of_the_watch() {
    let mut bench = Bench::new();
    bench.answer(false);
    for _ in 0..4 {
        bench.answer(true);
    }
    let View::WatchEnd(end) = &bench.shell().view.clone() else { panic!("the watch is over") };
    assert!(end.can_take_back);
    assert_eq!(end.slipped.len(), 1);
    bench.run(Command::Watch(WatchCommand::TakeBack));
    let card = bench.card().expect("the last card is back");
    assert!(matches!(card.stage, Stage::Marked(Marked { view: MarkedView::Recall(_), .. })), "{:?}", card.stage);
    bench.run(Command::Card(CardCommand::Accept));
    let View::WatchEnd(again) = &bench.shell().view.clone() else { panic!("over again") };
    assert_eq!((&again.headline, &again.counts, &again.slipped), (&end.headline, &end.counts, &end.slipped));
    // All of it, one after the other, back to the first card: no slip is left.
    for _ in 0..5 {
        bench.run(Command::Watch(WatchCommand::TakeBack));
    }
    let card = bench.card().expect("the first card");
    assert!(!card.can_take_back);
    let kept = bench.kept();
    assert_eq!((kept.counting, kept.in_file, kept.memory.len()), (0, 6, 0));
}

#[test]
fn what_was_spent_today_is_given_back() {
    let mut bench = Bench::new();
    let front = |bench: &mut Bench| {
        bench.run(Command::Watch(WatchCommand::Leave));
        match &bench.shell().view {
            View::WatchFront(front) => (**front).clone(),
            other => panic!("not the front page: {other:?}"),
        }
    };
    let before = front(&mut bench);
    bench.begin();
    bench.answer(true);
    bench.run(Command::Watch(WatchCommand::TakeBack));
    let after = front(&mut bench);
    assert_eq!((after.block, after.weak), (before.block, before.weak));
}

/// A card set aside after the answer does not come back with the watch.
#[test]
fn a_card_set_aside_meanwhile_stays_away() {
    let mut bench = Bench::new();
    bench.answer(true);
    let gone = bench.card().expect("a card").key;
    bench.run(Command::Library(LibraryCommand::SetAside { card: gone.clone(), until: Until::ForGood }));
    bench.run(Command::Watch(WatchCommand::TakeBack));
    let mut seen = Vec::new();
    bench.run(Command::Card(CardCommand::Accept));
    while let Some(card) = bench.card() {
        seen.push(card.key);
        bench.answer(true);
    }
    assert_eq!(seen.len(), 2, "{seen:?}");
    assert!(!seen.contains(&gone));
}

/// Any order of answers and takings-back: what is kept is a replay of the rest, and the sheet is always a card or the end.
#[test]
fn any_answers_and_takings_back_equal_a_replay_of_the_rest() {
    for seed in 1u64..=4 {
        let mut bench = Bench::new();
        let mut state = seed;
        let mut counting = 0usize;
        let mut sheets = Vec::new();
        for _ in 0..30 {
            // SplitMix64's step (public domain, Vigna 2015), enough to mix a test.
            state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mixed = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9) >> 32;
            if mixed % 3 == 0 {
                bench.run(Command::Watch(WatchCommand::TakeBack));
                if let Some(before) = sheets.pop() {
                    counting -= 1;
                    assert_eq!(bench.card().map(|c| sheet(&c)), Some(before), "seed {seed}");
                    // On with the card that is back, as it stands.
                    sheets.push(sheet(&bench.card().expect("it is back")));
                    bench.run(Command::Card(CardCommand::Accept));
                    counting += 1;
                }
            } else {
                match bench.card() {
                    Some(card) if matches!(card.stage, Stage::Remedy(_)) => {
                        bench.run(Command::Watch(WatchCommand::RemedyOn))
                    }
                    Some(_) => {
                        bench.mark(mixed % 3 == 1);
                        sheets.push(sheet(&bench.card().expect("marked")));
                        bench.run(Command::Card(CardCommand::Accept));
                        counting += 1;
                    }
                    None => {
                        bench.begin();
                        sheets.clear();
                    }
                }
            }
        }
        let kept = bench.kept();
        assert_eq!(kept.counting, counting, "seed {seed}");
        assert!(kept.in_file > counting, "seed {seed}: some were taken back");
        assert_eq!(kept.memory, kept.replayed, "seed {seed}");
    }
}

/// An answer about a run of a sequence is an attempt of its own, taken back as one.
#[test]
fn an_answer_about_a_run_comes_back_before_the_run() {
    let mut bench = Bench::new();
    let key = CardKey::new("auxiliary-power", "start-an-alternator");
    bench.run(Command::Watch(WatchCommand::StudyCards(vec![key.clone()])));
    let Some(Stage::Asked(AskedView::Sequence(asked))) = bench.card().map(|c| c.stage) else {
        panic!("a sequence is asked")
    };
    bench.run(Command::Card(CardCommand::Submit(Given::Steps(asked.steps.iter().map(|s| s.key.clone()).collect()))));
    bench.run(Command::Card(CardCommand::ShowRightOrder));
    let run = |bench: &mut Bench| match bench.card().map(|c| c.stage) {
        Some(Stage::Marked(Marked { view: MarkedView::Sequence(run), .. })) => run,
        other => panic!("not run: {other:?}"),
    };
    let order = run(&mut bench).right_order.expect("a right order");
    let key_of = |words: &String| asked.steps.iter().find(|s| s.words == *words).expect("a step").key.clone();
    bench.run(Command::Card(CardCommand::RunAgain(order.words.iter().map(key_of).collect())));
    bench.run(Command::Card(CardCommand::Explain));
    bench.run(Command::Card(CardCommand::Submit(Given::Links(vec![1]))));
    let marked = bench.card().expect("the question");
    bench.run(Command::Card(CardCommand::Accept));
    assert!(!run(&mut bench).explain);
    bench.run(Command::Watch(WatchCommand::TakeBack));
    assert_eq!(bench.card().map(|c| sheet(&c)), Some(sheet(&marked)), "the question about the run is in front");
    bench.run(Command::Card(CardCommand::Accept));
    assert!(!run(&mut bench).explain);
    let kept = bench.kept();
    assert_eq!((kept.counting, kept.in_file), (1, 2));
    assert_eq!(kept.memory, kept.replayed);
}
