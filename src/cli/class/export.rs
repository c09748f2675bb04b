//! `bedplate class export`: a class as columnar files.

use std::path::Path;
use std::process::ExitCode;

use super::open::class;
use crate::app::class::exporting::{Form, export};
use crate::cli::out::{self, cannot};
use crate::present::words;

/// Writes the files.
pub(super) fn run(name: &str, as_parquet: Option<&Path>, as_csv: Option<&Path>) -> Result<ExitCode, ExitCode> {
    let record = class(name)?.record().map_err(cannot)?;
    for (folder, form) in [(as_parquet, Form::Parquet), (as_csv, Form::Csv)] {
        if let Some(folder) = folder {
            let files = export(&record, folder, form).map_err(cannot)?;
            out::line(format_args!("{}: {}", folder.display(), words::count(files, "file")))?;
        }
    }
    Ok(ExitCode::SUCCESS)
}
