//! Credit for the method, as a fair examiner gives it: right lines with a slip in one are prompted, not missed.
//!
//! A line of the worksheet agrees with a line of the method where its value is the same, whatever it is called and
//! however it was come by. A wrong answer has credit where
//! - the worksheet comes to the right answer and another was given;
//! - one wrong line, put into the method in the place of the line that it stands for, makes the method come to the
//!   learner's answer: then all else was right, and followed from it;
//! - the learner's last line is the wrong one, and every other line of the method stands on the worksheet;
//! - a known slip explains the answer, and at least half of the method's other lines stand on the worksheet.

use super::case::Case;
use super::guess;
use super::told::WorkMark;
use crate::domain::english::capital as sentence;
use crate::domain::kinds::figure::Verdict;
use crate::domain::marking::SlipKind;
use crate::domain::quantity::Value;
use crate::domain::working::{LineResult, MOST_WORKSHEET_LINES, Worked, evaluate, result_text};

/// How near a line must be, as a share: people round on the way.
const NEAR: (f64, f64) = (0.001, 0.02);
/// How near a temperature must be, in kelvins.
const NEAR_KELVINS: f64 = 0.5;

/// Where the one slip was made.
struct Slipped {
    /// The line of the worksheet, from 0; none where it was made behind the last one.
    line: Option<usize>,
    /// What went wrong, in a sentence; empty where that is not known.
    tell: String,
    /// The method with the slip made.
    followed: Worked,
}

/// Marks the lines of the worksheet, and gives the reason for credit where a wrong answer has some.
pub(super) fn judge(case: &Case<'_>, verdict: &Verdict, lines: &[String]) -> (Vec<WorkMark>, Option<String>) {
    if lines.is_empty() {
        return (Vec::new(), None);
    }
    let givens: Vec<_> =
        case.working.givens.iter().map(|given| given.name.clone()).zip(case.figures.iter().cloned()).collect();
    let read = &lines[..lines.len().min(MOST_WORKSHEET_LINES)];
    let results = evaluate(&givens, read, Some(&case.working.unit));
    let sheet = Sheet { case, results: &results, targets: targets(case, &case.right) };
    let slipped = sheet.slipped(verdict);
    let mut marks: Vec<WorkMark> = read.iter().zip(&results).map(|(text, line)| sheet.mark(text, line)).collect();
    let reason = match (sheet.right_line(), slipped) {
        (Some(line), _) => Some(format!("Line {} has the right answer, and another was given.", line + 1)),
        (None, Some(slipped)) => {
            if let Some(mark) = slipped.line.and_then(|at| marks.get_mut(at)) {
                let tell = if slipped.tell.is_empty() { "The slip is in this line." } else { &slipped.tell };
                mark.tell = Some(tell.to_owned());
            }
            sheet.follow(&slipped, &mut marks);
            Some(reason(&slipped))
        }
        (None, None) => None,
    };
    (marks, reason)
}

fn reason(slipped: &Slipped) -> String {
    let place = match slipped.line {
        Some(at) => format!("One slip, in line {}; the rest follows.", at + 1),
        None => "One slip, in the last step; the lines before it are right.".to_owned(),
    };
    format!("{place} {}", slipped.tell).trim_end().to_owned()
}

/// What a slip that the marking has found says of the answer; a missing unit and a wrong dimension explain nothing.
pub(super) fn explanation(verdict: &Verdict) -> Option<String> {
    let slip = verdict.slip.as_ref()?;
    let explains = match slip.kind {
        SlipKind::Deck | SlipKind::PowerOfTen => true,
        SlipKind::Unit => verdict.has_unit,
        SlipKind::Dimension => false,
    };
    explains.then(|| slip.tell.clone())
}

/// The method's lines, and the answer where it is none of them, by name.
fn targets(case: &Case<'_>, worked: &Worked) -> Vec<(String, Value)> {
    let lines = case.working.lines.iter().map(|line| line.name.clone()).zip(worked.lines.iter().copied());
    let answer = Value::in_unit(worked.answer, case.method.unit());
    let mut targets: Vec<(String, Value)> = lines.collect();
    if !case.working.lines.iter().any(|line| line.name == case.working.answer.trim()) {
        targets.push(("answer".to_owned(), answer));
    }
    targets
}

struct Sheet<'a> {
    case: &'a Case<'a>,
    results: &'a [LineResult],
    targets: Vec<(String, Value)>,
}

