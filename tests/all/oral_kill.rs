//! The program killed at any moment of a sitting loses no answer that the examiner had gone on from.

use std::io::{BufRead, BufReader, Write};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::thread;
use std::time::Duration;

use bedplate::domain::day::Instant;
use bedplate::store::{OpenOptions, Store};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

const KILLS: usize = 60;

#[test]
fn sixty_kills_of_a_sitting_lose_nothing() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let profile = home.path().join("profiles/cadet");
    let mut random = StdRng::seed_from_u64(20_261_126);
    let mut gone_on = 0usize;
    for _ in 0..KILLS {
        let mut child = Command::new(env!("CARGO_BIN_EXE_bedplate"))
            .args(["oral", "--questions", "60", "--profile"])
            .arg(&profile)
            .env("BEDPLATE_HOME", home.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .expect("the program starts");
        let mut input = child.stdin.take().expect("a pipe");
        // Nothing to say, for ever. Ends when the pipe breaks.
        let feeder = thread::spawn(move || while input.write_all(b"-\n").is_ok() {});
        let mut lines = BufReader::new(child.stdout.take().expect("a pipe")).lines();
        let is_question = |line: &str| line.contains("· question ");
        let wanted = random.random_range(1..5);
        let mut asked = 0usize;
        while asked < wanted {
            match lines.next() {
                Some(Ok(line)) => asked += usize::from(is_question(&line)),
                _ => break,
            }
        }
        thread::sleep(Duration::from_micros(random.random_range(0..9_000)));
        // It may have ended by itself where the sitting was through.
        let _ = child.kill();
        child.wait().expect("the child ends");
        asked += lines.map_while(Result::ok).filter(|line| is_question(line)).count();
        feeder.join().expect("the feeder ends");
        gone_on += asked.saturating_sub(1);
    }
    assert!(gone_on > KILLS / 2, "the kills must fall into running sittings: {gone_on} answers were gone on from");
    let options = OpenOptions { dir: profile, now: Instant(1_900_000_000_000), wake: Arc::new(|| {}) };
    let opened = Store::open(options).expect("the profile opens");
    let sittings = opened.store.sittings().wait().expect("the sittings are read");
    let kept: usize = sittings.iter().map(|kept| kept.sitting.turns.len()).sum();
    assert!(sittings.iter().flat_map(|kept| &kept.sitting.turns).all(|turn| turn.answer.is_some()));
    // A round may have kept its last answer without having said the next question.
    assert!(
        (gone_on..=gone_on + KILLS).contains(&kept),
        "the examiner had gone on from {gone_on} answers, the store holds {kept}"
    );
}
