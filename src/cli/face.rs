//! The terminal's end of a dialogue: lines in, lines out, and what may be said to any card, in a watch and in a sitting.

use std::io::{BufRead, Write};

use crate::app::program::Program;
use crate::app::program::app::App;
use crate::app::program::command::{Command, LibraryCommand};
use crate::cli::line::{self, Line};
use crate::cli::said::{Said, said};
use crate::cli::say::wrapped;
use crate::domain::attempt::Until;
use crate::present::{View, WatchCardView};

/// The program with a terminal, or a pipe, in the place of a window.
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

/// What a line at the prompt of a card comes to.
pub(super) enum Heard {
    /// A line for whoever asked.
    Line(String),
    /// A word of the terminal that is done with; the prompt may be shown again.
    Done,
    /// The card's dialogue is over.
    Over(Next),
}

impl<R: BufRead, W: Write> Face<R, W> {
    /// A face of the program on these ends.
    pub(super) fn of(app: App, input: R, out: W, typed: bool) -> Self {
        Self { app, input, out, typed }
    }

    /// Says what the program has to tell, and puts it away.
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

    /// A line at a prompt of a card, where the words of the terminal mean the same whatever is asked. `help` is what is
    /// shown of this prompt.
    pub(super) fn hear(&mut self, card: &WatchCardView, prompt: &str, help: &str) -> std::io::Result<Heard> {
        let Some(line) = self.ask(prompt)? else { return Ok(Heard::Over(Next::Leave)) };
        match said(&line) {
            Said::Stop => return Ok(Heard::Over(Next::Leave)),
            Said::End if card.in_oral => {
                return Ok(if self.ends()? { Heard::Over(Next::End) } else { Heard::Done });
            }
            Said::Aside | Said::Fault(_) if card.in_oral => writeln!(self.out, "Not in a sitting.")?,
            Said::Aside => return Ok(Heard::Over(self.aside(card))),
            Said::Fault(note) => self.fault(card, note)?,
            Said::Help => writeln!(self.out, "{help}")?,
            Said::End | Said::List | Said::Undo | Said::Take | Said::Answer => return Ok(Heard::Line(line)),
        }
        Ok(Heard::Done)
    }

    /// Whether the sitting is to end here, as the learner says once more.
    fn ends(&mut self) -> std::io::Result<bool> {
        let words =
            "End the sitting here? It is marked by what was answered; today it can be taken up again. y ends it: ";
        Ok(self.ask(words)?.is_some_and(|line| line.eq_ignore_ascii_case("y")))
    }

    /// Sets the card aside.
    fn aside(&mut self, card: &WatchCardView) -> Next {
        self.app.handle(Command::Library(LibraryCommand::SetAside { card: card.key.clone(), until: Until::ForGood }));
        Next::Card
    }

    /// Reports a fault in the card.
    fn fault(&mut self, card: &WatchCardView, note: &str) -> std::io::Result<()> {
        self.app
            .handle(Command::Library(LibraryCommand::ReportFault { card: card.key.clone(), note: note.to_owned() }));
        self.notice()
    }

    /// Writes lines.
    pub(super) fn lines(&mut self, lines: Vec<String>) -> std::io::Result<()> {
        lines.into_iter().try_for_each(|line| writeln!(self.out, "{line}"))
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
