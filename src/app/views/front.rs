//! The front page of a watch.

use std::collections::BTreeMap;

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::{Shelf, area_name};
use crate::app::sheet::Session;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::english;
use crate::domain::ids::CardKey;
use crate::domain::memory::order::{Order, Reason};
use crate::domain::memory::pace::Pace;
use crate::domain::readiness::{Stand, areas};
use crate::present::watch::{BarPart, BarView, FrontState, WeakArea};
use crate::present::{TitleBlock, WatchFrontView, words};

/// At most so many parts stand in the bar; the rest is one part of its own.
const BAR_PARTS: usize = 6;
const WEAK_AREAS: usize = 3;

/// The front page, with the watch that would be stood.
pub fn front(learner: &Learner, shelf: &Shelf, session: Option<&Session>, now: Instant) -> WatchFrontView {
    let day = learner.day(now);
    let going_on = session.filter(|s| s.watch.left() > 0);
    let order = learner.order(shelf, day, learner.budget(day));
    let keys: Vec<CardKey> = match going_on {
        Some(session) => session.watch.coming().cloned().collect(),
        None => order.items.iter().map(|i| i.key.clone()).collect(),
    };
    let states = learner.states(shelf, day, day);
    let below: Vec<(&str, Stand, f64)> = areas(&states)
        .into_iter()
        .filter_map(|area| area.stand.today.map(|recall| (area.heading, area.stand, recall)))
        .filter(|(_, _, recall)| *recall < learner.model.target())
        .take(WEAK_AREAS)
        .collect();
    let weak: Vec<&str> = below.iter().map(|(name, ..)| *name).collect();
    let done_today = learner.today.day == Some(day) && !learner.today.attempts.is_empty();
    let state = match () {
        () if going_on.is_some() => FrontState::GoOn,
        () if shelf.cards().next().is_none() => FrontState::NoDecks,
        () if !keys.is_empty() => FrontState::Ready,
        () if done_today => FrontState::Done,
        () => FrontState::NothingDue,
    };
    let pace = learner.pace(shelf);
    let minutes = minutes(&keys, shelf, &pace);
    let names = shelf.cards().map(|(d, _)| &d.id).collect::<std::collections::BTreeSet<_>>().len();
    let topics = keys
        .iter()
        .filter_map(|k| shelf.card(k))
        .map(|(_, c)| area_name(c))
        .collect::<std::collections::BTreeSet<_>>()
        .len();
    let clock = words::time_of_day(now, learner.settings.ship);
    let seen = learner.memory.keys().filter(|k| shelf.card(k).is_some()).count();
    WatchFrontView {
        date: words::day(day),
        headline: headline(state, keys.len(), minutes),
        sentence: sentence(learner, state, &order, day, shelf),
        state,
        bar: (!keys.is_empty()).then(|| bar(&keys, shelf, &weak, state)),
        weak: below
            .iter()
            .map(|(name, stand, recall)| WeakArea {
                name: (*name).to_owned(),
                recall: *recall,
                asked: stand.met,
                cards: stand.required,
                slipped: stand.missed,
                in_watch: in_area(&keys, shelf, name),
            })
            .collect(),
        target_percent: (learner.model.target() * 100.0).round() as u32,
        block: TitleBlock::of([
            ["For", words::named(&learner.settings.learner), "Seen", &format!("{seen} of {}", shelf.cards().count())],
            [
                "Made of",
                &format!(
                    "{}, {}",
                    english::capital(&words::count_in_words(names, "deck")),
                    words::count_in_words(topics, "topic")
                ),
                "Minutes",
                &format!("{} a day", learner.settings.minutes),
            ],
            [
                "Basis",
                &format!("Recall worked out today at {clock}"),
                "Target",
                &format!("{} %", (learner.model.target() * 100.0).round()),
            ],
        ]),
    }
}

fn headline(state: FrontState, cards: usize, minutes: u32) -> String {
    match state {
        FrontState::Ready | FrontState::GoOn => {
            let left = if state == FrontState::GoOn { " left" } else { "" };
            format!("{}{left}, about {}", words::count(cards, "card"), words::count(minutes as usize, "minute"))
        }
        FrontState::Done => "Today’s watch is stood".to_owned(),
        FrontState::NothingDue => "Nothing is due today".to_owned(),
        FrontState::NoDecks => "No deck can be studied yet".to_owned(),
    }
}

/// Where a deck goes, by name: the library names the folder only while it has no deck to list.
fn no_decks(shelf: &Shelf) -> String {
    match (&shelf.trouble, shelf.own_folder.as_os_str().is_empty()) {
        (Some(trouble), _) => trouble.clone(),
        (None, true) => "Put a deck’s folder into your folder of decks.".to_owned(),
        (None, false) => format!("Put a deck’s folder into {}", shelf.own_folder.display()),
    }
}

