//! No answer, reason or source is on screen before its question is over: over the view data of every kind of card, in a
//! mock oral, in a sitting for coaching and in a watch.

use std::collections::HashMap;
use std::sync::OnceLock;

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, OralCommand, WatchCommand};
use bedplate::domain::answer::{Given, LinedUp, Pointed, Worked};
use bedplate::domain::card::Card;
use bedplate::domain::ids::CardKey;
use bedplate::domain::kinds::{Body, Kind};
use bedplate::domain::oral::{Disclosure, Draw, Length, Manner, OralChoice, Place, Way, disclosure};
use bedplate::domain::outcome::Notch;
use bedplate::present::kinds::figure::FigureMarkedView;
use bedplate::present::kinds::why::WhyMarkedView;
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::stage::Marked;
use bedplate::present::stage::Stage;
use bedplate::present::{OralView, View, WatchCardView};

use crate::support::bundled;
use crate::support::home::{oral, started};

fn cards() -> &'static HashMap<CardKey, Card> {
    static CARDS: OnceLock<HashMap<CardKey, Card>> = OnceLock::new();
    CARDS.get_or_init(|| bundled::cards().into_iter().map(|card| (card.key.clone(), card)).collect())
}

fn watch_card(app: &mut App) -> WatchCardView {
    match &app.view().view {
        View::WatchCard(card) => (**card).clone(),
        view => panic!("no card: {view:?}"),
    }
}

fn source(card: &WatchCardView) -> String {
    card.block.rows.iter().find(|row| row.label == "Source").expect("a title block").value.clone()
}

/// Something wrong for each kind of card.
fn wrong(card: &Card) -> Given {
    match &card.body {
        Body::Recall(_) => Given::Text("I do not remember that at all".to_owned()),
        Body::Figure(figure) => Given::Text(format!("-77777 {}", figure.value.unit)),
        Body::Why(why) => Given::Links(vec![why.links.len()]),
        Body::Sequence(procedure) => Given::Steps(procedure.steps.iter().rev().map(|step| step.key.clone()).collect()),
        Body::Lineup(_) => Given::LinedUp(LinedUp::default()),
        Body::Working(_) => {
            Given::Worked(Worked { text: "1".to_owned(), lines: vec!["x = 1 + 1".to_owned()], ..Worked::default() })
        }
        body => {
            let pointing = body.as_kind().pointing().expect("a drawing to point at");
            let other = pointing.drawing.parts.iter().find(|part| part.id != pointing.part).expect("another part");
            Given::Pointed(Pointed::Part(other.id.clone()))
        }
    }
}

/// Words of the card that give its answer away once they stand somewhere: they must not stand in what is shown.
fn reveals(card: &Card) -> Vec<String> {
    let mut words: Vec<String> = card.because.iter().cloned().collect();
    match &card.body {
        Body::Figure(figure) => words.push(format!("expected: \"{}", figure.value_text)),
        Body::Sequence(procedure) => {
            words.extend(procedure.steps.iter().flat_map(|s| &s.faults).filter_map(|f| f.tell.clone()));
        }
        Body::Working(working) => words.extend(working.slips.iter().map(|slip| slip.tell.clone())),
        Body::Recall(recall) => words.extend(recall.points.iter().map(|point| point.say.clone())),
        _ => {}
    }
    words
}

/// Sits orals of such a draw until every kind of card has been asked, and looks at each question before and after.
fn every_kind(draw: Draw, mut look: impl FnMut(&mut App, &Card, &OralView, &OralView)) {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    let mut seen: Vec<Kind> = Vec::new();
    for seed in 0..60 {
        let length = Length::Questions(20);
        app.begin_oral(OralChoice { draw, manner: Manner::Steady, length, way: Way::Write }, Some(seed));
        app.settle();
        while let Some(before) = oral(&mut app) {
            let lead = before.asked == "Lead question";
            let key =
                CardKey::new(&before.card.key.deck.0, before.card.key.card.rsplit('/').next().unwrap_or_default());
            let card = cards().get(&key).filter(|_| lead);
            let Some(card) = card.filter(|card| !seen.contains(&card.kind())) else {
                app.handle(Command::Oral(OralCommand::NothingToSay));
                app.settle();
                continue;
            };
            app.handle(Command::Card(CardCommand::Submit(wrong(card))));
            app.settle();
            let after = oral(&mut app).expect("it is marked");
            assert!(after.card.stage.result().is_some(), "{}: {:?}", card.key, after.card.stage);
            look(&mut app, card, &before, &after);
            seen.push(card.kind());
            app.handle(Command::Card(CardCommand::Accept));
            app.settle();
        }
        app.handle(Command::Oral(OralCommand::BreakOff));
        app.settle();
        if seen.len() == Kind::ALL.len() {
            return;
        }
    }
    panic!("only {seen:?} were asked");
}

