//! Sittings sat by a test without the program around them. An answer goes the way that a learner's goes: the question is
//! laid on its sheet, answered there, marked, and made a turn.

use bedplate::app::sitting::AskedNow;
use bedplate::domain::answer::{Given, Pointed, Worked};
use bedplate::domain::card::Card;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::Instant;
use bedplate::domain::kinds::Body;
use bedplate::domain::oral::{
    Blueprint, Candidate, Draw, Length, Manner, Next, Question, Setup, Sitting, Turn, Way, next,
};

/// What comes to a question.
pub enum What {
    /// Typed or set.
    Given(Given),
    /// Said aloud, and these points (from 1) ticked.
    Said(Vec<usize>),
    /// "I don’t know."
    Nothing,
}

/// A mock of so many lead questions by a steady examiner, for the watch certificate.
pub fn mock(seed: u64, leads: usize) -> Setup {
    let blueprint = Blueprint { length: Length::Questions(leads), ..Blueprint::standard(Certificate::Watch) };
    Setup { blueprint, draw: Draw::Mock, manner: Manner::Steady, seed, recent: Vec::new() }
}

/// A question on its sheet since the instant 0.
pub fn asked(way: Way, question: Question, lead: &Card) -> AskedNow {
    AskedNow::of(way, question, lead, (Instant(0), 1), |n| (1..=n).collect())
}

/// The turn that an answer makes which took so many seconds.
pub fn answer(mut asked: AskedNow, what: What, seconds: i64) -> Turn {
    let now = Instant(1_000 * seconds);
    match what {
        What::Nothing => return asked.ran_dry(now, None),
        What::Given(given) => asked.sheet.submit(&asked.card, given, now).expect("an answer of the right form"),
        What::Said(points) => {
            let tick = |asked: &mut AskedNow| {
                points.iter().for_each(|point| asked.tick(*point).expect("a point that exists"));
            };
            // A second person ticks what is heard, a learner what stands on the sheet afterwards.
            let heard = asked.way == Way::Second;
            if heard {
                tick(&mut asked);
            }
            asked.finish_speaking(now).expect("key points");
            if !heard {
                tick(&mut asked);
            }
        }
    }
    asked.turn(None).expect("it is marked")
}

/// Sits an oral to its end; `say` gives what comes to each question in 30 seconds.
pub fn sit(setup: Setup, candidates: &[Candidate<'_>], way: Way, mut say: impl FnMut(&AskedNow) -> What) -> Sitting {
    let mut sitting = Sitting::begin(setup);
    for _ in 0..1_000 {
        let Next::Ask(question) = next(&sitting, candidates) else { return sitting };
        let lead = candidates.iter().find(|c| c.card.key == question.card).expect("its card").card;
        let asked = asked(way, *question, lead);
        let what = say(&asked);
        sitting.turns.push(answer(asked, what, 30));
    }
    panic!("the sitting does not end");
}

/// Everything that is asked for: all points, the right figure, the right part.
pub fn all_of(asked: &AskedNow) -> What {
    match &asked.card.body {
        Body::Recall(recall) => What::Said((1..=recall.points.len()).collect()),
        Body::Working(_) => {
            let model = asked.sheet.work.as_ref().and_then(|work| work.front().model(&asked.card));
            let text = model.expect("a method that works").answer;
            What::Given(Given::Worked(Worked { text, ..Worked::default() }))
        }
        Body::Point(pointing) => What::Given(Given::Pointed(Pointed::Part(pointing.part.clone()))),
        body => panic!("nothing to say aloud: {body:?}"),
    }
}

/// Some of what is asked for: the points that `holds` gives, or a wrong figure or part.
pub fn some_of(asked: &AskedNow, mut holds: impl FnMut() -> bool) -> What {
    match &asked.card.body {
        Body::Recall(recall) => What::Said((1..=recall.points.len()).filter(|_| holds()).collect()),
        Body::Working(_) => What::Given(Given::Worked(Worked { text: "0".to_owned(), ..Worked::default() })),
        Body::Point(_) => What::Given(Given::Pointed(Pointed::At([0.0, 0.0]))),
        body => panic!("nothing to say aloud: {body:?}"),
    }
}
