//! A hand-in or an assignment, shown.

use serde_json::json;

use super::shown::Shown;
use crate::app::class::envelope::{FileFault, Sort, read_assignment, read_hand_in, sort_of};
use crate::app::class::receiving::refusal_of;
use crate::cli::times::{date, time};
use crate::domain::roster::{Assignment, HandIn};
use crate::present::words;

/// Whether these bytes mean to be a hand-in.
pub(super) fn is_hand_in(bytes: &[u8]) -> bool {
    sort_of(bytes) == Some(Sort::HandIn)
}

/// Whether these bytes mean to be an assignment.
pub(super) fn is_assignment(bytes: &[u8]) -> bool {
    sort_of(bytes) == Some(Sort::Assignment)
}

fn refused(kind: &str, fault: &FileFault) -> Shown {
    let refusal = refusal_of(fault);
    let json = json!({ "kind": kind, "refused": { "code": refusal.code, "text": refusal.text } });
    Shown { rows: Vec::new(), json, refused: Some(refusal) }
}

/// What a hand-in holds.
pub(super) fn show_hand_in(bytes: &[u8]) -> Shown {
    let HandIn { assignment, name, learner, made, with_answers, attempts, orals, faults } = match read_hand_in(bytes) {
        Ok(hand_in) => hand_in,
        Err(fault) => return refused("hand-in", &fault),
    };
    let span = attempts.first().zip(attempts.last()).map(|(first, last)| (time(first.at), time(last.at)));
    let when = span.as_ref().map_or_else(String::new, |(first, last)| format!(", {first} to {last}"));
    let orals = orals.map(|orals| orals.len());
    let rows = vec![
        ("Hand-in", format!("for the class {}", assignment.class.name)),
        ("Assignment", assignment.id.clone()),
        ("Name", name.clone()),
        ("Learner", learner.clone()),
        ("Made", time(made)),
        ("Attempts", format!("{}{when}", attempts.len())),
        ("Answers", if with_answers { "what was typed and set is in it" } else { "none" }.to_owned()),
        ("Orals", orals.map_or_else(|| "none".to_owned(), |count| count.to_string())),
        ("Faults", faults.len().to_string()),
    ];
    let json = json!({
        "kind": "hand-in", "class": assignment.class.name, "assignment": assignment.id, "name": name,
        "learner": learner, "made": time(made), "attempts": attempts.len(),
        "first": span.as_ref().map(|(first, _)| first), "last": span.as_ref().map(|(_, last)| last),
        "answers": with_answers, "orals": orals, "faults": faults.len(), "refused": null,
    });
    Shown { rows, json, refused: None }
}

/// What an assignment holds.
pub(super) fn show_assignment(bytes: &[u8]) -> Shown {
    let (assignment, _) = match read_assignment(bytes) {
        Ok(read) => read,
        Err(fault) => return refused("assignment", &fault),
    };
    let Assignment { id, class, made, by, minutes, blueprint, send_to, decks, cards } = assignment;
    let listed: Vec<String> = decks.iter().map(|deck| format!("{}, edition {}", deck.title, deck.edition)).collect();
    let none = || "none".to_owned();
    let rows = vec![
        ("Assignment", id.clone()),
        ("Class", class.name.clone()),
        ("Made", time(made)),
        ("Due", by.map_or_else(none, words::day)),
        ("Minutes", minutes.map_or_else(none, |minutes| format!("{minutes} a day"))),
        ("Decks", listed.join("; ")),
        ("Cards", cards.len().to_string()),
        ("Blueprint", if blueprint.is_some() { "in it" } else { "none" }.to_owned()),
        ("Send to", send_to.clone().unwrap_or_else(none)),
    ];
    let listed: Vec<_> =
        decks.iter().map(|deck| json!({ "deck": deck.id, "title": deck.title, "edition": deck.edition })).collect();
    let json = json!({
        "kind": "assignment", "assignment": id, "class": class.name, "made": time(made), "by": by.map(date),
        "minutes": minutes, "decks": listed, "cards": cards.len(), "blueprint": blueprint.is_some(),
        "send_to": send_to, "answers": false, "refused": null,
    });
    Shown { rows, json, refused: None }
}
