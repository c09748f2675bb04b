//! A class as a document to read and as CSV: who has met what, where the class is weak, what to teach next, which cards to
//! look at.

use crate::domain::day::{Instant, ShipOffset};
use crate::domain::roster::{
    AssignedCard, CardFigures, ClassFigures, ClassRecord, FEW, Figure, HandedOral, LearnerFigures, LearnerRecord,
    MistakeSort, Part, mistakes,
};
use crate::present::document::{Block, Column, Document, Level, ListLine, Sign, csv_line};
use crate::present::labelled::Labelled;
use crate::present::words;

/// What stands small under every page of it.
const FOOT: &str = "Worked out from what learners handed in. Right at first sight is answered or fluent at the first attempt. \
                    The ship’s safety management system, the makers’ instructions and the administration’s rules come \
                    first.";
/// So many key points are listed where the class is weak.
const MOST_POINTS: usize = 10;
/// The longest question in a table, in characters.
const LONGEST_ASK: usize = 90;

/// What a class is shown from.
#[derive(Clone, Copy)]
pub struct ClassSeen<'a> {
    /// What was handed in.
    pub record: &'a ClassRecord,
    /// What it comes to.
    pub figures: &'a ClassFigures,
    /// When that was worked out.
    pub now: Instant,
    /// The title of a competence by its key.
    pub title: &'a dyn Fn(&str) -> String,
}

/// The class as a document.
pub fn document(seen: ClassSeen<'_>) -> Document {
    let ClassSeen { record, figures, now, .. } = seen;
    let learners = record.learners.len();
    let hint = if learners < FEW {
        format!(" Under {} learners every figure here is a hint, no more.", words::number(FEW))
    } else {
        String::new()
    };
    let lead = format!("{}, {}.", words::count(learners, "learner"), words::count(figures.cards.len(), "card"));
    let mut blocks =
        vec![Block::Lead { lead, words: hint.trim_start().to_owned() }, Block::Facts(reliability(figures))];
    part(&mut blocks, "Roster");
    blocks.push(roster(seen));
    part(&mut blocks, "Where the class is weak");
    blocks.push(areas(seen));
    blocks.extend(weak_points(figures));
    part(&mut blocks, "The next lesson");
    blocks.extend(lesson(seen));
    part(&mut blocks, "Cards");
    blocks.push(items(figures));
    blocks.extend(suspects(figures));
    let day = words::day(now.study_day(ShipOffset::default()));
    Document { title: format!("Class {}, {day}", record.class.name), foot: FOOT.to_owned(), blocks }
}

fn part(blocks: &mut Vec<Block>, title: &str) {
    blocks.push(Block::Heading(Level::Part, title.to_owned()));
}

fn percent(share: Option<f64>) -> String {
    share.map_or_else(|| "-".to_owned(), |share| format!("{:.0} %", share * 100.0))
}

fn figure(figure: Figure) -> String {
    figure.map_or_else(|_| "-".to_owned(), |value| format!("{value:.2}"))
}

/// How well the cards measure, with what that rests on.
fn reliability(figures: &ClassFigures) -> Vec<Labelled> {
    let found = figures.reliability;
    let on = format!(
        "over {} with a first attempt at every one of {}",
        words::count(found.learners, "learner"),
        words::count(found.items, "card")
    );
    match found.alpha {
        Err(why) => vec![Labelled::of("Alpha", format!("-, since {} ({on}).", why.words()))],
        Ok(alpha) => vec![
            Labelled::of(
                "Alpha",
                format!(
                    "{alpha:.2}, 95 % interval {} to {}, standard error {}, {on}.",
                    figure(found.low),
                    figure(found.high),
                    figure(found.se)
                ),
            ),
            Labelled::of("Standard error of measurement", format!("{} cards right.", figure(found.sem))),
        ],
    }
}

fn roster(seen: ClassSeen<'_>) -> Block {
    let columns = vec![
        Column::words("learner", 2.2),
        Column::figure("cards met", 1.0),
        Column::figure("right at first sight", 1.0),
        Column::figure("recall today", 1.0),
        Column::words("last hand-in", 1.4),
        Column::words("orals", 1.2),
        Column::words("weak areas", 2.6),
    ];
    let rows = seen.record.learners.iter().zip(&seen.figures.learners).map(|(learner, of)| {
        vec![
            learner.name.clone(),
            format!("{} of {}", of.met, seen.figures.cards.len()),
            percent(of.first_right),
            percent(of.recall),
            words::day(learner.last.study_day(ShipOffset::default())),
            orals(&learner.orals),
            weak(seen, of),
        ]
    });
    Block::table(columns, rows)
}

