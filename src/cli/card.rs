//! A card in the terminal, in a watch and in a sitting: asked, answered, marked, corrected, accepted. What is a kind's own
//! stands in `kinds`.

use std::io::{BufRead, Write};

use crate::app::program::Program;
use crate::app::program::command::{CardCommand, Command, OralCommand, WatchCommand};
use crate::cli::face::{Face, Heard, Next, card_of};
use crate::cli::kinds::{self, Asked, Chosen};
use crate::cli::say::{labelled, wrapped};
use crate::domain::english;
use crate::domain::outcome::Notch;
use crate::present::editions::ChangedView;
use crate::present::result::ResultView;
use crate::present::stage::{RemedyView, Stage};
use crate::present::{View, WatchCardView};

/// What may be said to any card.
pub(super) const HELP: &str = "Type your answer, or press Enter alone to see the answer and tick what you said.\n\
    stop leaves the watch    aside sets the card aside    fault: WORDS reports a fault in it    help shows this";

/// What may be said once a card is marked.
const HELP_MARKED: &str = "The line above says what may be chosen; Enter alone goes on.\n\
    stop leaves the watch    aside sets the card aside    fault: WORDS reports a fault in it    help shows this";

impl<R: BufRead, W: Write> Face<R, W> {
    /// A card from where it stands until it is accepted, put away or left.
    pub(super) fn card(&mut self, card: &WatchCardView) -> std::io::Result<Next> {
        writeln!(self.out, "{} · {}", english::capital(card.kind.word()), card.place)?;
        if let Some(changed) = &card.changed {
            writeln!(self.out, "{}", changed.heading)?;
        }
        writeln!(self.out, "{}", wrapped(&card.ask, 0))?;
        if let Some(caution) = &card.caution {
            writeln!(self.out, "{}", labelled("Caution:", caution, 9))?;
        }
        if let Some(picture) = &card.picture {
            writeln!(self.out, "{}", wrapped(&picture.words(), 0))?;
        }
        match &card.stage {
            Stage::Remedy(remedy) => self.remedy(card, remedy),
            Stage::Asked(view) => {
                let asked = kinds::asked(view);
                let Some(sheet) = asked.worksheet() else {
                    self.lines(asked.lines())?;
                    return self.answer(card, asked);
                };
                match self.work(card, sheet)? {
                    // It may have been put away rather than answered.
                    Next::Card if self.is_marked() => self.marked(card),
                    next => Ok(next),
                }
            }
            Stage::Marked(_) => self.marked(card),
        }
    }

    fn remedy(&mut self, card: &WatchCardView, remedy: &RemedyView) -> std::io::Result<Next> {
        writeln!(self.out, "{}", wrapped(&remedy.intro, 0))?;
        for part in remedy.parts.iter().skip(remedy.shown.saturating_sub(1)) {
            writeln!(self.out, "{}: {}", part.label, part.text)?;
            loop {
                match self.hear(card, "Enter for the next: ", HELP)? {
                    Heard::Line(_) => break,
                    Heard::Done => {}
                    Heard::Over(next) => return Ok(next),
                }
            }
            self.app.handle(Command::Watch(WatchCommand::RemedyOn));
        }
        Ok(Next::Card)
    }

    fn answer(&mut self, card: &WatchCardView, asked: &dyn Asked) -> std::io::Result<Next> {
        loop {
            let line = match self.hear(card, &asked.prompt(), HELP)? {
                Heard::Line(line) => line,
                Heard::Done => continue,
                Heard::Over(next) => return Ok(next),
            };
            if line == "-" && card.in_oral {
                self.app.handle(Command::Oral(OralCommand::NothingToSay));
                return Ok(Next::Card);
            }
            match asked.given(&line) {
                Ok(given) => {
                    self.app.handle(Command::Card(CardCommand::Submit(given)));
                    if card_of(&self.app.view().view).is_some_and(|card| card.reading) {
                        self.app.settle();
                    }
                    return self.marked(card);
                }
                Err(message) => writeln!(self.out, "{}", wrapped(&message, 0))?,
            }
        }
    }

