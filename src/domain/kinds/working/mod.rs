//! Working: a calculation with fresh figures. The typed answer is marked against the method's, as a figure is; then
//! against the ways in which the deck knows that it goes wrong; then against slips that any calculation can have
//! (`guess`); and at last the lines of the worksheet against those of the method (`credit`), for a wrong answer with one
//! slip in it is no worse than prompted.
//!
//! Of several things that fit a wrong answer the most telling is told: a deck's own slip before a slip of unit or of
//! the decimal point, because its author knew the calculation, and these before a guess. An answer of another dimension
//! is that first of all.

mod asked;
mod case;
mod credit;
mod figures;
mod guess;
mod told;

pub use told::{LineValue, Told, WorkMark};

use super::figure::{Standing, Verdict};
use super::kind::{CardKind, Facts, Handed, Marked, Marks, Weighed};
use crate::domain::answer::{Form, Given, Worked};
use crate::domain::editions::Part;
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::{AnswerError, Slip, SlipKind};
use crate::domain::outcome::Outcome;
use crate::domain::working::{Working, answer_text, line_text};
use case::Case;

pub(super) const FACTS: Facts =
    Facts { word: "working", forms: &[Form::Worked], first_seconds: 240.0, oral_seconds: 600.0 };

impl CardKind for Working {
    fn facts(&self) -> &'static Facts {
        &FACTS
    }

    fn rule(&self, fluent: &str) -> String {
        format!(
            "The right answer: Answered{fluent}. Right lines with one slip, or a second try: Prompted. Else: Missed."
        )
    }

    fn expected(&self) -> Vec<KeyPoint> {
        let lines = self.lines.iter().map(|line| format!("{} = {}", line.name, line.is));
        let answer = format!("The right figure, in {}", self.unit);
        lines.chain([answer]).map(|say| KeyPoint::plain(say, false)).collect()
    }

    /// The figures, every line of the method, the answer.
    fn remedy_parts(&self) -> usize {
        self.lines.len() + 2
    }

    fn asked(&self) -> Vec<Part> {
        asked::asked(self)
    }

    fn texts(&self) -> Vec<&str> {
        self.givens.iter().map(|given| given.say.as_str()).collect()
    }

    fn stays_on_the_sheet(&self) -> bool {
        true
    }
}

impl Marks for Working {
    type Told = Told;

    fn mark(&self, answer: &Handed<'_>) -> Result<Marked<Told>, AnswerError> {
        match answer.given {
            Given::Worked(worked) => mark(self, worked, answer.in_time),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn weigh(&self, told: &Told, outcome: Outcome) -> Vec<Weighed> {
        vec![Weighed::by_outcome(&told.expected, outcome)]
    }
}

/// Marks a calculation.
fn mark(working: &Working, worked: &Worked, in_time: bool) -> Result<Marked<Told>, AnswerError> {
    let case = Case::new(working, worked)?;
    let verdict = verdict_on(&case)?;
    let (worksheet, credit) = credit::judge(&case, &verdict, &worked.lines);
    let (outcome, reason) = match credit {
        Some(reason) if verdict.standing == Standing::Wrong => (Outcome::Prompted, reason),
        _ => (verdict.outcome(in_time), verdict.reason),
    };
    let lines = working.lines.iter().zip(&case.right.lines);
    let told = Told {
        givens: case.givens(),
        lines: lines
            .map(|(line, value)| LineValue { name: line.name.clone(), value: line_text(working, &line.name, value) })
            .collect(),
        expected: answer_text(working, case.right.answer),
        error: verdict.error,
        slip: verdict.slip,
        worksheet,
    };
    Ok(Marked { outcome, reason, told })
}

/// The verdict on the answer alone, with the slip that explains it best.
fn verdict_on(case: &Case<'_>) -> Result<Verdict, AnswerError> {
    let verdict = case.against(case.right.answer)?;
    let other_dimension = verdict.slip.as_ref().is_some_and(|slip| slip.kind == SlipKind::Dimension);
    if verdict.standing != Standing::Wrong || other_dimension {
        return Ok(verdict);
    }
    for (number, slip) in case.right.slips.iter().zip(&case.working.slips) {
        let Some(number) = number else { continue };
        let standing = case.against(*number)?.standing;
        if standing != Standing::Wrong {
            return Ok(known_slip(verdict, &slip.tell, standing));
        }
    }
    match verdict.given.filter(|_| credit::explanation(&verdict).is_none()).and_then(|given| guess::answer(case, given))
    {
        Some(tell) => Ok(Verdict { reason: format!("{} {tell}", verdict.reason), ..verdict }),
        None => Ok(verdict),
    }
}

/// What is told of an answer that a slip of the deck comes to.
fn known_slip(verdict: Verdict, tell: &str, standing: Standing) -> Verdict {
    let reason = match standing {
        Standing::UnitMissing => format!("{tell} And the unit is missing."),
        _ => tell.to_owned(),
    };
    Verdict { slip: Some(Slip { kind: SlipKind::Deck, tell: tell.to_owned() }), reason, ..verdict }
}
