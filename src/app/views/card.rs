//! A card of the watch at every stage.

use crate::app::learner::Learner;
use crate::app::session::{Marked, Sheet, Stage as SheetStage, is_about_a_run};
use crate::app::shelf::Shelf;
use crate::app::views::{Pictured, lineup, point, sequence, working};
use crate::domain::answer::Given;
use crate::domain::attempt::{Attempt, Evidence};
use crate::domain::card::{Body, Card, Figure, Recall, Why};
use crate::domain::day::Instant;
use crate::domain::deck::Deck;
use crate::domain::drawing::Pointing;
use crate::domain::ids::AttemptId;
use crate::domain::marking::{Detail, PointMark, Slip, longest_rising, rule};
use crate::domain::oral::{Disclosure, Place, disclosure};
use crate::domain::outcome::Outcome;
use crate::domain::quantity::Within;
use crate::present::drawing::DrawingView;
use crate::present::watch::{
    GivenLink, LinkStanding, LinkView, PointRow, RemedyPart, ResultView, Stage, WatchCardView,
};
use crate::present::working::WorksheetView;
use crate::present::{TitleBlock, Tone, words};

/// What the program adds to the card on the sheet.
pub struct Beside {
    /// Its picture and its drawing, as far as they are read.
    pub pictured: Pictured,
    /// The lines of a working, as far as they are worked out.
    pub worksheet: WorksheetView,
    /// An answer is being kept.
    pub keeping: bool,
    /// The answer accepted before can be taken back.
    pub can_take_back: bool,
    /// Where it is asked: in a mock oral, when it comes back is no matter, and what was right is told later.
    pub place: Place,
}

/// The card on the sheet.
pub fn card(
    learner: &Learner,
    shelf: &Shelf,
    (deck, card): (&Deck, &Card),
    sheet: &Sheet,
    beside: Beside,
    now: Instant,
) -> WatchCardView {
    let mut block = block(learner, shelf, deck, card);
    // A question about a run stands in front of the card that was run.
    let (card, sheet) = sheet.front(card);
    let told = disclosure(beside.place, is_answered(sheet));
    if !told.source && !matches!(sheet.stage, SheetStage::Remedy(_)) {
        let later = if is_answered(sheet) { "In the debrief" } else { "Shown after the answer" };
        block.rows.iter_mut().filter(|row| row.label == "Source").for_each(|row| row.value = later.to_owned());
    }
    let in_oral = beside.place != Place::Watch;
    let in_remedy = matches!(sheet.stage, SheetStage::Remedy(_));
    WatchCardView {
        key: card.key.clone(),
        kind: card.kind(),
        place: Learner::place(card),
        ask: match &card.body {
            Body::Working(working) => working::question(card, working, sheet),
            _ => card.ask.clone(),
        },
        caution: card.caution.clone(),
        picture: beside.pictured.picture,
        shown: beside
            .pictured
            .drawing
            .clone()
            .filter(|_| in_remedy)
            .and_then(|drawing| point::shown(card, Some(drawing))),
        seconds: sheet.seconds(now) as u32,
        limit: card.seconds.map(|seconds| seconds.round() as u32),
        clock_runs: sheet.clock_runs(),
        today: learner.day(now),
        in_oral,
        keeping: beside.keeping,
        can_take_back: beside.can_take_back,
        stage: stage(learner, (deck, card), (beside.pictured.drawing, beside.worksheet), (sheet, in_oral, told), now),
        block,
    }
}

/// The question is over on this sheet: nothing more is to be answered.
fn is_answered(sheet: &Sheet) -> bool {
    matches!(sheet.stage, SheetStage::Marked(_)) && !sheet.work.as_ref().is_some_and(|work| work.is_open(&sheet.stage))
}

/// A card's title block.
pub fn block(learner: &Learner, shelf: &Shelf, deck: &Deck, card: &Card) -> TitleBlock {
    let (n, of) = shelf.number(&card.key).unwrap_or((0, 0));
    let seen = learner.memory.get(&card.key).map_or(0, |m| m.seen);
    let seen = match seen {
        0 => "never".to_owned(),
        1 => "once".to_owned(),
        n => format!("{n} times"),
    };
    TitleBlock::of([
        ["Deck", &deck.title, "Card", &format!("{n} of {of}")],
        ["Topic", card.heading.as_deref().unwrap_or(&card.topic), "Edition", &deck.edition.to_string()],
        ["Source", &deck.source_titles(card).join("; "), "Seen", &seen],
    ])
}

