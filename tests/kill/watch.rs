//! The program killed at any moment of a running watch loses no answer that the screen had moved on from.

use std::collections::HashSet;
use std::process::Command;

use bedplate::domain::attempt::Attempt;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::killed::killed;
use crate::kills;

/// As many as the full job makes.
const KILLS: usize = 200;

#[test]
fn kills_of_a_running_watch_lose_nothing() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let profile = home.path().join("profiles/cadet");
    let mut random = StdRng::seed_from_u64(20_261_125);
    let mut moved_on = 0usize;
    let mut given = 0usize;
    let rounds = kills(KILLS);
    for round in 0..rounds {
        // A new study day each time, so that there is always something to ask.
        let now = jiff::Timestamp::from_second(1_800_000_000 + round as i64 * 86_400).expect("a time").to_string();
        // Whatever is asked, a number (a typed answer, a figure, the first link or step) and an empty line get past it.
        let after = random.random_range(0..4);
        let place = (home.path(), profile.as_path());
        let is_kept = |line: &str| line.contains("Kept.");
        let (kept, was_killed) =
            killed(&["watch", "--plain", "--now", &now], place, b"1\n\n", (after, 12_000), is_kept, &mut random);
        given += usize::from(was_killed);
        moved_on += kept;
    }
    assert_eq!(given, rounds);
    assert!(moved_on > rounds / 2, "the kills must fall into running watches: {moved_on} answers were kept");

    let export = Command::new(env!("CARGO_BIN_EXE_bedplate"))
        .args(["export", "attempts", "--json", "--profile"])
        .arg(&profile)
        .env("BEDPLATE_HOME", home.path())
        .output()
        .expect("the program runs");
    assert!(export.status.success(), "{}", String::from_utf8_lossy(&export.stderr));
    let text = String::from_utf8(export.stdout).expect("UTF-8");
    let attempts: Vec<Attempt> = text.lines().map(|l| serde_json::from_str(l).expect("an attempt a line")).collect();
    let ids: HashSet<_> = attempts.iter().map(|a| a.id.clone()).collect();
    assert_eq!(ids.len(), attempts.len(), "no attempt is doubled");
    // At most the one answer of each round that was committed while its line was not yet printed may be more.
    assert!(
        (moved_on..=moved_on + rounds).contains(&attempts.len()),
        "the screen had moved on from {moved_on} answers, the store holds {}",
        attempts.len()
    );
}