    /// What an edition has changed of the card, the old before the new.
    fn changed(&mut self, changed: &ChangedView) -> std::io::Result<()> {
        let Some(parts) = &changed.parts else { return Ok(()) };
        writeln!(self.out, "{}", changed.heading)?;
        for part in parts {
            writeln!(self.out, "  {}", part.what)?;
            for (side, lines) in [("before", &part.was), ("now", &part.is)] {
                for line in lines {
                    let critical = if line.critical { " (safety-critical)" } else { "" };
                    writeln!(self.out, "{}", wrapped(&format!("{side}: {}{critical}", line.text), 4))?;
                }
            }
        }
        Ok(())
    }

    fn is_marked(&mut self) -> bool {
        card_of(&self.app.view().view).is_some_and(|card| card.stage.is_marked())
    }

    /// Shows the marking and lets the learner correct and accept it.
    fn marked(&mut self, card: &WatchCardView) -> std::io::Result<Next> {
        loop {
            self.notice()?;
            let shell = self.app.view();
            let Some(now) = card_of(&shell.view) else { return Ok(Next::Card) };
            let Stage::Marked(marked) = &now.stage else { return Ok(Next::Card) };
            let (result, kind) = (&marked.result, kinds::marked(&marked.view));
            self.lines(kind.lines())?;
            writeln!(self.out, "{}: {}", result.outcome.word(), result.detail)?;
            if let Some(changed) = &now.changed {
                self.changed(changed)?;
            }
            let choices = if result.withheld { "" } else { kind.choices() };
            let line = match self.hear(now, &choices_after(result, choices, now.in_oral), HELP_MARKED)? {
                Heard::Line(line) => line,
                Heard::Done => continue,
                Heard::Over(next) => return Ok(next),
            };
            if result.withheld && !line.is_empty() {
                writeln!(self.out, "That is none of the choices. What would have been right is told in the debrief.")?;
                continue;
            }
            match if is_of_all_cards(&line) { Chosen::Nothing } else { kind.chosen(&line) } {
                Chosen::Run(commands) => commands.into_iter().for_each(|command| self.app.handle(command)),
                Chosen::Ask(command) => {
                    self.app.handle(command);
                    return Ok(Next::Card);
                }
                Chosen::Work(command) => match self.work_again(card, command)? {
                    Next::Card => {}
                    next => return Ok(next),
                },
                Chosen::Unread(message) => writeln!(self.out, "{message}")?,
                Chosen::Nothing => {
                    if self.is_accepted(card, result, &line)? {
                        return Ok(Next::Card);
                    }
                }
            }
        }
    }

    /// Does what a line means at any marked card; true once this card is over.
    fn is_accepted(&mut self, card: &WatchCardView, result: &ResultView, line: &str) -> std::io::Result<bool> {
        match line {
            "" => {
                if let Some(because) = &result.because {
                    writeln!(self.out, "{}", labelled("Because:", because, 9))?;
                }
                return self.accept(card);
            }
            "+" => self.app.handle(Command::Card(CardCommand::SetNotch(Notch::Up))),
            "-" | "−" => self.app.handle(Command::Card(CardCommand::SetNotch(Notch::Down))),
            _ => writeln!(self.out, "That is none of the choices.")?,
        }
        Ok(false)
    }

    /// Accepts the answer; true where the card is over, or another question comes first.
    fn accept(&mut self, card: &WatchCardView) -> std::io::Result<bool> {
        self.app.handle(Command::Card(CardCommand::Accept));
        self.app.settle();
        let shell = self.app.view();
        let asks = matches!(shell.view, View::Clock(_));
        let kept = !asks && card_of(&shell.view).is_none_or(|c| c.key != card.key || !c.stage.is_marked());
        writeln!(self.out, "{}", if kept { "Kept." } else { "Not kept." })?;
        self.out.flush()?;
        Ok(kept || asks)
    }
}

/// The prompt under a marking.
fn choices_after(result: &ResultView, choices: &str, in_oral: bool) -> String {
    let notch = if result.fixed { "" } else { "; + or - moves one notch" };
    let choices = if choices.is_empty() { String::new() } else { format!("; {choices}") };
    let enter = if in_oral { "Enter keeps the answer" } else { "Enter accepts" };
    format!("{enter}{choices}{notch}: ")
}

/// A line that means the same at every card once it is marked.
fn is_of_all_cards(line: &str) -> bool {
    ["", "+", "-", "−"].contains(&line)
}
