//! Results of orals that were brought in from another computer. They stand in the settings of the computer on which they
//! were told; settings that give way to later ones must not take their results with them, so that these become events.

use std::collections::BTreeSet;

use rusqlite::{Connection, params};

use crate::domain::day::{MS_PER_DAY, StudyDay};
use crate::domain::settings::{OralResult, Settings};

/// The kind of the event; it says the day and whether it was passed, as the settings do.
pub(super) const KIND: &str = "oral-result";

/// Adds the results that came from other computers to those of the settings, in order of the days.
pub(super) fn complete(conn: &Connection, settings: &mut Settings) -> rusqlite::Result<()> {
    let brought = brought(conn)?;
    let new: Vec<_> = brought.into_iter().filter(|result| !is_in(settings, *result)).collect();
    if !new.is_empty() {
        settings.results.extend(new.into_iter().map(OralResult::from));
        settings.results.sort_by_key(|result| (result.day, result.passed));
    }
    Ok(())
}

fn is_in(settings: &Settings, (day, passed): (StudyDay, bool)) -> bool {
    settings.results.contains(&OralResult { day, passed })
}

fn brought(conn: &Connection) -> rusqlite::Result<BTreeSet<(StudyDay, bool)>> {
    let mut statement = conn.prepare_cached("SELECT json FROM event WHERE kind = ?1")?;
    let mut rows = statement.query([KIND])?;
    let mut all = BTreeSet::new();
    while let Some(row) = rows.next()? {
        let text = row.get_ref(0)?.as_str().unwrap_or_default();
        if let Ok(result) = serde_json::from_str::<OralResult>(text) {
            all.insert(result.into());
        }
    }
    Ok(all)
}

/// Keeps the results of these settings as events, dated by their day alone.
pub(super) fn keep(conn: &Connection, settings: &Settings) -> rusqlite::Result<()> {
    for result in &settings.results {
        let json = serde_json::to_string(result).map_err(|e| rusqlite::Error::ToSqlConversionFailure(Box::new(e)))?;
        conn.execute(
            "INSERT INTO event (at_ms, kind, json) SELECT ?1, ?2, ?3
             WHERE NOT EXISTS (SELECT 1 FROM event WHERE kind = ?2 AND json = ?3)",
            params![i64::from(result.day.0) * MS_PER_DAY, KIND, json],
        )?;
    }
    Ok(())
}
