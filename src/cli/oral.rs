//! `bedplate oral`: a mock oral in the terminal, also on a pipe; and `bedplate report`: what a sitting came to.
//!
//! Each answer is kept before the next question. A sitting that was broken off is gone on with, unless another is asked
//! for.

use std::io::{BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::app::handle::report::written;
use crate::app::program::Program;
use crate::app::program::app::App;
use crate::app::program::command::{Command, OralCommand, ProfileCommand, ReportAs};
use crate::app::program::setup::{Clock, Setup};
use crate::cli::face::{Face, Next};
use crate::cli::out::{self, cannot};
use crate::cli::say::{labelled, wrapped};
use crate::cli::{clock, profile};
use crate::domain::oral::{Draw, Length, Manner, OralChoice, Way};
use crate::present::debrief::{DebriefView, missed_words};
use crate::present::{OralView, View, progress, report};

/// What a sitting in the terminal is begun with.
pub struct Wish {
    /// The profile's folder.
    pub profile: Option<PathBuf>,
    /// How long.
    pub length: Length,
    /// What every draw is made from.
    pub seed: Option<u64>,
    /// For the weak areas.
    pub coaching: bool,
    /// A pressing examiner.
    pub pressing: bool,
    /// A new sitting, though one is not over.
    pub afresh: bool,
    /// The sitting that was ended by hand today, again.
    pub take_up: bool,
    /// As if it were this time.
    pub now: Option<String>,
    /// Without the trained reader.
    pub plain: bool,
}

const CAUTION: &str = "This trains memory and reasoning only. Aboard, the ship's safety management system, the makers'\n\
                       instructions and the administration's rules come first.";
const HELP: &str = "Type your answer. - says “I don’t know; next question”. stop leaves the sitting for later, end ends it; every \
                    kept answer stays.";

/// Sits an oral.
pub fn run(wish: Wish) -> ExitCode {
    let reader = profile::second_reader(wish.plain);
    let minded = |setup| clock::minded(App::start(Setup { reader, ..setup }), wish.now.is_some());
    let app = match profile::clock(wish.now.as_deref())
        .map_err(cannot)
        .and_then(|time| started(wish.profile.clone(), time, minded))
    {
        Ok(app) => app,
        Err(code) => return code,
    };
    let typed = std::io::stdin().is_terminal();
    let mut face = Face::of(app, std::io::stdin().lock(), std::io::stdout().lock(), typed);
    match face.date_is_right() {
        Ok(true) => {}
        Ok(false) => return clock::unsettled(),
        Err(error) => return out::stopped(&error),
    }
    let app = &mut face.app;
    past_first_run(app);
    app.leave_pictures_unread();
    app.handle(Command::Go(crate::app::program::route::Route::OralFront));
    app.settle();
    let (standing, take_up) = match &app.view().view {
        View::OralFront(front) => (front.standing.is_some(), front.take_up.clone()),
        _ => (false, None),
    };
    let goes_on = wish.take_up || (standing && !wish.afresh);
    if wish.take_up {
        let Some(take_up) = take_up else {
            return cannot(
                "no sitting was ended by hand today; leave `--take-up` out to begin one or to go on with one",
            );
        };
        app.handle(Command::Oral(OralCommand::Resume(take_up.id, Way::Write)));
    } else if goes_on {
        app.handle(Command::Oral(OralCommand::GoOn(Way::Write)));
    } else {
        let choice = OralChoice {
            draw: if wish.coaching { Draw::Coaching } else { Draw::Mock },
            manner: if wish.pressing { Manner::Pressing } else { Manner::Steady },
            length: wish.length,
            way: Way::Write,
        };
        app.begin_oral(choice, wish.seed);
    }
    app.settle();
    let code = match face.sit(goes_on) {
        Ok(code) => code,
        // What was kept stays.
        Err(error) => out::stopped(&error),
    };
    profile::tell(&face.app.close());
    code
}

/// The program opened by the computer's clock to look at the profile, which another program may have open; nothing is
/// kept by that clock.
pub(super) fn opened(dir: Option<PathBuf>) -> Result<App, ExitCode> {
    let mut app = started(dir, profile::system_clock(), |setup| App::start_to_read(setup).trust_clock())?;
    past_first_run(&mut app);
    Ok(app)
}

fn started(dir: Option<PathBuf>, time: Clock, start: impl FnOnce(Setup) -> App) -> Result<App, ExitCode> {
    let setup = profile::setup(dir, time).map_err(cannot)?;
    let mut app = start(setup);
    app.settle();
    match &app.view().view {
        View::StoreTrouble(trouble) => Err(cannot(&trouble.what)),
        _ => Ok(app),
    }
}

fn past_first_run(app: &mut App) {
    let first = match &app.view().view {
        View::FirstRun(first) => Some((first.certificate, first.minutes)),
        _ => None,
    };
    if let Some((certificate, minutes)) = first {
        app.handle(Command::Profile(ProfileCommand::FinishFirstRun { certificate, oral: None, minutes, watch: false }));
        app.settle();
    }
}

impl<R: BufRead, W: Write> Face<R, W> {
    fn sit(&mut self, goes_on: bool) -> std::io::Result<ExitCode> {
        writeln!(self.out, "{CAUTION}\n")?;
        writeln!(self.out, "{}\n{HELP}", if goes_on { "The sitting goes on." } else { "A mock oral." })?;
        loop {
            self.app.settle();
            self.notice()?;
            if !self.date_is_right()? {
                return Ok(clock::unsettled());
            }
            let shell = self.app.view();
            match &shell.view {
                View::Oral(oral) => {
                    let next = self.question(oral)?;
                    if next == Next::End {
                        // Its debrief comes next.
                        self.app.handle(Command::Oral(OralCommand::BreakOff));
                        continue;
                    }
                    if next == Next::Leave {
                        self.app.handle(Command::Oral(OralCommand::Leave));
                        self.app.settle();
                        writeln!(
                            self.out,
                            "\nThe sitting is left for later. Your answers are saved; `bedplate oral` goes on."
                        )?;
                        return Ok(ExitCode::SUCCESS);
                    }
                }
                View::Debrief(view) => {
                    self.told(view)?;
                    return Ok(ExitCode::SUCCESS);
                }
                _ => return Ok(cannot("there is nothing to ask: no deck has cards for this certificate")),
            }
        }
    }

    fn question(&mut self, oral: &OralView) -> std::io::Result<Next> {
        let limit = crate::present::words::duration(f64::from(oral.answer.of));
        writeln!(self.out, "\n{} · {} · {limit}", oral.asked, oral.number)?;
        if !oral.lead_in.is_empty() {
            writeln!(self.out, "{}", wrapped(&oral.lead_in, 0))?;
        }
        if oral.again {
            writeln!(self.out, "Both answers are marked as one; - leaves it at that.")?;
        }
        self.card(&oral.card)
    }

    fn told(&mut self, view: &DebriefView) -> std::io::Result<()> {
        writeln!(self.out, "\n{}.\n{}\n{}", view.headline, wrapped(&view.sentence, 0), view.about)?;
        for row in &view.functions {
            let word = if row.passes { "passed" } else { "below the pass mark" };
            let (share, line) = (row.share * 100.0, row.line * 100.0);
            writeln!(self.out, "  {}: {share:.0} % ({word}; pass mark {line:.0} %)", row.name)?;
        }
        for row in &view.missed {
            writeln!(self.out, "{}", wrapped(&format!("{}. {}", row.number, row.asked), 0))?;
            for point in &row.points {
                writeln!(self.out, "{}", labelled("   missed:", &missed_words(point), 11))?;
            }
            if let Some(because) = &row.because {
                writeln!(self.out, "{}", labelled("   because:", because, 12))?;
            }
            writeln!(self.out, "{}", labelled("   source:", &row.source, 11))?;
        }
        if view.early {
            writeln!(self.out, "Today it can be taken up again: `bedplate oral --take-up`.")?;
        }
        writeln!(self.out, "`bedplate report {} --file FILE` writes it down.", view.number)
    }
}

/// Prints a report of a sitting, or writes it into a file. `which` is a number from 1, an id, or `last`.
pub fn report(dir: Option<PathBuf>, which: &str, form: ReportAs, file: Option<&Path>) -> ExitCode {
    let mut app = match opened(dir) {
        Ok(app) => app,
        Err(code) => return code,
    };
    if which == "progress" {
        return report_progress(&mut app, form, file);
    }
    app.handle(Command::Go(crate::app::program::route::Route::OralFront));
    app.settle();
    let View::OralFront(front) = &app.view().view else { return cannot("the profile could not be read") };
    let over: Vec<_> = front.rows.iter().filter(|row| row.over).collect();
    let found = match which {
        "last" => over.first(),
        _ => over.iter().find(|row| row.id == which || row.number.to_string() == which),
    };
    let Some(row) = found else {
        let known: Vec<String> = over.iter().rev().map(|row| row.number.to_string()).collect();
        let known =
            if known.is_empty() { "none is over yet".to_owned() } else { format!("over are {}", known.join(", ")) };
        return cannot(format!("there is no sitting `{which}` to report; {known}"));
    };
    let id = row.id.clone();
    app.handle(Command::Go(crate::app::program::route::Route::Debrief(id)));
    app.settle();
    let View::Debrief(view) = &app.view().view else { return cannot("the sitting could not be read") };
    match written(form, &report::document(view), || report::csv(view)) {
        Ok((bytes, _)) => put(&bytes, file),
        Err(error) => cannot(error),
    }
}

/// Prints a progress report, or writes it into a file.
fn report_progress(app: &mut App, form: ReportAs, file: Option<&Path>) -> ExitCode {
    app.handle(Command::Go(crate::app::program::route::Route::Competence));
    app.settle();
    let Some(progress) = app.progress() else { return cannot("the profile could not be read") };
    match written(form, &progress::document(&progress), || progress::csv(&progress)) {
        Ok((bytes, _)) => put(&bytes, file),
        Err(error) => cannot(error),
    }
}

fn put(bytes: &[u8], file: Option<&Path>) -> ExitCode {
    match file {
        None => out::ended(out::all(bytes), ExitCode::SUCCESS),
        Some(file) => match std::fs::write(file, bytes) {
            Ok(()) => ExitCode::SUCCESS,
            Err(why) => cannot(format!("{} could not be written: {why}", file.display())),
        },
    }
}
