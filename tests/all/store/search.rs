//! Search as one types: beginnings of words, stems, marks, hostile input, and an index built only when needed.

use std::fs;
use std::path::Path;

use bedplate::domain::ids::{CardKey, DeckId};
use bedplate::store::{Hit, Marked, SearchCard, SearchDoc, Store, StoreError};
use proptest::prelude::*;

use super::basics::{attempt, known, open};

fn deck(id: &str, digest: &str, cards: &[(&str, &str, &str)]) -> SearchDoc {
    SearchDoc {
        deck: DeckId(id.to_owned()),
        title: format!("Deck {id}"),
        digest: digest.to_owned(),
        cards: cards
            .iter()
            .map(|(card, title, body)| SearchCard {
                card: (*card).to_owned(),
                title: (*title).to_owned(),
                body: (*body).to_owned(),
            })
            .collect(),
    }
}

fn decks() -> Vec<SearchDoc> {
    vec![
        deck(
            "lub-oil",
            "1",
            &[
                ("pressure", "At which lubrication pressure does the standby pump start?", "At 1.8 bar, by the maker."),
                ("purifier", "Why does a purifier lose its seal?", "Throughput too high; water too cold."),
                (
                    "crankcase",
                    "Name the causes of a crankcase explosion.",
                    "An oil mist meets a hot spot. Lubrication fails.",
                ),
            ],
        ),
        deck(
            "electrics",
            "1",
            &[
                ("earth", "How do you find an earth fault?", "Open the breakers one by one; see SOLAS II-1/45.4.2."),
                (
                    "batteries",
                    "What do batteries give off on charge?",
                    "Hydrogen. Ventilate the battery room: 0.4 % is the alarm.",
                ),
                (
                    "blackout",
                    "First steps in a blackout",
                    "Emergency generator within 45 s. Café lights last. Überdruck.",
                ),
            ],
        ),
    ]
}

fn with_decks() -> (tempfile::TempDir, Store) {
    let dir = tempfile::tempdir().unwrap();
    let store = open(dir.path()).store;
    assert_eq!(store.index_decks(decks()).wait(), Ok(2));
    (dir, store)
}

fn keys(hits: &[Hit]) -> Vec<String> {
    hits.iter().map(|h| h.key.to_string()).collect()
}

fn pieces(marked: &Marked) -> Vec<&str> {
    marked.marks.iter().map(|m| &marked.text[m.clone()]).collect()
}

#[test]
fn words_are_found_by_their_beginnings_and_stems() {
    let (_dir, store) = with_decks();
    let cases: [(&str, &[&str]); 21] = [
        ("lub pre", &["lub-oil/pressure"]),
        ("pre lub", &["lub-oil/pressure"]),
        ("lubricati", &["lub-oil/pressure", "lub-oil/crankcase"]),
        ("lubricating", &["lub-oil/pressure", "lub-oil/crankcase"]),
        ("LUBRICATION Pressures", &["lub-oil/pressure"]),
        ("pressures lubricati", &["lub-oil/pressure"]),
        ("battery", &["electrics/batteries"]),
        ("explosions", &["lub-oil/crankcase"]),
        ("b", &["electrics/batteries", "electrics/blackout", "electrics/earth", "lub-oil/pressure"]),
        ("1.8 bar", &["lub-oil/pressure"]),
        ("1.8", &["lub-oil/pressure"]),
        ("0.4 %", &["electrics/batteries"]),
        ("II-1/45", &["electrics/earth"]),
        ("solas ii-1/45.4.2", &["electrics/earth"]),
        ("cafe uber", &["electrics/blackout"]),
        ("CAFÉ", &["electrics/blackout"]),
        ("earth blackout", &[]),
        ("sump", &[]),
        ("", &[]),
        ("  \t ", &[]),
        ("?!", &[]),
    ];
    for (query, expected) in cases {
        let mut found = keys(&store.search(query, 10).wait().unwrap());
        let mut expected: Vec<String> = expected.iter().map(|k| (*k).to_owned()).collect();
        found.sort();
        expected.sort();
        assert_eq!(found, expected, "for `{query}`");
    }
}

/// Someone types a long query letter by letter: from the first letter on, the card never drops out.
#[test]
fn a_card_stays_while_its_question_is_typed() {
    let (_dir, store) = with_decks();
    let question = "At which lubrication pressure does the standby pump start?";
    for end in (1..=question.len()).filter(|end| question.is_char_boundary(*end)) {
        let found = keys(&store.search(&question[..end], 50).wait().unwrap());
        assert!(found.contains(&"lub-oil/pressure".to_owned()), "at `{}`: {found:?}", &question[..end]);
    }
}

