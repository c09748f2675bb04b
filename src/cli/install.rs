//! `bedplate install FILE`: takes a sealed deck in, or says why not; `--go-back DECK` brings the edition before back.
//!
//! Exit codes: 0 taken in, or there already; 1 refused; 2 the file, or the home, could not be read or written.

use std::io::{BufRead, IsTerminal, Read};
use std::path::Path;
use std::process::ExitCode;

use serde_json::{Value, json};

use super::assignment;
use super::out::{self, cannot, told};
use super::profile;
use super::say::{printable, wrapped};
use crate::app::class::envelope::{MOST_ASSIGNMENT, Sort, sort_of};
use crate::app::publish::file;
use crate::app::publish::going_back;
use crate::app::publish::news::{Done, News, Signature};
use crate::app::publish::taking_in::take_in;
use crate::deck::sealed::Refusal;
use crate::domain::editions::Update;
use crate::domain::taking_in::Wishes;
use crate::present::words;

/// Takes in the deck of a file.
pub(super) fn run(path: &Path, wishes: Wishes, is_json: bool) -> ExitCode {
    let home = match profile::home() {
        Ok(home) => home,
        Err(error) => return cannot(error),
    };
    // An assignment holds several decks.
    let bytes = match file::read_at_most(path, MOST_ASSIGNMENT as u64) {
        Ok(bytes) => bytes,
        Err(refusal) => return told_of(&News::refused(refusal), is_json),
    };
    match sort_of(&bytes) {
        Some(Sort::Assignment) => return assignment::install(&home, &bytes, wishes, is_json),
        Some(Sort::HandIn) => {
            let text = "this is a hand-in, no deck: a lecturer takes it in with `bedplate class add`";
            return told_of(&News::refused(Refusal::rule("hand-in", text)), is_json);
        }
        None => {}
    }
    let mut news = take_in(&home, &bytes, wishes, &mut |_| {});
    let can_ask = !is_json && std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    if news.wants_trust() && can_ask && says_yes(&news) {
        news = take_in(&home, &bytes, Wishes { trust: true, ..wishes }, &mut |_| {});
    }
    told_of(&news, is_json)
}

/// Brings the edition before back.
pub(super) fn go_back(deck: &str, is_json: bool) -> ExitCode {
    match profile::home() {
        Ok(home) => told_of(&going_back::go_back(&home, deck), is_json),
        Err(error) => cannot(error),
    }
}

/// Shows whose deck it is, and asks.
pub(super) fn says_yes(news: &News) -> bool {
    let publisher = news.publisher.as_deref().filter(|name| !name.is_empty()).unwrap_or("nobody by name");
    let title = news.title.as_deref().unwrap_or_default();
    let signed = match (&news.key, &news.key_number) {
        (Some(key), Some(number)) => format!("It is signed with the key number {number}:\n{key}"),
        _ => "It is not signed: anybody could have made it.".to_owned(),
    };
    let words = format!("{title}\nPublished by {publisher}. {signed}");
    let asked = out::line(format_args!("{}", wrapped(&words, 0)))
        .and_then(|()| out::all(b"Do you trust this, now and for later editions? y takes it in: "));
    if asked.is_err() {
        return false;
    }
    let mut line = String::new();
    let read = std::io::stdin().lock().take(100).read_line(&mut line);
    read.is_ok() && line.trim().eq_ignore_ascii_case("y")
}

fn told_of(news: &News, is_json: bool) -> ExitCode {
    let code = match &news.refused {
        None => 0,
        Some(refusal) if refusal.is_unreadable => 2,
        Some(_) => 1,
    };
    let printed = match (is_json, &news.refused) {
        (true, _) => out::all(format!("{:#}\n", json(news)).as_bytes()),
        (false, Some(refusal)) => {
            told(&format!("refused ({}): {}", refusal.code, refusal.text));
            Ok(())
        }
        (false, None) => out::all(text(news).as_bytes()),
    };
    out::ended(printed, ExitCode::from(code))
}

pub(super) fn json(news: &News) -> Value {
    let none = Vec::new();
    let ids = |of: fn(&Update) -> &Vec<String>| news.update.as_ref().map_or(&none, of).clone();
    let changed: Vec<&str> =
        news.update.iter().flat_map(|update| &update.changed).map(|changed| changed.id.as_str()).collect();
    let renamed: Vec<Value> = news
        .update
        .iter()
        .flat_map(|update| &update.renamed)
        .map(|renamed| json!({ "from": renamed.from, "to": renamed.to }))
        .collect();
    json!({
        "deck": news.deck,
        "title": news.title,
        "edition": news.edition,
        "was_edition": news.was_edition,
        "publisher": news.publisher,
        "signature": news.signature.unwrap_or(Signature::None).word(),
        "key": news.key,
        "new": ids(|update| &update.new),
        "changed": changed,
        "withdrawn": ids(|update| &update.withdrawn),
        "renamed": renamed,
        "same": news.update.as_ref().map_or(0, |update| update.same),
        "refused": news.refused.as_ref().map(|refusal| json!({ "code": refusal.code, "text": refusal.text })),
    })
}

pub(super) fn text(news: &News) -> String {
    let title = news.title.as_deref().unwrap_or_default();
    let edition = news.edition.unwrap_or_default();
    let mut text = match (news.done, news.was_edition) {
        (Done::AlreadyThere, _) => format!("{title}: edition {edition} is here already, with the same contents.\n"),
        (_, Some(was)) => format!("{title}: edition {edition} is in use now, in the place of edition {was}.\n"),
        (_, None) => format!("{title}: edition {edition} is in use now.\n"),
    };
    if let Some(update) = news.update.as_ref().filter(|_| news.done == Done::TakenIn) {
        text.push_str(&listed("New", &update.new));
        text.push_str(&listed("Changed", &update.changed.iter().map(|c| c.id.clone()).collect::<Vec<_>>()));
        text.push_str(&listed("Withdrawn", &update.withdrawn));
        let renamed = update.renamed.iter().map(|renamed| format!("{} (was {})", renamed.to, renamed.from));
        text.push_str(&listed("Renamed", &renamed.collect::<Vec<_>>()));
        if update.was_edition.is_some() {
            text.push_str(&format!("The same: {}.\n", words::count(update.same, "card")));
        }
    }
    printable(&text)
}

/// `New: 2 cards: a, b.`; nothing where there are none, and no more ids than can be looked through.
fn listed(what: &str, ids: &[String]) -> String {
    const MOST: usize = 20;
    if ids.is_empty() {
        return String::new();
    }
    let more = ids.len().saturating_sub(MOST);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    let shown = ids.iter().take(MOST).map(String::as_str).collect::<Vec<_>>().join(", ");
    wrapped(&format!("{what}: {}: {shown}{more}.", words::count(ids.len(), "card")), 0) + "\n"
}
