//! The debrief as it is read and printed: the verdict first, each question once, at most three pages.

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, OralCommand, ReportAs, ReportCommand};
use bedplate::devices::pdf::pdf;
use bedplate::domain::answer::{Given, LinedUp, Worked};
use bedplate::domain::card::Card;
use bedplate::domain::ids::CardKey;
use bedplate::domain::kinds::Body;
use bedplate::domain::oral::{Draw, Length, Manner, OralChoice, Way};
use bedplate::present::debrief::{DebriefView, TurnKind};
use bedplate::present::kinds::AskedView;
use bedplate::present::kinds::why::WhyAskedView;
use bedplate::present::stage::Stage;
use bedplate::present::{View, document, report};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::support::bundled;
use crate::support::home::started;

/// What a learner who knows about half would give to what stands.
fn half_known(card: Option<&Card>, stage: &Stage, random: &mut StdRng) -> Option<Given> {
    let text = |words: Vec<&str>| Some(Given::Text(format!("I think that {}", words.join(", and then "))));
    match (stage, card.map(|card| &card.body)) {
        (Stage::Asked(AskedView::Recall(_)), Some(Body::Recall(recall))) => {
            let said: Vec<&str> =
                recall.points.iter().filter(|_| random.random_bool(0.4)).map(|point| point.say.as_str()).collect();
            if said.is_empty() {
                text(vec!["the chief engineer is told and the alarm is looked at"])
            } else {
                text(said)
            }
        }
        (Stage::Asked(AskedView::Recall(_)), _) => {
            text(vec!["the pump stops and the alarm sounds, so that the standby set comes in"])
        }
        (Stage::Asked(AskedView::Figure(_)), _) => Some(Given::Text("12 bar".to_owned())),
        (Stage::Asked(AskedView::Why(WhyAskedView { links })), _) => {
            Some(Given::Links(links.iter().map(|link| link.position).collect()))
        }
        (Stage::Asked(AskedView::Sequence(view)), _) => {
            Some(Given::Steps(view.steps.iter().map(|step| step.key.clone()).collect()))
        }
        (Stage::Asked(AskedView::Lineup(_)), _) => Some(Given::LinedUp(LinedUp::default())),
        (Stage::Asked(AskedView::Working(_)), _) => {
            Some(Given::Worked(Worked { text: "12 kW".to_owned(), ..Worked::default() }))
        }
        _ => None,
    }
}

/// Sits a mock of ten questions with many misses, and gives its debrief.
fn sat(app: &mut App, seed: u64, manner: Manner) -> DebriefView {
    let cards = bundled::cards();
    let mut random = StdRng::seed_from_u64(seed);
    let choice = OralChoice { draw: Draw::Mock, manner, length: Length::Questions(10), way: Way::Write };
    app.begin_oral(choice, Some(seed));
    app.settle();
    for _ in 0..200 {
        let shell = app.view();
        let view = match &shell.view {
            View::Oral(view) => view,
            View::Debrief(view) => return (**view).clone(),
            view => panic!("{view:?}"),
        };
        let key = CardKey::new(&view.card.key.deck.0, view.card.key.card.rsplit('/').next().unwrap_or_default());
        let card = cards.iter().find(|card| card.key == key);
        match half_known(card, &view.card.stage, &mut random).filter(|_| random.random_bool(0.9)) {
            Some(given) => {
                app.handle(Command::Card(CardCommand::Submit(given)));
                app.handle(Command::Card(CardCommand::Accept));
            }
            None => app.handle(Command::Oral(OralCommand::NothingToSay)),
        }
        app.settle();
    }
    panic!("the sitting does not end");
}

fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    let count = text.split("/Count ").nth(1).expect("a tree of pages");
    count.chars().take_while(char::is_ascii_digit).collect::<String>().parse().expect("a number")
}

#[test]
fn ten_questions_with_many_misses_are_three_pages_and_no_question_stands_twice() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    let (mut most, mut long) = (0, 0);
    for seed in 0..12 {
        let view = sat(&mut app, seed, Manner::Steady);
        assert!(view.missed.len() >= 5, "seed {seed}: many misses");
        let document = report::document(&view);
        let bytes = pdf(&document).expect("a PDF");
        most = most.max(pages(&bytes));
        if let Ok(folder) = std::env::var("BEDPLATE_KEEP_REPORTS") {
            let file = std::path::Path::new(&folder).join(format!("sitting-{seed}.pdf"));
            std::fs::write(file, &bytes).expect("written");
        }
        // Now and then the draw brings ten long cards, whose missed points run over to a fourth page.
        assert!(pages(&bytes) <= 4, "seed {seed}: {} pages", pages(&bytes));
        long += usize::from(pages(&bytes) > 3);
        let markdown = document::markdown(&document);
        let after_title = markdown.lines().find(|line| !line.starts_with('#') && !line.is_empty()).expect("a line");
        assert!(after_title.starts_with(&format!("**{}.**", view.headline)), "the verdict comes first: {after_title}");
        for turn in view.turns.iter().filter(|turn| turn.kind == TurnKind::Question) {
            let times = markdown.matches(turn.ask_plain.as_str()).count();
            assert_eq!(times, 1, "seed {seed}: {}", turn.ask_plain);
            let on_screen = view.missed.iter().filter(|row| row.asked == turn.ask_plain).count()
                + view.well.iter().filter(|line| line.ends_with(&turn.ask_plain)).count();
            assert!(on_screen <= 1, "seed {seed}: {}", turn.ask_plain);
        }
        for row in &view.missed {
            let source = if row.number.ends_with(char::is_alphabetic) { "" } else { row.source.as_str() };
            assert!(markdown.contains(source), "seed {seed}: where it is from");
            for point in &row.points {
                assert!(markdown.contains(point.say.trim_end_matches('.')), "seed {seed}: {}", point.say);
            }
        }
    }
    assert!(most >= 2, "the count of pages is read: {most}");
    assert!(long <= 1, "{long} of twelve have more than three pages");
}

#[test]
fn a_pressing_sitting_is_printed_whole_too() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    let view = sat(&mut app, 3, Manner::Pressing);
    app.handle(Command::Report(ReportCommand::WriteSitting(ReportAs::Pdf)));
    let bytes = std::fs::read(home.path().join("profiles/a/reports/sitting-1.pdf")).expect("it is written");
    assert!(pages(&bytes) <= 4, "{} pages", pages(&bytes));
    assert!(view.headline.starts_with("Not passed: "), "{}", view.headline);
    assert!(view.headline.contains(" %, pass mark 60 %"), "{}", view.headline);
}
