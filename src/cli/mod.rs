//! The command line: one file for each command. No command opens the window.

mod asked;
mod card;
pub mod check;
mod clock;
mod draft;
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
mod sentence;
mod strict;
pub mod try_card;
mod watch;
mod window;

use std::path::PathBuf;
use std::process::ExitCode;

use crate::app::program::command::ReportAs;
use crate::cli::out::cannot;
use crate::deck::SchemaOf;
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
    /// Read a deck and say of every problem where it is, what is wrong and how to mend it.
    ///
    /// Exit code 0: no errors (warnings and advice may stand). 1: errors. 2: the deck could not be read.
    Check {
        /// The deck's folder; with `--strict` several, or a folder of decks.
        #[arg(required = true)]
        decks: Vec<PathBuf>,
        /// Print JSON.
        #[arg(long)]
        json: bool,
        /// Show each problem under its line, with the place marked.
        #[arg(long, conflicts_with_all = ["json", "strict"])]
        source: bool,
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
    /// Make cards of a spreadsheet (.xlsx, .ods or .csv), one row a card, in a deck that is there.
    ///
    /// Cards that stand in the deck are brought up to date by their ids, and none is ever removed. Exit code 0: every row
    /// is in the deck. 1: a row cannot be read; nothing is written without --keep-good. 2: no sheet, or no deck.
    Draft {
        /// The spreadsheet.
        #[arg(required_unless_present = "template")]
        sheet: Option<PathBuf>,
        /// The deck's folder, with its deck.toml.
        #[arg(long, value_name = "DECK", required_unless_present = "template")]
        into: Option<PathBuf>,
        /// Where a row cannot be read, write the others all the same.
        #[arg(long)]
        keep_good: bool,
        /// Write an empty sheet with an example of each kind into this file (.csv or .xlsx).
        #[arg(long, value_name = "FILE", conflicts_with_all = ["sheet", "into", "keep_good"])]
        template: Option<PathBuf>,
        /// Mark sample answers of the deck by their words alone, without the trained reader.
        #[arg(long)]
        plain: bool,
    },
    /// Print a JSON schema of the deck format, for editors that mark mistakes while one writes.
    Schema {
        /// Of these files alone; without it one schema of both.
        of: Option<Files>,
    },
    /// Print what decks cover, competence by kind of card, as Markdown.
    Coverage {
        /// Folders of decks, or a folder with decks in it.
        #[arg(required = true)]
        decks: Vec<PathBuf>,
    },
    /// Mark an answer to a card, or to a follow-up of it: an answer as JSON, or one that is asked for here.
    ///
    /// With --answer the marking is printed as JSON, without it in words. Exit code 0: marked, whatever the outcome. 2: an
    /// error of the call, or no answer.
    Try {
        /// The deck's folder.
        deck: PathBuf,
        /// The card's id.
        card: String,
        /// The answer as JSON, such as '{"text": "30 bar"}', '{"said": [1, 3]}' or '{"links": [2, 1, 3]}'; each may
        /// carry "seconds". Without it the card is asked here and the answer read from the keyboard.
        #[arg(long)]
        answer: Option<String>,
        /// Try a follow-up instead: its number in the card's `probes`, or `reason` for the question after the reason.
        #[arg(long, value_name = "N")]
        probe: Option<String>,
        /// Where figures are drawn and no answer is given: what they are drawn from.
        #[arg(long, default_value_t = 1, conflicts_with = "answer")]
        seed: u64,
        /// Print JSON also where the answer is asked for; the question then goes to standard error.
        #[arg(long)]
        json: bool,
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
        /// Print JSON, one attempt a line.
        #[arg(long)]
        json: bool,
    },
}

#[derive(Clone, Copy, ValueEnum)]
enum Files {
    /// deck.toml.
    Deck,
    /// Card files.
    Cards,
}

/// Prints the schema of decks.
fn schema(of: Option<Files>) -> ExitCode {
    let of = match of {
        None => SchemaOf::Any,
        Some(Files::Deck) => SchemaOf::Head,
        Some(Files::Cards) => SchemaOf::Cards,
    };
    out::ended(out::all(format!("{:#}\n", crate::deck::schema(of)).as_bytes()), ExitCode::SUCCESS)
}

#[derive(Clone, Copy, ValueEnum)]
enum What {
    /// Every attempt, oldest first.
    Attempts,
}

/// Runs the program on its arguments.
pub fn run() -> ExitCode {
    let arguments = Arguments::parse();
    match arguments.command {
        None => window::run(arguments.demo, arguments.plain),
        Some(_) if arguments.demo => cannot("--demo opens the window; commands take the demonstration by --profile"),
        Some(_) if arguments.plain => cannot("--plain before a command is the window’s; write it behind the command"),
        Some(Command::Check { decks, json, strict: true, plain, .. }) => strict::run(&decks, json, plain),
        Some(Command::Check { decks, json, source, strict: false, plain }) => match &decks[..] {
            [deck] => {
                let shown = match (json, source) {
                    (true, _) => check::Shown::Json,
                    (_, true) => check::Shown::Source,
                    _ => check::Shown::Sentences,
                };
                check::run(deck, shown, plain)
            }
            _ => cannot("check takes one deck; several are checked together with --strict"),
        },
        Some(Command::Draft { template: Some(file), .. }) => draft::template(&file),
        Some(Command::Draft { sheet: Some(sheet), into: Some(deck), keep_good, plain, template: None }) => {
            draft::run(&sheet, &deck, keep_good, plain)
        }
        Some(Command::Draft { .. }) => cannot("draft takes a sheet and --into with a deck, or --template with a file"),
        Some(Command::Schema { of }) => schema(of),
        Some(Command::Coverage { decks }) => strict::print_coverage(&decks),
        Some(Command::Try { deck, card, answer, probe, seed, json, plain, explain }) => {
            let (answer, probe) = (answer.as_deref(), probe.as_deref());
            try_card::run(&deck, &card, try_card::Wish { answer, probe, seed, plain, explain, json })
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
    }
}
