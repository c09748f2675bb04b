//! The question whether the computer's date is right, in the terminal.

use std::io::{BufRead, Write};
use std::process::ExitCode;

use crate::app::program::Program;
use crate::app::program::app::App;
use crate::app::program::command::{ClockCommand, Command};
use crate::cli::face::Face;
use crate::cli::out::cannot;
use crate::cli::profile;
use crate::cli::say::wrapped;
use crate::present::View;
use crate::present::clock::ClockState;

/// The program with the computer's steady count, or with a time that was `given` on the command line, which is taken.
pub(super) fn minded(app: App, given: bool) -> App {
    match profile::steady_clock() {
        _ if given => app.trust_clock(),
        Some(steady) => app.with_steady(steady),
        None => app,
    }
}

/// The learner goes to set the clock.
pub(super) fn unsettled() -> ExitCode {
    cannot("set the date and the time of the computer and start again; every answer said to be kept is kept")
}

impl<R: BufRead, W: Write> Face<R, W> {
    /// Asks whether the date is right where that is in doubt; false where it is not.
    pub(super) fn date_is_right(&mut self) -> std::io::Result<bool> {
        loop {
            let shell = self.app.view();
            let View::Clock(view) = &shell.view else { return Ok(true) };
            writeln!(self.out, "{}", view.title)?;
            for paragraph in &view.paragraphs {
                writeln!(self.out, "{}", wrapped(paragraph, 2))?;
            }
            let yes = |line: Option<&str>| line.is_some_and(|line| matches!(line.to_lowercase().as_str(), "y" | "yes"));
            let command = match view.state {
                ClockState::Asked | ClockState::Setting => {
                    let line =
                        self.ask("y where the date is right; anything else ends, so that you can set the clock: ")?;
                    if !yes(line.as_deref()) {
                        return Ok(false);
                    }
                    Command::Clock(ClockCommand::DateIsRight)
                }
                ClockState::Later(_) => {
                    let line = self.ask("y takes them back; anything else leaves them: ")?;
                    if yes(line.as_deref()) {
                        Command::Clock(ClockCommand::TakeBackLater)
                    } else {
                        Command::Clock(ClockCommand::LeaveLater)
                    }
                }
            };
            self.app.handle(command);
            self.app.settle();
            self.notice()?;
        }
    }
}
