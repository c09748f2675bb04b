//! How long a notice stays: what is done leaves by itself, what failed stays until it is mended or put away.

use std::mem::Discriminant;
use std::time::Duration;

use crate::app::command::Command;
use crate::app::state::App;
use crate::domain::day::Instant;
use crate::present::{Notice, Tone};

/// A notice of something done stays at least so long.
const SHORTEST_MS: i64 = 6_000;
/// And so long for each letter: a hundred words in a minute, for those to whom English is a second language.
const A_LETTER_MS: i64 = 100;
/// What is to be looked out for stays so many times longer.
const WARNING: i64 = 3;

/// What is known of the notice that is shown.
#[derive(Debug, Default)]
pub(super) struct Noticed {
    /// It, and since when it has been there.
    since: Option<(Notice, Instant)>,
    /// The command that could not be carried out: done after all, it takes its notice away.
    failed: Option<(Discriminant<Command>, Notice)>,
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

impl App {
    /// An answer could not be kept.
    pub(super) fn fail_to_keep(&mut self, error: &dyn std::error::Error) {
        self.fail(error);
        self.noticed.not_kept = self.notice.clone();
    }

    /// An answer is kept: that one could not be kept is no longer so.
    pub(super) fn mended_by_keeping(&mut self) {
        if let Some(told) = self.noticed.not_kept.take()
            && self.notice.as_ref() == Some(&told)
        {
            self.notice = None;
        }
    }

    /// Carries out a command. What it could not do before, and does now, is no longer told.
    pub(super) fn noticing(&mut self, command: Command) {
        let which = std::mem::discriminant(&command);
        let puts_away = matches!(
            command,
            Command::Go(_)
                | Command::DismissNotice
                | Command::OpenProfile(_)
                | Command::NewProfile(_)
                | Command::RestoreBackup
                | Command::StartAfresh
                | Command::RetryOpen
                | Command::ForgetTraining
        );
        let before = self.notice.take();
        self.carry_out(command);
        if let Some(notice) = &self.notice {
            // Said anew, if only in the same words: its time begins.
            self.noticed.since = None;
            self.noticed.failed = (notice.tone == Tone::Bad).then(|| (which, notice.clone()));
        } else if !puts_away {
            let failed = self.noticed.failed.take_if(|(command, _)| *command == which);
            self.notice = before.filter(|before| failed.is_none_or(|(_, told)| told != *before));
        }
    }

    /// Takes a notice away whose time is over; gives whether one went, and the time until one will.
    pub(super) fn mind_notice(&mut self, now: Instant) -> (bool, Option<Duration>) {
        let Some(notice) = &self.notice else {
            self.noticed.since = None;
            return (false, None);
        };
        let Some(stays) = stays(notice) else { return (false, None) };
        let since = match &self.noticed.since {
            // A clock that was put back does not keep it for ever.
            Some((told, since)) if told == notice && *since <= now => *since,
            _ => {
                self.noticed.since = Some((notice.clone(), now));
                now
            }
        };
        let left = since.0.saturating_add(stays).saturating_sub(now.0);
        if left > 0 {
            return (false, Some(Duration::from_millis(left.unsigned_abs())));
        }
        (self.notice, self.noticed.since) = (None, None);
        (true, None)
    }
}
