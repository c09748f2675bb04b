//! A card that is tried without an answer: it is asked in the terminal, answered there, and its marking told in words. No
//! profile has a part in it.

use std::io::{self, BufRead, IsTerminal, Write};

use super::kinds::{self, Asked};
use super::line::{self, Line};
use super::say::{labelled, wrapped};
use crate::app::sheet::{AnswerSheet, Stage};
use crate::app::views::alone;
use crate::domain::answer::{Answer, Given, Worked};
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::english;
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::{Marker, Marking, PointMark};
use crate::domain::random::SplitMix64;

/// When the answer is given, in milliseconds: so late after the question that nothing counts as quick.
const LATE: Instant = Instant(100_000_000);

/// Asks a card on standard output, or on standard error where standard output is for JSON, and reads its answer from
/// standard input.
///
/// # Errors
/// Where the input or the output fails; inside of it, where there is no answer.
pub(super) fn ask(card: &Card, seed: u64, json: bool) -> io::Result<Result<Answer, String>> {
    let input = io::stdin().lock();
    let typed = input.is_terminal();
    let out: Box<dyn Write> = if json { Box::new(io::stderr().lock()) } else { Box::new(io::stdout().lock()) };
    let mut dialogue = Dialogue { input, out, typed };
    let given = dialogue.card(card, seed)?;
    Ok(given.map(Answer::of).ok_or_else(|| "no answer was given".to_owned()))
}

/// What an answer came to, in words.
///
/// # Errors
/// Where the answer does not fit the card.
pub(super) fn told(card: &Card, answer: Answer, seed: u64, marker: Marker<'_>) -> Result<String, String> {
    let marking = marker.mark(card, &answer).map_err(|error| error.message)?;
    let mut lines = match marking.detail.points() {
        Some(_) => points(card, &marking),
        None => {
            let mut sheet = laid(card, seed);
            sheet.submit(card, answer.given, LATE).map_err(|error| error.message)?;
            alone::marked(card, &sheet).map(|view| kinds::marked(&view).lines()).unwrap_or_default()
        }
    };
    lines.push(wrapped(&format!("{}: {}", marking.outcome.word(), marking.reason), 0));
    lines.extend(card.because.as_ref().map(|because| labelled("Because:", because, 9)));
    let more = match card.probes.len() {
        0 => None,
        1 => Some("A follow-up can be tried with --probe 1.".to_owned()),
        many => Some(format!("Its {many} follow-ups can be tried with --probe 1 to --probe {many}.")),
    };
    lines.extend(more);
    lines.extend(
        (!card.because_points.is_empty())
            .then(|| "The question for the reason can be tried with --probe reason.".to_owned()),
    );
    Ok(lines.join("\n") + "\n")
}

/// The card on a sheet of its own.
fn laid(card: &Card, seed: u64) -> AnswerSheet {
    AnswerSheet::of(card, Stage::Asked, Instant(0), seed, |things| {
        let mut positions: Vec<usize> = (1..=things).collect();
        SplitMix64::new(seed).shuffle(&mut positions);
        positions
    })
}

/// Each point with what was found of it.
fn points(card: &Card, marking: &Marking) -> Vec<String> {
    let points = card.key_points().unwrap_or_default().iter().zip(marking.detail.points().unwrap_or_default());
    let told = |(n, (point, mark)): (usize, (&KeyPoint, &PointMark))| {
        let critical = if point.critical { " (safety-critical)" } else { "" };
        let words = mark.evidence.as_ref().map(|words| format!(", in “{words}”")).unwrap_or_default();
        labelled(&format!("  {n}"), &format!("{}{words}: {}{critical}", came_to(mark), point.say), 5)
    };
    (1..).zip(points).map(told).collect()
}

/// What a point came to, in words.
pub(super) fn came_to(mark: &PointMark) -> &'static str {
    match (mark.said, mark.contradicted, mark.unsure) {
        (true, _, _) => "said",
        (_, true, _) => "denied",
        (_, _, true) => "not sure",
        _ => "not said",
    }
}

