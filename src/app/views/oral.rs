//! The mock oral: its front page, a sitting being sat, the blueprint.

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::app::sheet::Stage;
use crate::app::sitting::{AskedNow, AtOral, may_be_taken_up};
use crate::app::views::card::{self, CardContext};
use crate::app::views::kinds;
use crate::deck::competences;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::key_point::KeyPoint;
use crate::domain::oral::{
    Answered, Asked, Blueprint, Length, MINUTES_A_LEAD, Manner, Question, Sitting, Turn, Verdict, allot, disclosure,
    function_of, notices, verdict,
};
use crate::present::kinds::recall::PointRow;
use crate::present::oral::{
    BlueprintView, ClockView, CompetenceCards, FunctionAsked, FunctionLeads, OralFrontView, OralView, SittingRow,
    SoundView, TakeUp, ThreadRow, draw_word, manner_word,
};
use crate::present::words::plain;
use crate::present::{TitleBlock, Tone, words};
use crate::store::KeptSitting;

/// Seconds that are reckoned with for a lead question with its follow-ups.
const A_LEAD: u32 = 60 * MINUTES_A_LEAD;

/// The page on which a sitting is begun.
pub fn front(learner: &Learner, shelf: &Shelf, today: StudyDay) -> OralFrontView {
    let settings = &learner.settings;
    let blueprint = settings.blueprint();
    let sat: Vec<(&KeptSitting, Verdict)> =
        learner.sittings.iter().map(|kept| (kept, verdict(&kept.sitting))).collect();
    let rows: Vec<SittingRow> =
        sat.iter().enumerate().map(|(at, (kept, came))| row(at + 1, kept, came)).rev().collect();
    // The mark of a sitting that was ended early is that of a few questions.
    let over = sat.iter().filter(|(kept, came)| kept.ended.is_some() && !kept.early && came.of > 0.0);
    let trend: Vec<f64> = over.map(|(_, came)| came.share()).collect();
    let standing = learner.sittings.iter().enumerate().rev().find(|(_, kept)| kept.ended.is_none());
    let take_up = learner.sittings.iter().enumerate().rev().find(|(_, kept)| may_be_taken_up(kept, today));
    let rules = blueprint.rules;
    let critical = if rules.critical_fails { " A safety-critical miss fails, even after a prompt." } else { "" };
    let askable = shelf.cards().filter(|(_, c)| blueprint.shares.iter().any(|s| s.competence == c.topic)).count();
    OralFrontView {
        certificate: format!("{}, {}", settings.certificate.title(), settings.certificate.regulation()),
        standing: standing.map(|(at, kept)| {
            let asked = kept.sitting.leads().count();
            format!("Sitting {}, broken off after {}", at + 1, words::count_in_words(asked, "lead question"))
        }),
        take_up: take_up.map(|(at, kept)| TakeUp {
            id: kept.id.clone(),
            number: at + 1,
            words: format!("Sitting {}, {}", at + 1, ended_early(&kept.sitting)),
        }),
        questions: blueprint.length.leads(),
        rules: format!(
            "To pass: {} % of all points, and {} % in each function.{critical}",
            percent(rules.overall),
            percent(rules.each_function)
        ),
        trend,
        line: rules.overall,
        read_aloud: learner.settings.read_aloud,
        record: learner.settings.record,
        no_cards: askable == 0,
        block: TitleBlock::of([
            ["For", words::named(&settings.learner), "Sittings", &rows.len().to_string()],
            ["Certificate", settings.certificate.title(), "Cards", &askable.to_string()],
            ["Blueprint", own_or_ours(&blueprint), "Passes", &format!("{} %", percent(rules.overall))],
        ]),
        rows,
    }
}

/// `ended early, after 3 of 10 questions`.
pub fn ended_early(sitting: &Sitting) -> String {
    let answered = sitting.leads().filter(|turn| turn.answer.is_some()).count();
    match sitting.setup.blueprint.length {
        Length::Questions(of) => format!("ended early, after {answered} of {}", words::count(of, "question")),
        Length::Minutes(_) => format!("ended early, after {}", words::count(answered, "question")),
    }
}

fn own_or_ours(blueprint: &Blueprint) -> &'static str {
    if *blueprint == Blueprint::standard(blueprint.certificate) { "common practice, ours" } else { "your own" }
}

fn percent(share: f64) -> String {
    format!("{:.0}", share * 100.0)
}

