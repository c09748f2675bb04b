//! Which competences of the tables the decks cover, and with which kinds of card.

use std::collections::BTreeMap;
use std::fmt::Write;

use super::finding::{Finding, Sort};
use crate::deck::competences;
use crate::domain::card::{Card, Kind};
use crate::domain::deck::{Deck, SourceKind};

/// The least number of cards for a competence of A-III/1, and for its two that are heard in every answer.
const LEAST: usize = 15;
const LEAST_SPOKEN: usize = 8;
const SPOKEN: [&str; 2] = ["A-III/1.1.2", "A-III/1.1.3"];

/// The cards of a set of decks, by competence and kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Coverage {
    /// In the order of the Code: table, competence's key, its title, cards of each kind in the order of the columns.
    pub rows: Vec<(String, String, String, [usize; Kind::COUNT])>,
    /// By deck: title, cards, with probes, cards that rest on common practice alone.
    pub decks: Vec<(String, usize, usize, usize)>,
    /// Sources cited, by kind.
    pub sources: BTreeMap<&'static str, usize>,
}

/// Counts the cards of these decks.
pub fn coverage(decks: &[&Deck]) -> Coverage {
    let cards: Vec<&Card> = decks.iter().flat_map(|deck| &deck.cards).collect();
    let mut rows = Vec::new();
    for table in &competences().tables {
        for competence in table.functions.iter().flat_map(|function| &function.competences) {
            let of = |kind| cards.iter().filter(|card| card.topic == competence.key && card.kind() == kind).count();
            rows.push((table.key.clone(), competence.key.clone(), competence.title.clone(), Kind::ALL.map(of)));
        }
    }
    let by_deck = |deck: &&Deck| {
        let probed = deck.cards.iter().filter(|card| !card.probes.is_empty()).count();
        let practice = deck.cards.iter().filter(|card| is_practice(deck, card)).count();
        (deck.title.clone(), deck.cards.len(), probed, practice)
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
    let few = |(table, key, title, counts): &(String, String, String, [usize; Kind::COUNT])| {
        let least = match table.as_str() {
            "A-III/1" if SPOKEN.contains(&key.as_str()) => LEAST_SPOKEN,
            "A-III/1" => LEAST,
            _ => 1,
        };
        let cards: usize = counts.iter().sum();
        (cards < least).then(|| Finding {
            sort: Sort::Coverage,
            deck: None,
            card: None,
            message: format!("{key}, {title}: {cards} of at least {least} cards"),
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
        for (table, key, title, counts) in &self.rows {
            if table != table_of {
                table_of = table;
                let of_table = self.rows.iter().filter(|row| row.0 == *table);
                let sum: usize = of_table.flat_map(|row| row.3).sum();
                let _ = write!(out, "\n## {table}: {sum} cards\n\n| competence | | {kinds} | all |\n|---|---|");
                out.push_str(&"--:|".repeat(Kind::COUNT + 1));
                out.push('\n');
            }
            let cells: Vec<String> =
                counts.iter().map(|n| if *n == 0 { "·".to_owned() } else { n.to_string() }).collect();
            let _ = writeln!(out, "| {key} | {title} | {} | {} |", cells.join(" | "), counts.iter().sum::<usize>());
        }
        out.push_str("\n## By deck\n\n| deck | cards | with probes | on common practice alone |\n|---|--:|--:|--:|\n");
        let mut sum = (0, 0, 0);
        for (title, cards, probed, practice) in &self.decks {
            let _ = writeln!(out, "| {title} | {cards} | {probed} | {practice} |");
            sum = (sum.0 + cards, sum.1 + probed, sum.2 + practice);
        }
        let _ = writeln!(out, "| **all** | {} | {} | {} |", sum.0, sum.1, sum.2);
        let by_kind: Vec<String> = (0..Kind::COUNT)
            .map(|at| format!("{} {}", self.rows.iter().map(|row| row.3[at]).sum::<usize>(), Kind::ALL[at].word()))
            .collect();
        let _ = writeln!(out, "\nBy kind: {}.", by_kind.join(", "));
        let sources: Vec<String> = self.sources.iter().map(|(kind, n)| format!("{n} {kind}")).collect();
        let _ = writeln!(out, "\nSources named by the decks, by kind: {}.", sources.join(", "));
        out
    }
}
