-- Version 5: editions of decks that were taken in, and what their cards asked: so that a changed card is known. All of it
-- is only ever added to.

CREATE TABLE edition (
    nr     INTEGER PRIMARY KEY,
    deck   TEXT NOT NULL,
    number INTEGER NOT NULL CHECK (number >= 1),
    at_ms  INTEGER NOT NULL,
    UNIQUE (deck, at_ms)
) STRICT;

-- A card that is other than in the edition before: without a digest it is withdrawn.
CREATE TABLE edition_card (
    nr     INTEGER PRIMARY KEY,
    card   TEXT NOT NULL,
    at_ms  INTEGER NOT NULL,
    digest TEXT,
    was    TEXT NOT NULL CHECK (json_valid(was)),
    UNIQUE (card, at_ms)
) STRICT;

-- What a card asked, once for each digest.
CREATE TABLE asked (
    nr     INTEGER PRIMARY KEY,
    digest TEXT NOT NULL UNIQUE,
    json   TEXT NOT NULL CHECK (json_valid(json))
) STRICT;

CREATE TRIGGER edition_is_never_changed BEFORE UPDATE ON edition
BEGIN SELECT RAISE(ABORT, 'editions are only ever added: no change'); END;
CREATE TRIGGER edition_is_never_deleted BEFORE DELETE ON edition
BEGIN SELECT RAISE(ABORT, 'editions are only ever added: no deletion'); END;
CREATE TRIGGER edition_card_is_never_changed BEFORE UPDATE ON edition_card
BEGIN SELECT RAISE(ABORT, 'editions are only ever added: no change'); END;
CREATE TRIGGER edition_card_is_never_deleted BEFORE DELETE ON edition_card
BEGIN SELECT RAISE(ABORT, 'editions are only ever added: no deletion'); END;
CREATE TRIGGER asked_is_never_changed BEFORE UPDATE ON asked
BEGIN SELECT RAISE(ABORT, 'what was asked is only ever added: no change'); END;
CREATE TRIGGER asked_is_never_deleted BEFORE DELETE ON asked
BEGIN SELECT RAISE(ABORT, 'what was asked is only ever added: no deletion'); END;
