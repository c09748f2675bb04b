//! The command line: one file for each command.

/// Runs the program on its arguments.
pub fn run() -> std::process::ExitCode {
    std::process::ExitCode::SUCCESS
}
