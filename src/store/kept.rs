//! The rest of what a profile keeps: settings, cards set aside, faults reported, and the facts about itself.

use rusqlite::{Connection, OptionalExtension, Row, params};

use super::db::Db;
use super::error::StoreError;
use super::held::CREATED;
use super::results;
use crate::domain::attempt::{SetAside, Until};
use crate::domain::day::{Instant, ShipOffset, StudyDay};
use crate::domain::ids::{CardKey, is_id};
use crate::domain::settings::Settings;

/// A card that the learner says is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FaultReport {
    /// Which card.
    pub card: CardKey,
    /// When it was reported.
    pub at: Instant,
    /// What is wrong, in the learner's words.
    pub note: String,
}

/// Reads one of the facts that a profile keeps about itself.
pub(super) fn meta(db: &Db, name: &str) -> Result<Option<String>, StoreError> {
    db.conn
        .query_row("SELECT value FROM meta WHERE name = ?1", [name], |row| row.get(0))
        .optional()
        .map_err(db.fail("read the profile"))
}

/// The name in `meta` of the time at which the settings were changed last, in milliseconds.
const SETTINGS_AT: &str = "settings-changed-ms";

/// When the settings were changed last; in a file that an earlier version made, when the profile was made.
pub(super) fn settings_at(conn: &Connection) -> rusqlite::Result<i64> {
    let sql = "SELECT value FROM meta WHERE name IN (?1, ?2) ORDER BY name = ?1 DESC LIMIT 1";
    let at: Option<String> = conn.query_row(sql, [SETTINGS_AT, CREATED], |row| row.get(0)).optional()?;
    Ok(at.and_then(|at| at.parse().ok()).unwrap_or(0))
}

/// Keeps the settings, changed at the time `at`. Of the settings of two computers the later ones hold, so that a change
/// made here counts as later than the one before it though this computer's clock is behind.
pub(super) fn save_settings(db: &Db, settings: &Settings, at: Instant) -> Result<(), StoreError> {
    let json = serde_json::to_string(settings)
        .map_err(|e| StoreError::Refused { what: "the settings".to_owned(), why: e.to_string() })?;
    let fail = db.fail("keep the settings");
    let last = settings_at(&db.conn).map_err(&fail)?;
    let tx = db.conn.unchecked_transaction().map_err(&fail)?;
    put_settings(&tx, &json, at.0.max(last.saturating_add(1))).map_err(&fail)?;
    tx.commit().map_err(&fail)
}

/// Puts settings in the place of those that stand there.
pub(super) fn put_settings(conn: &Connection, json: &str, at: i64) -> rusqlite::Result<()> {
    let sql = "INSERT INTO settings (one, json) VALUES (1, ?1) ON CONFLICT (one) DO UPDATE SET json = excluded.json";
    conn.execute(sql, [json])?;
    let sql = "INSERT INTO meta (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = excluded.value";
    conn.execute(sql, params![SETTINGS_AT, at.to_string()]).map(|_| ())
}

/// The settings, each brought into its range; `Err` inside where the text makes no sense.
pub(super) fn settings(db: &Db) -> Result<Result<Settings, String>, StoreError> {
    let json: Option<String> = db
        .conn
        .query_row("SELECT json FROM settings WHERE one = 1", [], |row| {
            Ok(String::from_utf8_lossy(row.get_ref(0)?.as_bytes().unwrap_or_default()).into_owned())
        })
        .optional()
        .map_err(db.fail("read the settings"))?;
    let read = match json {
        Some(json) => serde_json::from_str::<Settings>(&json).map_err(|e| e.to_string()),
        None => Ok(Settings::default()),
    };
    let Ok(mut settings) = read else { return Ok(read) };
    results::complete(&db.conn, &mut settings).map_err(db.fail("read the settings"))?;
    settings.ship = ShipOffset::from_minutes(settings.ship.minutes()).unwrap_or_default();
    Ok(Ok(settings.clamped()))
}