fn stage(
    learner: &Learner,
    (deck, card): (&Deck, &Card),
    (drawing, worksheet): (Option<DrawingView>, WorksheetView),
    (sheet, in_oral, told): (&Sheet, bool, Disclosure),
    now: Instant,
) -> Stage {
    let drawn = |pointing: &Pointing| drawing.unwrap_or_else(|| point::not_drawn(pointing));
    match (&card.body, &sheet.stage) {
        (_, SheetStage::Remedy(shown)) => remedy(learner, deck, card, (*shown, sheet)),
        (Body::Recall(_), SheetStage::Asked) => Stage::RecallAsked,
        (Body::Figure(figure), SheetStage::Asked) => Stage::FigureAsked { hint: hint(figure) },
        (Body::Why(why), SheetStage::Asked) => Stage::WhyAsked {
            links: sheet
                .ashore
                .iter()
                .filter_map(|position| Some(LinkView { position: *position, text: link(why, *position)?.to_owned() }))
                .collect(),
        },
        (Body::Sequence(procedure), SheetStage::Asked) => {
            Stage::SequenceAsked(Box::new(sequence::asked(procedure, sheet)))
        }
        (Body::Lineup(network), SheetStage::Asked) => Stage::LineupAsked(Box::new(lineup::asked(network))),
        (Body::Working(working), SheetStage::Asked) => working::stage(working, sheet, worksheet, None),
        (Body::Point(pointing), SheetStage::Asked) => {
            Stage::PointAsked(Box::new(point::asked(pointing, drawn(pointing), sheet)))
        }
        (body, SheetStage::Marked(marked)) => {
            let result = result(learner, card, (marked, sheet), (now, in_oral, told));
            match body {
                Body::Recall(recall) => Stage::RecallShown {
                    points: points(recall, marked),
                    typed: match &marked.given {
                        Given::Text(text) => Some(text.clone()),
                        _ => None,
                    },
                    result,
                },
                Body::Figure(figure) => figure_marked(figure, marked, result),
                Body::Why(why) => Stage::WhyMarked {
                    given: given_links(why, marked),
                    right: if told.answer { why.links.clone() } else { Vec::new() },
                    result,
                },
                Body::Sequence(procedure) => Stage::SequenceRun(Box::new(sequence::ran(procedure, sheet, result))),
                Body::Lineup(network) => Stage::LineupChecked(Box::new(lineup::checked(network, sheet, result))),
                Body::Working(working) => working::stage(working, sheet, worksheet, Some(result)),
                Body::Point(pointing) => {
                    Stage::PointMarked(Box::new(point::marked(pointing, drawn(pointing), marked, result)))
                }
            }
        }
    }
}

fn points(recall: &Recall, marked: &Marked) -> Vec<PointRow> {
    let none = PointMark { said: false, evidence: None, contradicted: false };
    let marks = match &marked.marking.detail {
        Detail::Recall { points } => points.as_slice(),
        _ => &[],
    };
    recall
        .points
        .iter()
        .enumerate()
        .map(|(n, point)| {
            let mark = marks.get(n).unwrap_or(&none);
            PointRow {
                number: n + 1,
                text: point.say.clone(),
                said: mark.said,
                contradicted: mark.contradicted,
                critical: point.critical,
                evidence: mark.evidence.clone(),
            }
        })
        .collect()
}

fn figure_marked(figure: &Figure, marked: &Marked, result: ResultView) -> Stage {
    let given = match &marked.given {
        Given::Text(text) => text.trim().to_owned(),
        _ => String::new(),
    };
    let (error, slip): (Option<f64>, Option<&Slip>) = match &marked.marking.detail {
        Detail::Figure { error, slip, .. } => (*error, slip.as_ref()),
        _ => (None, None),
    };
    let right = marked.marking.outcome >= Outcome::Answered;
    let tolerance = within_words(&figure.within);
    let expected =
        if tolerance.is_empty() { figure.value_text.clone() } else { format!("{}, {tolerance}", figure.value_text) };
    // What was not given right is told in the debrief.
    let told = right || !result.withheld;
    Stage::FigureMarked {
        given,
        expected: if told { expected } else { "told in the debrief".to_owned() },
        error: match error {
            _ if right => "right".to_owned(),
            Some(error) if told => format!("{} out", percent(error)),
            _ => String::new(),
        },
        tell: slip.filter(|_| told).map(|s| s.tell.clone()),
        tone: match marked.marking.outcome {
            Outcome::Missed => Tone::Bad,
            Outcome::Prompted => Tone::Weak,
            _ => Tone::Good,
        },
        result,
    }
}

