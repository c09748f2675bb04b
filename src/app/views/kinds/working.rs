//! A working as view data: the figures of a draw, the worksheet, what is to be said of each try, the method.

use crate::app::jobs::worksheet::{Question, work_out};
use crate::app::sheet::{AnswerSheet, AtWork, Desk, Marked, Stage, Tried};
use crate::app::views::kinds::{KindView, Laid, part};
use crate::domain::answer::{Given, Worked};
use crate::domain::card::Card;
use crate::domain::english;
use crate::domain::kinds::Detail;
use crate::domain::kinds::working::{LineValue, WorkMark};
use crate::domain::marking::Marking;
use crate::domain::outcome::Outcome;
use crate::domain::quantity::{Kind, Quantity, Unit, expression, pretty_unit};
use crate::domain::working::{Working, text};
use crate::present::kinds::working::{
    GivenRow, MarkedLine, MethodLine, Round, TryView, WorkingAskedView, WorkingMarkedView,
};
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::library::{AnswerView, MethodView};
use crate::present::stage::RemedyPart;
use crate::present::worksheet::{ValueView, WorksheetPageView, WorksheetView, Written, quoted, unit_signs, written};
use crate::present::{Tone, words};

impl KindView for Working {
    fn question(&self, card: &Card, sheet: &AnswerSheet) -> String {
        sheet.question(card).unwrap_or_else(|| self.blank(card))
    }

    fn blank(&self, card: &Card) -> String {
        self.givens.iter().fold(card.ask.clone(), |ask, given| ask.replace(&format!("{{{}}}", given.name), "…"))
    }

    fn given(&self, given: &Given) -> Option<String> {
        let Given::Worked(worked) = given else { return None };
        let lines = if worked.lines.is_empty() { String::new() } else { format!("{}  ", worked.lines.join("; ")) };
        Some(format!("{lines}Answer: {}", worked.text))
    }

    fn can_be_proved(&self) -> bool {
        true
    }

    fn proof(&self, card: &Card) -> Option<Result<Vec<String>, String>> {
        Some(proved(self, card).ok_or_else(|| "the method gives no answer with figures of these ranges".to_owned()))
    }

    fn asked(&self, laid: Laid<'_>) -> AskedView {
        let first = match &laid.sheet.stage {
            Stage::Marked(first) => Some(first.as_ref()),
            _ => None,
        };
        let fresh = AtWork::default();
        let work = laid.sheet.work.as_deref().unwrap_or(&fresh);
        AskedView::Working(asked(self, work, first, laid.worksheet))
    }

    fn marked(&self, laid: Laid<'_>, first: &Marked) -> MarkedView {
        let fresh = AtWork::default();
        let work = laid.sheet.work.as_deref().unwrap_or(&fresh);
        MarkedView::Working(marked(self, work, first, laid.withheld))
    }

    fn tally(&self, _marked: &Marked, sheet: &AnswerSheet) -> String {
        match sheet.work.as_ref().and_then(|work| work.second) {
            Some(second) if second >= Outcome::Answered => "right at the second try, ".to_owned(),
            Some(_) => "two tries, ".to_owned(),
            None => String::new(),
        }
    }

    /// A second try is not spoilt by it.
    fn tells_reason(&self, first: &Marked, sheet: &AnswerSheet) -> bool {
        !sheet.work.as_ref().is_some_and(|work| work.may_try_again(first))
    }

    /// The figures, the method line by line with its values, the answer. Without a worksheet there are no values.
    fn remedy(&self, card: &Card, sheet: Option<&AnswerSheet>) -> Vec<RemedyPart> {
        let desk = sheet.and_then(|sheet| sheet.work.as_deref()).map(AtWork::front);
        let model = desk.and_then(|desk| desk.model(card));
        let figures = |desk: &Desk| {
            let figure = |given: &GivenRow| format!("{} = {}", given.symbol, joined(given));
            givens(self, desk).iter().map(figure).collect::<Vec<_>>().join(", ")
        };
        let mut parts = vec![part("The figures", desk.map(figures).unwrap_or_default())];
        for (n, line) in self.lines.iter().enumerate() {
            let value = model.as_ref().and_then(|model| model.lines.get(n));
            let value = value.map(|l| format!(" = {}", unit_read(&l.value)));
            let text = format!("`{} = {}`{}", line.name, written(&line.is), value.unwrap_or_default());
            parts.push(part(format!("Line {} of {}", n + 1, self.lines.len()), text));
        }
        let answer = model.map_or_else(|| written(&self.answer), |model| right_answer(self, &model.answer));
        parts.push(part("The answer", answer));
        parts
    }

