//! `bedplate check --strict DECK ...` and `bedplate coverage DECK ...`: what a publisher looks at.
//!
//! A folder without `deck.toml` stands for the decks in it. Exit codes of the check: 0 nothing to look at, 1 something,
//! 2 there is no deck to read.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use serde_json::json;

use super::marker::CommandReader;
use super::out::{self, cannot};
use super::{deck_at, say};
use crate::deck::Reading;
use crate::deck::strict::{Finding, Sort, coverage, findings};
use crate::domain::deck::Deck;
use crate::domain::kinds::Kind;
use crate::domain::marking::Marker;

/// Checks these decks together, strictly, and prints a table by deck and then each finding, or JSON. Competences
/// without cards are told where several decks are checked.
pub fn run(paths: &[PathBuf], is_json: bool, plain: bool) -> ExitCode {
    let readings = match read(paths, CommandReader::load(plain).marker()) {
        Ok(readings) => readings,
        Err(why) => return cannot(why),
    };
    let decks = decks(&readings);
    let found = findings(&decks, decks.len() > 1);
    let problems = readings.iter().map(|reading| reading.problems.len()).sum::<usize>();
    let text = if is_json { json_text(&readings, &found) } else { text(&readings, &decks, &found) };
    out::ended(out::all(text.as_bytes()), ExitCode::from(u8::from(problems > 0 || !found.is_empty())))
}

/// Prints what these decks cover, as Markdown.
pub fn print_coverage(paths: &[PathBuf]) -> ExitCode {
    match read(paths, Marker::default()) {
        Ok(readings) => out::ended(out::all(coverage(&decks(&readings)).markdown().as_bytes()), ExitCode::SUCCESS),
        Err(why) => cannot(why),
    }
}

fn decks(readings: &[Reading]) -> Vec<&Deck> {
    readings.iter().filter_map(|reading| reading.deck.as_ref()).collect()
}

fn read(paths: &[PathBuf], marker: Marker<'_>) -> Result<Vec<Reading>, String> {
    let mut folders = Vec::new();
    for path in paths {
        let inside =
            crate::app::profile::bundled::deck_folders(path).into_iter().filter(|f| f.join("deck.toml").is_file());
        let inside: Vec<PathBuf> = if path.join("deck.toml").is_file() { Vec::new() } else { inside.collect() };
        if inside.is_empty() {
            folders.push(path.clone());
        } else {
            folders.extend(inside);
        }
    }
    let readings: Vec<(PathBuf, Reading)> =
        folders.into_iter().map(|f| (f.clone(), deck_at::read_by(&f, marker))).collect();
    match readings.iter().find(|(_, reading)| reading.deck.is_none()) {
        Some((folder, reading)) => Err(unreadable(folder, reading)),
        None => Ok(readings.into_iter().map(|(_, reading)| reading).collect()),
    }
}

fn unreadable(folder: &Path, reading: &Reading) -> String {
    let why = reading.problems.first().map_or("there is no deck", |problem| problem.message.as_str());
    format!("{} cannot be read as a deck: {why}. See `bedplate check {}`", folder.display(), folder.display())
}

fn json_text(readings: &[Reading], found: &[Finding]) -> String {
    let by_deck: Vec<_> = readings
        .iter()
        .filter_map(|reading| {
            let deck = reading.deck.as_ref()?;
            Some(json!({ "deck": deck.id.0, "cards": reading.counts, "problems": reading.problems }))
        })
        .collect();
    let found: Vec<_> = found
        .iter()
        .map(|f| {
            json!({
                "sort": f.sort.word(),
                "code": f.sort.word().replace(' ', "-"),
                "deck": f.deck.as_ref().map(|deck| deck.0.clone()),
                "card": f.card.as_ref().map(ToString::to_string),
                "message": f.message,
                "mend": f.mend,
            })
        })
        .collect();
    format!("{:#}\n", json!({ "decks": by_deck, "findings": found }))
}

fn text(readings: &[Reading], decks: &[&Deck], found: &[Finding]) -> String {
    let mut rows = vec![head()];
    for (reading, deck) in readings.iter().filter_map(|reading| Some((reading, reading.deck.as_ref()?))) {
        let mut row = vec![deck.id.0.clone(), deck.cards.len().to_string()];
        row.extend(Kind::ALL.map(|kind| deck.cards.iter().filter(|card| card.kind() == kind).count().to_string()));
        row.push(deck.cards.iter().filter(|card| !card.probes.is_empty()).count().to_string());
        row.push(reading.problems.len().to_string());
        let of = |sort: Sort| found.iter().filter(|f| f.sort == sort && f.deck.as_ref() == Some(&deck.id)).count();
        row.extend(Sort::ALL.iter().filter(|sort| **sort != Sort::Coverage).map(|sort| of(*sort).to_string()));
        rows.push(row);
    }
    let mut out = table(&rows);
    for finding in found {
        let place = match (&finding.card, &finding.deck) {
            (Some(card), _) => card.to_string(),
            (None, Some(deck)) => deck.0.clone(),
            (None, None) => "all decks".to_owned(),
        };
        out.push_str(&say::printable(&format!("\n{}: {place}: {}", finding.sort.word(), finding.message)));
        out.push_str(&say::printable(&format!("\n  to mend it: {}", finding.mend)));
    }
    let problems = readings.iter().map(|reading| reading.problems.len()).sum::<usize>();
    let cards = decks.iter().map(|deck| deck.cards.len()).sum::<usize>();
    out.push_str(&format!(
        "\n{} decks, {cards} cards: {problems} problems (see `bedplate check`), {} findings\n",
        decks.len(),
        found.len()
    ));
    out
}

fn head() -> Vec<String> {
    let sorts = Sort::ALL.iter().filter(|sort| **sort != Sort::Coverage).map(|sort| sort.word());
    let words =
        ["deck", "cards"].into_iter().chain(Kind::ALL.map(Kind::word)).chain(["probed", "problems"]).chain(sorts);
    words.map(str::to_owned).collect()
}

/// Columns as wide as their widest cell, the first to the left and figures to the right.
fn table(rows: &[Vec<String>]) -> String {
    let columns = rows.first().map_or(0, Vec::len);
    let width = |at: usize| rows.iter().filter_map(|row| row.get(at)).map(|cell| cell.chars().count()).max();
    let widths: Vec<usize> = (0..columns).map(|at| width(at).unwrap_or(0)).collect();
    let mut out = String::new();
    for row in rows {
        for (at, (cell, width)) in row.iter().zip(&widths).enumerate() {
            let width = *width;
            out.push_str(&if at == 0 { format!("{cell:<width$}") } else { format!("  {cell:>width$}") });
        }
        out.push('\n');
    }
    out
}