fn sentence(learner: &Learner, state: FrontState, order: &Order, day: StudyDay, shelf: &Shelf) -> String {
    match state {
        FrontState::GoOn => "The watch was broken off here; every accepted answer is kept.".to_owned(),
        FrontState::NoDecks => no_decks(shelf),
        FrontState::Done | FrontState::NothingDue => tomorrow(learner, shelf, day),
        FrontState::Ready => {
            let slipped = order.count(Reason::Slipped);
            let back = slipped + order.count(Reason::Due);
            let unseen = order.count(Reason::Unseen);
            let changed = order.count(Reason::Changed);
            let first = changed_words(changed);
            let mut text = match (back, unseen) {
                (0, 0) if changed > 0 => String::new(),
                _ if changed > 0 => rest_of(back, unseen),
                (0, n) => format!("{} not yet asked.", all_are(n)),
                (n, 0) => format!("{} back for recall.", all_come(n)),
                (b, u) => format!(
                    "{} {} back for recall, {} {} not yet asked.",
                    english::capital(&words::number(b)),
                    if b == 1 { "comes" } else { "come" },
                    words::number(u),
                    if u == 1 { "is" } else { "are" }
                ),
            };
            if !first.is_empty() {
                text = format!("{first} {text}").trim_end().to_owned();
            }
            if slipped > 0 {
                text.push_str(&format!(
                    " {} missed last time and {} first.",
                    english::capital(&format!(
                        "{} {}",
                        words::number(slipped),
                        if slipped == 1 { "was" } else { "were" }
                    )),
                    if slipped == 1 { "comes" } else { "come" }
                ));
            }
            if order.left_over > 0 {
                text.push_str(&format!(
                    " The minutes do not reach {} more that {} due.",
                    words::number(order.left_over),
                    if order.left_over == 1 { "is" } else { "are" }
                ));
            }
            text
        }
    }
}

/// Cards that an edition has changed, in a sentence; empty where there are none.
fn changed_words(n: usize) -> String {
    match n {
        0 => String::new(),
        1 => "One card is changed by a new edition and comes before all others.".to_owned(),
        n => format!(
            "{} cards are changed by a new edition and come before all others.",
            english::capital(&words::number(n))
        ),
    }
}

/// What comes after changed cards.
fn rest_of(back: usize, unseen: usize) -> String {
    match (back, unseen) {
        (0, u) => format!("Then {} that {} not yet asked.", words::count_in_words(u, "card"), is_or_are(u)),
        (b, 0) => format!("Then {} back for recall.", words::count_in_words(b, "card")),
        (b, u) => format!(
            "Then {} back for recall, and {} that {} not yet asked.",
            words::count_in_words(b, "card"),
            words::number(u),
            is_or_are(u)
        ),
    }
}

fn is_or_are(n: usize) -> &'static str {
    if n == 1 { "is" } else { "are" }
}

fn all_are(n: usize) -> &'static str {
    if n == 1 { "It is" } else { "All are" }
}

fn all_come(n: usize) -> &'static str {
    if n == 1 { "It comes" } else { "All come" }
}

/// What comes tomorrow, in a sentence.
pub fn tomorrow(learner: &Learner, shelf: &Shelf, day: StudyDay) -> String {
    let next = day.plus(1);
    let order = learner.order(shelf, next, f64::from(learner.settings.minutes) * 60.0);
    let back = order.count(Reason::Changed) + order.count(Reason::Slipped) + order.count(Reason::Due);
    let unseen = order.count(Reason::Unseen);
    match (back, unseen) {
        (0, 0) => "Nothing comes tomorrow.".to_owned(),
        (0, u) => format!("Tomorrow brings {}.", words::count_in_words(u, "new card")),
        (b, 0) => format!("{} tomorrow.", back_words(b)),
        (b, u) => format!("{} tomorrow, with {}.", back_words(b), words::count_in_words(u, "new card")),
    }
}

fn back_words(n: usize) -> String {
    format!("{} {} back", english::capital(&words::count_in_words(n, "card")), if n == 1 { "comes" } else { "come" })
}

fn minutes(keys: &[CardKey], shelf: &Shelf, pace: &Pace) -> u32 {
    let seconds: f64 = keys.iter().filter_map(|k| shelf.card(k)).map(|(_, c)| pace.seconds(c.kind())).sum();
    ((seconds / 60.0).round() as u32).max(1)
}

fn in_area(keys: &[CardKey], shelf: &Shelf, area: &str) -> usize {
    keys.iter().filter_map(|k| shelf.card(k)).filter(|(_, c)| area_name(c) == area).count()
}

fn bar(keys: &[CardKey], shelf: &Shelf, weak: &[&str], state: FrontState) -> BarView {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for (_, card) in keys.iter().filter_map(|k| shelf.card(k)) {
        *counts.entry(area_name(card)).or_default() += 1;
    }
    let is_weak = |name: &str| weak.contains(&name);
    let mut counts: Vec<(&str, usize)> = counts.into_iter().collect();
    counts.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(b.0)));
    let rest = if counts.len() > BAR_PARTS { counts.split_off(BAR_PARTS - 1) } else { Vec::new() };
    let mut parts: Vec<BarPart> = counts
        .into_iter()
        .map(|(name, count)| BarPart { label: name.to_owned(), count, weak: is_weak(name) })
        .collect();
    if !rest.is_empty() {
        parts.push(BarPart {
            label: format!("{} more topics", english::capital(&words::number(rest.len()))),
            count: rest.iter().map(|r| r.1).sum(),
            weak: rest.iter().any(|r| is_weak(r.0)),
        });
    }
    let whole = match state {
        FrontState::GoOn => format!("{} left", words::count(keys.len(), "card")),
        _ => format!("{} today", words::count(keys.len(), "card")),
    };
    BarView { whole, parts }
}
