//! Follow-ups: exactly what was missed, or one level deeper, never deeper than three and never the same twice.

use super::draw::{Candidate, by_lot};
use super::probe::{self, Drafted, Lacking};
use super::setup::Manner;
use super::sitting::{Answered, Asked, Question, Sitting, Turn};
use super::verdict::recovered;
use super::what_if;
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::key_point::KeyPoint;
use crate::domain::random::SplitMix64;

/// The deepest follow-up.
const DEEPEST: u8 = 3;
/// Seconds for a follow-up.
const SECONDS: f64 = 75.0;

/// The next follow-up; none where the examiner goes on to something else. After the time is up, only what is
/// safety-critical and missing is still asked.
pub(super) fn follow_up(sitting: &Sitting, candidates: &[Candidate<'_>], time_up: bool) -> Option<Question> {
    let thread = sitting.thread();
    let lead = &thread.first()?.question.card;
    let card = candidates.iter().find(|c| c.card.key == *lead).map(|c| c.card);
    let first = sitting.turns.len() - thread.len();
    if let Some(question) = critical(sitting, first, card) {
        return Some(question);
    }
    let most = match sitting.setup.manner {
        Manner::Steady => 2,
        Manner::Pressing => 4,
    };
    if time_up || thread.len() > most {
        return None;
    }
    let at = sitting.turns.len().checked_sub(1)?;
    let turn = &sitting.turns[at];
    let answer = turn.answer.as_ref()?;
    let nothing = answer.ran_dry || answer.marks.iter().all(|mark| mark.earned <= 0.0);
    if nothing && sitting.setup.manner == Manner::Steady {
        return None;
    }
    if turn.question.asked.is_prompt()
        && let Some(before) = turn.question.about
    {
        // After a prompt the rest of the same answer comes first; a pressing examiner goes deeper when there is none.
        let go_deeper = answer.is_full() && sitting.setup.manner == Manner::Pressing;
        return missed(sitting, before, card).or_else(|| go_deeper.then(|| deeper(sitting, at, card)).flatten());
    }
    if answer.is_full() { deeper(sitting, at, card) } else { missed(sitting, at, card) }
}

/// A safety-critical point of the thread that is missing and has not been asked for.
fn critical(sitting: &Sitting, first: usize, card: Option<&Card>) -> Option<Question> {
    (first..sitting.turns.len()).find_map(|at| {
        let turn = &sitting.turns[at];
        // A follow-up for a missing point is the prompt; there is no second one.
        if turn.question.asked.is_prompt() {
            return None;
        }
        let marks = &turn.answer.as_ref()?.marks;
        let wanted = still_missing(sitting, at).into_iter().filter(|point| marks[*point].critical);
        wanted.into_iter().find_map(|point| for_point(sitting, at, point, card, 1))
    })
}

/// The first point that is missing in a turn's answer and has not been asked for.
fn missed(sitting: &Sitting, at: usize, card: Option<&Card>) -> Option<Question> {
    if sitting.turns[at].question.asked.is_prompt() {
        return None;
    }
    let most = if sitting.setup.manner == Manner::Pressing { 2 } else { 1 };
    still_missing(sitting, at).into_iter().find_map(|point| for_point(sitting, at, point, card, most))
}

/// Positions (from 0) of a turn's points that are missing and have not come after a prompt, the safety-critical first.
fn still_missing(sitting: &Sitting, at: usize) -> Vec<usize> {
    let missing = sitting.turns[at].answer.as_ref().map(Answered::missing).unwrap_or_default();
    missing.into_iter().filter(|point| !recovered(sitting, at, *point)).collect()
}

/// A question for one missing point (from 0) of a turn's answer: the deck's own probe, the model's "what if" about it,
/// or "What else?" for all that is missing, asked `most` times.
fn for_point(sitting: &Sitting, at: usize, point: usize, card: Option<&Card>, most: usize) -> Option<Question> {
    let turn = &sitting.turns[at];
    let of_lead = card.filter(|_| turn.question.asked == Asked::Lead);
    if let Some(own) = of_lead.and_then(|card| probe::after_missed(card, point + 1)) {
        return question(sitting, at, Asked::Missed(point + 1), own);
    }
    let say = &turn.answer.as_ref()?.marks[point].say;
    let what_ifs = of_lead.map(|card| what_if::about(card, say)).unwrap_or_default();
    if !what_ifs.is_empty() {
        let one = by_lot(what_ifs.iter().map(|_| 1.0), &mut lot(sitting))?;
        return question(sitting, at, Asked::Missed(point + 1), what_ifs.into_iter().nth(one)?);
    }
    what_else(sitting, at, card, most)
}

/// "What else?", for all that is still missing in a turn's answer. Not where it would be no fair question: what is set
/// or worked has no more to be said, whoever has seen the points knows them, and where nothing at all came it helps
/// only with what is safety-critical.
fn what_else(sitting: &Sitting, at: usize, card: Option<&Card>, most: usize) -> Option<Question> {
    let turn = &sitting.turns[at];
    let answer = turn.answer.as_ref()?;
    let is_lead = turn.question.asked == Asked::Lead;
    let key_points = card.filter(|_| is_lead).and_then(Card::key_points);
    let said_aloud = matches!(answer.given, Some(Given::Said(_)));
    if answer.saw_the_points() || (is_lead && key_points.is_none() && !said_aloud) {
        return None;
    }
    let missing = still_missing(sitting, at);
    let lacking = Lacking {
        all: answer.marks.iter().all(|mark| mark.earned <= 0.0),
        critical: missing.iter().any(|point| answer.marks[*point].critical),
    };
    if lacking.all && !lacking.critical && (answer.ran_dry || !is_lead) {
        return None;
    }
    let before = sitting.turns.iter().filter(|turn| turn.question.about == Some(at));
    let before: Vec<&Turn> = before.filter(|turn| turn.question.asked == Asked::WhatElse).collect();
    let helped = |turn: &&Turn| turn.answer.as_ref().is_some_and(|a| a.marks.iter().any(|mark| mark.earned > 0.0));
    if before.len() >= most || before.last().is_some_and(|turn| !helped(turn)) {
        return None;
    }
    let wanted = |point: &usize| {
        let mark = &answer.marks[*point];
        let asked = turn.question.points.get(*point).or_else(|| key_points?.get(*point));
        asked.cloned().unwrap_or_else(|| KeyPoint::plain(mark.say.clone(), mark.critical))
    };
    let points: Vec<KeyPoint> = missing.iter().map(wanted).collect();
    let sentence = lot(sitting).position(6);
    question(sitting, at, Asked::WhatElse, probe::what_else(before.len() + 1, lacking, points, sentence))
}

/// The lot of follow-ups at this turn.
fn lot(sitting: &Sitting) -> SplitMix64 {
    SplitMix64::of_turn(sitting.setup.seed ^ 0x5EED, sitting.turns.len())
}

/// One level deeper after a full answer: the deck's probe for it or the model's "what if", and where there is neither,
/// the reason, if the deck says what it must contain.
fn deeper(sitting: &Sitting, at: usize, card: Option<&Card>) -> Option<Question> {
    let card = card?;
    let turn = &sitting.turns[at];
    let fresh = |drafted: &Drafted| {
        !is_asked(sitting, &id(turn, &drafted.id)) && !is_asked(sitting, &format!("{}#{}", card.key, drafted.id))
    };
    let said = |point: usize| turn.question.asked == Asked::Lead && point >= 1;
    let probe = probe::after_answer(card, said).into_iter().find(fresh);
    let mut lot = lot(sitting);
    // After a question of the deck's the model has its turn; before one it is an even chance.
    let model_first = turn.question.asked == Asked::Deeper || by_lot([1.0, 1.0].into_iter(), &mut lot) == Some(0);
    if model_first || probe.is_none() {
        let what_ifs: Vec<Drafted> = what_if::all(card).into_iter().filter(fresh).collect();
        if let Some(at_random) = by_lot(what_ifs.iter().map(|_| 1.0), &mut lot) {
            return question(sitting, at, Asked::WhatIf, what_ifs.into_iter().nth(at_random)?);
        }
    }
    let drafted = probe.or_else(|| probe::reason(card).filter(fresh))?;
    question(sitting, at, Asked::Deeper, drafted)
}

fn question(sitting: &Sitting, at: usize, asked: Asked, drafted: Drafted) -> Option<Question> {
    let turn = &sitting.turns[at];
    let depth = turn.question.depth + 1;
    // What is about the card is named after the card, so that it is not asked again at another depth.
    let id = if asked.is_prompt() { id(turn, &drafted.id) } else { format!("{}#{}", turn.question.card, drafted.id) };
    // What was asked of one card in these very words is not asked again of another; the fixed sentences are.
    let fixed = asked == Asked::WhatElse || drafted.id == probe::REASON;
    let said = || sitting.turns.iter().any(|turn| turn.question.ask == drafted.ask);
    if depth > DEEPEST || is_asked(sitting, &id) || (!fixed && said()) {
        return None;
    }
    Some(Question {
        id,
        card: turn.question.card.clone(),
        competence: turn.question.competence.clone(),
        depth,
        asked,
        about: Some(at),
        lead_in: drafted.lead_in,
        ask: drafted.ask,
        points: drafted.points,
        sources: turn.question.sources.clone(),
        limit_seconds: sitting.setup.manner.seconds(SECONDS),
    })
}

fn id(turn: &Turn, part: &str) -> String {
    format!("{}#{part}", turn.question.id)
}

fn is_asked(sitting: &Sitting, id: &str) -> bool {
    sitting.turns.iter().any(|turn| turn.question.id == id)
}
