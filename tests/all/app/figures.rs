//! One figure of recall for an area and one for a card: the front page, the table, the card and the report agree, before
//! and after a miss; and one recall target on every page.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use assert_cmd::Command as Process;
use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, ProfileCommand, SettingsCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::Instant;
use bedplate::domain::ids::CardKey;
use bedplate::present::competence::{ChanceView, CompetenceRow, HeadingRow};
use bedplate::present::kinds::MarkedView;
use bedplate::present::kinds::recall::RecallMarkedView;
use bedplate::present::library::CardPageView;
use bedplate::present::plan::{PlanState, ReadyPlan};
use bedplate::present::stage::Marked;
use bedplate::present::stage::Stage;
use bedplate::present::watch::WeakArea;
use bedplate::present::{TitleBlock, View};

use crate::support::decks;
use crate::support::home;
use crate::support::time::MORNING;

const AREA: &str = "Flooding of the Marram Light";

/// A program with one more deck, of six recall cards in one area.
struct Bench {
    app: App,
    clock: Arc<AtomicI64>,
    home: tempfile::TempDir,
}

impl Bench {
    fn new() -> Self {
        let home = tempfile::tempdir().expect("a temporary folder");
        write_deck(home.path());
        let clock = Arc::new(AtomicI64::new(MORNING));
        crate::support::bundled::share_in(home.path());
        let app = home::settled(home::setup(home.path(), "a", Some("E. Dunmore"), home::by_hand(&clock)));
        let mut bench = Self { app, clock, home };
        let certificate = Certificate::Watch;
        bench.run(Command::Profile(ProfileCommand::FinishFirstRun {
            certificate,
            oral: None,
            minutes: 20,
            watch: false,
        }));
        bench
    }

    fn run(&mut self, command: Command) {
        self.app.command(command);
        self.app.settle();
    }

    /// Answers these cards of the deck, well or not at all, and goes away from the watch.
    fn answer(&mut self, cards: &[usize], well: bool) {
        self.run(Command::Watch(WatchCommand::StudyCards(cards.iter().map(|n| key(*n)).collect())));
        for _ in cards {
            self.clock.fetch_add(40_000, Ordering::SeqCst);
            self.run(Command::Card(CardCommand::ShowPoints));
            let shell = self.app.view();
            let View::WatchCard(card) = &shell.view else { panic!("not a card: {:?}", shell.view) };
            let Stage::Marked(Marked { view: MarkedView::Recall(RecallMarkedView { points, .. }), .. }) =
                card.stage.clone()
            else {
                panic!("not shown: {:?}", card.stage)
            };
            for point in points.iter().filter(|_| well) {
                self.run(Command::Card(CardCommand::Tick(point.number)));
            }
            self.run(Command::Card(CardCommand::Accept));
        }
    }

    /// The area on the front page, in the table, and a card of it; the competence's whole row with the chance over it.
    fn shown(&mut self, card: usize) -> (Option<WeakArea>, HeadingRow, CardPageView, CompetenceRow, ChanceView) {
        self.run(Command::Go(Route::Watch));
        self.run(Command::Watch(WatchCommand::Leave));
        let shell = self.app.view();
        let View::WatchFront(front) = &shell.view else { panic!("not the front page: {:?}", shell.view) };
        let area = front.weak.iter().find(|area| area.name == AREA).cloned();
        drop(shell);
        self.run(Command::Go(Route::Competence));
        let shell = self.app.view();
        let View::Competence(table) = &shell.view else { panic!("not the table: {:?}", shell.view) };
        let mut rows = table.bands.iter().flat_map(|band| &band.rows);
        let row = rows.find(|row| row.headings.iter().any(|heading| heading.name == AREA)).cloned();
        let row = row.expect("the area is in the table");
        let heading = row.headings.iter().find(|heading| heading.name == AREA).cloned().expect("it is");
        let chance = table.chance.clone().expect("it is worked out");
        drop(shell);
        self.run(Command::Go(Route::Card(key(card))));
        let shell = self.app.view();
        let View::Card(page) = &shell.view else { panic!("not a card: {:?}", shell.view) };
        (area, heading, (**page).clone(), row, chance)
    }

    fn plan(&mut self) -> (TitleBlock, ReadyPlan) {
        self.run(Command::Go(Route::Plan));
        let shell = self.app.view();
        let View::Plan(view) = &shell.view else { panic!("not the plan: {:?}", shell.view) };
        match &view.state {
            PlanState::Ready(plan) => (view.block.clone(), (**plan).clone()),
            other => panic!("not ready: {other:?}"),
        }
    }
}

fn key(n: usize) -> CardKey {
    CardKey::new("marram-light", &format!("flooding-{n}"))
}

fn write_deck(home: &Path) {
    let card = |n: usize| {
        format!(
            "[[recall]]\nid = \"flooding-{n}\"\ntopic = \"A-III/1.4.2\"\nheading = \"{AREA}\"\n\
             ask = \"Where is bilge valve number {n}?\"\npoints = [{{ say = \"Below plate {n}\" }}, {{ say = \"Forward of frame {n}\" }}]\n\
             sources = [\"practice\"]\nweight = 2\n\n"
        )
    };
    decks::write(home, "marram-light", &(1..=6).map(card).collect::<String>());
}