const IN_ORDER: &str =
    "SELECT card, at_ms, until, day FROM set_aside ORDER BY at_ms, until = 'back', until DESC, day, card";

/// Adds an event of setting a card aside or taking it back.
pub(super) fn add_set_aside(db: &Db, event: &SetAside) -> Result<(), StoreError> {
    check_key(&event.card, "the card set aside")?;
    let (until, day) = match event.until {
        Until::ForGood => ("for-good", None),
        Until::Day(day) => ("day", Some(day.0)),
        Until::Back => ("back", None),
    };
    db.conn
        .execute(
            "INSERT INTO set_aside (card, at_ms, until, day) VALUES (?1, ?2, ?3, ?4)",
            params![event.card.to_string(), event.at.0, until, day],
        )
        .map_err(db.fail("set the card aside"))?;
    Ok(())
}

/// All events of setting aside, in order of time; of one millisecond a bringing back comes last, on every computer.
pub(super) fn set_aside(db: &Db) -> Result<Vec<SetAside>, StoreError> {
    let fail = db.fail("read the cards set aside");
    let mut statement = db.conn.prepare(IN_ORDER).map_err(&fail)?;
    let mut rows = statement.query([]).map_err(&fail)?;
    let mut all = Vec::new();
    while let Some(row) = rows.next().map_err(&fail)? {
        match read_set_aside(row) {
            Ok(Some(event)) => all.push(event),
            Ok(None) | Err(_) => db.unread.other(format!("a card set aside, {}", all.len())),
        }
    }
    Ok(all)
}

fn read_set_aside(row: &Row<'_>) -> rusqlite::Result<Option<SetAside>> {
    let (card, at, until): (String, i64, String) = (row.get(0)?, row.get(1)?, row.get(2)?);
    let until = match (until.as_str(), row.get::<_, Option<i32>>(3)?) {
        ("for-good", _) => Some(Until::ForGood),
        ("back", _) => Some(Until::Back),
        (_, day) => day.map(|day| Until::Day(StudyDay(day))),
    };
    Ok(CardKey::parse(&card).zip(until).map(|(card, until)| SetAside { card, at: Instant(at), until }))
}

/// Adds a fault report.
pub(super) fn add_fault(db: &Db, fault: &FaultReport) -> Result<(), StoreError> {
    check_key(&fault.card, "the fault report")?;
    db.conn
        .execute(
            "INSERT INTO fault (card, at_ms, note) VALUES (?1, ?2, ?3)",
            params![fault.card.to_string(), fault.at.0, fault.note],
        )
        .map_err(db.fail("keep the fault report"))?;
    Ok(())
}

/// All fault reports, in order of time.
pub(super) fn faults(db: &Db) -> Result<Vec<FaultReport>, StoreError> {
    let fail = db.fail("read the fault reports");
    let mut statement =
        db.conn.prepare("SELECT card, at_ms, note FROM fault ORDER BY at_ms, card, note").map_err(&fail)?;
    let mut rows = statement.query([]).map_err(&fail)?;
    let mut all = Vec::new();
    while let Some(row) = rows.next().map_err(&fail)? {
        match read_fault(row) {
            Ok(Some(fault)) => all.push(fault),
            Ok(None) | Err(_) => db.unread.other(format!("a fault report, {}", all.len())),
        }
    }
    Ok(all)
}

fn read_fault(row: &Row<'_>) -> rusqlite::Result<Option<FaultReport>> {
    let (card, at, note): (String, i64, String) = (row.get(0)?, row.get(1)?, row.get(2)?);
    Ok(CardKey::parse(&card).map(|card| FaultReport { card, at: Instant(at), note }))
}

fn check_key(card: &CardKey, what: &str) -> Result<(), StoreError> {
    if is_id(&card.deck.0) && is_id(&card.card) {
        return Ok(());
    }
    let why = "its card key must be a deck's id and a card's id in lower-case letters, digits and hyphens".to_owned();
    Err(StoreError::Refused { what: format!("{what} `{card}`"), why })
}
