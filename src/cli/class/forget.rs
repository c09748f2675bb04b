//! `bedplate class forget`: a learner is removed for good.

use std::process::ExitCode;

use super::open::{class, now};
use crate::app::class::adding::{find_learner, forget};
use crate::cli::out::{self, cannot};
use crate::cli::say::printable;

/// Forgets a learner and says so.
pub(super) fn run(name: &str, who: &str) -> Result<ExitCode, ExitCode> {
    let mut class = class(name)?;
    let record = class.record().map_err(cannot)?;
    let at = find_learner(&record, who).map_err(cannot)?;
    let learner = &record.learners[at];
    forget(&mut class, &learner.id, now()).map_err(cannot)?;
    let line = format!(
        "{} is removed for good from the class {name}: from its file and from its backups. Files that they handed in are \
         yours to delete; added again, they are taken in only after a question.",
        learner.name
    );
    out::line(format_args!("{}", printable(&line)))?;
    Ok(ExitCode::SUCCESS)
}
