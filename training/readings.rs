//! What both readers make of answers: `cargo run --release --example readings -- FOLDER < answers.jsonl`.
//!
//! FOLDER has `reader.onnx` and `vocab.txt`. Each line in is `{"ask", "points": [{"say", "accept", "reject", "critical"}],
//! "text"}`; each line out is a list with what the matcher and the trained reader found of each point, from which
//! `training/join.py` fits the rule that joins them.

use std::io::{BufRead, Write};

use bedplate::domain::key_point::KeyPoint;
use bedplate::domain::marking::reader::Reader;
use bedplate::domain::marking::text::find;
use serde::Deserialize;
use serde_json::json;

#[derive(Deserialize)]
struct Row {
    ask: String,
    points: Vec<Point>,
    text: String,
}

#[derive(Deserialize)]
struct Point {
    say: String,
    accept: Vec<String>,
    reject: Vec<String>,
    critical: bool,
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args().nth(1).ok_or("name the folder of reader.onnx and vocab.txt")?;
    let weights = std::fs::read(format!("{folder}/reader.onnx"))?;
    let reader = Reader::load(weights, &std::fs::read_to_string(format!("{folder}/vocab.txt"))?)?;
    let mut out = std::io::stdout().lock();
    for line in std::io::stdin().lock().lines() {
        let row: Row = serde_json::from_str(&line?)?;
        let point = |p: Point| KeyPoint { say: p.say, accept: p.accept, reject: p.reject, critical: p.critical };
        let points: Vec<KeyPoint> = row.points.into_iter().map(point).collect();
        let found = find(&row.ask, &points, &row.text);
        let reading = reader.read(&row.ask, &points, &row.text)?;
        let both = found.iter().zip(&reading.points).map(|(found, read)| {
            json!({
                "matched": found.said, "opposed": found.contradicted, "evidence": found.evidence,
                "said": read.said.share(), "denied": read.denied.share(), "looked": read.evidence,
            })
        });
        writeln!(out, "{}", serde_json::Value::from_iter(both))?;
    }
    Ok(())
}
