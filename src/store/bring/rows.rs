//! Rows of a profile's tables as lines of its file.

use rusqlite::Row;

use super::line::{Answer, Line, written};

/// A table: how its rows are asked for, and what line a row makes.
pub(super) struct Table {
    pub(super) sql: &'static str,
    pub(super) make: fn(&Row<'_>) -> rusqlite::Result<Line>,
}

pub(super) const SITTING: Table = Table {
    sql: "SELECT id, at_ms, ship_minutes, device, setup FROM sitting ORDER BY at_ms, id",
    make: |row| {
        let (id, at, ship, device, setup) = (row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?, row.get(4)?);
        Ok(Line::Sitting { id, at, ship, device, setup })
    },
};

pub(super) const END: Table = Table {
    sql: "SELECT sitting, at_ms FROM sitting_end ORDER BY sitting",
    make: |row| Ok(Line::End { sitting: row.get(0)?, at: row.get(1)? }),
};

pub(super) const ANSWER: Table = Table {
    sql: "SELECT id, card, at_ms, ship_minutes, device, evidence, outcome, notch, seconds FROM attempt
          ORDER BY at_ms, id",
    make: |row| {
        Ok(Line::Answer(Answer {
            id: row.get(0)?,
            card: row.get(1)?,
            at: row.get(2)?,
            ship: row.get(3)?,
            device: row.get(4)?,
            evidence: row.get(5)?,
            outcome: row.get(6)?,
            notch: row.get(7)?,
            seconds: written(row.get(8)?),
        }))
    },
};

pub(super) const SET_ASIDE: Table = Table {
    sql: "SELECT card, at_ms, until, day FROM set_aside ORDER BY at_ms, nr",
    make: |row| Ok(Line::SetAside { card: row.get(0)?, at: row.get(1)?, until: row.get(2)?, day: row.get(3)? }),
};

pub(super) const FAULT: Table = Table {
    sql: "SELECT card, at_ms, note FROM fault ORDER BY at_ms, nr",
    make: |row| Ok(Line::Fault { card: row.get(0)?, at: row.get(1)?, note: row.get(2)? }),
};

pub(super) const EDITION: Table = Table {
    sql: "SELECT deck, number, at_ms FROM edition ORDER BY at_ms, deck",
    make: |row| Ok(Line::Edition { deck: row.get(0)?, number: row.get(1)?, at: row.get(2)? }),
};

pub(super) const EDITION_CARD: Table = Table {
    sql: "SELECT card, at_ms, digest, was FROM edition_card ORDER BY at_ms, card",
    make: |row| Ok(Line::EditionCard { card: row.get(0)?, at: row.get(1)?, digest: row.get(2)?, was: row.get(3)? }),
};

pub(super) const ASKED: Table = Table {
    sql: "SELECT digest, json FROM asked ORDER BY digest",
    make: |row| Ok(Line::Asked { digest: row.get(0)?, json: row.get(1)? }),
};

pub(super) const EVENT: Table = Table {
    sql: "SELECT at_ms, kind, json FROM event ORDER BY at_ms, nr",
    make: |row| Ok(Line::Event { at: row.get(0)?, kind: row.get(1)?, json: row.get(2)? }),
};