#[test]
fn front_page_table_and_card_agree_on_recall_and_say_what_it_is_over() {
    let mut bench = Bench::new();
    bench.answer(&[1, 2], true);
    let (area, heading, page, row, _) = bench.shown(1);
    assert!(area.is_none(), "what is all recalled is not among the weak areas: {area:?}");
    assert_eq!((heading.recall, heading.asked, heading.cards), (Some(1.0), 2, 6), "two of six, and it says so");
    assert_eq!(row.met, 2);
    assert!(page.standing_detail.contains("Recall today 100 %"), "{}", page.standing_detail);
    bench.answer(&[3], false);
    let (area, heading, page, _, _) = bench.shown(3);
    let area = area.expect("it is weak now");
    assert_eq!((Some(area.recall), area.asked, area.cards), (heading.recall, heading.asked, heading.cards));
    assert!((area.recall - 2.0 / 3.0).abs() < 1e-9 && (area.asked, area.slipped) == (3, 1), "{area:?}");
    assert_eq!(page.standing.word(), "forgotten");
    assert!(!page.standing_detail.contains("100 %"), "{}", page.standing_detail);
    assert!(page.standing_detail.contains("recall counts as 0 %"), "{}", page.standing_detail);
    // The report and the command say the same.
    let profile = bench.home.path().join("profiles/a");
    let home = bench.home.path().to_owned();
    drop(bench.app);
    let run = |arguments: &[&str]| {
        let out = Process::cargo_bin("bedplate")
            .unwrap()
            .args(arguments)
            .arg("--profile")
            .arg(&profile)
            .env("BEDPLATE_HOME", &home)
            .output()
            .unwrap();
        String::from_utf8_lossy(&out.stdout).into_owned()
    };
    let told = run(&["ready"]);
    assert!(told.contains(&format!("3 of {} asked, recall of these today", row.required)), "{told}");
}

#[test]
fn a_few_cards_promise_nothing_on_any_page() {
    let mut bench = Bench::new();
    bench.answer(&[1, 2, 3, 4], true);
    let oral = Instant(MORNING).study_day(Default::default()).plus(40);
    bench.run(Command::Settings(SettingsCommand::SetOral(Some(oral))));
    let (.., chance) = bench.shown(1);
    assert_eq!((chance.range, chance.costs.len()), (None, 0), "four cards are no chance");
    assert!(chance.when.starts_with("Answer about 36 more cards, from at least 3 more functions"), "{}", chance.when);
    let (_, plan) = bench.plan();
    assert!(
        plan.range.is_none() && plan.today.is_none() && plan.chance.is_empty() && plan.costs.is_empty(),
        "{plan:?}"
    );
    assert_eq!(plan.when, chance.when, "every page says the same of what is missing");
    assert!(plan.load.len() == 40 && plan.load.iter().sum::<f64>() > 60.0, "the load is drawn: {:?}", plan.load);
    assert!(!plan.more.contains("would make it"), "{}", plan.more);
    let profile = bench.home.path().join("profiles/a");
    let home = bench.home.path().to_owned();
    drop(bench.app);
    let out = Process::cargo_bin("bedplate")
        .unwrap()
        .args(["report", "progress", "--profile"])
        .arg(&profile)
        .env("BEDPLATE_HOME", &home)
        .output()
        .unwrap();
    let report = String::from_utf8_lossy(&out.stdout).into_owned();
    assert!(report.contains("Not yet") && report.contains("or sit one mock oral"), "{report}");
}

#[test]
fn there_is_one_recall_target_and_the_plan_goes_by_it() {
    let mut bench = Bench::new();
    let oral = Instant(MORNING).study_day(Default::default()).plus(30);
    bench.run(Command::Settings(SettingsCommand::SetOral(Some(oral))));
    for target in [0.90, 0.85] {
        bench.run(Command::Settings(SettingsCommand::SetRecallTarget(target)));
        let percent = format!("{:.0} %", target * 100.0);
        let (block, plan) = bench.plan();
        let row = &block.rows[2];
        assert_eq!((row.side_label.as_str(), row.side_value.as_str()), ("Target", percent.as_str()));
        assert!(plan.made.contains(&format!("when its recall falls to {percent}")), "{}", plan.made);
        let others = ["80 %", "85 %", "90 %"].into_iter().filter(|other| *other != percent);
        assert!(others.clone().all(|other| !plan.made.contains(other)), "no second target: {}", plan.made);
        bench.run(Command::Go(Route::Settings));
        let shell = bench.app.view();
        let View::Settings(settings) = &shell.view else { panic!("{:?}", shell.view) };
        assert_eq!(settings.recall_target, target);
        drop(shell);
        bench.run(Command::Go(Route::Watch));
        let shell = bench.app.view();
        let View::WatchFront(front) = &shell.view else { panic!("{:?}", shell.view) };
        assert_eq!(format!("{} %", front.target_percent), percent);
    }
}
