//! `bedplate hand-in`: a learner's file for the lecturer, with what goes in it said in words and figures.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use serde_json::json;

use crate::app::class::assignments;
use crate::app::class::envelope::{is_name, write_hand_in};
use crate::app::class::handing_in::{Ticked, make};
use crate::app::profile::opening::{self, Profile, Ready, worth_saying};
use crate::app::publish::file::put;
use crate::cli::out::{self, cannot};
use crate::cli::profile;
use crate::cli::say::printable;
use crate::domain::roster::HandIn;
use crate::present::words;

/// What is asked for.
pub(super) struct Wish {
    /// The assignment's id; none where the home holds only one.
    pub assignment: Option<String>,
    /// The file to write.
    pub out: PathBuf,
    /// What may go into it.
    pub ticked: Ticked,
    /// The profile's folder.
    pub profile: Option<PathBuf>,
    /// Hand in as if it were this time.
    pub now: Option<String>,
    /// Print JSON.
    pub json: bool,
}

/// Writes the hand-in.
pub(super) fn run(wish: &Wish) -> ExitCode {
    written(wish).unwrap_or_else(|code| code)
}

fn written(wish: &Wish) -> Result<ExitCode, ExitCode> {
    if wish.ticked.name.as_deref().is_some_and(|name| !is_name(name)) {
        return Err(cannot("a name has 1 to 200 characters on one line"));
    }
    let clock = profile::clock(wish.now.as_deref()).map_err(cannot)?;
    let now = clock();
    let setup = profile::setup(wish.profile.clone(), clock).map_err(cannot)?;
    let assignment = assignments::find(&setup.home, wish.assignment.as_deref()).map_err(cannot)?;
    if !setup.dir.is_dir() {
        return Err(cannot(format!("there is no profile in {}", setup.dir.display())));
    }
    let Ready { shelf, profile: Profile { store, learner, .. }, mut notices, .. } =
        opening::open_or_read(&setup, now).map_err(cannot)?;
    let made = make(&store, &learner, &shelf, &assignment, &wish.ticked, now);
    notices.extend(store.close().iter().filter(|n| worth_saying(n)).map(ToString::to_string));
    profile::tell(&notices);
    let hand_in = made.map_err(cannot)?;
    let bytes = write_hand_in(&hand_in).map_err(cannot)?;
    put(&wish.out, &bytes).map_err(|why| cannot(format!("{} could not be written: {why}", wish.out.display())))?;
    let told = if wish.json { as_json(&hand_in, &wish.out) } else { printable(&in_words(&hand_in, &wish.out)) };
    out::line(format_args!("{told}"))?;
    Ok(ExitCode::SUCCESS)
}

fn met(hand_in: &HandIn) -> usize {
    let cards = hand_in.attempts.iter().filter(|attempt| !attempt.voided).map(|attempt| &attempt.card);
    cards.collect::<std::collections::BTreeSet<_>>().len()
}

fn as_json(hand_in: &HandIn, file: &Path) -> String {
    let value = json!({
        "file": file.display().to_string(), "assignment": hand_in.assignment.id, "class": hand_in.assignment.class.name,
        "name": hand_in.name, "learner": hand_in.learner, "attempts": hand_in.attempts.len(), "met": met(hand_in),
        "assigned": hand_in.assignment.cards.len(), "answers": hand_in.with_answers,
        "orals": hand_in.orals.as_ref().map(Vec::len), "faults": hand_in.faults.len(),
    });
    format!("{value:#}")
}

/// What goes, in words and figures: nothing else is in the file.
pub(super) fn in_words(hand_in: &HandIn, file: &Path) -> String {
    let answers =
        if hand_in.with_answers { "what you typed and set is in it" } else { "nothing that you typed is in it" };
    let orals = match &hand_in.orals {
        Some(orals) => format!("the marks of {}", words::count_in_words(orals.len(), "mock oral")),
        None => "no marks of orals".to_owned(),
    };
    let mut text = format!(
        "{} for the class {}, as {}: {} at {} of {} (outcome, seconds, time, edition, points said, denied and missed); {answers}; \
         {orals}; {}. Nothing else.",
        file.display(),
        hand_in.assignment.class.name,
        hand_in.name,
        words::count(hand_in.attempts.len(), "attempt"),
        met(hand_in),
        words::count(hand_in.assignment.cards.len(), "card"),
        match hand_in.faults.len() {
            0 => "no reports of faults".to_owned(),
            count => format!("{} of faults, in your words", words::count_in_words(count, "report")),
        },
    );
    if let Some(to) = &hand_in.assignment.send_to {
        text += &format!(" Send it to: {to}");
    }
    text
}
