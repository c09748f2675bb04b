//! The lines of a profile's file. What a line says is checked before anything is made of it: a file may come from
//! anywhere.

use serde::{Deserialize, Serialize};

use crate::domain::attempt::{Attempt, Evidence};
use crate::domain::day::{Instant, ShipOffset};
use crate::domain::editions::Asked;
use crate::domain::ids::{AttemptId, CardKey, is_id};
use crate::domain::oral::{Setup, Turn};
use crate::domain::outcome::{Notch, Outcome};
use crate::domain::settings::Settings;
use crate::store::{attempts, chains, learner_id, results, sittings, voids};

/// The form that this program writes, and the newest that it reads.
pub(super) const FORM: u32 = 1;
/// What the first line begins with.
pub(super) const MARK: &str = "{\"bedplate\":\"profile\",\"form\":";

/// Turns of one sitting.
const MOST_TURNS: u32 = 500;
/// Ids of one learner.
const MOST_IDS: usize = 100;
const LONGEST_NAME: usize = 400;
const LONGEST_DEVICE: usize = 64;
const LONGEST_DIGEST: usize = 128;
/// The longest note, event, setup or turn, in bytes.
const LONGEST_TEXT: usize = 4 << 20;
/// The years 1 to 9999, in milliseconds.
const TIMES: std::ops::RangeInclusive<i64> = -62_135_596_800_000..=253_402_300_799_999;

/// The first line.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Head {
    /// `profile`.
    pub(super) bedplate: String,
    pub(super) form: u32,
    /// The version of the program that wrote it.
    pub(super) program: String,
    pub(super) made: i64,
    pub(super) learner: String,
    pub(super) ids: Vec<String>,
}

/// A line between the first and the last. Texts that are JSON themselves stay as they were kept, to the letter.
#[derive(Debug, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) enum Line {
    Settings { at: i64, json: String },
    Sitting { id: String, at: i64, ship: i32, device: String, setup: String },
    Turn { sitting: String, n: u32, turn: String },
    End { sitting: String, at: i64 },
    Answer(Answer),
    SetAside { card: String, at: i64, until: String, day: Option<i32> },
    Fault { card: String, at: i64, note: String },
    Event { at: i64, kind: String, json: String },
    Edition { deck: String, number: u32, at: i64 },
    EditionCard { card: String, at: i64, digest: Option<String>, was: String },
    Asked { digest: String, json: String },
}

/// An answered card.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Answer {
    pub(super) id: String,
    pub(super) card: String,
    pub(super) at: i64,
    pub(super) ship: i32,
    pub(super) device: String,
    pub(super) evidence: String,
    pub(super) outcome: u32,
    pub(super) notch: i64,
    /// A number in decimals, so that it comes back to the last bit.
    pub(super) seconds: String,
}

type Check = Result<(), String>;

fn ensure(holds: bool, why: &str) -> Check {
    if holds { Ok(()) } else { Err(why.to_owned()) }
}

fn time(at: i64) -> Check {
    ensure(TIMES.contains(&at), "its time is not in the years 1 to 9999")
}

fn card(key: &str) -> Check {
    ensure(CardKey::parse(key).is_some(), "its card is no card key")
}

fn id(id: &str) -> Check {
    let plain = id.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-');
    ensure(plain && (1..=64).contains(&id.len()), "its id is no id")
}

fn device(name: &str) -> Check {
    ensure(name.chars().count() <= LONGEST_DEVICE, "its computer's name is too long")
}

fn text<T: for<'de> Deserialize<'de>>(json: &str, what: &str) -> Result<T, String> {
    ensure(json.len() <= LONGEST_TEXT, &format!("its {what} is too long"))?;
    serde_json::from_str(json).map_err(|e| format!("its {what} makes no sense: {e}"))
}

impl Head {
    /// The head of a file written now.
    pub(super) fn new(made: i64, learner: String, ids: Vec<String>) -> Self {
        let program = env!("CARGO_PKG_VERSION").to_owned();
        Self { bedplate: "profile".to_owned(), form: FORM, program, made, learner, ids }
    }

    pub(super) fn check(&self) -> Check {
        ensure(self.bedplate == "profile" && self.form == FORM, "it is of another form")?;
        time(self.made)?;
        ensure(self.learner.len() <= LONGEST_NAME && self.program.len() <= LONGEST_NAME, "a name is too long")?;
        ensure((1..=MOST_IDS).contains(&self.ids.len()), "it names no learner's id, or too many")?;
        ensure(self.ids.is_sorted_by(|a, b| a < b), "the learner's ids stand in no order")?;
        ensure(self.ids.iter().all(|id| learner_id::is_one(id)), "a learner's id is none")
    }
}

