//! Whether the computer's clock can be right: judged by the answers that are kept, and by a count of time that nobody
//! can set. A wrong clock dates answers wrongly, and then their cards come back on wrong days.

use crate::domain::day::{Instant, MS_PER_DAY};

const MS_PER_HOUR: i64 = 3_600_000;
/// So far, in milliseconds, may the clock stand before the last answer: a ship's clocks go back by an hour in a night,
/// and where people set the computer by hand, its own clock does too.
pub const MOST_BEHIND_MS: i64 = 2 * MS_PER_HOUR;
/// So far, in milliseconds, may it stand after the last answer before that is asked about: a leave is shorter.
pub const MOST_AHEAD_MS: i64 = 60 * MS_PER_DAY;
/// So far, in milliseconds, may it move otherwise than time itself while the program runs.
pub const MOST_LEAP_MS: i64 = MS_PER_HOUR;
/// 2026-01-01T00:00Z: before that there was no such program.
pub const EARLIEST: Instant = Instant(20_454 * MS_PER_DAY);

/// The clock at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// What the computer's clock says.
    pub clock: Instant,
    /// Milliseconds of a count that goes on evenly and that nobody can set, where the computer has one.
    pub steady: Option<i64>,
}

/// Why the clock may be wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doubt {
    /// The clock stands before the last kept answer.
    Behind {
        /// When that was given.
        last: Instant,
    },
    /// The clock stands long after the last kept answer.
    Ahead {
        /// When that was given.
        last: Instant,
    },
    /// The clock has moved otherwise than time while the program ran.
    Leapt {
        /// Where it should stand.
        expected: Instant,
    },
    /// The clock stands before this program was made.
    Early,
}

/// Looks at the clock. `trusted` is the look before, where that was found good or the learner has vouched for it; at a
/// start there is none, and `last`, when the last kept answer was given, is what it is held against.
pub fn doubt(now: Look, trusted: Option<Look>, last: Option<Instant>) -> Option<Doubt> {
    let Some(trusted) = trusted else {
        return match last {
            Some(last) => against(now.clock, last),
            None => (now.clock < EARLIEST).then_some(Doubt::Early),
        };
    };
    match now.steady.zip(trusted.steady) {
        Some((steady, before)) => {
            let expected = Instant(trusted.clock.0.saturating_add(steady.saturating_sub(before)));
            let leap = now.clock.0.saturating_sub(expected.0).saturating_abs();
            (leap > MOST_LEAP_MS).then_some(Doubt::Leapt { expected })
        }
        None => against(now.clock, trusted.clock).map(|_| Doubt::Leapt { expected: trusted.clock }),
    }
}

fn against(now: Instant, last: Instant) -> Option<Doubt> {
    let ahead = now.0.saturating_sub(last.0);
    if ahead < -MOST_BEHIND_MS {
        Some(Doubt::Behind { last })
    } else if ahead > MOST_AHEAD_MS {
        Some(Doubt::Ahead { last })
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: i64 = 1_800_000_000_000;

    fn at(clock: i64, steady: Option<i64>) -> Look {
        Look { clock: Instant(clock), steady }
    }

    #[test]
    fn a_start_is_held_against_the_last_answer() {
        let judged = |last: i64| doubt(at(NOW, Some(5)), None, Some(Instant(last)));
        assert_eq!(judged(NOW), None);
        assert_eq!(judged(NOW + MOST_BEHIND_MS), None, "clocks put back at night");
        assert_eq!(judged(NOW + MOST_BEHIND_MS + 1), Some(Doubt::Behind { last: Instant(NOW + MOST_BEHIND_MS + 1) }));
        assert_eq!(judged(NOW - MOST_AHEAD_MS), None);
        assert_eq!(judged(NOW - MOST_AHEAD_MS - 1), Some(Doubt::Ahead { last: Instant(NOW - MOST_AHEAD_MS - 1) }));
        assert_eq!(doubt(at(NOW, None), None, None), None, "nothing to hold it against");
        assert_eq!(doubt(at(0, None), None, None), Some(Doubt::Early));
        assert_eq!(doubt(at(i64::MIN, None), None, Some(Instant(i64::MAX))).map(|_| ()), Some(()));
    }

    #[test]
    fn while_it_runs_it_is_held_against_the_steady_count() {
        let before = Some(at(NOW, Some(1_000)));
        let judged = |clock: i64, passed: i64| doubt(at(clock, Some(1_000 + passed)), before, Some(Instant(0)));
        assert_eq!(judged(NOW + 90 * MS_PER_DAY, 90 * MS_PER_DAY), None, "it has been left open so long");
        assert_eq!(judged(NOW + MOST_LEAP_MS, 0), None);
        assert_eq!(judged(NOW + MOST_LEAP_MS + 1, 0), Some(Doubt::Leapt { expected: Instant(NOW) }));
        let expected = Instant(NOW + MS_PER_DAY);
        assert_eq!(judged(NOW, MS_PER_DAY), Some(Doubt::Leapt { expected }), "put back");
    }

    #[test]
    fn without_a_steady_count_it_is_held_against_the_last_look() {
        let before = Some(at(NOW, None));
        let judged = |clock: i64| doubt(at(clock, None), before, None);
        assert_eq!(judged(NOW + 40 * MS_PER_DAY), None);
        assert_eq!(judged(NOW - MOST_BEHIND_MS), None);
        let leapt = Some(Doubt::Leapt { expected: Instant(NOW) });
        assert_eq!((judged(NOW - MS_PER_DAY), judged(NOW + 61 * MS_PER_DAY)), (leapt, leapt));
    }
}
