-- Version 4: the search has a file of its own, so that damage to it costs no answer and backups stay small.

DROP TABLE search_word;
DROP TABLE search_stem;
DROP TABLE search_card;
DROP TABLE search_deck;
