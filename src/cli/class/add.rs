//! `bedplate class add`: hand-ins are taken in, or refused by name.

use std::io::{BufRead, IsTerminal, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use serde_json::json;

use super::open::now;
use crate::app::class::adding::{self, Added};
use crate::cli::out::{self, cannot};
use crate::cli::profile;
use crate::cli::say::printable;
use crate::present::words;

/// Takes files in and says what became of each.
pub(super) fn run(name: &str, files: &[PathBuf], yes: bool, is_json: bool) -> Result<ExitCode, ExitCode> {
    let home = profile::home().map_err(cannot)?;
    let added = adding::add(&home, name, files, now(), &mut |learner| yes || asked(learner)).map_err(cannot)?;
    if is_json {
        print_json(&added)?;
    } else {
        for one in &added {
            let file = one.file.display();
            match &one.came_to {
                Ok(joined) => {
                    let new = words::count(joined.taken.new, "new attempt");
                    let joins = if joined.taken.joined { ", who joins the class" } else { "" };
                    let line = format!("{file}: {}{joins}; {new}, {} known", joined.name, joined.taken.known);
                    out::line(format_args!("{}", printable(&line)))?;
                }
                Err(why) => out::told(&format!("{file} was not taken in: {why}")),
            }
        }
    }
    let is_good = added.iter().all(|one| one.came_to.is_ok());
    Ok(if is_good { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn print_json(added: &[Added]) -> Result<(), ExitCode> {
    let (mut good, mut bad) = (Vec::new(), Vec::new());
    for one in added {
        let file = one.file.display().to_string();
        match &one.came_to {
            Ok(joined) => good.push(json!({
                "file": file, "name": joined.name, "new": joined.taken.new, "known": joined.taken.known,
                "joined": joined.taken.joined,
            })),
            Err(why) => bad.push(json!({ "file": file, "code": why.code(), "text": why.to_string() })),
        }
    }
    out::line(format_args!("{:#}", json!({ "added": good, "refused": bad })))
}

/// Asks whether somebody who was forgotten is taken in again; without a terminal that is no.
fn asked(learner: &str) -> bool {
    let (input, mut output) = (std::io::stdin(), std::io::stderr());
    if !input.is_terminal() {
        return false;
    }
    let question = format!("{learner} was forgotten in this class. Take them in again? (yes or no) ");
    let mut line = String::new();
    let said = write!(output, "{}", printable(&question)).and_then(|()| output.flush());
    said.and_then(|()| input.lock().read_line(&mut line)).is_ok() && line.trim().eq_ignore_ascii_case("yes")
}