fn orals(orals: &[HandedOral]) -> String {
    match orals.last() {
        None => "-".to_owned(),
        Some(last) => format!("{}, last {}", orals.len(), percent(Some(last.share))),
    }
}

fn weak(seen: ClassSeen<'_>, of: &LearnerFigures) -> String {
    let named = of.weak.iter().map(|(topic, heading)| name(seen, topic, heading.as_deref()));
    let named: Vec<String> = named.collect();
    if named.is_empty() { "-".to_owned() } else { named.join("; ") }
}

/// What an area is called: its heading, or else its competence's title.
fn name(seen: ClassSeen<'_>, topic: &str, heading: Option<&str>) -> String {
    heading.map_or_else(|| (seen.title)(topic), str::to_owned)
}

fn areas(seen: ClassSeen<'_>) -> Block {
    let columns = vec![
        Column::words("competence", 2.0),
        Column::words("heading", 2.4),
        Column::figure("first answers", 1.0),
        Column::figure("right", 0.8),
        Column::words("", 1.4),
    ];
    let mut areas: Vec<_> = seen.figures.areas.iter().collect();
    areas.sort_by(|a, b| b.missed().total_cmp(&a.missed()));
    let rows = areas.into_iter().map(|area| {
        let heading = area.heading.clone().unwrap_or_else(|| "all of it".to_owned());
        let topic = (seen.title)(&area.topic);
        vec![topic, heading, area.n.to_string(), percent(area.first_right()), area.standing.word().to_owned()]
    });
    Block::table(columns, rows)
}

/// The words of a key point: as the deck has them, or its number.
pub fn point_words(card: &AssignedCard, point: usize) -> String {
    let say = card.text.as_ref().and_then(|text| text.points.get(point.checked_sub(1)?)).map(|point| &point.say);
    say.map_or_else(|| format!("{}, point {point}", card.card), |say| words::plain(say))
}

fn ask(card: &AssignedCard) -> String {
    let Some(text) = &card.text else { return card.card.to_string() };
    let plain = words::plain(&text.ask);
    if plain.chars().count() <= LONGEST_ASK {
        return plain;
    }
    let cut: String = plain.chars().take(LONGEST_ASK).collect();
    format!("{} …", cut[..cut.rfind(' ').unwrap_or(cut.len())].trim_end())
}

fn weak_points(figures: &ClassFigures) -> Option<Block> {
    let mut points: Vec<_> = figures
        .items
        .iter()
        .zip(&figures.cards)
        .flat_map(|(item, card)| item.points.iter().map(move |point| (card, point)))
        .filter(|(_, point)| point.said < 1.0)
        .collect();
    points.sort_by(|a, b| a.1.said.total_cmp(&b.1.said).then(b.1.n.cmp(&a.1.n)));
    points.truncate(MOST_POINTS);
    let columns =
        vec![Column::words("key point said least", 5.0), Column::figure("answers", 1.0), Column::figure("said", 1.0)];
    let rows = points
        .iter()
        .map(|(card, point)| vec![point_words(card, point.point), point.n.to_string(), percent(Some(point.said))]);
    (!points.is_empty()).then(|| Block::table(columns, rows))
}

fn lesson(seen: ClassSeen<'_>) -> Vec<Block> {
    let figures = seen.figures;
    if figures.lesson.is_empty() {
        let why = if seen.record.learners.is_empty() {
            "Nobody has handed in yet, so that there is nothing to go by."
        } else {
            "No heading fits into so few minutes; seven are the least."
        };
        return vec![Block::Text(why.to_owned())];
    }
    let shares = if figures.by_blueprint { "the blueprint’s shares" } else { "every competence alike" };
    let mut blocks = vec![Block::Text(format!(
        "By expected misses, weight and {shares}; where few have answered, drawn towards the class’s mean."
    ))];
    for part in &figures.lesson {
        let head = format!("{}, {} minutes", name(seen, &part.topic, part.heading.as_deref()), part.minutes);
        blocks.push(Block::Heading(Level::Small, head));
        let gain = format!(
            "{:.1} more right first answers over the class, from {}.",
            part.gain,
            words::count(part.n, "first answer")
        );
        blocks.push(Block::Facts(vec![Labelled::of("Gain", gain)]));
        let line = |sign, words| ListLine { sign, words };
        let mut lines: Vec<ListLine> =
            part.cards.iter().map(|at| line(Sign::Dot, format!("Open with: {}", ask(&figures.cards[*at])))).collect();
        lines.extend(part.points.iter().map(|(at, point)| {
            let words = point_words(&figures.cards[*at], point.point);
            line(Sign::Cross, format!("{words} (said by {} of {})", (point.said * point.n as f64).round(), point.n))
        }));
        lines.extend(made(seen, part).into_iter().map(|words| line(Sign::Half, words)));
        blocks.push(Block::List(lines));
    }
    blocks
}

