-- The search over the cards of the decks in the library, in a file of its own. All of it can be built again from the
-- decks: where the file is missing, damaged or from another version it is thrown away and made anew.

CREATE TABLE search_deck (
    id     TEXT PRIMARY KEY NOT NULL,
    title  TEXT NOT NULL,
    digest TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE search_card (
    nr    INTEGER PRIMARY KEY,
    deck  TEXT NOT NULL REFERENCES search_deck (id) ON DELETE CASCADE,
    card  TEXT NOT NULL,
    title TEXT NOT NULL,
    body  TEXT NOT NULL
) STRICT;

CREATE INDEX search_card_of_deck ON search_card (deck);

-- Words as they stand, found by their beginnings: what is typed so far.
CREATE VIRTUAL TABLE search_word USING fts5 (
    title, body, content = 'search_card', content_rowid = 'nr',
    tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3'
);

-- Words by their stems: "pressures" finds "pressure".
CREATE VIRTUAL TABLE search_stem USING fts5 (
    title, body, content = 'search_card', content_rowid = 'nr',
    tokenize = 'porter unicode61 remove_diacritics 2'
);

CREATE TRIGGER search_card_added AFTER INSERT ON search_card BEGIN
    INSERT INTO search_word (rowid, title, body) VALUES (NEW.nr, NEW.title, NEW.body);
    INSERT INTO search_stem (rowid, title, body) VALUES (NEW.nr, NEW.title, NEW.body);
END;

CREATE TRIGGER search_card_gone AFTER DELETE ON search_card BEGIN
    INSERT INTO search_word (search_word, rowid, title, body) VALUES ('delete', OLD.nr, OLD.title, OLD.body);
    INSERT INTO search_stem (search_stem, rowid, title, body) VALUES ('delete', OLD.nr, OLD.title, OLD.body);
END;
