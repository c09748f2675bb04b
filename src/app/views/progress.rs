//! A learner's progress, for a training officer.

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::app::views;
use crate::domain::day::Instant;
use crate::domain::readiness::{Outlook, WEEKS};
use crate::present::progress::{Progress, WeekRow};
use crate::present::{Labelled, words};

/// What the report tells.
pub fn progress(learner: &Learner, shelf: &Shelf, outlook: &Outlook, now: Instant) -> Progress {
    let settings = &learner.settings;
    let today = learner.day(now);
    let first = outlook.by_week.iter().position(|week| week.answers > 0).unwrap_or(WEEKS);
    let weeks = outlook.by_week.iter().enumerate().skip(first).map(|(at, week)| {
        let end = crate::domain::day::StudyDay(today.0 - 7 * (WEEKS - 1 - at) as i32);
        WeekRow { ends: words::full_date(end), answers: week.answers, hours: week.seconds / 3_600.0 }
    });
    let front = views::oral::front(learner, shelf, today);
    let mut facts = vec![
        Labelled::of("Learner", words::named(&settings.learner).to_owned()),
        Labelled::of("Certificate aimed at", front.certificate.clone()),
        Labelled::of("Made on", words::full_date(today)),
        Labelled::of("Answers", words::figure(outlook.whole.answers)),
        Labelled::of("Hours of answering", format!("{:.1}", outlook.whole.seconds / 3_600.0)),
        Labelled::of("Mock orals over", front.rows.iter().filter(|row| row.over).count().to_string()),
    ];
    if let Some(oral) = settings.oral {
        facts.push(Labelled::of("Day of the oral", words::full_date(oral)));
    }
    for result in &settings.results {
        let word = if result.passed { "passed" } else { "not passed" };
        facts.push(Labelled::of(format!("Oral on {}", words::full_date(result.day)), word));
    }
    Progress {
        learner: settings.learner.clone(),
        certificate: front.certificate,
        facts,
        weeks: weeks.collect(),
        table: views::competence::view(learner, shelf, Ok(Some(outlook)), now),
        sittings: front.rows,
    }
}
