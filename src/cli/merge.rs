//! `bedplate merge`: what was learned on another computer is brought in; `bedplate export profile`: written out for it.

use std::io::{BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use serde_json::{Value, json};

use crate::cli::export::{tell, with_store};
use crate::cli::line::{self, Line};
use crate::cli::out::{self, cannot};
use crate::cli::profile;
use crate::domain::day::Instant;
use crate::present::words::{count, named};
use crate::store::bring::{self, Counts, Merged, ProfileFile, Whose};
use crate::store::{OpenOptions, Store, StoreError};

/// Exit code of a file that was refused, or of another learner's that was not wished for.
const REFUSED: u8 = 1;

/// Brings a profile's file in. Another learner's only after a plain yes: by `yes`, or by whoever sits at the terminal.
pub fn run(file: &Path, dir: Option<PathBuf>, json: bool, yes: bool) -> ExitCode {
    let looked = match bring::look(file) {
        Ok(looked) => looked,
        Err(error) => return failed(&error),
    };
    let setup = match profile::setup(dir, profile::system_clock()) {
        Ok(setup) => setup,
        Err(error) => return cannot(error),
    };
    let now = (setup.clock)();
    let options = OpenOptions { dir: setup.dir.clone(), now, wake: setup.wake.clone() };
    let (store, notices) = match Store::open(options) {
        Ok(opened) => (opened.store, opened.notices),
        Err(error) => return cannot(error),
    };
    let brought = bring_in(&store, &looked, yes, now);
    tell(&notices);
    tell(&store.close());
    let merged = match brought {
        Ok(merged) => merged,
        Err(code) => return code,
    };
    let text = if json { format!("{:#}\n", as_json(&looked, &merged, &setup.dir)) } else { in_words(&looked, &merged) };
    out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS)
}

fn bring_in(store: &Store, looked: &ProfileFile, yes: bool, now: Instant) -> Result<Merged, ExitCode> {
    let would = store.would_bring(looked.clone(), now).wait().map_err(|error| failed(&error))?;
    let mixes = would.whose == Whose::Other;
    if mixes && !yes && !is_agreed(looked, &would)? {
        out::told("nothing was brought in: the file is another learner’s. `--yes` brings it in all the same");
        return Err(ExitCode::from(REFUSED));
    }
    store.bring(looked.clone(), mixes, now).wait().map_err(|error| failed(&error))
}

/// Whether whoever sits at the terminal wants the answers of two learners in one profile.
fn is_agreed(looked: &ProfileFile, would: &Merged) -> Result<bool, ExitCode> {
    if !std::io::stdin().is_terminal() {
        return Ok(false);
    }
    let whose =
        format!("This file holds {}’s answers; this profile is {}’s.", name(&looked.learner), name(&would.here));
    let what = "Brought in, they count as one learner’s and cannot be told apart again.";
    let ask = format!("{whose} {what}\nBring them in? Type yes or no: ");
    ask_until(&mut std::io::stdin().lock(), &mut std::io::stderr(), &ask).map_err(cannot)
}

fn ask_until(input: &mut impl BufRead, out: &mut impl Write, ask: &str) -> std::io::Result<bool> {
    loop {
        write!(out, "{}", crate::cli::say::printable(ask))?;
        out.flush()?;
        match line::read(input)? {
            Line::Read(word) if word.eq_ignore_ascii_case("yes") => return Ok(true),
            Line::Read(word) if word.eq_ignore_ascii_case("no") => return Ok(false),
            Line::Read(_) | Line::TooLong => {}
            Line::End | Line::Endless => return Ok(false),
        }
    }
}

fn name(learner: &str) -> &str {
    if learner.is_empty() { "a learner without a name" } else { named(learner) }
}

/// What was taken in and what was there, in words.
fn in_words(looked: &ProfileFile, merged: &Merged) -> String {
    let taken = match merged.taken_in.is_empty() {
        true => "Nothing in it is new.".to_owned(),
        false => format!("Taken in: {}.", counted(&merged.taken_in)),
    };
    let mut text = format!("{}, written {}.\n{taken}\n", name(&looked.learner), time(looked.made));
    if !merged.there.is_empty() {
        text += &format!("There already: {}.\n", counted(&merged.there));
    }
    if merged.settings {
        text += "Its settings are the later ones, and hold now.\n";
    }
    crate::cli::say::printable(&text)
}

