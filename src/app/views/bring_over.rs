//! Two computers of one learner: what a file holds and would change, in words.

use std::path::Path;

use crate::app::jobs::bring::{BringJob, Wish};
use crate::app::profile::learner::Learner;
use crate::domain::day::Instant;
use crate::domain::english;
use crate::present::bring_over::{ComesRow, LookedView};
use crate::present::{BringOverView, words};
use crate::store::bring::{Counts, ENDING, Merged, ProfileFile, Whose};
use crate::store::profiles::folder_name;

/// The page.
pub fn view(job: &BringJob, learner: &Learner, home: &Path, now: Instant) -> BringOverView {
    let settings = &learner.settings;
    let folder = job.to.as_deref().unwrap_or(home);
    let name = format!("{}-{}.{ENDING}", folder_name(&settings.learner), iso(learner, now));
    BringOverView {
        busy: job.doing().map(doing),
        found: job.found.iter().map(|path| path.display().to_string()).collect(),
        write_to: folder.join(name).display().to_string(),
        looked: job.looked.as_ref().map(|(file, would)| looked(file, would, learner)),
    }
}

/// Today as part of a file's name.
fn iso(learner: &Learner, now: Instant) -> String {
    words::full_date(learner.day(now)).replace(' ', "-").to_lowercase()
}

fn doing(wish: &Wish) -> String {
    match wish {
        Wish::Find(_) => "Looking for files…",
        Wish::Look(_) => "Reading the file…",
        Wish::Take(..) => "Bringing it in…",
        Wish::Write(_) => "Writing the file…",
    }
    .to_owned()
}

fn looked(file: &ProfileFile, would: &Merged, learner: &Learner) -> LookedView {
    let ship = learner.settings.ship;
    let made = format!("{}, {}", words::full_date(file.made.study_day(ship)), words::time_of_day(file.made, ship));
    let (theirs, mine) = (words::named(&file.learner), words::named(&would.here));
    let question = match would.whose {
        Whose::Same => None,
        Whose::Fresh => None,
        Whose::Other => Some(format!(
            "This file is {theirs}’s, this profile {mine}’s. Brought in, the answers of both count as one learner’s and \
             cannot be told apart again."
        )),
    };
    let settings = match (would.settings, would.whose) {
        (_, Whose::Fresh) => "This profile has no answers yet: it becomes this learner’s, settings and all.",
        (true, _) => "Its settings were changed later than those here, and hold from then on.",
        (false, _) => "The settings here stay as they are.",
    };
    LookedView {
        file: file.file.display().to_string(),
        whose: format!("{}, written {made}", english::capital(theirs)),
        question,
        rows: rows(&would.taken_in, &would.there),
        settings: settings.to_owned(),
        nothing: would.taken_in.is_empty() && !would.settings,
    }
}

fn sorts(counts: &Counts) -> [(&'static str, u64); 8] {
    [
        ("Answers", counts.answers),
        ("Taken back", counts.taken_back),
        ("Sittings", counts.sittings),
        ("Questions answered in them", counts.turns),
        ("Cards set aside or brought back", counts.set_aside),
        ("Fault reports", counts.faults),
        ("Editions of decks", counts.editions),
        ("Other events", counts.events),
    ]
}

fn rows(new: &Counts, there: &Counts) -> Vec<ComesRow> {
    let all = sorts(new).into_iter().zip(sorts(there));
    let some = all.filter(|((what, new), (_, there))| *what == "Answers" || new + there > 0);
    some.map(|((what, new), (_, there))| ComesRow { what: what.to_owned(), new: figure(new), there: figure(there) })
        .collect()
}

fn figure(n: u64) -> String {
    words::figure(usize::try_from(n).unwrap_or(usize::MAX))
}

/// That a file was brought in.
pub fn taken(merged: &Merged) -> String {
    match merged.taken_in.answers {
        0 if merged.taken_in.is_empty() => "Brought in: nothing of it was new.".to_owned(),
        answers => {
            let new = words::count(usize::try_from(answers).unwrap_or(usize::MAX), "new answer");
            format!("Brought in: {new}. A backup of the profile as it was is kept.")
        }
    }
}

/// That the profile was written out.
pub fn written(file: &ProfileFile) -> String {
    let answers = words::count(usize::try_from(file.counts.answers).unwrap_or(usize::MAX), "answer");
    format!("Written to {}, with {answers}. On the other computer: Settings, Bring over.", file.file.display())
}
