//! What a sitting came to.

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::app::views::kinds;
use crate::app::views::oral::{asked_word, brief_function, came_to, ended_early, short_function, tone_of};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::day::StudyDay;
use crate::domain::english;
use crate::domain::ids::CardKey;
use crate::domain::oral::{
    Answered, Asked, Failing, MarkedBy, MissedPoint, Rules, Sitting, Turn, Verdict, debrief, is_of_reason,
};
use crate::present::debrief::{DebriefView, MarkRow, MissedRow, StudyRow, TurnKind, TurnView};
use crate::present::oral::{draw_word, manner_word};
use crate::present::words::plain;
use crate::present::{Labelled, TitleBlock, Tone, words};
use crate::store::KeptSitting;

/// So many cards at most are studied at once after a sitting.
const MOST_STUDIED: usize = 30;

/// The debrief of a sitting; `number` from 1.
pub fn view(learner: &Learner, shelf: &Shelf, (number, kept): (usize, &KeptSitting), today: StudyDay) -> DebriefView {
    let sitting = &kept.sitting;
    let debrief = debrief(sitting);
    let verdict = &debrief.verdict;
    let rules = sitting.setup.blueprint.rules;
    let day = kept.at.study_day(kept.ship);
    let (study, study_cards) = study(learner, shelf, &debrief.weak, today);
    let mut functions: Vec<MarkRow> = verdict
        .functions
        .iter()
        .map(|mark| MarkRow {
            name: short_function(&mark.function),
            share: mark.share(),
            line: rules.each_function,
            passes: mark.passes,
        })
        .collect();
    let overall = verdict.share();
    functions.push(MarkRow {
        name: "All together".to_owned(),
        share: overall,
        line: rules.overall,
        passes: overall + 1e-9 >= rules.overall,
    });
    let blueprint = &sitting.setup.blueprint;
    let certificate = format!("{}, {}", blueprint.certificate.title(), blueprint.certificate.regulation());
    let answered = sitting.turns.iter().filter(|turn| turn.answer.is_some()).count();
    let minutes = format!("{:.0} min", (debrief.seconds / 60.0).ceil());
    let marked = marked_by(sitting.turns.iter().filter_map(|turn| turn.answer.as_ref()));
    let turns = turns(shelf, sitting, &debrief.missed);
    let early = kept.early.then(|| ended_early(sitting));
    let about = format!("Debrief of sitting {number}, {}", words::day(day));
    DebriefView {
        id: kept.id.clone(),
        number,
        early: kept.early,
        about: early.as_ref().map_or_else(|| about.clone(), |early| format!("{about}; {early}")),
        headline: headline(verdict, rules, kept.early),
        sentence: sentence(verdict, rules),
        tone: match verdict.passes {
            _ if verdict.of <= 0.0 => Tone::Quiet,
            true => Tone::Good,
            false if !verdict.fatal().is_empty() => Tone::Bad,
            false => Tone::Weak,
        },
        functions,
        missed: missed(&turns),
        // A follow-up says little without what it follows.
        well: debrief
            .well
            .iter()
            .filter(|at| sitting.turns[**at].question.depth == 0)
            .map(|at| format!("{}  {}", turns[*at].number, turns[*at].ask_plain))
            .collect(),
        study,
        study_cards,
        turns,
        facts: vec![
            Labelled::of("Candidate", words::named(&learner.settings.learner).to_owned()),
            Labelled::of("Certificate", certificate.clone()),
            Labelled::of("Date", words::full_date(day)),
            Labelled::of(
                "Sitting",
                format!("{number}, {}, {}", draw_word(sitting.setup.draw), manner_word(sitting.setup.manner))
                    + &early.map_or_else(String::new, |early| format!(", {early}")),
            ),
            Labelled::of(
                "Questions",
                format!(
                    "{} and {}, {minutes}",
                    words::count(sitting.leads().count(), "lead question"),
                    words::count(answered.saturating_sub(sitting.leads().count()), "follow-up")
                ),
            ),
            Labelled::of("Marked", marked.clone()),
            Labelled::of("Over the time", words::count(debrief.over_time, "answer")),
        ],
        block: TitleBlock::of([
            ["For", words::named(&learner.settings.learner), "Sitting", &number.to_string()],
            ["Blueprint", &certificate, "Edition", &blueprint_edition(kept).to_string()],
            ["Marked", &marked, "Length", &minutes],
        ]),
    }
}

