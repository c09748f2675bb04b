//! `bedplate assign`: a lecturer gives decks out to a class, in one file.

use std::path::PathBuf;
use std::process::ExitCode;

use serde_json::json;

use super::marker::CommandReader;
use super::out::{self, cannot};
use super::profile;
use super::say::printable;
use super::times::date;
use crate::app::class::giving_out::{self, CannotAssign, give_out};
use crate::deck::read_blueprint;
use crate::domain::day::ShipOffset;
use crate::domain::roster::Assignment;
use crate::present::words;

/// What is asked for.
pub(super) struct Wish {
    /// The class's name.
    pub class: String,
    /// Folders, sealed files or ids.
    pub decks: Vec<String>,
    /// A date.
    pub by: Option<String>,
    /// Minutes a day.
    pub minutes: Option<u32>,
    /// A file.
    pub blueprint: Option<PathBuf>,
    /// Where hand-ins go.
    pub send_to: Option<String>,
    /// The file to write.
    pub out: PathBuf,
    /// Samples are marked by their words alone.
    pub plain: bool,
    /// Print JSON.
    pub json: bool,
}

/// Writes the assignment. Exit code 1 where a deck cannot be given out, 2 for an error of the call.
pub(super) fn run(wish: &Wish) -> ExitCode {
    given_out(wish).unwrap_or_else(|code| code)
}

fn given_out(wish: &Wish) -> Result<ExitCode, ExitCode> {
    let home = profile::home().map_err(cannot)?;
    let now = profile::system_clock()();
    let today = now.study_day(ShipOffset::default());
    let by = match &wish.by {
        Some(text) => match words::read_date(text, today).filter(|day| *day >= today) {
            Some(day) => Some(day),
            None => return Err(cannot(format!("`{text}` is no day from today on. Write it as 2026-12-24"))),
        },
        None => None,
    };
    let blueprint = match &wish.blueprint {
        Some(file) => Some(read_blueprint(file).map_err(cannot)?),
        None => None,
    };
    let send_to = wish.send_to.clone();
    let asked =
        giving_out::Wish { class: &wish.class, decks: &wish.decks, by, minutes: wish.minutes, blueprint, send_to };
    let reader = CommandReader::load(wish.plain);
    let made = jiff::Timestamp::from_second(now.0.div_euclid(1_000)).map(|at| at.to_string());
    let made = made.map_err(|_| cannot("the computer's clock says no time"))?;
    match give_out(&home, &asked, reader.marker(), (now, &made), &wish.out) {
        Ok(assignment) => {
            out::line(format_args!("{}", told(wish, &assignment)))?;
            Ok(ExitCode::SUCCESS)
        }
        Err(error @ CannotAssign::Deck { .. }) => {
            out::told(&error.to_string());
            Ok(ExitCode::FAILURE)
        }
        Err(error) => Err(cannot(error)),
    }
}

fn told(wish: &Wish, assignment: &Assignment) -> String {
    if wish.json {
        let decks = assignment.decks.iter();
        let decks: Vec<_> =
            decks.map(|deck| json!({ "deck": deck.id, "title": deck.title, "edition": deck.edition })).collect();
        let value = json!({
            "assignment": assignment.id, "class": assignment.class.name, "by": assignment.by.map(date),
            "decks": decks, "cards": assignment.cards.len(), "file": wish.out.display().to_string(),
        });
        return format!("{value:#}");
    }
    let by = assignment.by.map_or_else(String::new, |by| format!(", due {}", words::day(by)));
    printable(&format!(
        "{}: {} with {} for the class {}{by}. Learners take it in with `bedplate install`; its id is {}.",
        wish.out.display(),
        words::count(assignment.decks.len(), "deck"),
        words::count(assignment.cards.len(), "card"),
        assignment.class.name,
        assignment.id
    ))
}
