//! What a sitting came to.

use crate::app::learner::Learner;
use crate::app::shelf::Shelf;
use crate::app::views::end::plain;
use crate::app::views::oral::{asked_word, came_to, short_function, tone_of};
use crate::domain::answer::{Given, Pointed};
use crate::domain::card::{Body, Card};
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::oral::{Answered, Failing, MarkedBy, Turn, Verdict, debrief};
use crate::present::debrief::{DebriefView, MarkRow, MissedRow, StudyRow, TurnView};
use crate::present::oral::{draw_word, manner_word};
use crate::present::{TitleBlock, Tone, words};
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
    let (headline, sentence, tone) = words_of(verdict);
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
    DebriefView {
        id: kept.id.clone(),
        number,
        about: format!("Debrief of sitting {number}, {}", words::day(day)),
        headline,
        sentence,
        tone,
        functions,
        missed: debrief
            .missed
            .iter()
            .map(|point| {
                let question = &sitting.turns[point.turn].question;
                MissedRow {
                    asked: plain(&question.ask),
                    say: point.say.clone(),
                    source: question.sources.join("; "),
                    critical: point.critical,
                    prompted: point.prompted,
                }
            })
            .collect(),
        // A follow-up says little without what it follows.
        well: debrief
            .well
            .iter()
            .map(|at| &sitting.turns[*at].question)
            .filter(|question| question.depth == 0)
            .map(|question| plain(&question.ask))
            .collect(),
        study,
        study_cards,
        turns: sitting.turns.iter().map(|turn| turn_view(shelf, turn)).collect(),
        facts: vec![
            ("Candidate".to_owned(), words::named(&learner.settings.learner).to_owned()),
            ("Certificate".to_owned(), certificate.clone()),
            ("Date".to_owned(), words::full_date(day)),
            (
                "Sitting".to_owned(),
                format!("{number}, {}, {}", draw_word(sitting.setup.draw), manner_word(sitting.setup.manner)),
            ),
            (
                "Questions".to_owned(),
                format!(
                    "{} and {}, {minutes}",
                    words::count(sitting.leads().count(), "lead question"),
                    words::count(answered.saturating_sub(sitting.leads().count()), "follow-up")
                ),
            ),
            ("Marked".to_owned(), marked.clone()),
            ("Over the time".to_owned(), words::count(debrief.over_time, "answer")),
        ],
        block: TitleBlock::of([
            ["For", words::named(&learner.settings.learner), "Sitting", &number.to_string()],
            ["Blueprint", &certificate, "Edition", &blueprint_edition(kept).to_string()],
            ["Marked", &marked, "Length", &minutes],
        ]),
    }
}

/// Blueprints have no editions of their own: 1 is ours, 2 one's own.
fn blueprint_edition(kept: &KeptSitting) -> u8 {
    let blueprint = &kept.sitting.setup.blueprint;
    let standard = crate::domain::oral::Blueprint::standard(blueprint.certificate);
    if standard.shares == blueprint.shares && standard.rules == blueprint.rules { 1 } else { 2 }
}

