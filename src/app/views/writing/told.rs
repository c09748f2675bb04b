//! How an answer was marked, point by point, with the words that each reader found.

use std::ops::Range;

use crate::app::views::kinds;
use crate::app::writing::Trial;
use crate::domain::answer::Given;
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::text::{Finding, find};
use crate::domain::marking::{PointMark, to_read};
use crate::domain::outcome::Outcome;
use crate::present::writing::{Found, ToldPoint, Wanted, WriteToldView};

/// How the answer on the sheet was marked; nothing of it where it is not marked.
pub fn told(trial: &Trial) -> WriteToldView {
    let card = &trial.card;
    let Some((answer, marking)) = trial.marked() else { return nothing(&card.ask) };
    let wanted = trial.wanted.clone().unwrap_or_default();
    let typed = to_read(card, &answer.given);
    let found = typed.map(|(points, words)| (find(&card.ask, points, words), words));
    let marks = marking.detail.points().unwrap_or_default();
    let points = card.key_points().unwrap_or_default().iter().zip(marks).enumerate();
    let point = |(at, (point, mark)): (usize, (&KeyPoint, &PointMark))| ToldPoint {
        number: at + 1,
        text: point.say.clone(),
        critical: point.critical,
        found: found_of(mark),
        ground: found.as_ref().map(|(all, words)| ground(trial, at, mark, all.get(at), words)).unwrap_or_default(),
        wanted: match (wanted.says.contains(&(at + 1)), wanted.denies.contains(&(at + 1))) {
            (true, _) => Wanted::Said,
            (_, true) => Wanted::Denied,
            _ => Wanted::Open,
        },
    };
    WriteToldView {
        ask: kinds::blank(card),
        answer: kinds::given_words(card, &answer.given),
        outcome: marking.outcome,
        reason: marking.reason.clone(),
        points: points.map(point).collect(),
        readers: readers(trial, &answer.given, typed.is_some()).to_owned(),
        outcome_wanted: wanted.outcome,
        otherwise: trial.otherwise(),
        may_keep: !wanted.is_empty() && trial.place.is_some(),
    }
}

fn nothing(ask: &str) -> WriteToldView {
    WriteToldView {
        ask: ask.to_owned(),
        answer: String::new(),
        outcome: Outcome::Missed,
        reason: String::new(),
        points: Vec::new(),
        readers: String::new(),
        outcome_wanted: None,
        otherwise: String::new(),
        may_keep: false,
    }
}

fn readers(trial: &Trial, given: &Given, typed: bool) -> &'static str {
    match (typed, trial.reading.is_some(), given) {
        (true, true, _) => "Read by the matcher of words and by the trained reader, joined by the rule.",
        (true, false, _) => "Read by the matcher of words alone; the trained reader is off or not there.",
        (false, _, Given::Said(_)) => "Ticked by hand; no words were read.",
        (false, ..) => "Marked by the card’s own rule.",
    }
}

fn found_of(mark: &PointMark) -> Found {
    match (mark.said, mark.contradicted, mark.unsure) {
        (true, ..) => Found::Said,
        (_, true, _) => Found::Denied,
        (_, _, true) => Found::NotSure,
        _ => Found::NotSaid,
    }
}

/// What each reader found, in sentences.
fn ground(trial: &Trial, at: usize, mark: &PointMark, matched: Option<&Finding>, words: &str) -> Vec<String> {
    let mut ground = Vec::new();
    if let Some(matched) = matched {
        let found = match (matched.said, matched.contradicted) {
            (_, true) => "contradicted",
            (true, false) => "said",
            (false, false) => "not found",
        };
        ground.push(format!("Matcher: {found}{}.", quote(words, matched.evidence.as_ref())));
    }
    if let Some(read) = trial.reading.as_ref().and_then(|reading| reading.points.get(at)) {
        let of = |share: f64| format!("{:.0} %", share * 100.0);
        let looked = quote(words, read.evidence.as_ref());
        ground.push(format!("Reader: said {}, denied {}{looked}.", of(read.said.share()), of(read.denied.share())));
    }
    if let Some(scores) = mark.scores {
        let of = |thousandths: u16| format!("{:.0} %", f64::from(thousandths) / 10.0);
        ground.push(format!("Both by the rule: said {}, denied {}.", of(scores.said), of(scores.denied)));
    }
    ground
}

fn quote(words: &str, span: Option<&Range<usize>>) -> String {
    span.and_then(|span| words.get(span.clone())).map_or_else(String::new, |found| format!(", in “{}”", found.trim()))
}