#[test]
fn the_title_counts_more_and_the_limit_holds() {
    let (_dir, store) = with_decks();
    let found = keys(&store.search("lubrication", 10).wait().unwrap());
    assert_eq!(found, ["lub-oil/pressure", "lub-oil/crankcase"], "in the question before in the rest");
    assert_eq!(keys(&store.search("lubrication", 1).wait().unwrap()), ["lub-oil/pressure"]);
    assert_eq!(store.search("lubrication", 0).wait().unwrap(), []);
}

#[test]
fn what_was_found_is_marked() {
    let (_dir, store) = with_decks();
    let hit = &store.search("lub pressures", 1).wait().unwrap()[0];
    assert_eq!((hit.key.clone(), hit.deck_title.as_str()), (CardKey::new("lub-oil", "pressure"), "Deck lub-oil"));
    assert_eq!(hit.title.text, "At which lubrication pressure does the standby pump start?");
    assert_eq!(pieces(&hit.title), ["lubrication", "pressure"], "by its beginning and by its stem");
    assert_eq!((hit.extract.text.as_str(), pieces(&hit.extract)), ("At 1.8 bar, by the maker.", vec![]));
    let hit = &store.search("crank mist", 1).wait().unwrap()[0];
    assert_eq!((pieces(&hit.title), pieces(&hit.extract)), (vec!["crankcase"], vec!["mist"]));
    let hit = &store.search("uber", 1).wait().unwrap()[0];
    assert_eq!(pieces(&hit.extract), ["Überdruck"], "ranges fall on letters, also on those of several bytes");
}

#[test]
fn a_long_text_gives_the_piece_that_matters() {
    let dir = tempfile::tempdir().unwrap();
    let store = open(dir.path()).store;
    let body = format!("{} the governor hunts {}", "before ".repeat(200), "after ".repeat(200));
    store.index_decks(vec![deck("long", "1", &[("one", "Title", &body)])]).wait().unwrap();
    let hit = &store.search("govern", 1).wait().unwrap()[0];
    assert_eq!(pieces(&hit.extract), ["governor"]);
    assert!(hit.extract.text.len() < 300 && hit.extract.text.contains('…'), "{}", hit.extract.text);
}

#[test]
fn the_index_follows_the_decks_and_is_only_built_anew_for_a_change() {
    let (dir, store) = with_decks();
    assert_eq!(store.index_decks(decks()).wait(), Ok(0), "nothing has changed");
    let mut changed = decks();
    changed[1] = deck("electrics", "2", &[("earth", "How is an insulation fault found?", "")]);
    assert_eq!(store.index_decks(changed.clone()).wait(), Ok(1));
    assert_eq!(keys(&store.search("insulation", 9).wait().unwrap()), ["electrics/earth"]);
    assert_eq!(store.search("blackout", 9).wait().unwrap(), [], "cards that are gone are not found");
    drop(store);
    let store = open(dir.path()).store;
    assert_eq!(store.index_decks(changed).wait(), Ok(0), "the index is kept in the file");
    assert_eq!(store.index_decks(vec![]).wait(), Ok(0));
    assert_eq!(store.search("insulation", 9).wait().unwrap(), [], "a deck taken out of the library");
    drop(store);
    let file = rusqlite::Connection::open(dir.path().join("search.sqlite")).unwrap();
    for table in ["search_word", "search_stem"] {
        // SQLite's own check that the index agrees with the text (https://www.sqlite.org/fts5.html, section 6.4).
        let check = format!("INSERT INTO {table} ({table}, rank) VALUES ('integrity-check', 1)");
        file.execute(&check, []).unwrap();
    }
}

/// The inside of the index spoilt: whoever asks is told to have the decks read in again, and then all is found.
#[test]
fn a_spoilt_index_is_made_anew() {
    let noise = "UPDATE search_word_data SET block = unhex(replace(hex(zeroblob(length(block))), '0', 'F'))";
    let gone = "DELETE FROM search_stem_data WHERE id > 10";
    for spoilt in [noise, gone] {
        let (dir, store) = with_decks();
        drop(store);
        let file = rusqlite::Connection::open(dir.path().join("search.sqlite")).unwrap();
        assert!(file.execute(spoilt, []).unwrap() > 0);
        file.close().unwrap();
        let store = open(dir.path()).store;
        assert_eq!(store.search("lub pressures", 9).wait(), Err(StoreError::SearchLost), "{spoilt}");
        assert_eq!(store.index_decks(decks()).wait(), Ok(2));
        assert_eq!(keys(&store.search("lub pressures", 9).wait().unwrap()), ["lub-oil/pressure"], "{spoilt}");
    }
}