/// The mistakes really made at the lesson's cards.
fn made(seen: ClassSeen<'_>, part: &Part) -> Vec<String> {
    let cards = &seen.figures.cards;
    let mut of = part.cards.clone();
    of.extend(part.points.iter().map(|(at, _)| *at).filter(|at| !part.cards.contains(at)));
    of.dedup();
    let told = mistakes(seen.record, cards, &of);
    let told = told.into_iter().map(|mistake| {
        let times = words::count(mistake.count, "answer");
        match mistake.what {
            MistakeSort::Denied(point) => {
                format!("{times} said the opposite of: {}", point_words(&cards[mistake.card], point))
            }
            MistakeSort::Slip(tell) => format!("{times}, {}: {}", ask(&cards[mistake.card]), tell),
            MistakeSort::Typed(text) => format!("Typed: “{}”", words::plain(&text)),
        }
    });
    told.collect()
}

fn items(figures: &ClassFigures) -> Block {
    let columns = vec![
        Column::words("card", 4.0),
        Column::figure("answers", 0.8),
        Column::figure("facility", 0.8),
        Column::figure("discrimination", 1.1),
        Column::words("suspect", 1.4),
    ];
    let rows = figures.cards.iter().zip(&figures.items).map(|(card, of)| {
        let codes: Vec<&str> = of.suspects.iter().map(|code| code.code()).collect();
        let (facility, discrimination) = (figure(of.item.facility), figure(of.item.discrimination));
        vec![ask(card), of.item.n.to_string(), facility, discrimination, codes.join(", ")]
    });
    Block::table(columns, rows)
}

/// Why figures are missing, and what to look at in suspect cards.
fn suspects(figures: &ClassFigures) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut missing: Vec<String> = figures
        .items
        .iter()
        .filter_map(|of| of.item.discrimination.err())
        .map(|why| format!("A discrimination is “-” where {}.", why.words()))
        .collect();
    missing.sort();
    missing.dedup();
    if !missing.is_empty() {
        blocks.push(Block::Text(missing.join(" ")));
    }
    let lines: Vec<ListLine> =
        figures.cards.iter().zip(&figures.items).flat_map(|(card, of)| looks(card, of)).collect();
    if !lines.is_empty() {
        blocks.push(Block::Heading(Level::Small, "Look at".to_owned()));
        blocks.push(Block::List(lines));
    }
    blocks
}

fn looks(card: &AssignedCard, of: &CardFigures) -> Vec<ListLine> {
    let line = |code: &crate::domain::roster::Suspect| ListLine {
        sign: Sign::Half,
        words: format!("{} ({}): {}", card.card, code.code(), code.look()),
    };
    of.suspects.iter().map(line).collect()
}

/// The class as CSV: one row for each learner.
pub fn csv(seen: ClassSeen<'_>, time: &dyn Fn(Instant) -> String) -> String {
    let mut out = String::from("name,learner,met,assigned,first_right,recall,last,orals,last_oral,weak\r\n");
    let share = |share: Option<f64>| share.map_or_else(String::new, |share| format!("{share:.4}"));
    for (LearnerRecord { id, name, last, orals, .. }, of) in seen.record.learners.iter().zip(&seen.figures.learners) {
        let weak = weak(seen, of);
        out.push_str(&csv_line(&[
            name.clone(),
            id.clone(),
            of.met.to_string(),
            seen.figures.cards.len().to_string(),
            share(of.first_right),
            share(of.recall),
            time(*last),
            orals.len().to_string(),
            share(orals.last().map(|oral| oral.share)),
            if weak == "-" { String::new() } else { weak },
        ]));
    }
    out
}
