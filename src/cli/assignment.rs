//! `bedplate install` of an assignment: its decks and what the lecturer asks for.

use std::io::IsTerminal;
use std::path::Path;
use std::process::ExitCode;

use serde_json::json;

use super::install;
use super::out::{self, told};
use super::say::printable;
use super::times::date;
use crate::app::class::receiving::{Received, receive};
use crate::domain::taking_in::Wishes;
use crate::present::words;

/// Takes an assignment in and says what came of it.
pub(super) fn install(home: &Path, bytes: &[u8], wishes: Wishes, is_json: bool) -> ExitCode {
    let mut received = receive(home, bytes, wishes);
    let can_ask = !is_json && std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    // Each deck of somebody unknown is asked for; all are taken in, or none.
    let asked = received.decks.last().filter(|news| can_ask && news.wants_trust());
    if asked.is_some_and(install::says_yes) {
        received = receive(home, bytes, Wishes { trust: true, ..wishes });
    }
    let code = match &received.refused {
        None => 0,
        Some(refusal) if refusal.is_unreadable => 2,
        Some(_) => 1,
    };
    let printed = if is_json {
        out::all(format!("{:#}\n", as_json(&received)).as_bytes())
    } else if let Some(refusal) = &received.refused {
        told(&format!("refused ({}): {}", refusal.code, refusal.text));
        Ok(())
    } else {
        out::all(in_words(&received).as_bytes())
    };
    out::ended(printed, ExitCode::from(code))
}

fn as_json(received: &Received) -> serde_json::Value {
    let assignment = received.assignment.as_ref();
    json!({
        "assignment": assignment.map(|of| &of.id),
        "class": assignment.map(|of| &of.class.name),
        "by": assignment.and_then(|of| of.by).map(date),
        "minutes": assignment.and_then(|of| of.minutes),
        "cards": assignment.map(|of| of.cards.len()),
        "send_to": assignment.and_then(|of| of.send_to.as_ref()),
        "decks": received.decks.iter().map(install::json).collect::<Vec<_>>(),
        "refused": received.refused.as_ref().map(|refusal| json!({ "code": refusal.code, "text": refusal.text })),
    })
}

fn in_words(received: &Received) -> String {
    let mut text: String = received.decks.iter().map(install::text).collect();
    if let Some(assignment) = &received.assignment {
        let by = assignment.by.map_or_else(|| "without a date".to_owned(), |by| format!("due {}", words::day(by)));
        let minutes = assignment.minutes.map_or_else(String::new, |minutes| format!(", {minutes} minutes a day"));
        let send = assignment.send_to.as_ref().map_or_else(String::new, |to| format!(" Hand-ins go to: {to}"));
        text += &printable(&format!(
            "The assignment {} of the class {}: {}, {by}{minutes}. `bedplate hand-in` hands in to it.{send}\n",
            assignment.id,
            assignment.class.name,
            words::count(assignment.cards.len(), "card"),
        ));
    }
    text
}
