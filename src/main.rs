//! The one binary: arguments go to the command line's commands, none opens the window.
fn main() -> std::process::ExitCode {
    bedplate::cli::run()
}