/// The index's file emptied, cut, overwritten, replaced or removed: the profile opens as if nothing were, no word is said
/// of it, and the decks are read in again.
#[test]
fn harm_to_the_index_touches_nothing_else() {
    type Harm = fn(&Path);
    let harms: [(&str, Harm); 6] = [
        ("removed", |p| fs::remove_file(p).unwrap()),
        ("emptied", |p| fs::write(p, b"").unwrap()),
        ("noise", |p| fs::write(p, [0x5A; 40_000]).unwrap()),
        ("zeros", |p| {
            let length = fs::metadata(p).unwrap().len() as usize;
            fs::write(p, vec![0; length]).unwrap();
        }),
        ("cut", |p| fs::File::options().write(true).open(p).unwrap().set_len(8192).unwrap()),
        ("another database", |p| {
            fs::remove_file(p).unwrap();
            rusqlite::Connection::open(p)
                .unwrap()
                .execute_batch("CREATE TABLE search_deck (x); PRAGMA user_version = 9")
                .unwrap();
        }),
    ];
    for (name, harm) in harms {
        let (dir, store) = with_decks();
        let a = attempt("drain", 0);
        store.record(a.clone(), known(&a, 1)).wait().unwrap();
        drop(store);
        harm(&dir.path().join("search.sqlite"));
        let opened = open(dir.path());
        assert_eq!(opened.notices, [], "{name}");
        assert_eq!(opened.attempts_count, 1, "{name}");
        assert_eq!(opened.store.index_decks(decks()).wait(), Ok(2), "{name}: all are read in anew");
        assert_eq!(keys(&opened.store.search("lub pressures", 9).wait().unwrap()), ["lub-oil/pressure"], "{name}");
    }
}

#[test]
fn what_a_query_language_would_understand_is_only_text() {
    let (_dir, store) = with_decks();
    let hostile = [
        "\"",
        "\"\"",
        "'",
        "*",
        "lub*",
        "NEAR(lub pre)",
        "title:lub",
        "lub OR earth",
        "lub AND",
        "NOT",
        "(",
        ")",
        "^lub",
        "-lub",
        "{title}: x",
        "lub + pre",
        "a\0b",
        "\u{1}lub\u{2}",
        "🛢",
        "'; DROP TABLE attempt; --",
        "%_%",
        "\\",
    ];
    for query in hostile {
        store.search(query, 5).wait().unwrap_or_else(|e| panic!("`{query}`: {e}"));
    }
    assert_eq!(keys(&store.search("lub\"ric", 5).wait().unwrap()).len(), 2, "a quote within a word is passed over");
    assert_eq!(store.search("lub OR earth", 5).wait().unwrap(), [], "`or` is a word like any other");
    store.search(&"word ".repeat(100_000), 5).wait().unwrap();
    store.search(&"x".repeat(1_000_000), 5).wait().unwrap();
}

#[test]
fn marks_of_ours_in_a_decks_text_do_no_harm() {
    let dir = tempfile::tempdir().unwrap();
    let store = open(dir.path()).store;
    let doc = deck("odd", "1", &[("one", "\u{2}pump\u{1}", "a\u{1}b\0c \u{2}\u{2} pump")]);
    store.index_decks(vec![doc]).wait().unwrap();
    let hit = &store.search("pump", 1).wait().unwrap()[0];
    assert_eq!((pieces(&hit.title), pieces(&hit.extract)), (vec!["pump"], vec!["pump"]));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    #[test]
    fn any_query_on_any_text_gives_an_answer_with_sound_marks(
        title in "\\PC{0,40}", body in any::<String>(), query in any::<String>(), cut in 0usize..8,
    ) {
        thread_local! {
            static STORE: (tempfile::TempDir, Store) = {
                let dir = tempfile::tempdir().unwrap();
                let store = open(dir.path()).store;
                (dir, store)
            };
        }
        STORE.with(|(_, store)| {
            let digest = format!("{title}\u{0}{body}");
            store.index_decks(vec![deck("any", &digest, &[("one", &title, &body)])]).wait().unwrap();
            // The text's own beginning, and anything.
            let typed: String = title.chars().take(cut).collect();
            for q in [typed, query] {
                for hit in store.search(&q, 9).wait().unwrap() {
                    for marked in [&hit.title, &hit.extract] {
                        let mut end = 0;
                        for m in &marked.marks {
                            prop_assert!(m.start >= end && marked.text.get(m.clone()).is_some());
                            end = m.end;
                        }
                    }
                }
            }
            Ok(())
        })?;
    }
}
