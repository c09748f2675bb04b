-- Version 1 of a class's file: assignments given out, learners with what they handed in, who was forgotten.

CREATE TABLE meta (
    name  TEXT PRIMARY KEY NOT NULL,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE assignment (
    id      TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
    made_ms INTEGER NOT NULL,
    json    TEXT NOT NULL CHECK (json_valid(json))
) STRICT, WITHOUT ROWID;

-- `named_ms` and `last_ms` are when the hand-in was made that gave the name, and the last one.
CREATE TABLE learner (
    id       TEXT PRIMARY KEY NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
    name     TEXT NOT NULL,
    named_ms INTEGER NOT NULL,
    last_ms  INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE attempt (
    learner TEXT NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
    id      TEXT NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
    at_ms   INTEGER NOT NULL,
    made_ms INTEGER NOT NULL,
    json    TEXT NOT NULL CHECK (json_valid(json)),
    PRIMARY KEY (learner, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE oral (
    learner TEXT NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
    id      TEXT NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
    at_ms   INTEGER NOT NULL,
    json    TEXT NOT NULL CHECK (json_valid(json)),
    PRIMARY KEY (learner, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE fault (
    learner TEXT NOT NULL REFERENCES learner (id) ON DELETE CASCADE,
    card    TEXT NOT NULL,
    at_ms   INTEGER NOT NULL,
    note    TEXT NOT NULL,
    PRIMARY KEY (learner, card, at_ms, note)
) STRICT, WITHOUT ROWID;

-- Who was forgotten, by a digest that does not tell the id.
CREATE TABLE forgotten (
    token TEXT PRIMARY KEY NOT NULL,
    at_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
