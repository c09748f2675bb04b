//! A class as columnar files in a folder: attempts by month, learners, cards.

use std::fs;
use std::path::{Path, PathBuf};

use crate::app::publish::file::put;
use crate::devices::columnar::{NoParquet, as_parquet};
use crate::domain::roster::ClassRecord;
use crate::present::columns::{ColumnTable, tables};

/// The form of the files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Apache Parquet.
    Parquet,
    /// Comma-separated.
    Csv,
}

/// Why nothing was exported, or not all.
#[derive(Debug, thiserror::Error)]
pub enum CannotExport {
    /// Something is there.
    #[error("{} holds an export already; name a folder that does not", .0.display())]
    Full(PathBuf),
    /// The disk.
    #[error("{} could not be written: {why}", path.display())]
    Disk {
        /// The file or folder.
        path: PathBuf,
        /// The system's words.
        why: String,
    },
    /// The form.
    #[error(transparent)]
    Parquet(#[from] NoParquet),
}

/// Writes a class's attempts to `attempts/month=YYYY-MM/`, its learners and cards beside that; how many files there are.
///
/// # Errors
/// Where the folder holds an export already, or cannot be written.
pub fn export(record: &ClassRecord, folder: &Path, form: Form) -> Result<usize, CannotExport> {
    let ending = match form {
        Form::Parquet => "parquet",
        Form::Csv => "csv",
    };
    let of = tables(record);
    let single = [(format!("learners.{ending}"), &of.learners), (format!("cards.{ending}"), &of.cards)];
    let mut files: Vec<(PathBuf, &ColumnTable)> =
        single.into_iter().map(|(name, table)| (folder.join(name), table)).collect();
    let attempts = folder.join("attempts");
    if attempts.exists() || files.iter().any(|(path, _)| path.exists()) {
        return Err(CannotExport::Full(folder.to_owned()));
    }
    for (month, table) in &of.attempts {
        files.push((attempts.join(format!("month={month}")).join(format!("attempts.{ending}")), table));
    }
    for (path, table) in &files {
        let disk = |error: std::io::Error| CannotExport::Disk { path: path.clone(), why: error.to_string() };
        let bytes = match form {
            Form::Parquet => as_parquet(table)?,
            Form::Csv => table.csv().into_bytes(),
        };
        fs::create_dir_all(path.parent().unwrap_or(folder)).map_err(disk)?;
        put(path, &bytes).map_err(disk)?;
    }
    Ok(files.len())
}