    fn answer(&self, _card: &Card) -> AnswerView {
        AnswerView::Method(method(self))
    }
}

fn asked(working: &Working, work: &AtWork, first: Option<&Marked>, mut lines: WorksheetView) -> WorkingAskedView {
    if lines.lines.is_empty() {
        lines.lines.push(Default::default());
    }
    let round = match (&work.practice, first) {
        (Some(_), _) => Round::Practice,
        (None, Some(_)) => Round::Second,
        (None, None) => Round::First,
    };
    let before = first.filter(|_| round == Round::Second).and_then(|first| {
        let worked = worked_in(first)?;
        Some(try_view(working, ("First try, ", &worked.text), &first.marking, first.marking.outcome, false))
    });
    WorkingAskedView {
        givens: givens(working, work.front()),
        sheet: lines,
        answer: work.front().answer.clone(),
        hint: hint(working),
        round,
        before: before.into_iter().collect(),
    }
}

/// What the answer is asked in.
fn hint(working: &Working) -> String {
    let unit = unit_signs(&pretty_unit(&working.unit));
    let kind = Unit::parse(&working.unit).map(|unit| Kind::of_unit(&unit).described());
    let kind = kind.unwrap_or_default();
    let kind = kind.trim_start_matches("an ").trim_start_matches("a ");
    match kind {
        _ if working.unit.is_empty() => "A plain number.".to_owned(),
        "" | "quantity of another kind" => format!("In {unit}, or in any other unit of the kind."),
        kind => format!("In {unit}, or in any other unit of {kind}."),
    }
}

/// The figures that are worked with.
fn givens(working: &Working, desk: &Desk) -> Vec<GivenRow> {
    let row = |(given, (_, figure)): (&crate::domain::working::Given, &(String, Quantity))| {
        let written = text(given, figure);
        let (number, unit) = written.split_once(' ').unwrap_or((&written, ""));
        GivenRow {
            name: given.say.clone(),
            symbol: given.name.clone(),
            number: number.to_owned(),
            unit: unit_signs(&pretty_unit(unit)),
        }
    };
    working.givens.iter().zip(&desk.givens).map(row).collect()
}

fn worked_in(marked: &Marked) -> Option<&Worked> {
    match &marked.given {
        Given::Worked(worked) => Some(worked),
        _ => None,
    }
}

fn marked(working: &Working, work: &AtWork, first: &Marked, withheld: bool) -> WorkingMarkedView {
    let none = Worked::default();
    let practice = work.practice.as_ref().and_then(|p| p.marked.as_ref());
    let (worked, marking) = match practice {
        Some(practised) => (&practised.worked, &practised.marking),
        None => (worked_in(first).unwrap_or(&none), &first.marking),
    };
    let told = !withheld;
    let may_try_again = told && work.may_try_again(first);
    let mut tries = Vec::new();
    match (&work.first, practice) {
        (Some(Tried { text, marking: before }), None) => {
            let second = work.second.unwrap_or(marking.outcome);
            tries.push(try_view(working, ("First try, ", text), before, before.outcome, true));
            tries.push(try_view(working, ("Second try, ", &worked.text), marking, second, true));
        }
        _ => tries.push(try_view(working, ("", &worked.text), marking, marking.outcome, told && !may_try_again)),
    }
    if !told {
        // Right or not; the slip, if it is known, is told in the debrief.
        let right = marking.outcome >= Outcome::Answered;
        let words = format!("{}: {}.", unit_read(&worked.text), if right { "right" } else { "not right" });
        tries.iter_mut().for_each(|one| one.words = english::capital(&words));
    }
    if practice.is_none() && work.first.is_none() {
        // What is wrong with a line stands under that line.
        tries.iter_mut().for_each(|t| t.note.clear());
    }
    let (marks, method, expected) = match &marking.detail {
        Detail::Working(told) => (told.worksheet.as_slice(), told.lines.as_slice(), told.expected.as_str()),
        _ => (&[][..], &[][..], ""),
    };
    WorkingMarkedView {
        givens: givens(working, work.front()),
        lines: if marks.is_empty() || !told {
            plain_lines(work.front(), worked)
        } else {
            marks.iter().map(|mark| marked_line(mark, &marking.detail, !may_try_again)).collect()
        },
        answer: typed_value(&worked.text),
        tries,
        expected: (told && !may_try_again).then(|| right_answer(working, expected)),
        method: (work.shown && told).then(|| method_lines(working, method, marks)),
        may_try_again,
        practice: practice.is_some(),
    }
}