/// Every question with its answer, numbered: `3` for a lead question, `3a`, `3b` for its follow-ups.
fn turns(shelf: &Shelf, sitting: &Sitting, missed: &[MissedPoint]) -> Vec<TurnView> {
    let (mut lead, mut follow_up) = (0usize, 0u8);
    let number = |turn: &Turn| {
        if turn.question.asked == Asked::Lead {
            (lead, follow_up) = (lead + 1, 0);
            return lead.to_string();
        }
        follow_up += 1;
        format!("{lead}{}", char::from(b'a' + (follow_up - 1).min(25)))
    };
    let numbers: Vec<String> = sitting.turns.iter().map(number).collect();
    let of_turn = |at: usize| missed.iter().filter(|point| point.turn == at).cloned().collect();
    let turns = sitting.turns.iter().zip(numbers).enumerate();
    turns.map(|(at, (turn, number))| turn_view(shelf, turn, number, of_turn(at))).collect()
}

/// Questions with missing points, those with safety-critical ones first. A question about the reason is named by its
/// number: its words are the same for every card.
fn missed(turns: &[TurnView]) -> Vec<MissedRow> {
    let rows = turns.iter().filter(|turn| !turn.missed.is_empty()).map(|turn| MissedRow {
        number: turn.number.clone(),
        asked: match turn.kind {
            TurnKind::Reason => "The reason behind it".to_owned(),
            TurnKind::Question | TurnKind::WhatElse => turn.ask_plain.clone(),
        },
        points: turn.missed.clone(),
        because: turn.because.clone(),
        source: turn.source.clone(),
    });
    let mut rows: Vec<MissedRow> = rows.collect();
    rows.sort_by_key(|row| !row.is_fatal());
    rows
}

/// Blueprints have no editions of their own: 1 is ours, 2 one's own.
fn blueprint_edition(kept: &KeptSitting) -> u8 {
    let blueprint = &kept.sitting.setup.blueprint;
    let standard = crate::domain::oral::Blueprint::standard(blueprint.certificate);
    if standard.shares == blueprint.shares && standard.rules == blueprint.rules { 1 } else { 2 }
}

/// A share in per cent. One that only just misses what it is held against is not rounded up to it.
fn percent(share: f64, against: f64) -> String {
    let whole = format!("{:.0}", share * 100.0);
    if share + 1e-9 < against && whole == format!("{:.0}", against * 100.0) {
        return format!("{:.1} %", (share * 1000.0).floor() / 10.0);
    }
    format!("{whole} %")
}

/// The verdict and why, in a line.
fn headline(verdict: &Verdict, rules: Rules, early: bool) -> String {
    if verdict.of <= 0.0 {
        return "Nothing was answered".to_owned();
    }
    let overall = percent(verdict.share(), rules.overall);
    let pass_mark = percent(rules.overall, 0.0);
    let below = below(verdict, rules);
    let fails_overall = verdict.failings.contains(&Failing::Overall);
    let share = if fails_overall || below.is_empty() {
        format!("{overall}, pass mark {pass_mark}")
    } else {
        let parts: Vec<String> = below.iter().map(|(name, share)| format!("{share} in {name}")).collect();
        format!(
            "{overall} in all, but {}, where {} is needed",
            english::listed(&parts),
            percent(rules.each_function, 0.0)
        )
    };
    let critical = match verdict.fatal().len() {
        0 => String::new(),
        n => format!("; {} missed", words::count_in_words(n, "safety-critical point")),
    };
    let word = if verdict.passes { "Passed" } else { "Not passed" };
    format!("{word}{}: {share}{critical}", if early { " so far" } else { "" })
}

