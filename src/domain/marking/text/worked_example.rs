//! The worked example of `docs/marking-text.md`, worked out: the page shows what the matcher does, number by number.

#![cfg(test)]

use std::collections::HashSet;
use std::fmt::Write as _;

use super::cluster::clusters;
use super::hits::{Met, find_unit};
use super::index::Text;
use super::phrase::Phrase;
use super::point::{find, threshold_for, weigh};
use super::thresholds::{ACCEPT, FLOOR, SAY};
use super::token::Role;
use crate::domain::key_point::KeyPoint;

const ASK: &str = "Oil comes out at the water outlet of the purifier. Why?";
const ANSWER: &str = "The seal water is gone, or the gravity disc is too large.";

fn points() -> Vec<KeyPoint> {
    let strings = |list: &[&str]| list.iter().map(|text| (*text).to_owned()).collect();
    let point = |say: &str, accept: &[&str], reject: &[&str]| KeyPoint {
        say: say.to_owned(),
        accept: strings(accept),
        reject: strings(reject),
        critical: false,
    };
    vec![
        point("The water seal is lost", &["seal broken"], &[]),
        point("The gravity disc is too small", &["wrong gravity disc"], &[]),
    ]
}

fn tokens(text: &Text, out: &mut String) {
    let _ = writeln!(out, "{:<8} {:<8} {:<8} {:>6} {:>5} {:>4}", "word", "stem", "role", "clause", "reach", "part");
    for token in &text.tokens {
        let role = match token.role {
            Role::Content => "content",
            Role::Stop => "stop",
            Role::Denial => "denial",
            Role::Quiet => "quiet",
        };
        let (word, stem) = (&token.word, &token.stem);
        let _ = writeln!(out, "{word:<8} {stem:<8} {role:<8} {:>6} {:>5} {:>4}", token.clause, token.reach, token.part);
    }
}

/// A phrase's units with their weights and hits, and the windows in which enough of it stands.
fn phrase(text: &Text, phrase: &Phrase, least: f64, out: &mut String) {
    for (at, unit) in phrase.units.iter().enumerate() {
        let words = [std::slice::from_ref(&unit.stem), unit.more_stems.as_slice()].concat().join(" ");
        let mut hits = Vec::new();
        find_unit(text, phrase, at, &mut hits);
        let hits: Vec<String> = hits
            .iter()
            .map(|hit| {
                let spoken: Vec<&str> = (hit.start..=hit.end).map(|i| text.tokens[i].word.as_str()).collect();
                let by = match hit.met {
                    Met::Same => "",
                    Met::Opposite => ", opposite",
                    Met::OtherValue => ", other number",
                };
                format!("{} ({:.2}{by})", spoken.join(" "), hit.quality)
            })
            .collect();
        let met = if hits.is_empty() { "nothing".to_owned() } else { hits.join("; ") };
        let _ = writeln!(out, "    {words:<14} {:.3}  met by {met}", unit.weight);
    }
    for cluster in clusters(text, phrase, FLOOR) {
        let share = cluster.share;
        let _ = writeln!(
            out,
            "    window {:?}: coverage {:.3} of {:.3} needed, rest {:.3} (weight {:.3}), {:?}",
            cluster.used,
            share.coverage,
            threshold_for(phrase, least),
            share.rest,
            share.rest_weight,
            cluster.sense
        );
    }
}

fn worked() -> String {
    let points = points();
    let text = Text::answer(ANSWER);
    let asked = Phrase::stems(ASK);
    let mut out = String::new();
    tokens(&text, &mut out);
    for point in &points {
        let weigh = |stem: &str| weigh(stem, &asked, &HashSet::new());
        for (list, least) in [(std::slice::from_ref(&point.say), SAY), (&point.accept, ACCEPT)] {
            for said in list {
                for prepared in Phrase::prepare(said, &weigh) {
                    let _ = writeln!(out, "\n\"{said}\", weight {:.3}", prepared.total);
                    phrase(&text, &prepared, least, &mut out);
                }
            }
        }
    }
    out.push('\n');
    for (point, found) in points.iter().zip(find(ASK, &points, ANSWER)) {
        let verdict = match (found.said, found.contradicted) {
            (true, _) => "said",
            (_, true) => "contradicted",
            _ => "not touched",
        };
        let words = found.evidence.and_then(|span| ANSWER.get(span)).unwrap_or_default();
        let _ = writeln!(out, "\"{}\": {verdict}: \"{words}\"", point.say);
    }
    out
}

#[test]
fn the_page_shows_what_the_matcher_does() {
    let page = include_str!("../../../../docs/marking-text.md");
    let worked = worked();
    assert!(page.contains(&worked), "docs/marking-text.md lacks the example as it is worked out:\n{worked}");
    assert!(page.contains(ASK) && page.contains(ANSWER));
}