/// Each sort of which there are some.
pub(super) fn counted(counts: &Counts) -> String {
    let sorts = [
        (counts.answers, "answer"),
        (counts.taken_back, "taking back"),
        (counts.sittings, "sitting"),
        (counts.turns, "answered question of sittings"),
        (counts.set_aside, "card set aside or brought back"),
        (counts.faults, "fault report"),
        (counts.editions, "edition"),
        (counts.events, "other event"),
    ];
    let some = sorts.into_iter().filter(|(n, _)| *n > 0).map(|(n, noun)| plural(n, noun));
    some.collect::<Vec<_>>().join(", ")
}

fn plural(n: u64, noun: &str) -> String {
    let n = usize::try_from(n).unwrap_or(usize::MAX);
    match noun.split_once(' ') {
        None => count(n, noun),
        Some(_) if n == 1 => format!("1 {noun}"),
        Some(("taking", _)) => format!("{n} takings back"),
        Some(("answered", _)) => format!("{n} answered questions of sittings"),
        Some(("card", _)) => format!("{n} cards set aside or brought back"),
        Some(_) => format!("{n} {noun}s"),
    }
}

fn as_json(looked: &ProfileFile, merged: &Merged, profile: &Path) -> Value {
    let relation = match merged.whose {
        Whose::Same => "same",
        Whose::Other => "other",
        Whose::Fresh => "fresh",
    };
    json!({
        "file": looked.file,
        "profile": profile,
        "whose": {"file": looked.learner, "profile": merged.here, "relation": relation},
        "taken_in": counts_json(&merged.taken_in, Some(merged.settings)),
        "there": counts_json(&merged.there, None),
    })
}

fn counts_json(counts: &Counts, settings: Option<bool>) -> Value {
    let mut all = json!({
        "answers": counts.answers,
        "taken_back": counts.taken_back,
        "sittings": counts.sittings,
        "turns": counts.turns,
        "set_aside": counts.set_aside,
        "faults": counts.faults,
        "editions": counts.editions,
        "events": counts.events,
    });
    if let Some(settings) = settings {
        all["settings"] = settings.into();
    }
    all
}

/// Writes the profile out as one file.
pub fn export(dir: Option<PathBuf>, file: &Path, json: bool) -> ExitCode {
    with_store(dir, |opened| match opened.store.write_profile(file.to_owned(), profile::system_clock()()).wait() {
        Ok(told) => {
            let text = if json { format!("{:#}\n", file_json(&told)) } else { file_in_words(&told) };
            out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS)
        }
        Err(error) => cannot(error),
    })
}

/// Prints what a profile's file holds.
pub(super) fn show(file: &Path, json: bool) -> ExitCode {
    match bring::look(file) {
        Ok(told) => {
            let text = if json { format!("{:#}\n", file_json(&told)) } else { file_in_words(&told) };
            out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS)
        }
        Err(error) => failed(&error),
    }
}

fn file_json(told: &ProfileFile) -> Value {
    json!({
        "kind": "profile",
        "file": told.file,
        "learner": told.learner,
        "made": time(told.made),
        "program": told.program,
        "holds": counts_json(&told.counts, None),
        "first": told.first.map(time),
        "last": told.last.map(time),
        "typed_answers": true,
        "bytes": told.bytes,
        "sha256": told.sha256,
    })
}

fn file_in_words(told: &ProfileFile) -> String {
    let holds = if told.counts.is_empty() { "settings alone".to_owned() } else { counted(&told.counts) };
    let mut text = format!("{}: a profile’s file\n", told.file.display());
    text += &format!("  learner   {}\n  written   {}\n  holds     {holds}\n", name(&told.learner), time(told.made));
    if let Some((first, last)) = told.first.zip(told.last) {
        text += &format!("  answers   {} to {}, with the words of typed ones\n", time(first), time(last));
    }
    crate::cli::say::printable(&text)
}

fn time(at: Instant) -> String {
    jiff::Timestamp::from_millisecond(at.0).map_or_else(|_| at.0.to_string(), |at| at.to_string())
}

fn failed(error: &StoreError) -> ExitCode {
    let code = cannot(error);
    if matches!(error, StoreError::FileRefused { .. }) { ExitCode::from(REFUSED) } else { code }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_plain_yes_is_one() {
        let asked = |typed: &str| {
            let mut out = Vec::new();
            let agreed = ask_until(&mut typed.as_bytes(), &mut out, "Bring them in? ").expect("it is asked");
            (agreed, String::from_utf8(out).expect("text").matches("Bring them in?").count())
        };
        assert_eq!(asked("yes\n"), (true, 1));
        assert_eq!(asked("YES\n"), (true, 1));
        assert_eq!(asked("no\n"), (false, 1));
        assert_eq!(asked("y\n\nyes\n"), (true, 3), "asked until it is answered");
        assert_eq!(asked("perhaps"), (false, 2), "the end of the input is no yes");
        assert_eq!(asked(""), (false, 1));
    }
}