fn row(number: usize, kept: &KeptSitting, verdict: &Verdict) -> SittingRow {
    let setup = &kept.sitting.setup;
    let fatal = !verdict.fatal().is_empty();
    let (word, tone) = match (kept.ended.is_some(), verdict.of > 0.0, verdict.passes) {
        (false, ..) => ("not over", Tone::Quiet),
        _ if kept.early => ("ended early", Tone::Quiet),
        (_, false, _) => ("nothing answered", Tone::Quiet),
        (_, _, true) => ("passed", Tone::Good),
        _ if fatal => ("a critical miss", Tone::Bad),
        _ => ("below the pass mark", Tone::Weak),
    };
    SittingRow {
        id: kept.id.clone(),
        number,
        date: words::full_date(kept.at.study_day(kept.ship)),
        what: format!(
            "{}{}, {}",
            draw_word(setup.draw),
            if setup.manner == Manner::Pressing { ", pressing" } else { "" },
            words::count(kept.sitting.leads().count(), "question")
        ),
        mark: if verdict.of > 0.0 { percent(verdict.share()) } else { "–".to_owned() },
        word: word.to_owned(),
        tone,
        over: kept.ended.is_some(),
    }
}

/// A sitting being sat, with the question that stands. `sound` is what voice and microphone do at the moment.
pub fn sitting(
    learner: &Learner,
    shelf: &Shelf,
    (oral, asked): (&AtOral, &AskedNow),
    context: CardContext,
    sound: SoundView,
    now: Instant,
) -> Option<OralView> {
    let clock = oral.clock(now);
    let (deck, _) = shelf.card(&asked.lead.key)?;
    let (n, kept) = learner.sitting(&oral.id)?;
    let (sitting, sheet) = (&kept.sitting, &asked.sheet);
    let blueprint = &sitting.setup.blueprint;
    let leads = blueprint.length.leads();
    let number = sitting.leads().count() + usize::from(asked.question.asked == Asked::Lead);
    let so_far = sitting.seconds() + sheet.seconds(clock);
    let length = match (blueprint.length, sitting.setup.manner) {
        (Length::Minutes(n), _) => n * 60,
        (Length::Questions(n), Manner::Pressing) => n as u32 * (A_LEAD * 7 / 10),
        (Length::Questions(n), Manner::Steady) => n as u32 * A_LEAD,
    };
    let left = (f64::from(length) - so_far).max(0.0) / 60.0;
    let of_second = disclosure(context.place, false).missing;
    Some(OralView {
        thread: thread(&sitting.turns, &asked.question),
        asked: asked_word(&asked.question).to_owned(),
        number: format!("question {number} of {leads}"),
        lead_in: asked.asks_again().unwrap_or(&asked.question.lead_in).to_owned(),
        again: asked.asks_again().is_some(),
        answer: ClockView { seconds: sheet.seconds(clock) as u32, of: asked.question.limit_seconds as u32 },
        sitting: ClockView { seconds: so_far as u32, of: length },
        functions: functions(shelf, sitting, &asked.question),
        way: asked.way,
        paused: oral.paused.is_some(),
        wide: !kinds::of(&asked.card).is_narrow(),
        examiner: of_second.then(|| ticked(asked)).flatten(),
        note: asked.note.clone(),
        sound: SoundView {
            recorded: asked.recording.is_some() && !oral.unrecorded,
            aloud: learner.settings.read_aloud,
            ..sound
        },
        block: TitleBlock::of([
            ["Ship", "Marram Light, 6800 kW dry-cargo ship", "Sitting", &n.to_string()],
            [
                "Blueprint",
                &format!("{}: {}", blueprint.certificate.regulation(), own_or_ours(blueprint)),
                "Edition",
                &deck.edition.to_string(),
            ],
            [
                "Examiner",
                &format!("{}, {}", draw_word(sitting.setup.draw), manner_word(sitting.setup.manner)),
                "Left",
                &format!("{:.0} min", left.ceil()),
            ],
        ]),
        card: card::card(learner, shelf, (deck, &asked.card), sheet, context, clock),
    })
}

/// For each function of the blueprint: the lead questions asked so far, the one that stands among them, and of how many.
fn functions(shelf: &Shelf, sitting: &Sitting, standing: &Question) -> Vec<FunctionAsked> {
    let blueprint = &sitting.setup.blueprint;
    let has_cards = |function: &str| shelf.cards().any(|(_, card)| function_of(&card.topic) == function);
    let row = |(function, of): (String, usize)| {
        let asked = sitting.turns.iter().map(|turn| &turn.question).chain([standing]);
        let asked = asked.filter(|q| q.asked == Asked::Lead && function_of(&q.competence) == function).count();
        FunctionAsked { name: brief_function(&function), asked, of }
    };
    allot(blueprint, blueprint.length.leads(), has_cards).into_iter().map(row).collect()
}

