//! A card in the terminal, in a watch and in a sitting: asked, answered, marked, corrected, accepted. What is a kind's own
//! stands in `kinds`.

use std::io::{BufRead, Write};

use crate::app::program::Program;
use crate::app::program::command::{CardCommand, Command, OralCommand, WatchCommand};
use crate::cli::face::{Face, Next, card_of};
use crate::cli::kinds::{self, Asked, Chosen};
use crate::cli::said::{Said, said};
use crate::cli::say::{labelled, wrapped};
use crate::domain::english;
use crate::domain::outcome::Notch;
use crate::present::result::ResultView;
use crate::present::stage::{RemedyView, Stage};
use crate::present::{View, WatchCardView};

/// What may be said to any card.
pub(super) const HELP: &str = "Type your answer, or press Enter alone to see the answer and tick what you said.\n\
    stop leaves the watch    aside sets the card aside    fault: WORDS reports a fault in it    help shows this";

impl<R: BufRead, W: Write> Face<R, W> {
    /// A card from where it stands until it is accepted, put away or left.
    pub(super) fn card(&mut self, card: &WatchCardView) -> std::io::Result<Next> {
        writeln!(self.out, "{} · {}", english::capital(card.kind.word()), card.place)?;
        writeln!(self.out, "{}", wrapped(&card.ask, 0))?;
        if let Some(caution) = &card.caution {
            writeln!(self.out, "{}", labelled("Caution:", caution, 9))?;
        }
        if let Some(picture) = &card.picture {
            writeln!(self.out, "{}", wrapped(&picture.words(), 0))?;
        }
        match &card.stage {
            Stage::Remedy(remedy) => self.remedy(remedy),
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

    fn remedy(&mut self, remedy: &RemedyView) -> std::io::Result<Next> {
        writeln!(self.out, "{}", wrapped(&remedy.intro, 0))?;
        for part in remedy.parts.iter().skip(remedy.shown.saturating_sub(1)) {
            writeln!(self.out, "{}: {}", part.label, part.text)?;
            loop {
                let Some(line) = self.ask("Enter for the next: ")? else { return Ok(Next::Leave) };
                match said(&line) {
                    Said::Stop => return Ok(Next::Leave),
                    Said::Help => writeln!(self.out, "{HELP}")?,
                    _ => break,
                }
            }
            self.app.handle(Command::Watch(WatchCommand::RemedyOn));
        }
        Ok(Next::Card)
    }

    fn answer(&mut self, card: &WatchCardView, asked: &dyn Asked) -> std::io::Result<Next> {
        loop {
            let Some(line) = self.ask(&asked.prompt())? else { return Ok(Next::Leave) };
            match said(&line) {
                Said::Stop => return Ok(Next::Leave),
                Said::End if card.in_oral => {
                    if self.ends()? {
                        return Ok(Next::End);
                    }
                }
                Said::Answer if line == "-" && card.in_oral => {
                    self.app.handle(Command::Oral(OralCommand::NothingToSay));
                    return Ok(Next::Card);
                }
                Said::Aside | Said::Fault(_) if card.in_oral => writeln!(self.out, "Not in a sitting.")?,
                Said::Help => writeln!(self.out, "{HELP}")?,
                Said::Aside => return Ok(self.aside(card)),
                Said::Fault(note) => self.fault(card, note)?,
                _ => match asked.given(&line) {
                    Ok(given) => {
                        self.app.handle(Command::Card(CardCommand::Submit(given)));
                        return self.marked(card);
                    }
                    Err(message) => writeln!(self.out, "{}", wrapped(&message, 0))?,
                },
            }
        }
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
            let choices = if result.withheld { "" } else { kind.choices() };
            let Some(line) = self.ask(&choices_after(result, choices, now.in_oral))? else {
                return Ok(Next::Leave);
            };
            if result.withheld && !line.is_empty() && ![Said::Stop, Said::End].contains(&said(&line)) {
                writeln!(self.out, "That is none of the choices. What would have been right is told in the debrief.")?;
                continue;
            }
            match if is_of_all_cards(&line) { Chosen::Nothing } else { kind.chosen(&line) } {
                Chosen::Run(commands) => commands.into_iter().for_each(|command| self.app.handle(command)),
                Chosen::Ask(command) => {
                    self.app.handle(command);
                    return Ok(Next::Card);
                }
                Chosen::Work(command) => {
                    if self.work_again(card, command)? == Next::Leave {
                        return Ok(Next::Leave);
                    }
                }
                Chosen::Unread(message) => writeln!(self.out, "{message}")?,
                Chosen::Nothing => {
                    if let Some(next) = self.on_any(card, now.in_oral, result, &line)? {
                        return Ok(next);
                    }
                }
            }
        }
    }

    /// What a line means at any marked card; where to go on, once this card is over.
    fn on_any(
        &mut self,
        card: &WatchCardView,
        in_oral: bool,
        result: &ResultView,
        line: &str,
    ) -> std::io::Result<Option<Next>> {
        match line {
            "" => {
                if let Some(because) = &result.because {
                    writeln!(self.out, "{}", labelled("Because:", because, 9))?;
                }
                return Ok(self.accept(card)?.then_some(Next::Card));
            }
            "+" => self.app.handle(Command::Card(CardCommand::SetNotch(Notch::Up))),
            "-" | "−" => self.app.handle(Command::Card(CardCommand::SetNotch(Notch::Down))),
            _ if said(line) == Said::Stop => return Ok(Some(Next::Leave)),
            _ if said(line) == Said::End && in_oral => return Ok(self.ends()?.then_some(Next::End)),
            _ => writeln!(self.out, "That is none of the choices.")?,
        }
        Ok(None)
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
    ["", "+", "-", "−"].contains(&line) || [Said::Stop, Said::End].contains(&said(line))
}