#[test]
fn a_mock_shows_nothing_of_what_was_right_before_the_debrief() {
    every_kind(Draw::Mock, |app, card, before, after| {
        let kind = card.kind();
        assert_eq!(source(&before.card), "Shown after the answer", "{kind:?}");
        assert_eq!(source(&after.card), "In the debrief", "{kind:?}");
        let result = after.card.stage.result().expect("marked");
        assert_eq!((result.because.as_ref(), result.up(), result.down()), (None, None, None), "{kind:?}");
        assert!(result.withheld && result.fixed, "{kind:?}");
        for view in [before, after] {
            let shown = format!("{:?}", view.card.stage);
            for words in reveals(card) {
                let plain = format!("{words:?}");
                assert!(!shown.contains(plain.trim_matches('"')), "{kind:?}, {}: {words}\n{shown}", card.key);
            }
        }
        match &after.card.stage {
            Stage::Marked(Marked { view: MarkedView::Why(WhyMarkedView { right, .. }), .. }) => {
                assert!(right.is_empty())
            }
            Stage::Marked(Marked { view: MarkedView::Figure(FigureMarkedView { expected, tell, .. }), .. }) => {
                assert_eq!((expected.as_str(), tell.as_ref()), ("told in the debrief", None));
            }
            Stage::Marked(Marked { view: MarkedView::Sequence(run), .. }) => {
                assert!(run.right_order.is_none() && !run.explain);
                assert!(!run.works(), "what went wrong is still said");
                let said: Vec<String> = run.failures.iter().map(|failure| failure.reason()).collect();
                assert!(
                    said.iter().all(|said| !said.contains("would give it") && !said.contains("gives it")),
                    "{said:?}"
                );
            }
            Stage::Marked(Marked { view: MarkedView::Lineup(checked), .. }) => {
                assert!(checked.right.is_none() && checked.demands.iter().all(|demand| demand.reason.is_empty()));
            }
            Stage::Marked(Marked { view: MarkedView::Working(view), .. }) => {
                assert!(view.expected.is_none() && view.method.is_none() && !view.may_try_again, "{view:?}");
            }
            _ => {}
        }
        // Nor does it come when it is asked for, by whatever key.
        for command in [
            Command::Card(CardCommand::ShowRightOrder),
            Command::Card(CardCommand::ShowRightSetting),
            Command::Card(CardCommand::ShowMethod),
            Command::Card(CardCommand::Explain),
            Command::Card(CardCommand::TryAgain),
            Command::Card(CardCommand::FreshFigures),
            Command::Card(CardCommand::CheckAgain(LinedUp::default())),
            Command::Card(CardCommand::RunAgain(Vec::new())),
            Command::Card(CardCommand::SetNotch(Notch::Up)),
        ] {
            app.handle(command.clone());
            app.settle();
            let now = oral(app).expect("the same question");
            assert_eq!(now.card.stage, after.card.stage, "{kind:?}: {command:?}");
        }
    });
}

#[test]
fn coaching_shows_what_was_right_but_not_a_reason_that_is_still_asked_for() {
    every_kind(Draw::Coaching, |app, card, before, after| {
        let kind = card.kind();
        assert_eq!(source(&before.card), "Shown after the answer", "{kind:?}");
        assert_ne!(source(&after.card), "Shown after the answer", "{kind:?}");
        let result = after.card.stage.result().expect("marked");
        assert!(!result.withheld && !result.fixed, "{kind:?}");
        // A second try on the same figures asks for it, too.
        let may_try_again = matches!(
            &after.card.stage,
            Stage::Marked(Marked { view: MarkedView::Working(view), .. }) if view.may_try_again
        );
        let wanted = card.because.clone().filter(|_| card.because_points.is_empty() && !may_try_again);
        assert_eq!(result.because, wanted, "{kind:?}, {}", card.key);
        if let Stage::Marked(Marked { view: MarkedView::Sequence(run), .. }) = &after.card.stage {
            let explains = run.explain;
            app.handle(Command::Card(CardCommand::ShowRightOrder));
            let now = oral(app).expect("the same question");
            assert!(
                matches!(&now.card.stage, Stage::Marked(Marked { view: MarkedView::Sequence(run), .. }) if run.right_order.is_some())
            );
            app.handle(Command::Card(CardCommand::Explain));
            let now = oral(app).expect("a question about the run");
            assert_eq!(matches!(&now.card.stage, Stage::Asked(AskedView::Why(_))), explains);
            assert_eq!(now.card.ask.ends_with("Give the causes in order, from the first to that."), explains);
        }
    });
}

/// Typed words are marked without what is missing, spoken ones from the key points; who hears them has these before.
#[test]
fn what_is_missing_is_told_to_whoever_marks() {
    assert_eq!(disclosure(Place::Watch, false), Disclosure::NOTHING);
    assert_eq!(disclosure(Place::Watch, true), Disclosure::ALL);
    for draw in [Draw::Mock, Draw::Coaching] {
        for (way, before, after) in [(Way::Write, false, false), (Way::Speak, false, true), (Way::Second, true, true)] {
            let told = |marked| disclosure(Place::Oral { draw, way, reason_due: true }, marked);
            assert_eq!((told(false).missing, told(true).missing), (before, after), "{draw:?}, {way:?}");
            assert_eq!(told(true).answer, draw == Draw::Coaching, "{draw:?}, {way:?}");
            assert_eq!(told(true).notch, draw == Draw::Coaching || way == Way::Second, "{draw:?}, {way:?}");
        }
    }
}

#[test]
fn in_a_watch_the_source_stands_on_the_sheet_once_the_card_is_marked() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    app.handle(Command::Watch(WatchCommand::Stand { shorter: false }));
    for _ in 0..4 {
        let before = watch_card(&mut app);
        let card = cards().get(&before.key).expect("a card of the decks");
        assert_eq!(source(&before), "Shown after the answer");
        let given = wrong(card);
        app.handle(Command::Card(CardCommand::Submit(given)));
        app.settle();
        let after = watch_card(&mut app);
        let shown = source(&after);
        assert!(shown.len() > 3 && shown != "Shown after the answer", "{shown}");
        let result = after.stage.result().expect("marked");
        assert!(!result.withheld && !result.fixed);
        app.handle(Command::Card(CardCommand::Accept));
        app.settle();
    }
}
