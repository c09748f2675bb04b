//! The program killed at any moment of a sitting loses no answer that the examiner had gone on from.

use std::sync::Arc;

use bedplate::domain::day::Instant;
use bedplate::store::{OpenOptions, Store};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::killed::killed;
use crate::kills;

/// As many as the full job makes; never fewer than twenty.
const KILLS: usize = 100;

#[test]
fn kills_of_a_sitting_lose_nothing() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let profile = home.path().join("profiles/cadet");
    let mut random = StdRng::seed_from_u64(20_261_126);
    let mut gone_on = 0usize;
    let rounds = kills(KILLS);
    for _ in 0..rounds {
        // It may have ended by itself where the sitting was through.
        let after = random.random_range(1..5);
        let place = (home.path(), profile.as_path());
        let is_question = |line: &str| line.contains("· question ");
        let (asked, _) =
            killed(&["oral", "--plain", "--questions", "60"], place, b"-\n", (after, 9_000), is_question, &mut random);
        gone_on += asked.saturating_sub(1);
    }
    assert!(gone_on > rounds / 2, "the kills must fall into running sittings: {gone_on} answers were gone on from");
    let options = OpenOptions { dir: profile, now: Instant(1_900_000_000_000), wake: Arc::new(|| {}) };
    let opened = Store::open(options).expect("the profile opens");
    let sittings = opened.store.sittings().wait().expect("the sittings are read");
    let kept: usize = sittings.iter().map(|kept| kept.sitting.turns.len()).sum();
    assert!(sittings.iter().flat_map(|kept| &kept.sitting.turns).all(|turn| turn.answer.is_some()));
    // A round may have kept its last answer without having said the next question.
    assert!(
        (gone_on..=gone_on + rounds).contains(&kept),
        "the examiner had gone on from {gone_on} answers, the store holds {kept}"
    );
}