impl Line {
    pub(super) fn check(&self) -> Check {
        match self {
            Self::Settings { at, json } => time(*at).and(text::<Settings>(json, "settings").map(|_| ())),
            Self::Sitting { id: of, at, ship, device: on, setup } => {
                id(of).and(time(*at)).and(device(on))?;
                ensure(ShipOffset::from_minutes(*ship).is_some(), "its ship's time is none")?;
                let setup: Setup = text(setup, "setup")?;
                setup.blueprint.checked().map(|_| ()).map_err(|e| format!("its blueprint is none: {e}"))
            }
            Self::Turn { sitting, n, turn: json } => {
                id(sitting)?;
                ensure(*n < MOST_TURNS, "it has too many turns")?;
                turn(*n as usize, json)
            }
            Self::End { sitting, at } => id(sitting).and(time(*at)),
            Self::Answer(answer) => answer.attempt().map(|_| ()),
            Self::SetAside { card: key, at, until, day } => {
                card(key).and(time(*at))?;
                let sound = matches!((until.as_str(), day), ("for-good" | "back", None) | ("day", Some(_)));
                ensure(sound, "it does not say until when")
            }
            Self::Fault { card: key, at, note } => {
                card(key).and(time(*at)).and(ensure(note.len() <= LONGEST_TEXT, "its note is too long"))
            }
            Self::Event { at, kind, json } => {
                time(*at)?;
                event(kind, json)
            }
            Self::Edition { deck, number, at } => {
                ensure(is_id(deck) && *number >= 1, "it is no edition of a deck").and(time(*at))
            }
            Self::EditionCard { card: key, at, digest, was } => {
                card(key).and(time(*at)).and(digest.as_ref().map_or(Ok(()), |digest| digest_of(digest)))?;
                text::<Vec<CardKey>>(was, "former keys").map(|_| ())
            }
            Self::Asked { digest, json } => digest_of(digest).and(text::<Asked>(json, "text").map(|_| ())),
        }
    }
}

fn digest_of(digest: &str) -> Check {
    let plain = digest.bytes().all(|b| b.is_ascii_alphanumeric());
    ensure(plain && (1..=LONGEST_DIGEST).contains(&digest.len()), "its digest is none")
}

fn event(kind: &str, json: &str) -> Check {
    let plain = kind.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
    ensure(plain && (1..=40).contains(&kind.len()), "its kind is none")?;
    match kind {
        voids::KIND => id(&text::<voids::Voided>(json, "event")?.attempt),
        sittings::ENDED_EARLY | sittings::TAKEN_UP => id(&text::<sittings::OfSitting>(json, "event")?.sitting),
        results::KIND => text::<serde_json::Value>(json, "event").map(|_| ()),
        chains::KIND => {
            let chains::Turns { sitting, turns } = text(json, "event")?;
            id(&sitting)?;
            ensure(turns.len() <= MOST_TURNS as usize, "it has too many turns")?;
            turns.iter().enumerate().try_for_each(|(n, json)| turn(n, json))
        }
        _ => text::<serde_json::Value>(json, "event").map(|_| ()),
    }
}

fn turn(n: usize, json: &str) -> Check {
    let turn: Turn = text(json, "turn")?;
    ensure(turn.question.about.is_none_or(|about| about < n), "it is about a turn that comes later")
}

impl Answer {
    /// The attempt that it says.
    pub(super) fn attempt(&self) -> Result<Attempt, String> {
        id(&self.id).and(time(self.at)).and(device(&self.device))?;
        let attempt = Attempt {
            id: AttemptId(self.id.clone()),
            card: CardKey::parse(&self.card).ok_or("its card is no card key")?,
            at: Instant(self.at),
            ship: ShipOffset::from_minutes(self.ship).ok_or("its ship's time is none")?,
            device: self.device.clone(),
            evidence: text::<Evidence>(&self.evidence, "evidence")?,
            outcome: Outcome::from_number(self.outcome).ok_or("its outcome is none")?,
            notch: Notch::from_number(self.notch),
            seconds: self.seconds().ok_or("its seconds are no number from 0")?,
        };
        ensure((-1..=1).contains(&self.notch), "its notch is none")?;
        ensure(self.evidence.len() <= attempts::MOST_BYTES, "its evidence is longer than 1 MB")?;
        Ok(attempt)
    }

    /// The seconds as a number, where they are written as this program writes them.
    pub(super) fn seconds(&self) -> Option<f64> {
        let seconds: f64 = self.seconds.parse().ok()?;
        (seconds.is_finite() && seconds >= 0.0 && written(seconds) == self.seconds).then_some(seconds)
    }
}

/// Seconds in decimals that give the very number again.
pub(super) fn written(seconds: f64) -> String {
    format!("{seconds:?}")
}
