//! The command line: one file for each command. No command opens the window.

mod card;
pub mod check;
mod clock;
mod export;
mod face;
mod forms;
mod json;
mod kinds;
mod line;
mod marker;
mod oral;
mod out;
mod plan;
mod profile;
pub mod prove;
mod ready;
mod said;
mod say;
mod strict;
pub mod try_card;
mod watch;
mod window;

use std::path::PathBuf;
use std::process::ExitCode;

use crate::app::program::command::ReportAs;
use crate::cli::out::cannot;
use crate::domain::oral::Length;
use clap::{Parser, Subcommand, ValueEnum};

#[derive(Parser)]
#[command(name = "bedplate", version, about = "Trains marine engineering officers for the oral examination.")]
#[command(after_help = "Without a command the window opens. The ship's safety management system, the makers' \
                        instructions and the administration's rules come first, whatever a card says.")]
struct Arguments {
    /// Open the window on an invented learner with sixty days of study: R. Halloran, cadet on the Marram Light.
    #[arg(long)]
    demo: bool,
    /// In this run typed answers are marked by their words alone, without the trained reader.
    #[arg(long)]
    plain: bool,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Subcommand)]
enum Command {
    /// Read a deck and list every problem at its line and column.
    ///
    /// Exit code 0: no errors (warnings and advice may stand). 1: errors. 2: the deck could not be read.
    Check {
        /// The deck's folder; with `--strict` several, or a folder of decks.
        #[arg(required = true)]
        decks: Vec<PathBuf>,
        /// Print JSON.
        #[arg(long)]
        json: bool,
        /// What a publisher looks at as well: cards that ask the same, answers that are given away, points without
        /// phrases, phrases that claim nothing, safety-critical points without refused phrases or without a sample that
        /// denies them, missing reasons, weights, competences without cards; as a table by deck. Exit code 1 also for
        /// warnings, advice and findings.
        #[arg(long)]
        strict: bool,
        /// Mark sample answers by their words alone, without the trained reader.
        #[arg(long)]
        plain: bool,
    },
    /// Print what decks cover, competence by kind of card, as Markdown.
    Coverage {
        /// Folders of decks, or a folder with decks in it.
        #[arg(required = true)]
        decks: Vec<PathBuf>,
    },
    /// Mark an answer to a card and print the marking as JSON.
    ///
    /// Exit code 0: marked, whatever the outcome. 2: an error of the call.
    Try {
        /// The deck's folder.
        deck: PathBuf,
        /// The card's id.
        card: String,
        /// The answer as JSON, such as '{"text": "30 bar"}', '{"said": [1, 3]}' or '{"links": [2, 1, 3]}'; each may
        /// carry "seconds".
        #[arg(long)]
        answer: String,
        /// Mark by the words alone, without the trained reader.
        #[arg(long)]
        plain: bool,
        /// Print for people what the readers found of each point and how the rule went, instead of JSON.
        #[arg(long)]
        explain: bool,
    },
    /// Prove a sequence or a line-up: does it work, in how many orders or settings, and what is needed.
    ///
    /// Exit code 0: proved, whether it works or not. 2: an error of the call.
    Prove {
        /// The deck's folder.
        deck: PathBuf,
        /// The card's id.
        card: String,
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// Stand a watch in the terminal: for machines with no display and for screen readers. Works on a pipe too.
    Watch {
        /// The profile's folder; made where it is not there.
        #[arg(long)]
        profile: Option<PathBuf>,
        /// At most so many cards.
        #[arg(long)]
        cards: Option<usize>,
        /// Stand it as if it were this time, such as 2026-11-25T08:00:00Z.
        #[arg(long)]
        now: Option<String>,
        /// Mark typed answers by their words alone, without the trained reader.
        #[arg(long)]
        plain: bool,
    },
    /// Sit a mock oral in the terminal. Works on a pipe too; each answer is kept before the next question.
    Oral {
        /// The profile's folder; made where it is not there.
        #[arg(long)]
        profile: Option<PathBuf>,
        /// Lead questions, 1 to 60.
        #[arg(long, default_value_t = 10, conflicts_with = "minutes")]
        questions: usize,
        /// So many minutes instead, 5 to 240.
        #[arg(long)]
        minutes: Option<u32>,
        /// The same seed, cards and answers give the same sitting.
        #[arg(long)]
        seed: Option<u64>,
        /// Go for the weak areas.
        #[arg(long)]
        coaching: bool,
        /// A pressing examiner: more follow-ups, less time.
        #[arg(long)]
        pressing: bool,
        /// Begin a new sitting, though one is not over.
        #[arg(long)]
        afresh: bool,
        /// Take up again the sitting that was ended by hand today.
        #[arg(long, conflicts_with = "afresh")]
        take_up: bool,
        /// Sit it as if it were this time, such as 2026-11-25T08:00:00Z.
        #[arg(long)]
        now: Option<String>,
        /// Mark typed answers by their words alone, without the trained reader.
        #[arg(long)]
        plain: bool,
    },
    /// Where the learner stands: the competence table and the chance of passing.
    Ready {
        /// The profile's folder.
        #[arg(long)]
        profile: Option<PathBuf>,
        /// The day of the oral, such as 2026-12-24; without it the learner's own.
        #[arg(long)]
        on: Option<String>,
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// The plan to the oral: load and chance day by day.
    Plan {
        /// The profile's folder.
        #[arg(long)]
        profile: Option<PathBuf>,
        /// With so many minutes a day, 5 to 120, instead of the learner's own.
        #[arg(long)]
        minutes: Option<u32>,
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// Report a sitting that is over, as Markdown, CSV or PDF.
    Report {
        /// Its number from 1, its id, or `last`; `progress` for the learner's progress instead.
        sitting: String,
        /// The profile's folder.
        #[arg(long)]
        profile: Option<PathBuf>,
        /// CSV, one line for each point asked.
        #[arg(long)]
        csv: bool,
        /// Write it into this file instead of printing it.
        #[arg(long)]
        file: Option<PathBuf>,
        /// Write it into this file as PDF.
        #[arg(long, conflicts_with_all = ["csv", "file"])]
        pdf: Option<PathBuf>,
    },
    /// Take data out of a profile.
    Export {
        /// What to take out.
        what: What,
        /// The profile's folder.
        #[arg(long)]
        profile: Option<PathBuf>,
        /// Print JSON: of attempts one a line, of faults one object, which the writing page of a deck takes in.
        #[arg(long)]
        json: bool,
    },
}

#[derive(Clone, Copy, ValueEnum)]
enum What {
    /// Every attempt, oldest first.
    Attempts,
    /// What the learner says is wrong with cards, with the answers that were on the sheet, for the decks' authors.
    Faults,
}

/// Runs the program on its arguments.
pub fn run() -> ExitCode {
    let arguments = Arguments::parse();
    match arguments.command {
        None => window::run(arguments.demo, arguments.plain),
        Some(_) if arguments.demo => cannot("--demo opens the window; commands take the demonstration by --profile"),
        Some(_) if arguments.plain => cannot("--plain before a command is the window’s; write it behind the command"),
        Some(Command::Check { decks, json, strict: true, plain }) => strict::run(&decks, json, plain),
        Some(Command::Check { decks, json, strict: false, plain }) => match &decks[..] {
            [deck] => check::run(deck, json, plain),
            _ => cannot("check takes one deck; several are checked together with --strict"),
        },
        Some(Command::Coverage { decks }) => strict::print_coverage(&decks),
        Some(Command::Try { deck, card, answer, plain, explain }) => {
            try_card::run(&deck, &card, &answer, plain, explain)
        }
        Some(Command::Prove { deck, card, json }) => prove::run(&deck, &card, json),
        Some(Command::Watch { profile, cards, now, plain }) => watch::run(profile, cards, now.as_deref(), plain),
        Some(Command::Oral { profile, questions, minutes, seed, coaching, pressing, afresh, take_up, now, plain }) => {
            let length = minutes.map_or(Length::Questions(questions), Length::Minutes);
            oral::run(oral::Wish { profile, length, seed, coaching, pressing, afresh, take_up, now, plain })
        }
        Some(Command::Ready { profile, on, json }) => ready::run(profile, on.as_deref(), json),
        Some(Command::Plan { profile, minutes, json }) => plan::run(profile, minutes, json),
        Some(Command::Report { sitting, profile, csv, file, pdf }) => {
            let form = match (csv, &pdf) {
                (_, Some(_)) => ReportAs::Pdf,
                (true, None) => ReportAs::Csv,
                (false, None) => ReportAs::Markdown,
            };
            oral::report(profile, &sitting, form, pdf.or(file).as_deref())
        }
        Some(Command::Export { what: What::Attempts, profile, json }) => export::attempts(profile, json),
        Some(Command::Export { what: What::Faults, profile, json }) => export::faults(profile, json),
    }
}
