//! A deck being written: its cards, the card in hand, problems, samples, what learners say.

use crate::app::jobs::job::JobFault;
use crate::app::jobs::study::Study;
use crate::app::profile::learner::Learner;
use crate::app::views::Pictured;
use crate::app::views::kinds;
use crate::app::views::library::{severity, source};
use crate::app::writing::AtWriting;
use crate::deck::writing::has_form;
use crate::deck::{InSight, Problem};
use crate::domain::card::Card;
use crate::domain::english;
use crate::domain::kinds::Kind;
use crate::domain::report::CardReport;
use crate::domain::sample::{Expected, Sample, SampleAnswer};
use crate::present::drawing::PartShown;
use crate::present::library::Severity;
use crate::present::words;
use crate::present::writing::{CardInHand, ReportRow, SampleRow, Worked, WriteDeskView, WrittenProblem, WrittenRow};

/// The desk.
pub fn desk(
    learner: &Learner,
    writing: &AtWriting,
    pictured: Option<Pictured>,
    study: Option<Result<&Study, &JobFault>>,
) -> WriteDeskView {
    let seen = writing.in_hand();
    let card = writing.card();
    WriteDeskView {
        folder: writing.folder.display().to_string(),
        reading: writing.reading.is_none(),
        broken: broken(writing),
        cards: rows(writing),
        chosen: writing.chosen,
        card: seen
            .zip(card)
            .zip(pictured)
            .map(|((seen, card), pictured)| Box::new(in_hand(writing, seen, card, pictured))),
        problems: problems(writing),
        proof: proof(card, study),
        samples: samples(card, study),
        reports: reports(learner, writing),
        reports_elsewhere: elsewhere(writing, card),
        kinds: Kind::ALL.into_iter().filter(|kind| has_form(*kind)).collect(),
        has_form: seen.is_some_and(|seen| has_form(seen.written.kind)),
    }
}

fn broken(writing: &AtWriting) -> String {
    let Some(reading) = &writing.reading else { return String::new() };
    if !reading.readable {
        return "The folder cannot be read as a deck; the cards are those of the last good reading.".to_owned();
    }
    match reading.broken.as_slice() {
        [] => String::new(),
        [one] => format!("{one} cannot be read as it stands; its cards are those of the last good reading."),
        many => format!(
            "{} cannot be read as they stand; their cards are those of the last good reading.",
            many.join(" and ")
        ),
    }
}

/// The words by which a card is named in a list.
fn name_of(seen: &InSight) -> String {
    let ask = words::plain(&seen.written.ask);
    match (ask.trim(), &seen.written.id) {
        ("", Some(id)) => id.clone(),
        ("", None) => "a card without id and question".to_owned(),
        (ask, _) => ask.to_owned(),
    }
}

fn found(writing: &AtWriting) -> &[Problem] {
    writing.reading.as_ref().map_or(&[], |reading| &reading.problems)
}

/// The card in which a problem is; none where it is in none.
fn card_of(writing: &AtWriting, problem: &Problem) -> Option<usize> {
    writing.cards.iter().position(|seen| !seen.gone && seen.written.holds(&problem.file, problem.span.start))
}

fn rows(writing: &AtWriting) -> Vec<WrittenRow> {
    let mut worst: Vec<Option<Severity>> = vec![None; writing.cards.len()];
    for problem in found(writing) {
        if let Some(at) = card_of(writing, problem) {
            let now = severity(problem.severity);
            worst[at] = Some(worst[at].map_or(now, |was| was.min(now)));
        }
    }
    let mut section: Option<String> = None;
    let row = |(seen, worst): (&InSight, Option<Severity>)| {
        let of = seen.written.heading.clone().or_else(|| seen.card.as_ref()?.heading.clone());
        let of = of.unwrap_or_else(|| seen.written.file.clone());
        let begins = section.as_ref() != Some(&of);
        section = Some(of.clone());
        WrittenRow {
            section: begins.then_some(of),
            name: name_of(seen),
            kind: seen.written.kind,
            worst,
            stale: seen.stale,
        }
    };
    writing.cards.iter().zip(worst).map(row).collect()
}

fn in_hand(writing: &AtWriting, seen: &InSight, card: &Card, pictured: Pictured) -> CardInHand {
    let kind = kinds::of(card);
    let sources = writing.deck.iter().flat_map(|deck| card.sources.iter().filter_map(|key| deck.sources.get(key)));
    CardInHand {
        key: card.key.clone(),
        kind: card.kind(),
        place: Learner::place(card),
        written: format!("{}, line {}", seen.written.file, seen.written.line),
        ask: kinds::blank(card),
        caution: card.caution.clone(),
        shown: pictured.drawing.zip(kind.part()).map(|(drawing, part)| PartShown { drawing, part }),
        picture: pictured.picture,
        schematic: kind.schematic(),
        answer: kind.answer(card),
        because: card.because.clone(),
        sources: sources.map(source).collect(),
        stale: seen.stale,
    }
}

