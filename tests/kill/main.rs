//! The program killed at any moment: hundreds of processes, so a job of its own. Each test kills a fifth as often as the
//! full job, which `.ci/run` asks for:
//!
//!     KILLS=all cargo test --test kill

mod killed;
mod merge;
mod oral;
mod publish;
mod store;
mod watch;

/// How many kills a test makes: so many in the full job, else a fifth of them.
fn kills(full: usize) -> usize {
    if std::env::var_os("KILLS").is_some_and(|kills| kills == "all") { full } else { full / 5 }
}
