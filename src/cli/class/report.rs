//! `bedplate class report`: the class as PDF, or one row a learner as CSV.

use std::path::Path;
use std::process::ExitCode;

use super::open::{title, worked};
use crate::app::publish::file::put;
use crate::cli::out::cannot;
use crate::cli::times::time;
use crate::devices::pdf::pdf;
use crate::present::class::{ClassSeen, csv, document};

/// Writes a report into a file.
pub(super) fn run(of: &super::of::Of, as_pdf: Option<&Path>, as_csv: Option<&Path>) -> Result<ExitCode, ExitCode> {
    let worked = worked(of)?;
    let seen = ClassSeen { record: &worked.record, figures: &worked.figures, now: worked.now, title: &title };
    if let Some(file) = as_pdf {
        written(file, &pdf(&document(seen)).map_err(cannot)?)?;
    }
    if let Some(file) = as_csv {
        written(file, csv(seen, &time).as_bytes())?;
    }
    Ok(ExitCode::SUCCESS)
}

fn written(file: &Path, bytes: &[u8]) -> Result<(), ExitCode> {
    put(file, bytes).map_err(|why| cannot(format!("{} could not be written: {why}", file.display())))
}
