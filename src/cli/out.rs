//! What commands print. A closed pipe ends a command quietly: whoever read it has enough. Anything else that keeps it from
//! writing, such as a full disk, is an error: what was printed so far is not all.

use std::fmt::Arguments;
use std::io::{Error, ErrorKind, Write};
use std::process::ExitCode;

use crate::cli::say::printable;

/// Exit code of a call that could not be carried out.
pub(super) const CANNOT: u8 = 2;

/// Prints a line.
///
/// # Errors
/// With the exit code to end with where it cannot be written.
pub(super) fn line(text: Arguments<'_>) -> Result<(), ExitCode> {
    let mut out = std::io::stdout().lock();
    out.write_fmt(text).and_then(|()| out.write_all(b"\n")).and_then(|()| out.flush()).map_err(|error| stopped(&error))
}

/// Prints all of this.
///
/// # Errors
/// With the exit code to end with where it cannot be written.
pub(super) fn all(bytes: &[u8]) -> Result<(), ExitCode> {
    let mut out = std::io::stdout().lock();
    out.write_all(bytes).and_then(|()| out.flush()).map_err(|error| stopped(&error))
}

/// The exit code of a command that could print all, or else of why it could not.
pub(super) fn ended(printed: Result<(), ExitCode>, code: ExitCode) -> ExitCode {
    printed.err().unwrap_or(code)
}

/// The exit code of a command that is kept from reading or printing.
pub(super) fn stopped(error: &Error) -> ExitCode {
    match error.kind() {
        ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        _ => cannot(format!("what is printed could not be written, and is not all: {error}")),
    }
}

/// Says on standard error what could not be done, and gives the exit code for it.
pub(super) fn cannot(message: impl std::fmt::Display) -> ExitCode {
    // Where nobody listens the exit code still says it.
    let _ = writeln!(std::io::stderr(), "bedplate: {}", printable(&message.to_string()));
    ExitCode::from(CANNOT)
}

/// Says on standard error what is otherwise than wished, and goes on.
pub(super) fn told(message: &str) {
    // Where nobody listens the work is done all the same.
    let _ = writeln!(std::io::stderr(), "bedplate: {}", printable(message));
}
