//! Which competences of the tables the decks cover, and with which kinds of card.

use std::collections::BTreeMap;
use std::fmt::Write;

use super::finding::{Finding, Sort};
use crate::deck::competences;
use crate::domain::card::Card;
use crate::domain::deck::{Deck, SourceKind};
use crate::domain::kinds::Kind;

/// The least number of cards for a competence of A-III/1, and for its two that are heard in every answer.
const LEAST: usize = 15;
const LEAST_SPOKEN: usize = 8;
const SPOKEN: [&str; 2] = ["A-III/1.1.2", "A-III/1.1.3"];

/// The cards of a set of decks, by competence and kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Coverage {
    /// The competences, in the order of the Code.
    pub rows: Vec<CompetenceCards>,
    /// The decks, in their order.
    pub decks: Vec<DeckCards>,
    /// Sources cited, by kind.
    pub sources: BTreeMap<&'static str, usize>,
}

/// How many cards a competence has.
#[derive(Debug, Clone, PartialEq)]
pub struct CompetenceCards {
    /// The table of the Code, such as `A-III/1`.
    pub table: String,
    /// The competence's key, such as `A-III/1.2.1`.
    pub key: String,
    /// The competence in our words.
    pub title: String,
    /// Cards of each kind, in the order of [`Kind::ALL`].
    pub cards: [usize; Kind::COUNT],
}

impl CompetenceCards {
    /// Cards of every kind together.
    fn all(&self) -> usize {
        self.cards.iter().sum()
    }
}

/// How many cards a deck has.
#[derive(Debug, Clone, PartialEq)]
pub struct DeckCards {
    /// The deck's title.
    pub title: String,
    /// All cards of the deck.
    pub cards: usize,
    /// Cards with probes.
    pub probed: usize,
    /// Cards that rest on common practice alone.
    pub practice: usize,
}

/// Counts the cards of these decks.
pub fn coverage(decks: &[&Deck]) -> Coverage {
    let cards: Vec<&Card> = decks.iter().flat_map(|deck| &deck.cards).collect();
    let mut rows = Vec::new();
    for table in &competences().tables {
        for competence in table.functions.iter().flat_map(|function| &function.competences) {
            let of = |kind| cards.iter().filter(|card| card.topic == competence.key && card.kind() == kind).count();
            rows.push(CompetenceCards {
                table: table.key.clone(),
                key: competence.key.clone(),
                title: competence.title.clone(),
                cards: Kind::ALL.map(of),
            });
        }
    }
    let by_deck = |deck: &&Deck| DeckCards {
        title: deck.title.clone(),
        cards: deck.cards.len(),
        probed: deck.cards.iter().filter(|card| !card.probes.is_empty()).count(),
        practice: deck.cards.iter().filter(|card| is_practice(deck, card)).count(),
    };
    let mut sources = BTreeMap::new();
    for source in decks.iter().flat_map(|deck| deck.sources.values()) {
        *sources.entry(source.kind.word()).or_insert(0) += 1;
    }
    Coverage { rows, decks: decks.iter().map(by_deck).collect(), sources }
}

fn is_practice(deck: &Deck, card: &Card) -> bool {
    card.sources.iter().all(|key| deck.sources.get(key).is_some_and(|source| source.kind == SourceKind::Practice))
}

/// Competences with too few cards.
pub(super) fn check(decks: &[&Deck]) -> Vec<Finding> {
    let few = |row: &CompetenceCards| {
        let least = match row.table.as_str() {
            "A-III/1" if SPOKEN.contains(&row.key.as_str()) => LEAST_SPOKEN,
            "A-III/1" => LEAST,
            _ => 1,
        };
        let cards = row.all();
        (cards < least).then(|| Finding {
            sort: Sort::Coverage,
            deck: None,
            card: None,
            message: format!("{}, {}: {cards} of at least {least} cards", row.key, row.title),
            mend: "write cards for it",
        })
    };
    coverage(decks).rows.iter().filter_map(few).collect()
}

impl Coverage {
    /// As Markdown, for `decks/COVERAGE.md`.
    pub fn markdown(&self) -> String {
        let mut out = String::from(
            "# What the decks cover\n\nMade by `bedplate coverage decks`; a test keeps it true. Titles of competences are ours, keys are the \
             STCW Code's.\n",
        );
        let kinds = Kind::ALL.map(Kind::word).join(" | ");
        let mut table_of = "";
        for row in &self.rows {
            let CompetenceCards { table, key, title, cards } = row;
            if table != table_of {
                table_of = table;
                let sum: usize = self.rows.iter().filter(|row| row.table == *table).map(CompetenceCards::all).sum();
                let _ = write!(out, "\n## {table}: {sum} cards\n\n| competence | | {kinds} | all |\n|---|---|");
                out.push_str(&"--:|".repeat(Kind::COUNT + 1));
                out.push('\n');
            }
            let cells: Vec<String> =
                cards.iter().map(|n| if *n == 0 { "·".to_owned() } else { n.to_string() }).collect();
            let _ = writeln!(out, "| {key} | {title} | {} | {} |", cells.join(" | "), row.all());
        }
        out.push_str("\n## By deck\n\n| deck | cards | with probes | on common practice alone |\n|---|--:|--:|--:|\n");
        for DeckCards { title, cards, probed, practice } in &self.decks {
            let _ = writeln!(out, "| {title} | {cards} | {probed} | {practice} |");
        }
        let sum = |of: fn(&DeckCards) -> usize| self.decks.iter().map(of).sum::<usize>();
        let (cards, probed, practice) = (sum(|deck| deck.cards), sum(|deck| deck.probed), sum(|deck| deck.practice));
        let _ = writeln!(out, "| **all** | {cards} | {probed} | {practice} |");
        let by_kind: Vec<String> = (0..Kind::COUNT)
            .map(|at| format!("{} {}", self.rows.iter().map(|row| row.cards[at]).sum::<usize>(), Kind::ALL[at].word()))
            .collect();
        let _ = writeln!(out, "\nBy kind: {}.", by_kind.join(", "));
        let sources: Vec<String> = self.sources.iter().map(|(kind, n)| format!("{n} {kind}")).collect();
        let _ = writeln!(out, "\nSources named by the decks, by kind: {}.", sources.join(", "));
        out
    }
}
