//! Notices leave by themselves when they have been read, and what failed stays until it is mended or put away.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};
use std::time::Duration;

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, LibraryCommand, SettingsCommand, WatchCommand};
use bedplate::domain::answer::Given;
use bedplate::domain::ids::{CardKey, DeckId};
use bedplate::present::{Tone, View};

use crate::support::home;

struct Bench {
    app: App,
    clock: Arc<AtomicI64>,
    _home: tempfile::TempDir,
}

impl Bench {
    fn new() -> Self {
        let home = tempfile::tempdir().expect("a temporary folder");
        let clock = Arc::new(AtomicI64::new(1_800_000_000_000));
        crate::support::bundled::share_in(home.path());
        let mut app = home::settled(home::setup(home.path(), "a", None, home::by_hand(&clock)));
        app.command(home::first_run(10, false));
        app.settle();
        app.tick();
        Self { app, clock, _home: home }
    }

    fn note_a_fault(&mut self, note: &str) {
        let card = CardKey { deck: DeckId("any".into()), card: "card".into() };
        self.app.command(Command::Library(LibraryCommand::ReportFault { card, note: note.into() }));
        self.app.settle();
        self.app.tick();
    }

    fn pass(&mut self, ms: i64) -> Option<Duration> {
        self.clock.fetch_add(ms, Ordering::SeqCst);
        self.app.tick()
    }

    fn told(&mut self) -> Option<String> {
        self.app.view().notice.as_ref().map(|notice| notice.text.clone())
    }
}

#[test]
fn what_is_done_is_told_for_six_seconds_and_the_window_is_woken_once_for_it() {
    let mut bench = Bench::new();
    bench.note_a_fault("The figure is from another engine.");
    assert!(bench.told().is_some_and(|text| text.starts_with("Noted.")));
    assert_eq!(bench.pass(2_500), Some(Duration::from_millis(3_500)), "woken when it is to leave");
    assert!(bench.told().is_some());
    // Said again in the same words, its time begins anew.
    bench.note_a_fault("And the unit, too.");
    assert_eq!(bench.pass(5_999), Some(Duration::from_millis(1)));
    assert!(bench.told().is_some());
    let next = bench.pass(1).expect("the clock of the page");
    assert_eq!(bench.told(), None);
    assert!(next > Duration::from_secs(10), "and nothing wakes it any more: {next:?}");
}

#[test]
fn x_puts_it_away_at_once() {
    let mut bench = Bench::new();
    bench.note_a_fault("The figure is from another engine.");
    bench.app.command(Command::DismissNotice);
    assert_eq!(bench.told(), None);
}

#[test]
fn what_failed_stays_until_it_is_done_or_put_away() {
    let mut bench = Bench::new();
    bench.note_a_fault(" ");
    assert_eq!(bench.app.view().notice.as_ref().map(|notice| notice.tone), Some(Tone::Bad));
    bench.pass(24 * 3_600_000);
    assert!(bench.told().is_some_and(|text| text.starts_with("Nothing was noted")), "a day later it is still there");
    bench.app.command(Command::Settings(SettingsCommand::SetMinutes(40)));
    assert!(bench.told().is_some(), "something else that is done does not mend it");
    bench.note_a_fault("The figure is from another engine.");
    bench.pass(20_000);
    assert_eq!(bench.told(), None);
}

#[test]
fn an_answer_of_a_wrong_form_is_no_longer_told_once_there_is_another() {
    let mut bench = Bench::new();
    bench.app.command(Command::Watch(WatchCommand::Stand { shorter: false }));
    bench.app.settle();
    bench.app.command(Command::Card(CardCommand::Submit(Given::Steps(vec!["no-such-step".into()]))));
    bench.app.settle();
    assert!(bench.told().is_some());
    for given in [Given::Said(vec![]), Given::Text("no idea".into()), Given::Links(vec![])] {
        bench.app.command(Command::Card(CardCommand::Submit(given)));
        let shell = bench.app.view();
        if matches!(&shell.view, View::WatchCard(card) if !card.stage.is_asked()) {
            assert_eq!(shell.notice, None);
            return;
        }
    }
    panic!("nothing was marked");
}
