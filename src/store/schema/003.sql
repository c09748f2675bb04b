-- Version 3: sittings of mock orals, turn by turn, and events of the profile (plans, memory parameters, results of
-- orals). All of them are only ever added to.

CREATE TABLE sitting (
    id           TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
    at_ms        INTEGER NOT NULL,
    ship_minutes INTEGER NOT NULL CHECK (ship_minutes BETWEEN -720 AND 840),
    device       TEXT NOT NULL,
    setup        TEXT NOT NULL CHECK (json_valid(setup))
) STRICT;

CREATE TABLE sitting_turn (
    sitting TEXT NOT NULL REFERENCES sitting (id),
    n       INTEGER NOT NULL CHECK (n >= 0),
    turn    TEXT NOT NULL CHECK (json_valid(turn)),
    PRIMARY KEY (sitting, n)
) STRICT, WITHOUT ROWID;

CREATE TABLE sitting_end (
    sitting TEXT PRIMARY KEY NOT NULL REFERENCES sitting (id),
    at_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TRIGGER sitting_is_never_changed BEFORE UPDATE ON sitting
BEGIN SELECT RAISE(ABORT, 'sittings are only ever added: no change'); END;
CREATE TRIGGER sitting_is_never_deleted BEFORE DELETE ON sitting
BEGIN SELECT RAISE(ABORT, 'sittings are only ever added: no deletion'); END;
CREATE TRIGGER sitting_turn_is_never_changed BEFORE UPDATE ON sitting_turn
BEGIN SELECT RAISE(ABORT, 'turns are only ever added: no change'); END;
CREATE TRIGGER sitting_turn_is_never_deleted BEFORE DELETE ON sitting_turn
BEGIN SELECT RAISE(ABORT, 'turns are only ever added: no deletion'); END;

CREATE TABLE event (
    nr    INTEGER PRIMARY KEY,
    at_ms INTEGER NOT NULL,
    kind  TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 40),
    json  TEXT NOT NULL CHECK (json_valid(json))
) STRICT;

CREATE INDEX event_of_kind ON event (kind, nr);

CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON event
BEGIN SELECT RAISE(ABORT, 'events are only ever added: no change'); END;
CREATE TRIGGER event_is_never_deleted BEFORE DELETE ON event
BEGIN SELECT RAISE(ABORT, 'events are only ever added: no deletion'); END;
