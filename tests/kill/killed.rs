//! A run of the program in the terminal, fed for ever and killed at a random moment.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

use rand::RngExt;
use rand::rngs::StdRng;

/// Starts the program with `arguments` and a profile, writes `feed` to it until the pipe breaks, kills it after `after`
/// lines that `counts` and then within `within_us` microseconds. Gives how many such lines there were, and whether the
/// kill was given.
pub fn killed(
    arguments: &[&str],
    (home, profile): (&Path, &Path),
    feed: &'static [u8],
    (after, within_us): (usize, u64),
    counts: impl Fn(&str) -> bool,
    random: &mut StdRng,
) -> (usize, bool) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_bedplate"))
        .args(arguments)
        .arg("--profile")
        .arg(profile)
        .env("BEDPLATE_HOME", home)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::inherit())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("a pipe");
    let feeder = thread::spawn(move || while input.write_all(feed).is_ok() {});
    let mut lines = BufReader::new(child.stdout.take().expect("a pipe")).lines();
    let mut counted = 0usize;
    while counted < after {
        match lines.next() {
            Some(Ok(line)) => counted += usize::from(counts(&line)),
            _ => break,
        }
    }
    thread::sleep(Duration::from_micros(random.random_range(0..within_us)));
    let killed = child.kill().is_ok();
    child.wait().expect("the child ends");
    // What the dead process had written still stands in the pipe: the screen had moved on from that too.
    counted += lines.map_while(Result::ok).filter(|line| counts(line)).count();
    feeder.join().expect("the feeder ends");
    (counted, killed)
}
