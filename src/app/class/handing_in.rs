//! What a learner hands in: only what is on the assignment's cards, and of that only what the learner has ticked.

use std::collections::HashSet;

use crate::app::class::envelope::digest;
use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::domain::answer::{Answer, Given};
use crate::domain::attempt::Attempt;
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::marking::{SlipKind, mark};
use crate::domain::oral::verdict;
use crate::domain::roster::{Assignment, HandIn, HandedAttempt, HandedFault, HandedFunction, HandedOral, HandedSlip};
use crate::store::{KeptEvent, KeptSitting, ListedAttempt, Store, StoreError, ids};

/// What the learner has ticked.
#[derive(Debug, Clone, Default)]
pub struct Ticked {
    /// The name or code; none for the learner's own, or a code where they have given none.
    pub name: Option<String>,
    /// What was typed and set.
    pub answers: bool,
    /// What mock orals came to.
    pub orals: bool,
}

/// The kind of event that holds a profile's secret for classes: what the learner's ids are made from, so that each class
/// sees another. Of several, from computers brought together, the earliest holds.
const SECRET: &str = "class-secret";
/// So many attempts are read at a time.
const PAGE: usize = 1_000;

/// Makes the hand-in for an assignment.
///
/// # Errors
/// Where the profile cannot be read, or is open elsewhere before its first hand-in.
pub fn make(
    store: &Store,
    learner: &Learner,
    shelf: &Shelf,
    assignment: &Assignment,
    ticked: &Ticked,
    now: Instant,
) -> Result<HandIn, StoreError> {
    let id = learner_id(store, &assignment.class.id, now)?;
    let cards: HashSet<&CardKey> = assignment.cards.iter().map(|card| &card.card).collect();
    let mut attempts = Vec::new();
    let mut after = None;
    loop {
        let page = store.list_attempts(after.clone(), PAGE).wait()?;
        let Some(last) = page.last() else { break };
        after = Some(last.attempt.id.clone());
        // What was answered under a key that a card had before is handed in under the one that it has.
        let heirs = page.into_iter().map(|listed| {
            let card = learner.editions.lineage.heir(listed.attempt.card.clone());
            ListedAttempt { attempt: Attempt { card, ..listed.attempt }, ..listed }
        });
        let of = heirs.filter(|listed| cards.contains(&listed.attempt.card));
        attempts.extend(of.map(|listed| handed(&listed, shelf, ticked.answers)));
    }
    let faults = learner.faults.iter().filter(|fault| cards.contains(&fault.card));
    let faults =
        faults.map(|fault| HandedFault { card: fault.card.clone(), at: fault.at, note: fault.note.clone() }).collect();
    let named = ticked.name.as_deref().unwrap_or(&learner.settings.learner).trim();
    let code = || format!("learner {}", id.chars().take(6).collect::<String>());
    Ok(HandIn {
        assignment: assignment.without_words(),
        name: if named.is_empty() { code() } else { named.to_owned() },
        learner: id,
        made: now,
        with_answers: ticked.answers,
        attempts,
        orals: ticked.orals.then(|| learner.sittings.iter().filter_map(oral).collect()),
        faults,
    })
}

/// The learner's id for one class: a digest of the profile's secret and the class's id, so that neither the profile nor what
/// another class sees can be told from it.
fn learner_id(store: &Store, class: &str, now: Instant) -> Result<String, StoreError> {
    let earliest = |events: Vec<KeptEvent>| events.into_iter().min_by(|a, b| (a.at, &a.json).cmp(&(b.at, &b.json)));
    let secret = match earliest(store.events(SECRET).wait()?) {
        Some(event) => event.json,
        None => {
            // Two ids, each with more than sixty random bits.
            let secret = format!("\"{}{}\"", ids::new_attempt_id(now).0, ids::new_attempt_id(now).0);
            store.add_event(SECRET, KeptEvent { at: now, json: secret.clone() }).wait()?;
            secret
        }
    };
    let whole = digest(format!("bedplate class learner\n{secret}\n{class}\n").as_bytes());
    Ok(whole.chars().take(32).collect())
}

fn handed(listed: &ListedAttempt, shelf: &Shelf, with_answers: bool) -> HandedAttempt {
    let (denied, slip) = told(&listed.attempt, shelf);
    let handed = HandedAttempt::of(&listed.attempt, listed.voided, denied, slip);
    let answer = with_answers.then(|| listed.attempt.evidence.given.clone());
    HandedAttempt { answer, ..handed }
}

/// What marking the answer once more tells of mistakes: points of which it says the opposite, and the known slip. Nothing
/// where the card is of another edition now. No words of the answer come out of it.
fn told(attempt: &Attempt, shelf: &Shelf) -> (Vec<usize>, Option<HandedSlip>) {
    let nothing = (Vec::new(), None);
    let evidence = &attempt.evidence;
    if !matches!(evidence.given, Given::Text(_) | Given::Worked(_)) {
        return nothing;
    }
    let Some((_, card)) = shelf.card(&attempt.card).filter(|(deck, _)| deck.edition == evidence.edition) else {
        return nothing;
    };
    let answer = Answer { given: evidence.given.clone(), seconds: Some(attempt.seconds) };
    let Ok(marking) = mark(card, &answer) else { return nothing };
    let points = marking.detail.points().unwrap_or_default().iter().enumerate();
    let denied = points.filter(|(_, mark)| mark.contradicted).map(|(at, _)| at + 1);
    let denied = denied.filter(|point| evidence.points_missed.contains(point)).collect();
    let slip = marking.detail.slip().map(|slip| HandedSlip {
        kind: slip.kind.word().to_owned(),
        tell: (slip.kind == SlipKind::Deck).then(|| slip.tell.clone()),
    });
    (denied, slip)
}

/// What a sitting came to; none while it is not over.
fn oral(kept: &KeptSitting) -> Option<HandedOral> {
    kept.ended?;
    let verdict = verdict(&kept.sitting);
    let function = |mark: &crate::domain::oral::FunctionMark| HandedFunction {
        function: mark.function.clone(),
        share: mark.share().clamp(0.0, 1.0),
    };
    Some(HandedOral {
        id: kept.id.clone(),
        at: kept.at,
        share: verdict.share().clamp(0.0, 1.0),
        passed: verdict.passes,
        questions: kept.sitting.leads().filter(|turn| turn.answer.is_some()).count(),
        functions: verdict.functions.iter().map(function).collect(),
    })
}