/// The key points with the second person's ticks, while the answer is being given.
fn ticked(asked: &AskedNow) -> Option<Vec<PointRow>> {
    let (Some(points), Stage::Asked) = (asked.card.key_points(), &asked.sheet.stage) else { return None };
    let row = |(number, point): (usize, &KeyPoint)| PointRow {
        number,
        text: point.say.clone(),
        said: asked.ticks.contains(&number),
        contradicted: false,
        unsure: false,
        critical: point.critical,
        evidence: None,
    };
    Some((1..).zip(points).map(row).collect())
}

/// What made the examiner ask, in words.
pub fn asked_word(question: &Question) -> &'static str {
    match question.asked {
        Asked::Lead => "Lead question",
        Asked::Missed(_) | Asked::WhatElse => "Follow-up",
        Asked::Deeper => "One level deeper",
        Asked::WhatIf => "What if",
    }
}

/// A function's name, short: `Marine engineering`.
pub fn short_function(key: &str) -> String {
    let functions = competences().tables.iter().flat_map(|table| &table.functions);
    functions.into_iter().find(|f| f.key == key).map_or_else(|| key.to_owned(), |f| f.title.clone())
}

/// A function's name in a word or two: `Electrical`.
pub fn brief_function(key: &str) -> String {
    let title = short_function(key);
    let brief = title.split([',']).next().unwrap_or(&title);
    brief.split(" and care").next().unwrap_or(brief).to_owned()
}

fn thread(turns: &[Turn], now: &Question) -> Vec<ThreadRow> {
    let mut rows: Vec<ThreadRow> = turns
        .iter()
        .map(|turn| ThreadRow {
            depth: turn.question.depth,
            ask: plain(&turn.question.ask),
            word: turn.answer.as_ref().map_or_else(String::new, came_to),
            tone: turn.answer.as_ref().map_or(Tone::Plain, tone_of),
            now: false,
        })
        .collect();
    rows.push(ThreadRow {
        depth: now.depth,
        ask: plain(&now.ask),
        word: "now".to_owned(),
        tone: Tone::Plain,
        now: true,
    });
    rows
}

/// What an answer came to: `5 of 6 points`.
pub fn came_to(answer: &Answered) -> String {
    if answer.ran_dry {
        return "not known".to_owned();
    }
    let earned: f64 = answer.marks.iter().map(|mark| mark.earned).sum();
    let of = answer.marks.len();
    let noun = if of == 1 { "point" } else { "points" };
    if (earned - earned.round()).abs() < 0.05 {
        format!("{earned:.0} of {of} {noun}")
    } else {
        format!("{earned:.1} of {of} {noun}")
    }
}

/// The tone of an answer: bad where something safety-critical is missing, weak where anything is.
pub fn tone_of(answer: &Answered) -> Tone {
    if answer.marks.iter().any(|mark| mark.critical && mark.earned <= 0.0) {
        Tone::Bad
    } else if answer.is_full() {
        Tone::Good
    } else {
        Tone::Weak
    }
}

/// How orals are shared and passed.
pub fn blueprint(learner: &Learner, shelf: &Shelf) -> BlueprintView {
    let blueprint = learner.settings.blueprint();
    let named = |key: &str| competences().get(key).map_or_else(|| key.to_owned(), |c| c.title.clone());
    let cards = |key: &str| shelf.cards().filter(|(_, card)| card.topic == key).count();
    BlueprintView {
        names: blueprint
            .shares
            .iter()
            .map(|s| CompetenceCards { name: named(&s.competence), cards: cards(&s.competence) })
            .collect(),
        functions: allot(&blueprint, blueprint.length.leads(), |function| {
            shelf.cards().any(|(_, card)| function_of(&card.topic) == function)
        })
        .into_iter()
        .map(|(function, leads)| FunctionLeads { name: short_function(&function), leads })
        .collect(),
        notices: notices(blueprint.certificate)
            .into_iter()
            .map(|ruling| format!("{}: {}.", ruling.who, ruling.what))
            .collect(),
        standard: Blueprint::standard(blueprint.certificate),
        blueprint,
    }
}