fn words_of(verdict: &Verdict) -> (String, String, Tone) {
    let passing = verdict.functions.iter().filter(|mark| mark.passes).count();
    let all = verdict.functions.len();
    let headline = match (passing, all) {
        (_, 0) => "Nothing was answered".to_owned(),
        (n, of) if n == of && of > 1 => format!("All {} functions pass", words::number(of)),
        (1, 1) => "The one function asked passes".to_owned(),
        (0, _) => "No function passes".to_owned(),
        (n, of) => format!(
            "{} of {} pass{}",
            words::capital(&words::count_in_words(n, "function")),
            words::number(of),
            if n == 1 { "es" } else { "" }
        ),
    };
    let below: Vec<String> = verdict
        .failings
        .iter()
        .filter_map(|failing| match failing {
            Failing::Function(key) => Some(short_function(key)),
            _ => None,
        })
        .collect();
    let critical = verdict.failings.iter().find_map(|failing| match failing {
        Failing::Critical(_, say) => Some(say.trim_end_matches('.').to_owned()),
        _ => None,
    });
    let mut sentence = match (below.len(), verdict.passes) {
        _ if all == 0 => "There is nothing to say of this sitting.".to_owned(),
        (_, true) => "On the real day this sitting would pass.".to_owned(),
        (0, _) if critical.is_none() => {
            "All together is below the line: on the real day this sitting would not pass.".to_owned()
        }
        (0, _) => String::new(),
        (1, _) => format!("{} is below the line: on the real day this sitting would not pass.", below[0]),
        (n, _) if n == all => {
            "Every function is below the line: on the real day this sitting would not pass.".to_owned()
        }
        (n, _) => {
            let functions = words::count_in_words(n, "function");
            format!("{} are below the line: on the real day this sitting would not pass.", words::capital(&functions))
        }
    };
    if let Some(say) = critical {
        let more = format!("A safety-critical point stayed missing, which fails a sitting: {}.", say);
        sentence = if sentence.is_empty() { more } else { format!("{more} {sentence}") };
    }
    let fatal = verdict.failings.iter().any(|failing| matches!(failing, Failing::Critical(..)));
    let tone = match (verdict.passes, fatal) {
        (true, _) => Tone::Good,
        (_, true) => Tone::Bad,
        _ => Tone::Weak,
    };
    (headline, sentence, tone)
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
        let name = crate::app::shelf::area_name(card).to_owned();
        if groups.iter().any(|group| group.0 == name) {
            continue;
        }
        let of_group: Vec<&Card> = deck
            .cards
            .iter()
            .filter(|other| crate::app::shelf::area_name(other) == name)
            .filter(|other| {
                let recall = learner.memory.get(&other.key).map(|memory| learner.model.recall(memory, today));
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

fn turn_view(shelf: &Shelf, turn: &Turn) -> TurnView {
    let question = &turn.question;
    let answer = turn.answer.as_ref();
    let card = shelf.card(&question.card).map(|(_, card)| card);
    let mark_word = |earned: f64| match earned {
        e if e >= 1.0 => ("there", Tone::Good),
        e if e > 0.0 => ("in part", Tone::Weak),
        _ => ("missing", Tone::Bad),
    };
    TurnView {
        depth: question.depth,
        asked: asked_word(question).to_owned(),
        lead_in: question.lead_in.clone(),
        ask: question.ask.clone(),
        ask_plain: plain(&question.ask),
        given: answer.map_or_else(String::new, |answer| given_words(answer, card)),
        came_to: answer.map_or_else(String::new, came_to),
        tone: answer.map_or(Tone::Quiet, tone_of),
        marks: answer.map_or_else(Vec::new, |answer| {
            let row = |mark: &crate::domain::oral::Mark| {
                let (word, tone) = mark_word(mark.earned);
                (mark.say.clone(), word.to_owned(), tone, mark.critical)
            };
            answer.marks.iter().map(row).collect()
        }),
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
    let listed = |words: Vec<String>| {
        let numbered = words.iter().enumerate().map(|(at, word)| format!("{}. {word}", at + 1));
        numbered.collect::<Vec<_>>().join("  ")
    };
    match (&answer.given, card.map(|card| &card.body)) {
        (None, _) => "Nothing (more) to say.".to_owned(),
        (Some(Given::Text(text)), _) => text.trim().to_owned(),
        (Some(Given::Said(_)), _) => "Said aloud.".to_owned(),
        (Some(Given::Links(links)), Some(Body::Why(why))) => listed(
            links
                .iter()
                .filter_map(|at| why.links.iter().chain(&why.false_links).nth(at.checked_sub(1)?).cloned())
                .collect(),
        ),
        (Some(Given::Steps(steps)), Some(Body::Sequence(procedure))) => {
            listed(steps.iter().filter_map(|key| Some(procedure.steps[procedure.step_of(key)?].say.clone())).collect())
        }
        (Some(Given::LinedUp(set)), Some(Body::Lineup(network))) => {
            let name = |key: &String| {
                let node = network.nodes.iter().find(|node| node.key == *key);
                node.map_or_else(|| key.clone(), |node| node.name.clone())
            };
            let open: Vec<String> = set.open.iter().map(name).collect();
            let ways = set.ways.iter().map(|(valve, way)| format!("{} to {}", name(valve), name(way)));
            let ways: Vec<String> = ways.collect();
            format!("Open: {}. {}", if open.is_empty() { "none".to_owned() } else { open.join(", ") }, ways.join(", "))
        }
        (Some(Given::Worked(worked)), _) => {
            let lines = if worked.lines.is_empty() { String::new() } else { format!("{}  ", worked.lines.join("; ")) };
            format!("{lines}Answer: {}", worked.text)
        }
        (Some(Given::Pointed(Pointed::Part(id))), Some(Body::Point(pointing))) => {
            let part = pointing.drawing.parts.iter().find(|part| part.id == *id);
            part.map_or_else(|| id.clone(), |part| part.name.clone())
        }
        (Some(Given::Pointed(Pointed::At(at))), Some(Body::Point(pointing))) => {
            let part = pointing.drawing.part_at(*at).map(|part| pointing.drawing.parts[part].name.clone());
            part.unwrap_or_else(|| "No part".to_owned())
        }
        (Some(_), _) => "Set on the sheet.".to_owned(),
    }
}