/// What else belongs to the verdict.
fn sentence(verdict: &Verdict, rules: Rules) -> String {
    if verdict.of <= 0.0 {
        return "There is nothing to say of this sitting.".to_owned();
    }
    let mut sentences = Vec::new();
    if let [first, more @ ..] = verdict.fatal().as_slice() {
        let more = match more.len() {
            0 => String::new(),
            n => format!(" (and {} more, below)", words::number(n)),
        };
        sentences.push(format!("Safety-critical and missed: {}{more}.", first.trim_end_matches('.')));
    }
    let line = percent(rules.each_function, 0.0);
    let below = below(verdict, rules);
    if verdict.failings.contains(&Failing::Overall) && !below.is_empty() {
        let parts: Vec<String> = below.iter().map(|(name, share)| format!("{name} ({share})")).collect();
        sentences.push(format!("Below the {line} that each function needs: {}.", english::listed(&parts)));
    }
    if sentences.is_empty() {
        let all = if verdict.functions.len() == 1 { "The function" } else { "Every function" };
        sentences.push(match below.is_empty() {
            true => format!("{all} that was asked is at or above its pass mark of {line}."),
            false => "What was missed stands below, with what a full answer says.".to_owned(),
        });
    }
    sentences.join(" ")
}

/// The functions below their pass mark, each with its share.
fn below(verdict: &Verdict, rules: Rules) -> Vec<(String, String)> {
    let below = verdict.functions.iter().filter(|mark| !mark.passes);
    below.map(|mark| (brief_function(&mark.function), percent(mark.share(), rules.each_function))).collect()
}

fn marked_by<'a>(answers: impl Iterator<Item = &'a Answered>) -> String {
    let mut by = [0usize; 3];
    for answer in answers {
        by[match answer.by {
            MarkedBy::Program => 0,
            MarkedBy::Learner => 1,
            MarkedBy::Second => 2,
        }] += 1;
    }
    let parts = [("by the program", by[0]), ("by the learner", by[1]), ("by a second person", by[2])];
    let said: Vec<String> = parts.iter().filter(|(_, n)| *n > 0).map(|(who, n)| format!("{n} {who}")).collect();
    if said.is_empty() { "Nothing".to_owned() } else { said.join(", ") }
}

/// The headings to study next, with their cards: the weak ones first, then what is unseen or not held in their groups.
fn study(learner: &Learner, shelf: &Shelf, weak: &[CardKey], today: StudyDay) -> (Vec<StudyRow>, Vec<CardKey>) {
    let pace = learner.pace(shelf);
    let mut groups: Vec<(String, Vec<CardKey>, f64)> = Vec::new();
    let mut cards: Vec<CardKey> = Vec::new();
    for key in weak {
        let Some((deck, card)) = shelf.card(key) else { continue };
        cards.push(key.clone());
        let name = crate::app::profile::shelf::area_name(card).to_owned();
        if groups.iter().any(|group| group.0 == name) {
            continue;
        }
        let of_group: Vec<&Card> = deck
            .cards
            .iter()
            .filter(|other| crate::app::profile::shelf::area_name(other) == name)
            .filter(|other| {
                let recall = learner.recall(&other.key, today);
                other.key == *key || recall.is_none_or(|recall| recall < learner.model.target())
            })
            .collect();
        let seconds = of_group.iter().map(|card| pace.seconds(card.kind())).sum();
        groups.push((name, of_group.iter().map(|card| card.key.clone()).collect(), seconds));
    }
    for key in groups.iter().flat_map(|group| &group.1) {
        if !cards.contains(key) {
            cards.push(key.clone());
        }
    }
    cards.truncate(MOST_STUDIED);
    let rows = groups
        .into_iter()
        .map(|(name, keys, seconds)| StudyRow {
            name,
            detail: format!("{}, {:.0} min", words::count(keys.len(), "card"), (seconds / 60.0).ceil()),
        })
        .collect();
    (rows, cards)
}

