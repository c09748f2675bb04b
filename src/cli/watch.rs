//! `bedplate watch`: a watch in the terminal. The same program as in the window, drawn as text.

use std::io::{BufRead, IsTerminal, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use crate::app::command::Command;
use crate::app::program::Program;
use crate::app::route::Route;
use crate::app::state::App;
use crate::cli::line::{self, Line};
use crate::cli::said::{Said, said};
use crate::cli::say::{labelled, wrapped};
use crate::cli::{cannot, clock, lineup, out, point, profile, sequence, working};
use crate::domain::answer::Given;
use crate::domain::attempt::Until;
use crate::domain::outcome::Notch;
use crate::present::first_run::CAUTION;
use crate::present::lineup::LineupCheckedView;
use crate::present::sequence::SequenceRunView;
use crate::present::watch::{FrontState, LinkStanding, PointRow, ResultView, Stage};
use crate::present::{View, WatchCardView, WatchEndView, WatchFrontView};

const HELP: &str = "Type your answer, or press Enter alone to see the answer and tick what you said.\n\
    stop leaves the watch    aside sets the card aside    fault: WORDS reports a fault in it    help shows this";

/// Stands a watch of at most `cards` cards, at the time `now` where one is given.
pub fn run(dir: Option<PathBuf>, cards: Option<usize>, now: Option<&str>) -> ExitCode {
    let time = match profile::clock(now) {
        Ok(clock) => clock,
        Err(message) => return cannot(message),
    };
    let setup = match profile::setup(dir, time) {
        Ok(setup) => setup,
        Err(error) => return cannot(error),
    };
    let mut app = clock::minded(App::start(setup), now.is_some());
    app.leave_pictures_unread();
    app.settle();
    profile::tell(app.view().notice.as_ref().map(|notice| notice.text.clone()).as_slice());
    // After the day of an oral the window begins with a question of its own.
    app.handle(Command::Go(Route::Watch));
    app.settle();
    let typed = std::io::stdin().is_terminal();
    let mut face = Face::of(app, std::io::stdin().lock(), std::io::stdout().lock(), typed);
    let code = match face.stand(cards) {
        Ok(code) => code,
        // What was accepted is kept.
        Err(error) => out::stopped(&error),
    };
    profile::tell(&face.app.close());
    code
}

/// The watch as a dialogue.
pub(super) struct Face<R, W> {
    pub(super) app: App,
    input: R,
    pub(super) out: W,
    /// The input is a keyboard, not a pipe.
    typed: bool,
}

/// What to do after a card's dialogue.
#[derive(PartialEq)]
pub(super) enum Next {
    /// On with what is on the sheet now.
    Card,
    /// The watch, or the sitting, is left.
    Leave,
    /// The sitting is ended.
    End,
}

impl<R: BufRead, W: Write> Face<R, W> {
    /// A face of the program on these ends.
    pub(super) fn of(app: App, input: R, out: W, typed: bool) -> Self {
        Self { app, input, out, typed }
    }

    fn stand(&mut self, cards: Option<usize>) -> std::io::Result<ExitCode> {
        if !self.date_is_right()? {
            return Ok(clock::unsettled());
        }
        match &self.app.view().view {
            View::StoreTrouble(trouble) => return Ok(cannot(&trouble.what)),
            View::FirstRun(first) => {
                let (certificate, minutes) = (first.certificate, first.minutes);
                self.first_run()?;
                self.app.handle(Command::FinishFirstRun { certificate, oral: None, minutes, watch: false });
                self.app.settle();
            }
            _ => {}
        }
        if let View::WatchFront(front) = &self.app.view().view {
            self.front(front)?;
        }
        self.app.stand_watch_of(cards);
        loop {
            self.app.settle();
            self.notice()?;
            if !self.date_is_right()? {
                return Ok(clock::unsettled());
            }
            let shell = self.app.view();
            match &shell.view {
                View::WatchCard(card) => {
                    writeln!(self.out, "\n{}", shell.context)?;
                    if self.card(card)? == Next::Leave {
                        self.app.handle(Command::LeaveWatch);
                        writeln!(self.out, "\nThe watch is broken off. Every accepted answer is kept.")?;
                        return Ok(ExitCode::SUCCESS);
                    }
                }
                View::WatchEnd(end) => {
                    self.end(end)?;
                    return Ok(ExitCode::SUCCESS);
                }
                _ => return Ok(ExitCode::SUCCESS),
            }
        }
    }

    fn first_run(&mut self) -> std::io::Result<()> {
        writeln!(self.out, "Caution, before you rely on it")?;
        for paragraph in CAUTION {
            writeln!(self.out, "{}", wrapped(paragraph, 2))?;
        }
        writeln!(self.out, "Certificate, date of the oral and minutes a day are set in the window.\n")
    }

    fn front(&mut self, front: &WatchFrontView) -> std::io::Result<()> {
        writeln!(self.out, "{}\n{}\n{}", front.date, front.headline, wrapped(&front.sentence, 0))?;
        for area in &front.weak {
            writeln!(self.out, "  weak: {} ({:.0} %)", area.name, area.recall * 100.0)?;
        }
        if matches!(front.state, FrontState::Ready | FrontState::GoOn) {
            writeln!(self.out, "{HELP}")?;
        }
        Ok(())
    }

    pub(super) fn notice(&mut self) -> std::io::Result<()> {
        if let Some(notice) = &self.app.view().notice {
            writeln!(self.out, "{}", wrapped(&notice.text, 0))?;
        }
        self.app.handle(Command::DismissNotice);
        Ok(())
    }

    /// A line from the learner; `None` at the end of the input.
    pub(super) fn ask(&mut self, prompt: &str) -> std::io::Result<Option<String>> {
        write!(self.out, "{prompt}")?;
        self.out.flush()?;
        loop {
            let line = line::read(&mut self.input)?;
            if !self.typed || line == Line::End {
                // On a pipe nobody has pressed Enter on the screen.
                writeln!(self.out)?;
            }
            match line {
                Line::End => return Ok(None),
                Line::Read(text) => return Ok(Some(text)),
                Line::TooLong => {
                    writeln!(self.out, "{}", wrapped(line::TOO_LONG, 0))?;
                    write!(self.out, "{prompt}")?;
                    self.out.flush()?;
                }
                Line::Endless => {
                    writeln!(self.out, "{}", wrapped(line::ENDLESS, 0))?;
                    return Ok(None);
                }
            }
        }
    }

    pub(super) fn card(&mut self, card: &WatchCardView) -> std::io::Result<Next> {
        writeln!(self.out, "{} · {}", crate::present::words::capital(card.kind.word()), card.place)?;
        writeln!(self.out, "{}", wrapped(&card.ask, 0))?;
        if let Some(caution) = &card.caution {
            writeln!(self.out, "{}", labelled("Caution:", caution, 9))?;
        }
        if let Some(picture) = &card.picture {
            writeln!(self.out, "{}", wrapped(&picture.words(), 0))?;
        }
        match &card.stage {
            Stage::Remedy { intro, parts, shown } => {
                writeln!(self.out, "{}", wrapped(intro, 0))?;
                for part in parts.iter().skip(shown.saturating_sub(1)) {
                    writeln!(self.out, "{}: {}", part.label, part.text)?;
                    if self.ask("Enter for the next: ")?.is_none() {
                        return Ok(Next::Leave);
                    }
                    self.app.handle(Command::RemedyOn);
                }
                Ok(Next::Card)
            }
            Stage::WhyAsked { links } => {
                for (n, link) in links.iter().enumerate() {
                    writeln!(self.out, "{}", labelled(&format!("  {}", n + 1), &link.text, 5))?;
                }
                let positions: Vec<usize> = links.iter().map(|l| l.position).collect();
                self.answer(card, "Numbers in order, from the first cause (some may belong nowhere): ", &positions)
            }
            Stage::SequenceAsked(view) => {
                for line in sequence::asked(view) {
                    writeln!(self.out, "{line}")?;
                }
                self.answer(card, "Numbers in order (some may belong nowhere): ", &[])
            }
            Stage::LineupAsked(view) => {
                self.lines(lineup::asked(view))?;
                self.answer(card, &lineup::prompt(view), &[])
            }
            Stage::WorkingAsked(view) => match self.work(card, view)? {
                // It may have been put away rather than answered.
                Next::Card if self.is_marked() => self.marked(card),
                next => Ok(next),
            },
            Stage::PointAsked(view) => {
                self.lines(point::asked(view))?;
                self.answer(card, &point::prompt(view), &[])
            }
            Stage::SequenceRun(_) | Stage::LineupChecked(_) | Stage::WorkingMarked(_) | Stage::PointMarked(_) => {
                self.marked(card)
            }
            Stage::FigureAsked { hint } => self.answer(card, &format!("{hint}\n> "), &[]),
            _ => self.answer(card, "> ", &[]),
        }
    }

    fn answer(&mut self, card: &WatchCardView, prompt: &str, ashore: &[usize]) -> std::io::Result<Next> {
        loop {
            let Some(line) = self.ask(prompt)? else { return Ok(Next::Leave) };
            match said(&line) {
                Said::Stop => return Ok(Next::Leave),
                Said::End if card.in_oral => {
                    if self.ends()? {
                        return Ok(Next::End);
                    }
                }
                Said::Answer if line == "-" && card.in_oral => {
                    self.app.handle(Command::RunDry);
                    return Ok(Next::Card);
                }
                Said::Aside | Said::Fault(_) if card.in_oral => writeln!(self.out, "Not in a sitting.")?,
                Said::Help => writeln!(self.out, "{HELP}")?,
                Said::Aside => return Ok(self.aside(card)),
                Said::Fault(note) => self.fault(card, note)?,
                _ => match given(&line, card, ashore) {
                    Ok(given) => {
                        self.app.handle(Command::Submit(given));
                        return self.marked(card);
                    }
                    Err(message) => writeln!(self.out, "{}", wrapped(&message, 0))?,
                },
            }
        }
    }

    /// Whether the sitting is to end here, as the learner says once more.
    pub(super) fn ends(&mut self) -> std::io::Result<bool> {
        let words =
            "End the sitting here? It is marked by what was answered; today it can be taken up again. y ends it: ";
        Ok(self.ask(words)?.is_some_and(|line| line.eq_ignore_ascii_case("y")))
    }

    /// Sets the card aside.
    pub(super) fn aside(&mut self, card: &WatchCardView) -> Next {
        self.app.handle(Command::SetAside { card: card.key.clone(), until: Until::ForGood });
        Next::Card
    }

    /// Reports a fault in the card.
    pub(super) fn fault(&mut self, card: &WatchCardView, note: &str) -> std::io::Result<()> {
        self.app.handle(Command::ReportFault { card: card.key.clone(), note: note.to_owned() });
        self.notice()
    }

    fn is_marked(&mut self) -> bool {
        card_of(&self.app.view().view).is_some_and(|card| !is_asked(&card.stage))
    }

    /// Shows the marking and lets the learner correct and accept it.
    fn marked(&mut self, card: &WatchCardView) -> std::io::Result<Next> {
        loop {
            self.notice()?;
            let shell = self.app.view();
            let Some(now) = card_of(&shell.view) else { return Ok(Next::Card) };
            let (result, points) = self.stage(&now.stage)?;
            let Some(result) = result else { return Ok(Next::Card) };
            writeln!(self.out, "{}: {}", result.outcome.word(), result.detail)?;
            let ticks = match &now.stage {
                _ if result.withheld => "",
                _ if points > 0 => "numbers tick or untick, ",
                Stage::SequenceRun(run) if run.explain => {
                    "numbers run a mended list, w shows a right order, x asks why, "
                }
                Stage::SequenceRun(_) => "numbers run a mended list, w shows a right order, ",
                Stage::LineupChecked(_) => "what stands open is checked again, w shows one that works, ",
                Stage::WorkingMarked(view) => working::choices(view),
                _ => "",
            };
            let notch = if result.fixed { "" } else { "; + or - moves one notch" };
            let ticks = if ticks.is_empty() { String::new() } else { format!("; {}", ticks.trim_end_matches(", ")) };
            let enter = if now.in_oral { "Enter keeps the answer" } else { "Enter accepts" };
            let Some(line) = self.ask(&format!("{enter}{ticks}{notch}: "))? else {
                return Ok(Next::Leave);
            };
            if result.withheld && !line.is_empty() && ![Said::Stop, Said::End].contains(&said(&line)) {
                writeln!(self.out, "That is none of the choices. What would have been right is told in the debrief.")?;
                continue;
            }
            if let Stage::SequenceRun(run) = &now.stage
                && !is_of_all_cards(&line)
            {
                if self.on_run(run, &line)? {
                    return Ok(Next::Card);
                }
                continue;
            }
            if let Stage::LineupChecked(checked) = &now.stage
                && !is_of_all_cards(&line)
            {
                self.on_check(checked, &line)?;
                continue;
            }
            if let Stage::WorkingMarked(view) = &now.stage
                && let Some(next) = self.on_working(card, view, &line)?
            {
                if next == Next::Leave {
                    return Ok(next);
                }
                continue;
            }
            match line.as_str() {
                "" => {
                    if let Some(because) = &result.because {
                        writeln!(self.out, "{}", labelled("Because:", because, 9))?;
                    }
                    self.app.handle(Command::Accept);
                    self.app.settle();
                    let shell = self.app.view();
                    let asks = matches!(shell.view, View::Clock(_));
                    let kept = !asks && card_of(&shell.view).is_none_or(|c| c.key != card.key || is_asked(&c.stage));
                    writeln!(self.out, "{}", if kept { "Kept." } else { "Not kept." })?;
                    self.out.flush()?;
                    if kept || asks {
                        return Ok(Next::Card);
                    }
                }
                "+" => self.app.handle(Command::SetNotch(Notch::Up)),
                "-" | "−" => self.app.handle(Command::SetNotch(Notch::Down)),
                _ if said(&line) == Said::Stop => return Ok(Next::Leave),
                _ if said(&line) == Said::End && now.in_oral => {
                    if self.ends()? {
                        return Ok(Next::End);
                    }
                }
                _ => match numbers(&line) {
                    Some(numbers) if points > 0 && numbers.iter().all(|n| (1..=points).contains(n)) => {
                        numbers.into_iter().for_each(|n| self.app.handle(Command::Tick(n)));
                    }
                    _ => writeln!(self.out, "That is none of the choices.")?,
                },
            }
        }
    }

    /// A mended list, or what else may be asked after a run; true where another question comes first.
    fn on_run(&mut self, run: &SequenceRunView, line: &str) -> std::io::Result<bool> {
        match line {
            "w" => self.app.handle(Command::ShowRightOrder),
            "x" if run.explain => {
                self.app.handle(Command::Explain);
                return Ok(true);
            }
            _ => match sequence::steps(line, &run.asked) {
                Ok(steps) => self.app.handle(Command::RunAgain(steps)),
                Err(message) => writeln!(self.out, "{message}")?,
            },
        }
        Ok(false)
    }

    /// A mended setting, or a setting that works.
    fn on_check(&mut self, checked: &LineupCheckedView, line: &str) -> std::io::Result<()> {
        if line == "w" {
            self.app.handle(Command::ShowRightSetting);
            return Ok(());
        }
        match lineup::given(line, &checked.asked) {
            Ok(Given::LinedUp(set)) => self.app.handle(Command::CheckAgain(set)),
            Ok(_) => {}
            Err(message) => writeln!(self.out, "{}", wrapped(&message, 0))?,
        }
        Ok(())
    }

    fn stage(&mut self, stage: &Stage) -> std::io::Result<(Option<ResultView>, usize)> {
        match stage {
            Stage::RecallShown { points, result, .. } => {
                for point in points {
                    self.point(point)?;
                }
                Ok((Some(result.clone()), points.len()))
            }
            Stage::FigureMarked { expected, error, tell, result, .. } => {
                writeln!(
                    self.out,
                    "Right: {expected}{}",
                    if error.is_empty() { String::new() } else { format!(" ({error})") }
                )?;
                if let Some(tell) = tell {
                    writeln!(self.out, "{}", wrapped(tell, 0))?;
                }
                Ok((Some(result.clone()), 0))
            }
            Stage::WhyMarked { given, right, result } => {
                if !right.is_empty() {
                    writeln!(self.out, "The right order:")?;
                }
                for (n, link) in right.iter().enumerate() {
                    writeln!(self.out, "{}", labelled(&format!("  {}", n + 1), link, 5))?;
                }
                for link in given.iter().filter(|l| l.standing == LinkStanding::False) {
                    writeln!(self.out, "{}", labelled("  belongs nowhere:", &link.text, 19))?;
                }
                Ok((Some(result.clone()), 0))
            }
            Stage::LineupChecked(view) => {
                self.lines(lineup::told(view))?;
                Ok((Some(view.result.clone()), 0))
            }
            Stage::WorkingMarked(view) => {
                self.lines(working::told(view))?;
                Ok((Some(view.result.clone()), 0))
            }
            Stage::PointMarked(view) => {
                self.lines(point::told(view))?;
                Ok((Some(view.result.clone()), 0))
            }
            Stage::SequenceRun(run) => {
                for line in sequence::told(run) {
                    writeln!(self.out, "{line}")?;
                }
                Ok((Some(run.result.clone()), 0))
            }
            _ => Ok((None, 0)),
        }
    }

    pub(super) fn lines(&mut self, lines: Vec<String>) -> std::io::Result<()> {
        lines.into_iter().try_for_each(|line| writeln!(self.out, "{line}"))
    }

    fn point(&mut self, point: &PointRow) -> std::io::Result<()> {
        let tick = if point.said { "x" } else { " " };
        let critical = if point.critical { " (safety-critical)" } else { "" };
        writeln!(
            self.out,
            "{}",
            labelled(&format!("  {} [{tick}]", point.number), &format!("{}{critical}", point.text), 8)
        )?;
        match (&point.evidence, point.contradicted) {
            (Some(words), true) => writeln!(self.out, "{}", wrapped(&format!("denied by “{words}”"), 8)),
            (Some(words), false) => writeln!(self.out, "{}", wrapped(&format!("found in “{words}”"), 8)),
            (None, true) => writeln!(self.out, "        denied"),
            (None, false) => Ok(()),
        }
    }

    fn end(&mut self, end: &WatchEndView) -> std::io::Result<()> {
        writeln!(self.out, "\nThe watch is stood: {}. {}", end.headline, end.sentence)?;
        for (outcome, count) in end.counts.iter().filter(|c| c.1 > 0) {
            writeln!(self.out, "  {}: {count}", outcome.word())?;
        }
        for row in &end.slipped {
            writeln!(
                self.out,
                "{}",
                wrapped(&format!("Slipped: {} {}. Back {}.", row.ask, row.why.trim_end_matches('.'), row.next), 2)
            )?;
        }
        writeln!(self.out, "{}", end.tomorrow)
    }
}

/// The card in front: of the watch, or of a sitting.
pub(super) fn card_of(view: &View) -> Option<&WatchCardView> {
    match view {
        View::WatchCard(card) => Some(card),
        View::Oral(oral) => Some(&oral.card),
        _ => None,
    }
}

/// Nothing is marked yet.
fn is_asked(stage: &Stage) -> bool {
    stage.is_asked() || matches!(stage, Stage::Remedy { .. })
}

/// A line that means the same at every card once it is marked.
fn is_of_all_cards(line: &str) -> bool {
    ["", "+", "-", "−"].contains(&line) || [Said::Stop, Said::End].contains(&said(line))
}

/// What a line gives to a card.
fn given(line: &str, card: &WatchCardView, ashore: &[usize]) -> Result<Given, String> {
    match &card.stage {
        Stage::WhyAsked { .. } => {
            let wanted = "Type the numbers of the links in order, such as 3 1 4.";
            let numbers = numbers(line).ok_or(wanted)?;
            let mut links = Vec::new();
            for n in numbers {
                let position = n.checked_sub(1).and_then(|at| ashore.get(at)).ok_or(wanted)?;
                if links.contains(position) {
                    return Err(format!("{n} stands there twice. {wanted}"));
                }
                links.push(*position);
            }
            Ok(Given::Links(links))
        }
        Stage::SequenceAsked(view) => sequence::steps(line, view).map(Given::Steps),
        Stage::LineupAsked(view) => lineup::given(line, view),
        Stage::PointAsked(view) => point::given(line, view),
        Stage::RecallAsked if line.is_empty() => Ok(Given::Said(Vec::new())),
        _ => Ok(Given::Text(line.to_owned())),
    }
}

/// Numbers between spaces or commas; `None` where something else stands there.
fn numbers(line: &str) -> Option<Vec<usize>> {
    line.split(|c: char| c.is_whitespace() || c == ',').filter(|p| !p.is_empty()).map(|p| p.parse().ok()).collect()
}
