//! The computer's clock is watched: before anything is kept by a clock that cannot be right, the learner is asked. While
//! the question stands, nothing else is carried out.

use std::collections::HashMap;
use std::time::Duration;

use crate::app::program::app::{App, Stage};
use crate::app::program::command::{Command, SettingsCommand};
use crate::app::program::timekeeper::Standing;
use crate::app::views;
use crate::domain::clock::{Doubt, Look, MOST_BEHIND_MS, doubt};
use crate::domain::day::Instant;
use crate::domain::english;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::replay::replay_card;
use crate::present::{ClockView, Notice, words};

/// How often the clock is looked at while the learner sets it.
const LOOK_AGAIN: Duration = Duration::from_secs(2);

impl App {
    /// Looks at the clock. True where what is shown changes.
    pub(in crate::app) fn poll_clock(&mut self) -> bool {
        let Stage::Open(open) = &self.stage else { return false };
        let keeper = &self.timekeeper;
        if keeper.given || matches!(keeper.standing, Some(Standing::Later(_))) {
            return false;
        }
        // Only the first look is held against the answers: this is asked between all frames, and there may be many.
        let last = keeper.trusted.is_none().then(|| open.profile.learner.last_answer()).flatten();
        let now = self.look();
        let found = doubt(now, self.timekeeper.trusted, last);
        match (found, self.timekeeper.standing.take()) {
            (None, None) => {
                self.timekeeper.trusted = Some(now);
                false
            }
            (None, Some(_)) => {
                self.clock_is_good(now);
                true
            }
            (Some(doubt), None) => {
                let stood = match doubt {
                    Doubt::Leapt { expected } => expected,
                    _ => now.clock,
                };
                self.timekeeper.since = Some(stood);
                self.timekeeper.standing = Some(Standing::Asked(doubt));
                self.fall_silent();
                if let Some(oral) = &mut self.oral {
                    oral.pause(stood, true);
                }
                true
            }
            (Some(doubt), Some(Standing::Setting(_))) => {
                self.timekeeper.standing = Some(Standing::Setting(doubt));
                true
            }
            (Some(doubt), Some(_)) => {
                self.timekeeper.standing = Some(Standing::Asked(doubt));
                true
            }
        }
    }

    /// Nothing may be kept now; the question stands.
    pub(in crate::app) fn clock_is_doubted(&mut self) -> bool {
        self.poll_clock();
        self.timekeeper.asks()
    }

    /// When the clock is looked at again, while the question stands.
    pub(in crate::app) fn until_clock(&self) -> Option<Duration> {
        self.timekeeper.asks().then_some(LOOK_AGAIN)
    }

    /// Whether this is carried out while the question stands.
    pub(super) fn may_run(&self, command: &Command) -> bool {
        let always = matches!(
            command,
            Command::Clock(_)
                | Command::DismissNotice
                | Command::Settings(
                    SettingsCommand::SetScale(_) | SettingsCommand::SetTheme(_) | SettingsCommand::SetStill(_)
                )
        );
        always || !self.timekeeper.asks()
    }

    /// The learner vouches for the clock.
    pub(super) fn date_is_right(&mut self) {
        if !matches!(self.timekeeper.standing, Some(Standing::Asked(_) | Standing::Setting(_))) {
            return;
        }
        let now = self.look();
        let Some(open) = self.open() else { return };
        let from = Instant(now.clock.0.saturating_add(MOST_BEHIND_MS));
        match open.profile.store.attempts_between(from, Instant(i64::MAX)).wait() {
            Ok(later) if !later.is_empty() => {
                self.timekeeper.trusted = Some(now);
                self.timekeeper.standing = Some(Standing::Later(later));
            }
            Ok(_) => self.clock_is_good(now),
            Err(error) => {
                self.clock_is_good(now);
                self.fail(&error);
            }
        }
    }

    /// The learner goes to set the clock.
    pub(super) fn set_clock(&mut self) {
        if let Some(Standing::Asked(doubt)) = self.timekeeper.standing {
            self.timekeeper.standing = Some(Standing::Setting(doubt));
        }
    }

    /// Answers that are dated after today are taken back: they are not dated anew, since nobody knows on which day they
    /// were given, and a day that was made up would be no better than the wrong one.
    pub(super) fn take_back_later(&mut self) {
        let now = self.look();
        let Some(Standing::Later(later)) = self.timekeeper.standing.clone() else { return };
        let Some(open) = self.open_mut() else { return };
        let model = open.profile.learner.model.clone();
        let ids = later.iter().map(|attempt| attempt.id.clone()).collect();
        let ticket = open.profile.store.void_attempts(ids, now.clock, move |left| replay_card(&model, left));
        let changed: HashMap<CardKey, Option<CardMemory>> = match ticket.wait() {
            Ok(changed) => changed.into_iter().collect(),
            Err(error) => return self.fail(&error),
        };
        for attempt in &later {
            open.profile.learner.take_out(attempt, changed.get(&attempt.card).copied().flatten());
        }
        // A watch that stood at them begins anew.
        self.session = None;
        self.clock_is_good(now);
        let were = if later.len() == 1 { "is" } else { "are" };
        let answers = english::capital(&words::count_in_words(later.len(), "answer"));
        self.say(Notice::done(format!("{answers} with a later date {were} taken back.")));
    }

    /// Answers that are dated after today stay as they are; they are asked about again at the next start.
    pub(super) fn leave_later(&mut self) {
        if matches!(self.timekeeper.standing, Some(Standing::Later(_))) {
            let now = self.look();
            self.clock_is_good(now);
        }
    }

    /// What the page shows while the question stands.
    pub(in crate::app) fn clock_view(&self, now: Instant) -> Option<ClockView> {
        let learner = &self.open()?.profile.learner;
        let ship = learner.settings.ship;
        Some(match self.timekeeper.standing.as_ref()? {
            Standing::Asked(doubt) => views::clock::question(*doubt, now, ship, false),
            Standing::Setting(doubt) => views::clock::question(*doubt, now, ship, true),
            Standing::Later(later) => {
                let mut days = std::collections::BTreeMap::new();
                for attempt in later {
                    *days.entry(attempt.day()).or_insert(0) += 1;
                }
                views::clock::later(&days.into_iter().collect::<Vec<_>>())
            }
        })
    }

    /// The clock is good from here on: work goes on where it stood, with no time passed.
    fn clock_is_good(&mut self, now: Look) {
        let keeper = &mut self.timekeeper;
        (keeper.trusted, keeper.standing) = (Some(now), None);
        if let Some(since) = keeper.since.take()
            && let Some(sheet) = self.session.as_mut().and_then(|s| s.sheet.as_mut())
        {
            sheet.shown_at = Instant(sheet.shown_at.0.saturating_add(now.clock.0.saturating_sub(since.0)));
        }
        self.delete_old_recordings();
    }

    fn look(&self) -> Look {
        Look { clock: self.now(), steady: self.timekeeper.steady.as_ref().map(|steady| steady().0) }
    }
}
