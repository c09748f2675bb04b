//! Settings of two computers: the later ones hold, and results of orals are kept from both.

use rusqlite::{Connection, OptionalExtension};

use crate::domain::settings::Settings;
use crate::store::{kept, results};

/// The settings as they stand in a file: when they were changed last, and their text.
pub(super) struct Standing {
    pub(super) at: i64,
    pub(super) json: String,
}

/// The profile's settings; none where they make no sense.
pub(super) fn standing(conn: &Connection) -> rusqlite::Result<Option<Standing>> {
    let json: Option<String> = conn
        .query_row("SELECT json FROM settings WHERE one = 1", [], |row| {
            Ok(row.get_ref(0)?.as_str().unwrap_or_default().to_owned())
        })
        .optional()?;
    let json = json.filter(|json| serde_json::from_str::<Settings>(json).is_ok());
    let at = kept::settings_at(conn)?;
    Ok(json.map(|json| Standing { at, json }))
}

/// Brings settings in; whether they hold now. `wholly`: whatever was there.
pub(super) fn bring(conn: &Connection, theirs: &Standing, wholly: bool) -> rusqlite::Result<bool> {
    let mine = standing(conn)?;
    for json in mine.iter().map(|mine| &mine.json).chain([&theirs.json]) {
        if let Ok(settings) = serde_json::from_str::<Settings>(json) {
            results::keep(conn, &settings)?;
        }
    }
    // Two changes in one millisecond: every computer must decide alike.
    let is_later =
        mine.is_none_or(|mine| (theirs.at, &theirs.json) > (mine.at, &mine.json) || wholly && theirs.json != mine.json);
    if is_later || wholly {
        kept::put_settings(conn, &theirs.json, theirs.at)?;
    }
    Ok(is_later)
}