/// Problems of the card in hand, then those of no card, then those of others.
fn problems(writing: &AtWriting) -> Vec<WrittenProblem> {
    let mut all: Vec<(usize, WrittenProblem)> = Vec::new();
    for problem in found(writing) {
        let (rank, of) = match card_of(writing, problem) {
            Some(at) if at == writing.chosen => (0, None),
            Some(at) => (2, Some(format!("{}: {}", problem.file, name_of(&writing.cards[at])))),
            None => (1, Some(problem.file.clone())),
        };
        all.push((rank, sentence_of(problem, of)));
    }
    // In the order of files and lines within each, the worst first.
    all.sort_by_key(|(rank, problem)| (*rank, problem.severity));
    all.into_iter().map(|(_, problem)| problem).collect()
}

/// Problems of one card.
pub(super) fn problems_of(writing: &AtWriting, seen: &InSight) -> Vec<WrittenProblem> {
    let is_it = |problem: &&Problem| card_of(writing, problem).is_some_and(|at| std::ptr::eq(&writing.cards[at], seen));
    found(writing).iter().filter(is_it).map(|problem| sentence_of(problem, None)).collect()
}

fn sentence_of(problem: &Problem, of: Option<String>) -> WrittenProblem {
    WrittenProblem {
        severity: severity(problem.severity),
        file: problem.file.clone(),
        line: problem.line,
        what: english::sentence(&in_quotes(&problem.message)),
        mend: english::sentence(&in_quotes(&problem.mend)),
        of,
    }
}

/// What messages mark as written in a file, in the quotes of a sentence.
fn in_quotes(message: &str) -> String {
    let mut is_open = false;
    let sign = |sign: char| match sign {
        '`' => {
            is_open = !is_open;
            if is_open { '“' } else { '”' }
        }
        sign => sign,
    };
    message.chars().map(sign).collect()
}

fn proof(card: Option<&Card>, study: Option<Result<&Study, &JobFault>>) -> Option<Worked<Vec<String>>> {
    if !kinds::can_be_proved(card?) {
        return None;
    }
    Some(match study {
        None => Worked::Pending,
        Some(Err(fault)) => Worked::Failed(fault.told("What can be proved", "Change the card to have it proved again")),
        Some(Ok(study)) => match study.proof.as_ref()? {
            Ok(lines) => Worked::Done(lines.clone()),
            Err(why) => Worked::Failed(english::sentence(why)),
        },
    })
}

fn samples(card: Option<&Card>, study: Option<Result<&Study, &JobFault>>) -> Worked<Vec<SampleRow>> {
    let Some(card) = card.filter(|card| !card.samples.is_empty()) else { return Worked::Done(Vec::new()) };
    match study {
        None => Worked::Pending,
        Some(Err(fault)) => Worked::Failed(fault.told("Its samples", "Change the card to have them marked again")),
        Some(Ok(study)) => {
            let rows = card.samples.iter().zip(study.samples.iter().map(String::as_str).chain(std::iter::repeat("")));
            Worked::Done(rows.map(|(sample, otherwise)| sample_row(card, sample, otherwise)).collect())
        }
    }
}

fn sample_row(card: &Card, sample: &Sample, otherwise: &str) -> SampleRow {
    let answer = match &sample.answer {
        SampleAnswer::Given(given) => kinds::given_words(card, given),
        SampleAnswer::OneThatWorks => "One order that works.".to_owned(),
    };
    SampleRow { answer, meant: meant(&sample.expected), otherwise: otherwise.to_owned() }
}

/// What a sample is meant to come to, in words.
fn meant(expected: &Expected) -> String {
    let listed = |points: &[usize]| {
        let points: Vec<String> = points.iter().map(ToString::to_string).collect();
        points.join(", ")
    };
    let mut all = Vec::new();
    if !expected.says.is_empty() {
        all.push(format!("says {}", listed(&expected.says)));
    }
    if !expected.denies.is_empty() {
        all.push(format!("denies {}", listed(&expected.denies)));
    }
    all.extend(expected.outcome.map(|outcome| outcome.word().to_owned()));
    all.extend(expected.slip.map(|slip| format!("slip of {}", slip.word())));
    if all.is_empty() { "an order that works".to_owned() } else { all.join("; ") }
}

fn reports(learner: &Learner, writing: &AtWriting) -> Vec<ReportRow> {
    let Some(card) = writing.card() else { return Vec::new() };
    let row = |report: &CardReport| {
        let day = words::day(learner.day(report.at));
        let marked = report.marked.as_ref().map(|marked| format!(", marked {}", marked.outcome.word()));
        ReportRow {
            note: report.note.clone(),
            when: match report.edition {
                Some(edition) => format!("Edition {edition}, {day}"),
                None => day,
            },
            answer: report.answer.as_ref().map_or_else(String::new, |answer| {
                format!("{}{}", kinds::given_words(card, &answer.given), marked.unwrap_or_default())
            }),
            answered: report.answer.is_some(),
        }
    };
    writing.reports_of_hand().into_iter().map(row).collect()
}

fn elsewhere(writing: &AtWriting, card: Option<&Card>) -> usize {
    let Some(deck) = &writing.deck else { return 0 };
    let others = |report: &&CardReport| report.card.deck == deck.id && card.is_none_or(|card| report.card != card.key);
    writing.reports.iter().filter(others).count()
}