fn turn_view(shelf: &Shelf, turn: &Turn, number: String, missed: Vec<MissedPoint>) -> TurnView {
    let question = &turn.question;
    let answer = turn.answer.as_ref();
    let card = shelf.card(&question.card).map(|(_, card)| card);
    let is_lead = question.asked == Asked::Lead;
    TurnView {
        number,
        kind: match question.asked {
            Asked::WhatElse => TurnKind::WhatElse,
            Asked::Deeper if is_of_reason(question) => TurnKind::Reason,
            _ => TurnKind::Question,
        },
        missed,
        because: card.filter(|_| is_lead).and_then(|card| card.because.clone()),
        depth: question.depth,
        asked: asked_word(question).to_owned(),
        lead_in: question.lead_in.clone(),
        ask: question.ask.clone(),
        ask_plain: plain(&question.ask),
        given: answer.map_or_else(String::new, |answer| given_words(answer, card)),
        came_to: answer.map_or_else(String::new, came_to),
        tone: answer.map_or(Tone::Quiet, tone_of),
        marks: answer.map_or_else(Vec::new, |answer| answer.marks.clone()),
        time: answer.map_or_else(String::new, |answer| {
            format!("{} of {}", words::duration(answer.seconds), words::duration(question.limit_seconds))
        }),
        by: answer.map_or_else(String::new, |answer| {
            match answer.by {
                MarkedBy::Program => "marked by the program",
                MarkedBy::Learner => "marked by the learner from the key points",
                MarkedBy::Second => "marked by a second person",
            }
            .to_owned()
        }),
        recorded: answer.is_some_and(|answer| answer.recording.is_some()),
        note: answer.map_or_else(String::new, |answer| answer.note.clone()),
        source: question.sources.join("; "),
    }
}

/// What was given, in words.
fn given_words(answer: &Answered, card: Option<&Card>) -> String {
    match &answer.given {
        None => "“I don’t know.”".to_owned(),
        Some(Given::Text(text)) => text.trim().to_owned(),
        Some(Given::Said(_)) => "Said aloud.".to_owned(),
        Some(given) => card.map_or_else(|| kinds::SET.to_owned(), |card| kinds::given_words(card, given)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::oral::FunctionMark;

    const RULES: Rules = Rules { overall: 0.6, each_function: 0.5, critical_fails: true };

    /// A verdict of marks in hundredths for marine engineering and electrical, with safety-critical misses.
    fn verdict(marine: f64, electrical: f64, critical: &[&str]) -> Verdict {
        let mark = |function: &str, earned: f64| FunctionMark {
            function: function.to_owned(),
            earned,
            of: 100.0,
            passes: earned >= 50.0,
        };
        let functions = vec![mark("A-III/1.1", marine), mark("A-III/1.2", electrical)];
        let (earned, of) = (marine + electrical, 200.0);
        let mut failings: Vec<Failing> = critical.iter().map(|say| Failing::Critical(0, (*say).to_owned())).collect();
        failings.extend(functions.iter().filter(|m| !m.passes).map(|m| Failing::Function(m.function.clone())));
        if earned / of < RULES.overall {
            failings.push(Failing::Overall);
        }
        Verdict { functions, earned, of, passes: failings.is_empty(), failings }
    }

    #[test]
    fn the_verdict_is_said_with_its_reason_in_a_line() {
        for (of, wanted) in [
            (verdict(80.0, 68.0, &[]), "Passed: 74 %, pass mark 60 %"),
            (
                verdict(50.0, 36.0, &["The tie is open"]),
                "Not passed: 43 %, pass mark 60 %; one safety-critical point missed",
            ),
            (verdict(99.0, 43.0, &[]), "Not passed: 71 % in all, but 43 % in Electrical, where 50 % is needed"),
            (verdict(80.0, 68.0, &["A", "B"]), "Not passed: 74 %, pass mark 60 %; two safety-critical points missed"),
            (verdict(62.0, 57.6, &[]), "Not passed: 59.8 %, pass mark 60 %"),
        ] {
            assert_eq!(headline(&of, RULES, false), wanted);
        }
        assert_eq!(headline(&verdict(80.0, 68.0, &[]), RULES, true), "Passed so far: 74 %, pass mark 60 %");
        let nothing =
            Verdict { functions: vec![], earned: 0.0, of: 0.0, passes: false, failings: vec![Failing::NothingAsked] };
        assert_eq!(headline(&nothing, RULES, false), "Nothing was answered");
    }

    #[test]
    fn what_else_belongs_to_the_verdict_stands_under_it() {
        let of = verdict(50.0, 36.0, &["The tie is open.", "Doors stay shut"]);
        assert_eq!(
            sentence(&of, RULES),
            "Safety-critical and missed: The tie is open (and one more, below). Below the 50 % that each function needs: \
             Electrical (36 %)."
        );
        let passed = "Every function that was asked is at or above its pass mark of 50 %.";
        assert_eq!(sentence(&verdict(80.0, 68.0, &[]), RULES), passed);
    }
}
