-- Version 1: attempts, what the learner chose, what the learner set aside, and the memory cache.

CREATE TABLE meta (
    name  TEXT PRIMARY KEY NOT NULL,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE settings (
    one  INTEGER PRIMARY KEY CHECK (one = 1),
    json TEXT NOT NULL CHECK (json_valid(json))
) STRICT;

-- The only truth about learning. Only ever added to.
CREATE TABLE attempt (
    id           TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
    card         TEXT NOT NULL,
    at_ms        INTEGER NOT NULL,
    ship_minutes INTEGER NOT NULL CHECK (ship_minutes BETWEEN -720 AND 840),
    device       TEXT NOT NULL,
    evidence     TEXT NOT NULL CHECK (json_valid(evidence)),
    outcome      INTEGER NOT NULL CHECK (outcome BETWEEN 1 AND 4),
    notch        INTEGER NOT NULL CHECK (notch BETWEEN -1 AND 1),
    seconds      REAL NOT NULL CHECK (seconds >= 0)
) STRICT;

CREATE INDEX attempt_in_time ON attempt (at_ms, id);
CREATE INDEX attempt_of_card ON attempt (card, at_ms, id);

CREATE TRIGGER attempt_is_never_changed BEFORE UPDATE ON attempt
BEGIN SELECT RAISE(ABORT, 'attempts are only ever added: no change'); END;

CREATE TRIGGER attempt_is_never_deleted BEFORE DELETE ON attempt
BEGIN SELECT RAISE(ABORT, 'attempts are only ever added: no deletion'); END;

-- INSERT OR REPLACE would take the old row away without asking the trigger above.
CREATE TRIGGER attempt_is_never_replaced BEFORE INSERT ON attempt
WHEN EXISTS (SELECT 1 FROM attempt WHERE id = NEW.id)
BEGIN SELECT RAISE(IGNORE); END;

-- Cards left out of the watch, and taken back. Only ever added to.
CREATE TABLE set_aside (
    nr    INTEGER PRIMARY KEY,
    card  TEXT NOT NULL,
    at_ms INTEGER NOT NULL,
    until TEXT NOT NULL CHECK (until IN ('for-good', 'day', 'back')),
    day   INTEGER CHECK ((until = 'day') = (day IS NOT NULL))
) STRICT;

CREATE TRIGGER set_aside_is_never_changed BEFORE UPDATE ON set_aside
BEGIN SELECT RAISE(ABORT, 'cards set aside are only ever added: no change'); END;

CREATE TRIGGER set_aside_is_never_deleted BEFORE DELETE ON set_aside
BEGIN SELECT RAISE(ABORT, 'cards set aside are only ever added: no deletion'); END;

CREATE TABLE fault (
    nr    INTEGER PRIMARY KEY,
    card  TEXT NOT NULL,
    at_ms INTEGER NOT NULL,
    note  TEXT NOT NULL
) STRICT;

-- Worked out from attempts; may be thrown away and rebuilt.
CREATE TABLE card_memory (
    card            TEXT PRIMARY KEY NOT NULL,
    stability       REAL NOT NULL,
    difficulty      REAL NOT NULL,
    last_day        INTEGER NOT NULL,
    last_at_ms      INTEGER NOT NULL,
    due             INTEGER NOT NULL,
    seen            INTEGER NOT NULL CHECK (seen >= 0),
    slips           INTEGER NOT NULL CHECK (slips >= 0),
    misses_in_a_row INTEGER NOT NULL CHECK (misses_in_a_row >= 0),
    last            INTEGER NOT NULL CHECK (last BETWEEN 1 AND 4),
    seconds_total   REAL NOT NULL
) STRICT, WITHOUT ROWID;