fn percent(share: f64) -> String {
    let percent = share * 100.0;
    match percent {
        p if p < 1.0 => format!("{p:.2} %"),
        p if p < 10.0 => format!("{p:.1} %"),
        p if p < 10_000.0 => format!("{p:.0} %"),
        _ => "more than a hundred times".to_owned(),
    }
}

/// A tolerance in words; empty where it is exact.
pub fn within_words(within: &Within) -> String {
    match within {
        Within::Exact => String::new(),
        Within::Absolute(q) => format!("within {} {}", trimmed(q.number), q.unit).trim_end().to_owned(),
        Within::Relative(share) => format!("within {} %", trimmed(share * 100.0)),
    }
}

fn trimmed(number: f64) -> String {
    let text = format!("{number:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn hint(figure: &Figure) -> String {
    if figure.value.unit.is_empty() {
        "A number.".to_owned()
    } else {
        "A number with its unit; any unit of the right kind will do.".to_owned()
    }
}

fn link(why: &Why, position: usize) -> Option<&str> {
    let at = position.checked_sub(1)?;
    why.links.iter().chain(&why.false_links).nth(at).map(String::as_str)
}

fn given_links(why: &Why, marked: &Marked) -> Vec<GivenLink> {
    let given: &[usize] = match &marked.given {
        Given::Links(links) => links,
        _ => &[],
    };
    let true_links: Vec<usize> = given.iter().copied().filter(|p| *p <= why.links.len()).collect();
    let run = longest_rising(&true_links);
    given
        .iter()
        .filter_map(|position| {
            let standing = match *position {
                p if p > why.links.len() => LinkStanding::False,
                p if run.contains(&p) => LinkStanding::InOrder,
                _ => LinkStanding::OutOfPlace,
            };
            Some(GivenLink { text: link(why, *position)?.to_owned(), standing })
        })
        .collect()
}

fn remedy(learner: &Learner, deck: &Deck, card: &Card, (shown, sheet): (usize, &Sheet)) -> Stage {
    let mut parts = Vec::new();
    let mut part = |label: String, text: String, critical: bool| parts.push(RemedyPart { label, text, critical });
    match &card.body {
        Body::Recall(recall) => {
            for (n, point) in recall.points.iter().enumerate() {
                part(format!("Point {} of {}", n + 1, recall.points.len()), point.say.clone(), point.critical);
            }
        }
        Body::Figure(figure) => part("The figure".to_owned(), figure.value_text.clone(), false),
        Body::Why(why) => {
            for (n, link) in why.links.iter().enumerate() {
                part(format!("Link {} of {}", n + 1, why.links.len()), link.clone(), false);
            }
        }
        Body::Sequence(procedure) => {
            let order = sequence::right_order(procedure);
            let count = order.len();
            for (n, step) in order.into_iter().enumerate() {
                part(format!("Step {} of {count}", n + 1), step, false);
            }
        }
        Body::Lineup(network) => lineup::remedy(network, &mut part),
        Body::Working(working) => working::remedy(card, working, sheet.work.as_deref(), &mut part),
        Body::Point(pointing) => point::remedy(pointing, &mut part),
    }
    if let Some(because) = &card.because {
        part("The reason".to_owned(), because.clone(), false);
    }
    part("Where it comes from".to_owned(), deck.source_titles(card).join("; "), false);
    let misses = learner.memory.get(&card.key).map_or(0, |m| m.misses_in_a_row);
    Stage::Remedy {
        intro: format!(
            "Missed {} times in a row. Go through it part by part and say each aloud; it is asked again later in this watch.",
            words::number(misses as usize)
        ),
        shown: (shown + 1).min(parts.len()),
        parts,
    }
}

/// How many parts a card's remedy has.
pub fn remedy_parts(card: &Card) -> usize {
    let body = match &card.body {
        Body::Recall(recall) => recall.points.len(),
        Body::Figure(_) => 1,
        Body::Why(why) => why.links.len(),
        Body::Sequence(procedure) => sequence::right_order(procedure).len(),
        Body::Lineup(network) => counted(|part| lineup::remedy(network, part)),
        Body::Working(working) => counted(|part| working::remedy(card, working, None, part)),
        Body::Point(pointing) => counted(|part| point::remedy(pointing, part)),
    };
    body + usize::from(card.because.is_some()) + 1
}

fn counted(lay: impl FnOnce(&mut dyn FnMut(String, String, bool))) -> usize {
    let mut count = 0;
    lay(&mut |_, _, _| count += 1);
    count
}

fn result(
    learner: &Learner,
    card: &Card,
    (marked, sheet): (&Marked, &Sheet),
    (now, in_oral, told): (Instant, bool, Disclosure),
) -> ResultView {
    let attempt = Attempt {
        id: AttemptId(String::new()),
        card: card.key.clone(),
        at: now,
        ship: learner.settings.ship,
        device: String::new(),
        evidence: Evidence { given: marked.given.clone(), edition: 0, points_said: vec![], points_missed: vec![] },
        outcome: marked.marking.outcome,
        notch: marked.notch,
        seconds: marked.seconds,
    };
    let next = learner.after(&attempt);
    let days = next.due.days_since(learner.day(now));
    let next = match days {
        // An examiner does not say when it comes back.
        _ if in_oral => String::new(),
        // A question about a run is of this run alone.
        _ if is_about_a_run(&card.key) => "It counts for the topic.".to_owned(),
        0 => "Back in this watch.".to_owned(),
        n => format!("Next {}.", words::in_days(n)),
    };
    ResultView {
        outcome: marked.outcome(),
        detail: format!("{}{}. {next}", tally(card, marked, sheet), words::duration(marked.seconds))
            .trim_end()
            .to_owned(),
        worked_out: marked.marking.outcome,
        notch: marked.notch,
        rule: rule(card),
        because: card.because.clone().filter(|_| told.reason),
        withheld: !told.answer,
        fixed: !told.notch,
    }
}

/// `4 of 5 points, ` and the like; empty for a figure.
fn tally(card: &Card, marked: &Marked, sheet: &Sheet) -> String {
    match (&marked.marking.detail, &card.body) {
        (Detail::Recall { points }, _) => {
            let said = points.iter().filter(|p| p.said).count();
            let fatal = points.iter().enumerate().any(|(n, p)| !p.said && is_critical(card, n));
            let critical = if fatal { ", a critical one missing" } else { "" };
            format!("{said} of {}{critical}, ", words::count(points.len(), "point"))
        }
        (Detail::Why { in_order, false_links }, Body::Why(why)) => {
            let false_words = match false_links {
                0 => String::new(),
                n => format!(", {} that {} nowhere", words::number(*n), if *n == 1 { "belongs" } else { "belong" }),
            };
            format!("{in_order} of {} in order{false_words}, ", words::count(why.links.len(), "link"))
        }
        (Detail::Sequence { reaches_goal, breaks, traps, .. }, _) => {
            let goal = if *reaches_goal { "goal reached, " } else { "goal not reached, " };
            let broken = match breaks.len() {
                0 => String::new(),
                n => format!("{} broken, ", words::count(n, "step")),
            };
            let traps = match traps.len() {
                0 => String::new(),
                n => format!("{}, ", words::count(n, "trap")),
            };
            format!("{goal}{broken}{traps}")
        }
        (Detail::Lineup { demands, .. }, _) => {
            let met = demands.iter().filter(|demand| demand.met).count();
            format!("{met} of {} met, ", words::count(demands.len(), "demand"))
        }
        (Detail::Working { .. }, _) => match sheet.work.as_ref().and_then(|work| work.second) {
            Some(second) if second >= Outcome::Answered => "right at the second try, ".to_owned(),
            Some(_) => "two tries, ".to_owned(),
            None => String::new(),
        },
        _ => String::new(),
    }
}

fn is_critical(card: &Card, n: usize) -> bool {
    match &card.body {
        Body::Recall(recall) => recall.points.get(n).is_some_and(|p| p.critical),
        _ => false,
    }
}

/// Why a card was missed, in a sentence for the end of the watch.
pub fn why_missed(card: &Card, marked: &Marked) -> String {
    let (Detail::Recall { points }, Body::Recall(recall)) = (&marked.marking.detail, &card.body) else {
        return marked.marking.reason.clone();
    };
    let missed: Vec<usize> = (0..points.len()).filter(|n| !points[*n].said).collect();
    let critical = missed.iter().find(|n| is_critical(card, **n));
    match (critical, missed.as_slice()) {
        (Some(n), _) => format!("Safety-critical, not said: {}", recall.points[*n].say),
        (None, []) => marked.marking.reason.clone(),
        (None, all) => format!(
            "{} of {} not said, among them: {}",
            words::capital(&words::number(all.len())),
            words::count(points.len(), "point"),
            recall.points[all[0]].say
        ),
    }
}
