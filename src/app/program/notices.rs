//! How long a notice stays: what is done leaves by itself, what failed stays until it is mended or put away.

use std::time::Duration;

use crate::app::program::command::Command;
use crate::domain::day::Instant;
use crate::present::{Notice, Tone};

/// A notice of something done stays at least so long.
const SHORTEST_MS: i64 = 6_000;
/// And so long for each letter: a hundred words in a minute, for those to whom English is a second language.
const A_LETTER_MS: i64 = 100;
/// What is to be looked out for stays so many times longer.
const WARNING: i64 = 3;

/// The notice that is shown, and what is known of it.
#[derive(Debug, Default)]
pub(in crate::app) struct Notices {
    /// The notice.
    pub(in crate::app) shown: Option<Notice>,
    /// The notice that was last seen to be shown, and since when it has been.
    since: Option<(Notice, Instant)>,
    /// The command that could not be carried out: done after all, it takes its notice away.
    failed: Option<(Command, Notice)>,
    /// The notice that an answer could not be kept, until it is.
    not_kept: Option<Notice>,
}

/// How long a notice stays, in milliseconds; none where it stays until it is put away.
fn stays(notice: &Notice) -> Option<i64> {
    let letters = i64::try_from(notice.text.chars().count()).unwrap_or(i64::MAX);
    let reading = SHORTEST_MS.max(letters.saturating_mul(A_LETTER_MS));
    match notice.tone {
        Tone::Good => Some(reading),
        Tone::Plain | Tone::Quiet | Tone::Weak => Some(reading.saturating_mul(WARNING)),
        Tone::Bad => None,
    }
}

impl Notices {
    /// What is shown says that an answer could not be kept.
    pub(in crate::app) fn note_not_kept(&mut self) {
        self.not_kept = self.shown.clone();
    }

    /// An answer is kept: that one could not be kept is no longer so.
    pub(in crate::app) fn mended_by_keeping(&mut self) {
        if let Some(told) = self.not_kept.take()
            && self.shown.as_ref() == Some(&told)
        {
            self.shown = None;
        }
    }

    /// A command has been carried out; `before` was shown before it. What it could not do before, and does now, is no
    /// longer told.
    pub(in crate::app) fn carried_out(&mut self, command: Command, puts_away: bool, before: Option<Notice>) {
        if let Some(notice) = &self.shown {
            // Said anew, if only in the same words: its time begins.
            self.since = None;
            self.failed = (notice.tone == Tone::Bad).then(|| (command, notice.clone()));
        } else if !puts_away {
            let failed = self.failed.take_if(|(failed, _)| failed.is_like(&command));
            self.shown = before.filter(|before| failed.is_none_or(|(_, told)| told != *before));
        }
    }

    /// Takes a notice away whose time is over; gives whether one went, and the time until one will.
    pub(in crate::app) fn poll(&mut self, now: Instant) -> (bool, Option<Duration>) {
        let Some(notice) = &self.shown else {
            self.since = None;
            return (false, None);
        };
        let Some(stays) = stays(notice) else { return (false, None) };
        let since = match &self.since {
            // A clock that was put back does not keep it for ever.
            Some((told, since)) if told == notice && *since <= now => *since,
            _ => {
                self.since = Some((notice.clone(), now));
                now
            }
        };
        let left = since.0.saturating_add(stays).saturating_sub(now.0);
        if left > 0 {
            return (false, Some(Duration::from_millis(left.unsigned_abs())));
        }
        (self.shown, self.since) = (None, None);
        (true, None)
    }
}