struct Dialogue<R, W> {
    input: R,
    out: W,
    /// The input is a keyboard, not a pipe.
    typed: bool,
}

impl<R: BufRead, W: Write> Dialogue<R, W> {
    /// Asks a card until it is answered; none at the end of the input.
    fn card(&mut self, card: &Card, seed: u64) -> io::Result<Option<Given>> {
        let sheet = laid(card, seed);
        writeln!(self.out, "{}\n{}", english::capital(card.kind().word()), wrapped(&alone::question(card, &sheet), 0))?;
        if let Some(caution) = &card.caution {
            writeln!(self.out, "{}", labelled("Caution:", caution, 9))?;
        }
        let view = alone::asked(card, &sheet);
        let asked = kinds::asked(&view);
        asked.lines().into_iter().try_for_each(|line| writeln!(self.out, "{line}"))?;
        if asked.worksheet().is_some() {
            return self.worked(seed);
        }
        match card.key_points() {
            Some(points) => {
                writeln!(
                    self.out,
                    "Type the answer in one line; or press Enter alone and say which points were said."
                )?;
                let Some(line) = self.line(&asked.prompt())? else { return Ok(None) };
                if !line.is_empty() {
                    return Ok(Some(Given::Text(line)));
                }
                let points: Vec<&str> = points.iter().map(|point| point.say.as_str()).collect();
                self.ticked(&points)
            }
            None => self.given(asked),
        }
    }

    fn given(&mut self, asked: &dyn Asked) -> io::Result<Option<Given>> {
        while let Some(line) = self.line(&asked.prompt())? {
            match asked.given(&line) {
                Ok(given) => return Ok(Some(given)),
                Err(message) => writeln!(self.out, "{}", wrapped(&message, 0))?,
            }
        }
        Ok(None)
    }

    fn ticked(&mut self, points: &[&str]) -> io::Result<Option<Given>> {
        for (n, point) in (1..).zip(points) {
            writeln!(self.out, "{}", labelled(&format!("  {n}"), point, 5))?;
        }
        while let Some(line) = self.line("Numbers of the points that were said, such as 1 3; Enter alone for none: ")? {
            let parts = line.split([' ', ',']).filter(|part| !part.is_empty());
            let numbers: Option<Vec<usize>> = parts.map(|part| part.parse().ok()).collect();
            match numbers.filter(|numbers| numbers.iter().all(|n| (1..=points.len()).contains(n))) {
                Some(mut numbers) => {
                    numbers.sort_unstable();
                    numbers.dedup();
                    return Ok(Some(Given::Said(numbers)));
                }
                None => writeln!(self.out, "Type numbers from 1 to {}.", points.len())?,
            }
        }
        Ok(None)
    }

    /// Lines of a worksheet, then the answer.
    fn worked(&mut self, seed: u64) -> io::Result<Option<Given>> {
        writeln!(self.out, "A line with = goes on the worksheet; anything else is the answer.")?;
        let mut lines = Vec::new();
        while let Some(line) = self.line(&format!("Line {} or the answer: ", lines.len() + 1))? {
            if line.contains('=') {
                lines.push(line.strip_prefix('=').unwrap_or(&line).trim().to_owned());
            } else if !line.is_empty() {
                return Ok(Some(Given::Worked(Worked { seed: Some(seed), text: line, lines, ..Worked::default() })));
            }
        }
        Ok(None)
    }

    fn line(&mut self, prompt: &str) -> io::Result<Option<String>> {
        loop {
            write!(self.out, "{prompt}")?;
            self.out.flush()?;
            let line = line::read(&mut self.input)?;
            if !self.typed || line == Line::End {
                // On a pipe nobody has pressed Enter on the screen.
                writeln!(self.out)?;
            }
            match line {
                Line::End => return Ok(None),
                Line::Read(text) => return Ok(Some(text)),
                Line::TooLong => writeln!(self.out, "{}", wrapped(line::TOO_LONG, 0))?,
                Line::Endless => {
                    writeln!(self.out, "{}", wrapped(line::ENDLESS, 0))?;
                    return Ok(None);
                }
            }
        }
    }
}
