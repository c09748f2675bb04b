//! `bedplate class show`: the class as text, or as JSON.

use std::process::ExitCode;

use serde_json::{Value, json};

use super::open::{Worked, title, worked};
use crate::cli::out;
use crate::cli::say::printable;
use crate::cli::times::time;
use crate::domain::roster::{Figure, HandedOral};
use crate::present::class::{ClassSeen, document, point_words};
use crate::present::document::markdown;

/// Prints a class.
pub(super) fn run(of: &super::of::Of, is_json: bool) -> Result<ExitCode, ExitCode> {
    let worked = worked(of)?;
    if is_json {
        out::line(format_args!("{:#}", as_json(&worked)))?;
    } else {
        let seen = ClassSeen { record: &worked.record, figures: &worked.figures, now: worked.now, title: &title };
        out::all(printable(&markdown(&document(seen))).as_bytes())?;
    }
    Ok(ExitCode::SUCCESS)
}

fn as_json(worked: &Worked) -> Value {
    let Worked { record, figures, .. } = worked;
    let or_null = |figure: Figure| figure.ok();
    let cards = &figures.cards;
    let learners = record.learners.iter().zip(&figures.learners).map(|(learner, of)| {
        json!({
            "name": learner.name, "met": of.met, "assigned": cards.len(), "first_right": of.first_right,
            "recall": of.recall, "last": time(learner.last),
            "orals": learner.orals.iter().map(oral).collect::<Vec<_>>(),
        })
    });
    let items = cards.iter().zip(&figures.items).map(|(card, of)| {
        let points = of.points.iter().map(|p| json!({ "point": p.point, "n": p.n, "said": p.said }));
        json!({
            "card": card.card, "n": of.item.n, "facility": or_null(of.item.facility),
            "discrimination": or_null(of.item.discrimination), "points": points.collect::<Vec<_>>(),
            "suspect": of.suspects.iter().map(|code| code.code()).collect::<Vec<_>>(),
        })
    });
    let areas = figures.areas.iter().map(
        |area| json!({ "topic": area.topic, "heading": area.heading, "n": area.n, "first_right": area.first_right() }),
    );
    let lesson = figures.lesson.iter().map(|part| {
        let opening = part.cards.iter().map(|at| cards[*at].card.to_string());
        let points = part.points.iter().map(|(at, point)| point_words(&cards[*at], point.point));
        json!({
            "heading": part.heading.clone().unwrap_or_else(|| title(&part.topic)), "gain": part.gain,
            "minutes": part.minutes, "cards": opening.collect::<Vec<_>>(), "points": points.collect::<Vec<_>>(),
        })
    });
    let found = figures.reliability;
    json!({
        "class": record.class.name,
        "learners": learners.collect::<Vec<_>>(),
        "items": items.collect::<Vec<_>>(),
        "reliability": {
            "alpha": or_null(found.alpha), "se": or_null(found.se), "low": or_null(found.low),
            "high": or_null(found.high), "sem": or_null(found.sem), "learners": found.learners, "items": found.items,
        },
        "areas": areas.collect::<Vec<_>>(),
        "lesson": lesson.collect::<Vec<_>>(),
    })
}

fn oral(oral: &HandedOral) -> Value {
    let functions = oral.functions.iter().map(|of| json!({ "function": of.function, "share": of.share }));
    json!({
        "at": time(oral.at), "share": oral.share, "passed": oral.passed, "questions": oral.questions,
        "functions": functions.collect::<Vec<_>>(),
    })
}
