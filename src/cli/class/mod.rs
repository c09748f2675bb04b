//! `bedplate class`: a lecturer's class, from the hand-ins of its learners.

mod add;
mod export;
mod faults;
mod forget;
mod of;
mod open;
mod report;
mod show;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Subcommand;

use self::of::Of;

/// What is to be done with a class.
#[derive(Subcommand)]
pub enum ClassCommand {
    /// Take hand-ins in. Exit code 1 where one was refused; the good ones are taken in all the same.
    Add {
        /// The class's name.
        name: String,
        /// Hand-ins.
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// Say yes beforehand to taking in somebody who was forgotten.
        #[arg(long)]
        yes: bool,
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// Roster, areas, the next lesson and the cards.
    Show {
        /// Which cards, and how long a lesson.
        #[command(flatten)]
        of: Of,
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// All of it as PDF, or one row a learner as CSV.
    Report {
        /// Which cards, and how long a lesson.
        #[command(flatten)]
        of: Of,
        /// Write a PDF into this file.
        #[arg(long, required_unless_present = "csv")]
        pdf: Option<PathBuf>,
        /// Write CSV into this file.
        #[arg(long, conflicts_with = "pdf")]
        csv: Option<PathBuf>,
    },
    /// Attempts by month, learners and cards as columnar files, for engines over many classes: docs/fleet.md.
    Export {
        /// The class's name.
        name: String,
        /// Write Parquet files into this folder, which is made where it is not there.
        #[arg(long, required_unless_present = "csv")]
        parquet: Option<PathBuf>,
        /// Write CSV files into this folder.
        #[arg(long)]
        csv: Option<PathBuf>,
    },
    /// The faults that learners reported in cards.
    Faults {
        /// The class's name.
        name: String,
        /// Print JSON.
        #[arg(long)]
        json: bool,
    },
    /// Remove a learner for good, from the class's file and its backups.
    Forget {
        /// The class's name.
        name: String,
        /// The learner's name, or id where several have that name.
        learner: String,
    },
}

/// Does it.
pub fn run(command: ClassCommand) -> ExitCode {
    let done = match command {
        ClassCommand::Add { name, files, yes, json } => add::run(&name, &files, yes, json),
        ClassCommand::Show { of, json } => show::run(&of, json),
        ClassCommand::Report { of, pdf, csv } => report::run(&of, pdf.as_deref(), csv.as_deref()),
        ClassCommand::Export { name, parquet, csv } => export::run(&name, parquet.as_deref(), csv.as_deref()),
        ClassCommand::Faults { name, json } => faults::run(&name, json),
        ClassCommand::Forget { name, learner } => forget::run(&name, &learner),
    };
    done.unwrap_or_else(|code| code)
}
