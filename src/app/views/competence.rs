//! The competence table.

use std::collections::HashMap;

use crate::app::jobs::job::{JobFault, OPEN_AGAIN};
use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::deck::competences;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::oral::competence_marks;
use crate::domain::readiness::{Chance, CompetenceStand, HeadingStand, Outlook, table};
use crate::present::competence::{
    Band, ChanceView, CompetenceRow, CompetenceView, CostRow, HeadingRow, OftenMissed, WeakCard, needs_words,
    range_words,
};
use crate::present::words;

/// Below this recall a competence is weak.
const WEAK: f64 = 0.70;
/// So many of the weakest cards are named.
const WEAKEST: usize = 4;

/// The table of the learner's certificate.
pub fn view(
    learner: &Learner,
    shelf: &Shelf,
    so_far: Result<Option<&Outlook>, &JobFault>,
    now: Instant,
) -> CompetenceView {
    let outlook = so_far.ok().flatten();
    let settings = &learner.settings;
    let today = learner.day(now);
    let oral = settings.oral.filter(|day| *day >= today);
    let then = oral.unwrap_or(today);
    let cards = learner.states(shelf, today, then);
    let line = settings.blueprint().rules.each_function;
    let marks = last_marks(learner);
    let functions = competences().table(settings.certificate.table()).map(|t| t.functions.as_slice()).unwrap_or(&[]);
    let bands: Vec<Band> = functions
        .iter()
        .map(|function| {
            let keys: Vec<&str> = function.competences.iter().map(|c| c.key.as_str()).collect();
            let mut rows: Vec<CompetenceRow> = table(&keys, &cards)
                .into_iter()
                .zip(&function.competences)
                .map(|(stand, competence)| {
                    let mark = marks.get(&competence.key).copied();
                    row((learner, shelf, outlook), stand, &competence.title, (mark, line, oral.is_some()), today)
                })
                .collect();
            rows.sort_by(|a, b| {
                let rank = |row: &CompetenceRow| row.today.unwrap_or(0.0);
                rank(a).total_cmp(&rank(b)).then_with(|| a.key.cmp(&b.key))
            });
            Band { title: function.title.clone(), rows }
        })
        .collect();
    CompetenceView {
        day: oral.map(|day| format!("on {}", words::day(day).split_once(' ').map_or("", |(_, date)| date))),
        chance: match so_far {
            Ok(outlook) => outlook.map(|outlook| chance(outlook, oral)),
            Err(fault) => Some(no_chance(fault)),
        },
        is_new: bands.iter().flat_map(|band| &band.rows).all(|row| row.met == 0),
        bands,
        weak_recall: WEAK,
        pass_line: line,
    }
}

/// What stands in place of a chance that could not be worked out.
fn no_chance(fault: &JobFault) -> ChanceView {
    ChanceView { range: None, when: fault.told("It", OPEN_AGAIN), behind: String::new(), costs: Vec::new() }
}

/// The chance of passing in words, or what is missing before one may be said.
pub fn chance(outlook: &Outlook, oral: Option<StudyDay>) -> ChanceView {
    let (unseen, all) = (outlook.unseen, outlook.cards);
    let asked = format!("{} of {} cards that the oral may ask", words::figure(all - unseen), words::figure(all));
    let range = match outlook.on_day.unwrap_or(outlook.today) {
        Chance::Said(range) => range,
        Chance::NotYet(needs) => {
            return ChanceView {
                range: None,
                when: needs_words(&needs),
                behind: format!("No chance is given before there is enough to say one. You have answered {asked}."),
                costs: Vec::new(),
            };
        }
    };
    let title = |key: &String| competences().get(key).map_or_else(|| key.clone(), |c| c.title.clone());
    ChanceView {
        range: Some(range_words(range.low, range.high)),
        when: match (outlook.on_day, oral) {
            (Some(_), Some(day)) => {
                let today =
                    outlook.today.range().map(|range| format!("; {} today", range_words(range.low, range.high)));
                format!("on {} without any more study{}", words::full_date(day), today.unwrap_or_default())
            }
            _ => "if the oral were today".to_owned(),
        },
        behind: format!(
            "The chance lies in this range nine times in ten. You have answered {asked}; the others count as your first \
             answers so far. Mock orals count, the latest most."
        ),
        costs: outlook
            .costs
            .iter()
            .filter(|of| of.cost >= 0.005)
            .take(3)
            .map(|of| {
                let points = (of.cost * 100.0).round() as usize;
                CostRow { area: title(&of.competence), cost: format!("{} lower", words::count(points, "point")) }
            })
            .collect(),
    }
}

/// For each competence the mark in the last sitting that asked it.
fn last_marks(learner: &Learner) -> HashMap<String, f64> {
    let marks = learner.sittings.iter().flat_map(|kept| competence_marks(&kept.sitting));
    marks.filter_map(|mark| Some((mark.competence.clone(), mark.share()?))).collect()
}

fn row(
    (learner, shelf, outlook): (&Learner, &Shelf, Option<&Outlook>),
    stand: CompetenceStand,
    title: &str,
    (mark, line, dated): (Option<f64>, f64, bool),
    today: StudyDay,
) -> CompetenceRow {
    let mut weakest: Vec<WeakCard> = shelf
        .cards()
        .filter(|(_, card)| card.topic == stand.competence)
        .filter_map(|(_, card)| {
            Some(WeakCard { ask: words::plain(&card.ask), recall: learner.recall(&card.key, today)? })
        })
        .filter(|weak| weak.recall < learner.model.target())
        .collect();
    weakest.sort_by(|a, b| a.recall.total_cmp(&b.recall));
    weakest.truncate(WEAKEST);
    let missed = outlook.map_or_else(Vec::new, |outlook| missed_most(shelf, outlook, &stand.competence));
    let trend = outlook.and_then(|outlook| outlook.trends.get(&stand.competence).cloned()).unwrap_or_default();
    CompetenceRow {
        weak: stand.all.today.is_some_and(|recall| recall < WEAK) || mark.is_some_and(|mark| mark + 1e-9 < line),
        key: stand.competence,
        title: title.to_owned(),
        met: stand.all.met,
        required: stand.all.required,
        today: stand.all.today,
        on_day: stand.all.on_day.filter(|_| dated),
        mark,
        headings: stand
            .headings
            .into_iter()
            .map(|HeadingStand { name, stand }| HeadingRow {
                name,
                recall: stand.today,
                asked: stand.met,
                cards: stand.required,
            })
            .collect(),
        weakest,
        trend,
        missed,
    }
}

/// The points of a competence's cards that were missed most often.
fn missed_most(shelf: &Shelf, outlook: &Outlook, competence: &str) -> Vec<OftenMissed> {
    let mut found: Vec<OftenMissed> = Vec::new();
    for (_, card) in shelf.cards().filter(|(_, card)| card.topic == competence) {
        let (Some(asked), Some(points)) = (card.key_points(), outlook.missed.get(&card.key)) else { continue };
        for missed in points.iter().take(WEAKEST).filter(|missed| missed.times > 1) {
            if let Some(point) = missed.point.checked_sub(1).and_then(|at| asked.get(at)) {
                found.push(OftenMissed {
                    say: words::plain(&point.say),
                    ask: words::plain(&card.ask),
                    times: missed.times,
                });
            }
        }
    }
    found.sort_by_key(|missed| std::cmp::Reverse(missed.times));
    found.truncate(WEAKEST);
    found
}