/// The lines with their values where the marking says nothing of them.
fn plain_lines(desk: &Desk, worked: &Worked) -> Vec<MarkedLine> {
    let question = Question { lines: worked.lines.clone(), ..desk.question() };
    let told = work_out(&question).into_iter().zip(&worked.lines);
    told.map(|(report, text)| MarkedLine {
        text: text.clone(),
        value: report.result.value().cloned(),
        tone: Tone::Plain,
        words: String::new(),
    })
    .collect()
}

fn marked_line(mark: &WorkMark, detail: &Detail, told: bool) -> MarkedLine {
    let tell = mark.tell.as_deref().map(|tell| said(tell, detail, told));
    let (tone, words) = match (&mark.agrees, tell) {
        // Right but for a slip before it, or right with something to be noted of it.
        (Some(_), Some(tell)) => (Tone::Plain, tell),
        (Some(line), None) if line == "answer" => (Tone::Good, "The right answer.".to_owned()),
        (Some(line), None) => (Tone::Good, format!("As the method’s {line}.")),
        (None, Some(tell)) => (Tone::Bad, tell),
        (None, None) => (Tone::Plain, String::new()),
    };
    MarkedLine { text: mark.text.clone(), value: mark.value.as_deref().map(typed_value), tone, words }
}

/// What the marking says, for reading. What a line should have come to is left out while a second try is open.
fn said(text: &str, detail: &Detail, told: bool) -> String {
    let mut text = text.to_owned();
    if let Detail::Working(marked) = detail {
        for line in &marked.lines {
            let value = format!("`{}` is {}.", line.name, line.value);
            let shown = if told { format!("`{}` is {}.", line.name, unit_read(&line.value)) } else { String::new() };
            text = text.replace(&value, &shown);
        }
    }
    match text.trim() {
        "" => "The slip is in this line.".to_owned(),
        text => quoted(&english::sentence(text)),
    }
}

/// What is to be said of a try that alone came to this outcome. `told` says whether the right answer may be named.
fn try_view(
    working: &Working,
    (which, text): (&str, &str),
    marking: &Marking,
    outcome: Outcome,
    told: bool,
) -> TryView {
    let (slip, expected, worksheet) = match &marking.detail {
        Detail::Working(told) => (told.slip.as_ref(), told.expected.as_str(), told.worksheet.as_slice()),
        _ => (None, "", &[][..]),
    };
    let given = unit_read(text);
    let right = outcome >= Outcome::Answered;
    let words = match (right, slip) {
        (true, _) if told => format!("{which}{given}: right, {}.", closeness(working, expected)),
        (true, _) => format!("{which}{given}: right."),
        (false, Some(slip)) => format!("{which}{given}. {}", english::sentence(&slip.tell)),
        (false, None) => format!("{which}{given}: not right."),
    };
    let wrong = worksheet.iter().enumerate().find_map(|(n, mark)| match &mark.agrees {
        // What only follows from a slip is not the slip.
        Some(_) => None,
        None => Some((n, mark.tell.as_ref()?)),
    });
    TryView {
        tone: match (right, outcome) {
            (true, _) => Tone::Good,
            (false, Outcome::Missed) => Tone::Bad,
            (false, _) => Tone::Weak,
        },
        words: english::capital(&words),
        note: wrong
            .map_or_else(String::new, |(n, tell)| format!("Line {}: {}", n + 1, said(tell, &marking.detail, told))),
    }
}

fn closeness(working: &Working, expected: &str) -> String {
    match words::within(&working.within) {
        exact if exact.is_empty() => format!("it is {}", unit_read(expected)),
        within => format!("{} of {}", words::signs(&within), unit_read(expected)),
    }
}

fn right_answer(working: &Working, expected: &str) -> String {
    match words::within(&working.within) {
        exact if exact.is_empty() => unit_read(expected),
        within => format!("{}, {}", unit_read(expected), words::signs(&within)),
    }
}

/// A figure as typed or as the marking writes it, with the signs for reading.
fn unit_read(text: &str) -> String {
    typed_value(text).words()
}

