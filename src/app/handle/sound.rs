//! The voice and the recordings of a mock oral.

use std::collections::HashSet;
use std::path::PathBuf;

use crate::app::program::app::App;
use crate::app::program::route::Route;
use crate::app::sheet::Stage;
use crate::app::sitting::AtOral;
use crate::app::views;
use crate::devices::Doing;
use crate::domain::day::{Instant, MS_PER_DAY};
use crate::domain::oral::Way;
use crate::present::Notice;
use crate::present::words::plain;
use crate::store::{KeptSitting, rights};

/// The folder of recordings under the profile's folder.
const RECORDINGS: &str = "recordings";

impl App {
    fn recording_file(&self, name: &str) -> Option<PathBuf> {
        // Names are made here; one that leads elsewhere came from outside.
        let is_plain =
            name.ends_with(".wav") && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '.');
        is_plain.then(|| self.open().map(|open| open.profile.dir.join(RECORDINGS).join(name))).flatten()
    }

    /// Reads the question aloud, where that is wished.
    pub(super) fn read_question(&mut self, asked_for: bool) {
        let wished = asked_for || self.open().is_some_and(|open| open.profile.learner.settings.read_aloud);
        let now = self.now();
        let Some(oral) = self.oral.as_mut().filter(|_| wished) else { return };
        let Some(asked) = &oral.asked else { return };
        let mut words = format!("{} {}", asked.question.lead_in, plain(&asked.question.ask));
        if let (Stage::Marked(_), Some(points), true) =
            (&asked.sheet.stage, asked.card.key_points(), asked.way != Way::Write)
        {
            let points = (1..).zip(points).map(|(number, point)| format!("{number}: {}", plain(&point.say)));
            let points: Vec<String> = points.collect();
            words = format!("A full answer says: {} Press the numbers of what you said, then space.", points.join(" "));
        }
        oral.read_from(now);
        self.sound.devices.voice.say(words.trim());
    }

    /// Reads what a sitting came to, where questions are read aloud.
    pub(super) fn read_debrief(&mut self, id: &str) {
        let now = self.now();
        let words = self.open().filter(|open| open.profile.learner.settings.read_aloud).and_then(|open| {
            let learner = &open.profile.learner;
            let view = views::debrief::view(learner, &open.shelf, learner.sitting(id)?, learner.day(now));
            Some(format!("The sitting is over. {}. {}", view.headline, view.sentence))
        });
        if let Some(words) = words {
            self.sound.devices.voice.say(&words);
        }
    }

    /// Reads the question aloud again, or falls silent.
    pub(super) fn read_again(&mut self) {
        if self.sound.devices.voice.is_speaking() {
            self.fall_silent();
        } else {
            self.sound.devices.sound.stop();
            self.read_question(true);
        }
    }

    /// The voice falls silent, and what is recorded or played ends.
    pub(in crate::app) fn fall_silent(&mut self) {
        self.sound.devices.voice.hush();
        self.sound.devices.sound.stop();
        let now = self.now();
        if let Some(oral) = &mut self.oral {
            oral.read_until(now);
        }
    }

    /// Plays the recording of the answer on the sheet, or ends it.
    pub(super) fn hear_again(&mut self) {
        let name = self.oral.as_ref().and_then(|oral| oral.asked.as_ref()?.recording.clone());
        self.play_or_stop(name, true);
    }

    /// Plays the recording of a turn (from 0) of the sitting whose debrief is in front, or ends it.
    pub(super) fn hear_turn(&mut self, turn: usize) {
        let Route::Debrief(id) = &self.route else { return };
        let found = self.open().and_then(|open| {
            let (_, kept) = open.profile.learner.sitting(id)?;
            let name = kept.sitting.turns.get(turn)?.answer.as_ref()?.recording.clone()?;
            Some((name, kept.device == open.profile.device))
        });
        let is_here = found.as_ref().is_none_or(|(_, is_here)| *is_here);
        self.play_or_stop(found.map(|(name, _)| name), is_here);
    }

    /// `is_here`: the sitting was begun on this computer.
    fn play_or_stop(&mut self, name: Option<String>, is_here: bool) {
        if self.sound.devices.sound.doing() == Doing::Playing {
            self.sound.devices.sound.stop();
            return;
        }
        self.sound.devices.voice.hush();
        let Some(file) = name.and_then(|name| self.recording_file(&name)) else { return };
        if file.is_file() {
            self.sound.devices.sound.play(&file);
        } else {
            self.say(Notice::failed(match is_here {
                true => "This recording is no longer kept: its time is over. Settings say for how long.",
                false => "This sitting was brought over from another computer; its recordings stay there.",
            }));
        }
    }

    /// The name of the answer's recording, where one was made.
    pub(super) fn recorded(&self) -> Option<String> {
        let name = self.oral.as_ref()?.asked.as_ref()?.recording.clone()?;
        self.recording_file(&name)?.is_file().then_some(name)
    }

    /// What voice and sound have to tell, and a recording begun when its time has come. True where the screen changes.
    pub(in crate::app) fn poll_sound(&mut self, now: Instant) -> bool {
        let speaking = self.sound.devices.voice.is_speaking();
        let doing = self.sound.devices.sound.doing();
        let mut changed = self.sound.was != (speaking, doing);
        self.sound.was = (speaking, doing);
        if let Some(trouble) = self.sound.devices.voice.trouble() {
            changed |= self.told_once(trouble);
        }
        if let Some(trouble) = self.sound.devices.sound.trouble() {
            if let Some(oral) = &mut self.oral {
                oral.unrecorded = true;
            }
            changed |= self.told_once(trouble);
        }
        if !speaking && let Some(oral) = &mut self.oral {
            oral.read_until(now);
        }
        if !speaking && doing == Doing::Nothing && self.is_to_record() {
            self.record();
            self.sound.was.1 = self.sound.devices.sound.doing();
            changed = true;
        }
        changed
    }

    /// Says a trouble with voice or sound, unless it has been said in this run of the program.
    fn told_once(&mut self, trouble: String) -> bool {
        if self.sound.told.contains(&trouble) {
            return false;
        }
        self.say(Notice::failed(trouble.clone()));
        self.sound.told.push(trouble);
        true
    }

    fn is_to_record(&self) -> bool {
        let wished = self.open().is_some_and(|open| open.profile.learner.settings.record);
        let at_it = |oral: &AtOral| {
            !oral.unrecorded
                && oral.paused.is_none()
                && oral.asked.as_ref().is_some_and(|asked| {
                    asked.way != Way::Write
                        && matches!(asked.sheet.stage, Stage::Asked)
                        && asked.card.key_points().is_some()
                })
        };
        wished && self.route == Route::Oral && self.keeping.turn.is_none() && self.oral.as_ref().is_some_and(at_it)
    }

    fn record(&mut self) {
        let now = self.now();
        let Some(id) = self.oral.as_ref().map(|oral| oral.id.clone()) else { return };
        let kept = self.open().and_then(|open| open.profile.learner.sitting(&id));
        let Some(turn) = kept.map(|(_, kept)| kept.sitting.turns.len()) else { return };
        let Some(asked) = self.oral.as_mut().and_then(|oral| oral.asked.as_mut()) else { return };
        // After a pause the same recording goes on.
        let name = asked.recording.get_or_insert_with(|| recording_name(now.0, &id, turn)).clone();
        if let Some(file) = self.recording_file(&name) {
            // What was said is the learner's alone. A folder that cannot be made is told by the sound.
            let _ = file.parent().map(rights::create_dir);
            self.sound.devices.sound.record(&file);
        }
    }

    /// Deletes recordings that are older than the learner keeps them: those that the store knows, and one that was left
    /// without its answer being kept. Whatever else lies in the folder is the learner's. Only where the clock is good.
    pub(in crate::app) fn delete_old_recordings(&mut self) {
        let now = self.now();
        let Some(open) = self.open() else { return };
        let days = i64::from(open.profile.learner.settings.keep_recordings_days);
        let oldest = now.0.saturating_sub(days * MS_PER_DAY);
        let Ok(files) = std::fs::read_dir(open.profile.dir.join(RECORDINGS)) else { return };
        let made = |name: &str| name.split('-').next().and_then(|ms| ms.parse::<i64>().ok());
        let sittings = &open.profile.learner.sittings;
        let known: HashSet<&str> = sittings
            .iter()
            .flat_map(|kept| &kept.sitting.turns)
            .filter_map(|turn| turn.answer.as_ref()?.recording.as_deref())
            .collect();
        let left = |name: &str| {
            let of = |kept: &KeptSitting, ms| name == recording_name(ms, &kept.id, kept.sitting.turns.len());
            made(name).is_some_and(|ms| sittings.iter().any(|kept| of(kept, ms)))
        };
        for file in files.flatten().filter(|file| file.file_type().is_ok_and(|kind| kind.is_file())) {
            let name = file.file_name().to_string_lossy().into_owned();
            if made(&name).is_some_and(|made| made < oldest) && (known.contains(name.as_str()) || left(&name)) {
                // One that cannot be deleted now is tried again at the next start.
                let _ = std::fs::remove_file(file.path());
            }
        }
    }
}

/// What the recording of a turn (from 0) is called, begun at so many milliseconds.
fn recording_name(ms: i64, sitting: &str, turn: usize) -> String {
    format!("{:013}-{sitting}-{turn}.wav", ms.max(0))
}
