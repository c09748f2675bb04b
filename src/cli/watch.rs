//! `bedplate watch`: a watch in the terminal. The same program as in the window, drawn as text.

use std::io::{BufRead, IsTerminal, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use crate::app::program::Program;
use crate::app::program::app::App;
use crate::app::program::command::{Command, LibraryCommand, ProfileCommand, WatchCommand};
use crate::app::program::route::Route;
use crate::app::program::setup::Setup;
use crate::cli::card::HELP;
use crate::cli::face::{Face, Next};
use crate::cli::out::{self, cannot};
use crate::cli::say::wrapped;
use crate::cli::{clock, profile};
use crate::present::first_run::CAUTION;
use crate::present::watch::FrontState;
use crate::present::{View, WatchEndView, WatchFrontView};

/// Stands a watch of at most `cards` cards, at the time `now` where one is given; `plain` is without the trained reader.
pub fn run(dir: Option<PathBuf>, cards: Option<usize>, now: Option<&str>, plain: bool) -> ExitCode {
    let time = match profile::clock(now) {
        Ok(clock) => clock,
        Err(message) => return cannot(message),
    };
    let setup = match profile::setup(dir, time) {
        Ok(setup) => Setup { reader: profile::second_reader(plain), ..setup },
        Err(error) => return cannot(error),
    };
    let mut app = clock::minded(App::start(setup), now.is_some());
    app.leave_pictures_unread();
    app.settle();
    profile::tell(app.view().notice.as_ref().map(|notice| notice.text.clone()).as_slice());
    if let Err(error) = tell_editions(&mut app) {
        return out::stopped(&error);
    }
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

/// Says what editions that have come in brought, one after the other.
fn tell_editions(app: &mut App) -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    while let View::Edition(edition) = &app.view().view {
        writeln!(out, "{}: {}\n{}", edition.title, edition.headline, wrapped(&edition.sentence, 0))?;
        for group in &edition.groups {
            writeln!(out, "{}. {}", group.heading, wrapped(&group.sentence, 0))?;
            for card in &group.cards {
                let what = if card.what.is_empty() { String::new() } else { format!(" ({})", card.what) };
                writeln!(out, "{}", wrapped(&format!("{}{what}", card.ask), 2))?;
            }
            if let Some(more) = &group.more {
                writeln!(out, "  {more}")?;
            }
        }
        writeln!(out)?;
        app.handle(Command::Library(LibraryCommand::EditionSeen));
        app.settle();
    }
    Ok(())
}

impl<R: BufRead, W: Write> Face<R, W> {
    fn stand(&mut self, cards: Option<usize>) -> std::io::Result<ExitCode> {
        if !self.date_is_right()? {
            return Ok(clock::unsettled());
        }
        match &self.app.view().view {
            View::StoreTrouble(trouble) => return Ok(cannot(&trouble.what)),
            View::FirstRun(first) => {
                let (certificate, minutes) = (first.certificate, first.minutes);
                self.first_run()?;
                self.app.handle(Command::Profile(ProfileCommand::FinishFirstRun {
                    certificate,
                    oral: None,
                    minutes,
                    watch: false,
                }));
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
                        self.app.handle(Command::Watch(WatchCommand::Leave));
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

    fn end(&mut self, end: &WatchEndView) -> std::io::Result<()> {
        writeln!(self.out, "\nThe watch is stood: {}. {}", end.headline, end.sentence)?;
        for came in end.counts.iter().filter(|came| came.count > 0) {
            writeln!(self.out, "  {}: {}", came.outcome.word(), came.count)?;
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