impl Sheet<'_> {
    fn is_near(&self, value: &Value, target: &Value) -> bool {
        let (a, b) = (value.base_number(), target.base_number());
        if !value.kind().is_like(&target.kind()) {
            return false;
        }
        if value.kind().is_temperature() {
            return (a - b).abs() <= NEAR_KELVINS;
        }
        let share = self.case.working.tolerance().around(self.case.right.answer) / self.case.right.answer.abs();
        let near = if share.is_finite() { share.clamp(NEAR.0, NEAR.1) } else { NEAR.0 };
        (a - b).abs() <= near * b.abs()
    }

    /// The target that a line agrees with.
    fn agrees(&self, line: &LineResult) -> Option<usize> {
        let value = line.value?;
        self.targets.iter().position(|(_, target)| self.is_near(&value, target))
    }

    fn mark(&self, text: &str, line: &LineResult) -> WorkMark {
        let agrees = self.agrees(line).map(|at| self.targets[at].0.clone());
        let value = line.value.map(|_| format!("{} {}", line.number, line.unit).trim_end().to_owned());
        let tell = line.error.as_ref().map(|error| format!("{}; {}.", sentence(&error.message), error.mend));
        WorkMark { text: text.to_owned(), value, agrees, tell: tell.or_else(|| line.note.clone()) }
    }

    /// A line that comes to the right answer.
    fn right_line(&self) -> Option<usize> {
        let answer = self.case.answer_value();
        self.results.iter().position(|line| line.value.is_some_and(|value| self.is_near(&value, &answer)))
    }

    /// The targets that stand on the worksheet, out of all but this one.
    fn stand(&self, but: usize) -> (usize, usize) {
        let agreed: Vec<usize> = self.results.iter().filter_map(|line| self.agrees(line)).collect();
        let others = (0..self.targets.len()).filter(|at| *at != but);
        (others.clone().filter(|at| agreed.contains(at)).count(), others.count())
    }

    fn slipped(&self, verdict: &Verdict) -> Option<Slipped> {
        self.following().or_else(|| self.last_step(verdict))
    }

    /// A wrong line from which the learner's answer follows.
    fn following(&self) -> Option<Slipped> {
        let last = self.last();
        let wrong = self.results.iter().enumerate().filter(|(_, line)| self.agrees(line).is_none());
        for (at, line) in wrong {
            let Some(value) = line.value else { continue };
            for target in (0..self.case.right.lines.len()).filter(|target| *target != last) {
                if !value.kind().is_like(&self.targets[target].1.kind()) || self.is_on_sheet(target) {
                    continue;
                }
                let instead = Some((target, value.base_number()));
                let Ok(followed) = self.case.method.work_on(&self.case.numbers, instead) else { continue };
                if self.case.comes_to(followed.answer) {
                    let tell = self.line_tell(target, &value);
                    return Some(Slipped { line: Some(at), tell, followed });
                }
            }
        }
        None
    }

    /// What is known of a wrong line that stands for this one of the method.
    fn line_tell(&self, target: usize, value: &Value) -> String {
        let (name, right) = &self.targets[target];
        let shown = result_text(self.case.working, right);
        let guessed = guess::line(self.case, target, value.base_number()).unwrap_or_default();
        format!("`{name}` is {shown}. {guessed}").trim_end().to_owned()
    }

    fn is_on_sheet(&self, target: usize) -> bool {
        self.results.iter().any(|line| self.agrees(line) == Some(target))
    }

    /// The target that is the answer.
    fn last(&self) -> usize {
        let name = self.case.working.answer.trim();
        self.targets.iter().position(|(line, _)| line == name).unwrap_or(self.targets.len() - 1)
    }

    /// A slip in the step to the answer itself.
    fn last_step(&self, verdict: &Verdict) -> Option<Slipped> {
        let last = self.last();
        let (stand, others) = self.stand(last);
        let given = |line: &LineResult| {
            let unit = self.case.method.unit();
            line.value.and_then(|value| value.to(unit).ok()).is_some_and(|number| self.case.comes_to(number))
        };
        let own = self.results.iter().rposition(given);
        let explained =
            explanation(verdict).or_else(|| verdict.given.and_then(|given| guess::answer(self.case, given)));
        let is_credited = stand > 0 && (own.is_some() && stand == others || explained.is_some() && 2 * stand >= others);
        is_credited.then(|| Slipped {
            line: own,
            tell: explained.unwrap_or_default(),
            followed: self.case.right.clone(),
        })
    }

    /// Marks the lines that follow from the slip: right but for what came before.
    fn follow(&self, slipped: &Slipped, marks: &mut [WorkMark]) {
        let targets = targets(self.case, &slipped.followed);
        for (at, (line, mark)) in self.results.iter().zip(marks).enumerate() {
            if mark.agrees.is_some() || mark.tell.is_some() || Some(at) <= slipped.line {
                continue;
            }
            let value = line.value;
            let follows = targets.iter().find(|(_, target)| value.is_some_and(|value| self.is_near(&value, target)));
            if let Some((name, _)) = follows {
                mark.agrees = Some(name.clone());
                mark.tell = Some("Right, but for the slip before it.".to_owned());
            }
        }
    }
}
