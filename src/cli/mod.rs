//! The command line: one file for each command. No command opens the window.

mod asked;
mod assign;
mod assignment;
mod card;
pub mod check;
mod class;
mod clock;
mod deck_at;
mod draft;
mod export;
mod face;
mod forms;
mod hand_in;
mod install;
mod json;
mod keys;
mod kinds;
mod line;
mod marker;
mod merge;
mod oral;
mod out;
mod passphrase;
mod plan;
mod profile;
pub mod prove;
mod ready;
mod said;
mod say;
mod seal;
mod sentence;
mod show;
mod strict;
mod times;
pub mod try_card;
mod watch;
mod window;

use std::path::PathBuf;
use std::process::ExitCode;

use crate::app::class::handing_in::Ticked;
use crate::app::program::command::ReportAs;
use crate::cli::out::cannot;
use crate::deck::SchemaOf;
use crate::domain::oral::Length;
use crate::domain::taking_in::Wishes;
use clap::{Parser, Subcommand, ValueEnum};

#[derive(Parser)]
#[command(name = "bedplate", version, about = "Trains marine engineering officers for the oral examination.")]
#[command(after_help = "Without a command the window opens. The ship's safety management system, the makers' \
                        instructions and the administration's rules come first, whatever a card says.")]
struct Arguments {
    /// Open the window on an invented learner with sixty days of study: R. Halloran, cadet on the Marram Light.
    #[arg(long)]
    demo: bool,
    /// The home folder for this run, made where it is not there. Without it the folder that BEDPLATE_HOME names, or else a
    /// folder `bedplate-home` beside the program, or else the system's own for a program's data.
    #[arg(long, global = true, value_name = "DIR", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    home: Option<String>,
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
        /// The deck's folder, or a sealed deck; with `--strict` several, or a folder of decks.
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
        /// Only some cards, for this watch: deck:ID, topic:KEY, heading:WORDS, assignment:ID or search:WORDS. What is left
        /// out stays due.
        #[arg(long)]
        only: Option<String>,
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
    /// Give decks out to a class: one file with all of them, a date and whatever the learners are to know.
    Assign {
        /// The class's name; it is made where there is none of that name.
        #[arg(long)]
        class: String,
        /// Folders of decks, sealed files, or ids of decks in this home.
        #[arg(long, required = true, num_args = 1..)]
        decks: Vec<String>,
        /// The day on which all is to be held, such as 2026-12-24.
        #[arg(long)]
        by: Option<String>,
        /// Minutes a day, 5 to 120.
        #[arg(long, value_parser = clap::value_parser!(u32).range(5..=120))]
        minutes: Option<u32>,
        /// How the oral is shared: a TOML file.
        #[arg(long)]
        blueprint: Option<PathBuf>,
        /// Where hand-ins go, in words.
        #[arg(long)]
        send_to: Option<String>,
        /// The file to write.
        #[arg(long)]
        out: PathBuf,
        /// Mark sample answers by their words alone, without the trained reader.
        #[arg(long)]
        plain: bool,
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// Hand in to a lecturer what an assignment asks for, as a file.
    ///
    /// Attempts at its cards (outcome, seconds, time, edition, points), fault reports, and a name or a code; what was typed
    /// and marks of orals only where asked for. A later hand-in contains the earlier ones.
    HandIn {
        /// The assignment's id; may be left out where this home holds only one.
        #[arg(long)]
        assignment: Option<String>,
        /// The file to write.
        #[arg(long)]
        out: PathBuf,
        /// The name or code to hand in under; without it the learner's own name.
        #[arg(long)]
        name: Option<String>,
        /// Hand in what was typed and set, too.
        #[arg(long)]
        with_answers: bool,
        /// Hand in what mock orals came to, too.
        #[arg(long)]
        with_orals: bool,
        /// The profile's folder.
        #[arg(long)]
        profile: Option<PathBuf>,
        /// Hand in as if it were this time, such as 2026-11-25T08:00:00Z.
        #[arg(long)]
        now: Option<String>,
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// Put a deck into one file that can be given away.
    ///
    /// Exit code 0: sealed. 1: the deck has errors, or something in it may not go along. 2: an error of the call.
    Seal {
        /// The deck's folder.
        deck: PathBuf,
        /// The file to write, such as marram-light-2.bedplate.
        #[arg(long)]
        out: PathBuf,
        /// Sign it with this secret key: a file of minisign, or the name of a key of your own.
        #[arg(long)]
        key: Option<PathBuf>,
        /// The time that it says it was made at, such as 2026-11-25T08:00:00Z, instead of now.
        #[arg(long)]
        made: Option<String>,
        /// Mark sample answers by their words alone, without the trained reader.
        #[arg(long)]
        plain: bool,
    },
    /// Take a deck in from a file, or say why not.
    ///
    /// Exit code 0: taken in, or there already. 1: refused. 2: the file could not be read.
    Install {
        /// The file.
        #[arg(required_unless_present = "go_back")]
        file: Option<PathBuf>,
        /// Print JSON.
        #[arg(long)]
        json: bool,
        /// Trust whoever made it, without being asked.
        #[arg(long)]
        trust: bool,
        /// Take it in though a higher edition is here.
        #[arg(long)]
        older: bool,
        /// Take it in though the deck came with the program and this is not by its makers.
        #[arg(long)]
        replace_bundled: bool,
        /// Instead: bring back the edition of this deck (its id) that was in use before.
        #[arg(long, value_name = "DECK", conflicts_with_all = ["file", "trust", "older", "replace_bundled"])]
        go_back: Option<String>,
    },
    /// Show what a file holds, such as a sealed deck, without taking it in.
    ///
    /// Exit code 0: shown. 1: it is not as it should be. 2: it could not be read.
    Show {
        /// The file.
        file: PathBuf,
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// A lecturer's class: take hand-ins in, see where it is weak and what to teach next.
    #[command(subcommand)]
    Class(class::ClassCommand),
    /// Keys, by which decks are signed: your own, and those of others that you trust.
    #[command(subcommand)]
    Keys(KeysCommand),
    /// Take data out of a profile.
    Export {
        /// What to take out.
        what: What,
        /// For a profile: the file to write. It takes the place of an earlier profile's file, and of nothing else.
        file: Option<PathBuf>,
        /// The profile's folder.
        #[arg(long)]
        profile: Option<PathBuf>,
        /// Print JSON: of attempts one a line, of faults one object, which the writing page of a deck takes in; of a profile
        /// what the file holds.
        #[arg(long)]
        json: bool,
    },
    /// Bring in what was learned on another computer, from a file that `export profile` wrote there.
    ///
    /// All that the file holds is united with what is here, whatever came first; doing it twice changes nothing. Of the
    /// settings the later ones hold. A backup of the profile as it was is kept. Another learner's answers come in only
    /// after a plain yes, or with `--yes`; a home without answers becomes the file's learner's.
    ///
    /// Exit code 0: brought in. 1: the file was refused, or is another learner's; nothing was changed. 2: an error of the
    /// call.
    Merge {
        /// The file.
        file: PathBuf,
        /// The profile's folder; made where it is not there.
        #[arg(long)]
        profile: Option<PathBuf>,
        /// Print JSON: what was taken in, what was there, whose the file is.
        #[arg(long)]
        json: bool,
        /// Bring it in though it is another learner's.
        #[arg(long)]
        yes: bool,
    },
}

#[derive(Subcommand)]
enum KeysCommand {
    /// Make a pair of keys in the home folder.
    New {
        /// What it is to be called.
        name: String,
        /// The secret key can be used by whoever has its file.
        #[arg(long)]
        no_passphrase: bool,
    },
    /// List your own keys and the trusted ones: name, number, public key.
    Show {
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// Trust the public key in a file for every deck that is bound to no other.
    Trust {
        /// The file, as minisign writes it.
        file: PathBuf,
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
    /// All that the profile holds, as one file for another computer of the same learner. It holds the words of typed
    /// answers.
    Profile,
    /// What the learner says is wrong with cards, with the answers that were on the sheet, for the decks' authors.
    Faults,
}

/// Runs the program on its arguments.
pub fn run() -> ExitCode {
    let arguments = Arguments::parse();
    if let Some(home) = arguments.home {
        profile::use_home(home.into());
    }
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
        Some(Command::Watch { profile, cards, only, now, plain }) => {
            watch::run(profile, cards, only.as_deref(), now.as_deref(), plain)
        }
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
        Some(Command::Assign { class, decks, by, minutes, blueprint, send_to, out, plain, json }) => {
            assign::run(&assign::Wish { class, decks, by, minutes, blueprint, send_to, out, plain, json })
        }
        Some(Command::HandIn { assignment, out, name, with_answers, with_orals, profile, now, json }) => {
            let ticked = Ticked { name, answers: with_answers, orals: with_orals };
            hand_in::run(&hand_in::Wish { assignment, out, ticked, profile, now, json })
        }
        Some(Command::Class(command)) => class::run(command),
        Some(Command::Export { what: What::Attempts, file: None, profile, json }) => export::attempts(profile, json),
        Some(Command::Export { what: What::Faults, file: None, profile, json }) => export::faults(profile, json),
        Some(Command::Export { what: What::Attempts | What::Faults, file: Some(_), .. }) => {
            cannot("`export attempts` and `export faults` print; lead what they print into a file")
        }
        Some(Command::Export { what: What::Profile, file: Some(file), profile, json }) => {
            merge::export(profile, &file, json)
        }
        Some(Command::Export { what: What::Profile, file: None, .. }) => {
            cannot("`export profile` wants the file to write: `bedplate export profile FILE`")
        }
        Some(Command::Merge { file, profile, json, yes }) => merge::run(&file, profile, json, yes),
        Some(Command::Seal { deck, out, key, made, plain }) => seal::run(&seal::Wish { deck, out, key, made, plain }),
        Some(Command::Install { go_back: Some(deck), json, .. }) => install::go_back(&deck, json),
        Some(Command::Install { file, json, trust, older, replace_bundled, go_back: None }) => {
            let wishes = Wishes { trust, older, replace_bundled };
            install::run(&file.unwrap_or_default(), wishes, json)
        }
        Some(Command::Show { file, json }) => show::run(&file, json),
        Some(Command::Keys(KeysCommand::New { name, no_passphrase })) => keys::new(&name, no_passphrase),
        Some(Command::Keys(KeysCommand::Show { json })) => keys::show(json),
        Some(Command::Keys(KeysCommand::Trust { file })) => keys::trust(&file),
    }
}