/// A figure cut into its number and its unit.
fn typed_value(text: &str) -> ValueView {
    let text = text.trim();
    let is_of_number = |c: char| c.is_ascii_digit() || ".,+-−  \u{202f}\u{2009}".contains(c);
    let mut end = text.find(|c| !is_of_number(c)).unwrap_or(text.len());
    if let Some(power) = text[end..].strip_prefix(['e', 'E']) {
        let digits = power.trim_start_matches(['-', '+']);
        let after = digits.trim_start_matches(|c: char| c.is_ascii_digit());
        if after.len() < digits.len() {
            end = text.len() - after.len();
        }
    }
    let (number, unit) = text.split_at(end);
    if number.trim().is_empty() {
        return ValueView { number: text.to_owned(), unit: String::new(), taken: text.to_owned() };
    }
    ValueView { number: number.trim().to_owned(), unit: unit_signs(&pretty_unit(unit.trim())), taken: text.to_owned() }
}

fn method_lines(working: &Working, values: &[LineValue], marks: &[WorkMark]) -> Vec<MethodLine> {
    let yours = |name: &str| {
        let at = marks.iter().position(|m| m.agrees.as_deref() == Some(name) && m.tell.is_none());
        at.map_or_else(String::new, |n| format!("Your line {}.", n + 1))
    };
    let line = |(line, value): (&crate::domain::working::Line, &LineValue)| MethodLine {
        text: format!("{} = {}", line.name, line.is),
        value: typed_value(&value.value),
        yours: yours(&line.name),
    };
    working.lines.iter().zip(values).map(line).collect()
}

fn joined(given: &GivenRow) -> String {
    format!("{} {}", given.number, given.unit).trim().to_owned()
}

/// The method without figures, for the card's page.
fn method(working: &Working) -> MethodView {
    let range = |given: &crate::domain::working::Given| {
        let (from, to) = (text(given, &given.from), text(given, &given.to));
        let (least, unit) = from.split_once(' ').unwrap_or((&from, ""));
        let greatest = to.split_once(' ').map_or(to.as_str(), |(number, _)| number);
        let number = if least == greatest { least.to_owned() } else { format!("{least} to {greatest}") };
        GivenRow { name: given.say.clone(), symbol: given.name.clone(), number, unit: unit_signs(&pretty_unit(unit)) }
    };
    let within = words::within(&working.within);
    let unit = unit_signs(&pretty_unit(&working.unit));
    let asked = if unit.is_empty() { String::new() } else { format!(", in {unit}") };
    let tolerance = if within.is_empty() { String::new() } else { format!(", {}", words::signs(&within)) };
    MethodView {
        givens: working.givens.iter().map(range).collect(),
        lines: working.lines.iter().map(|line| format!("{} = {}", line.name, line.is)).collect(),
        answer: format!("{}{asked}{tolerance}", written(&working.answer)),
        slips: working.slips.iter().map(|slip| slip.tell.clone()).collect(),
    }
}

/// The worksheet outside of any card.
pub fn page(sheet: WorksheetView) -> WorksheetPageView {
    let examples = [
        ("D = 320 mm", "a name for a figure with its unit"),
        ("A = pi / 4 * D^2", "names of the lines above may be used"),
        ("F = 16.2 bar * A", "units are worked out"),
        ("85 degC - 20 degC", "without a name: the value only"),
    ];
    let written = |(text, what): (&str, &'static str)| Written { text: text.to_owned(), what };
    let functions = expression::functions().map(|(text, what)| Written { text, what });
    WorksheetPageView { sheet, examples: examples.map(written).to_vec(), functions: functions.collect() }
}

/// So many draws are shown to whoever writes the card.
const SHOWN_DRAWS: u64 = 3;

/// What a working comes to with a few draws, in sentences; none where its method has no answer.
fn proved(working: &Working, card: &Card) -> Option<Vec<String>> {
    let mut lines =
        vec!["The method has been tried on the corners of the ranges and on a few hundred draws.".to_owned()];
    for seed in 1..=SHOWN_DRAWS {
        let desk = Desk::drawn(working, seed);
        let figures: Vec<String> =
            givens(working, &desk).iter().map(|given| format!("{} = {}", given.symbol, joined(given))).collect();
        lines.push(format!("{} give {}.", figures.join(", "), desk.model(card)?.answer));
        // Figures that cannot vary are told once.
        lines.dedup();
    }
    Some(lines)
}
