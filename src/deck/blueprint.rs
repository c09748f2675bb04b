//! An oral's blueprint as a file of text, as a lecturer writes it.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use serde::Deserialize;

use crate::domain::certificate::Certificate;
use crate::domain::oral::{Blueprint, Length, Rules, Share};

/// The longest such file, in bytes.
const MOST_BYTES: u64 = 1 << 20;

/// The file's keys.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Text {
    certificate: Certificate,
    questions: Option<usize>,
    minutes: Option<u32>,
    shares: BTreeMap<String, f64>,
    overall: Option<f64>,
    each_function: Option<f64>,
    critical_fails: Option<bool>,
}

/// Reads a blueprint: TOML with `certificate` (`watch`, `second`, `chief`, `electro-technical`), `questions` or `minutes`,
/// the pass marks `overall` and `each_function` and `critical_fails` where they are not ours, and a table `shares` with a
/// weight for each competence by its key.
///
/// # Errors
/// Where it cannot be read or used, in a sentence with what would do.
pub fn read_blueprint(path: &Path) -> Result<Blueprint, String> {
    let fault = |why: String| format!("the blueprint {} cannot be used: {why}", path.display());
    let meta = fs::metadata(path).map_err(|e| fault(e.to_string()))?;
    if !meta.is_file() || meta.len() > MOST_BYTES {
        return Err(fault("it is no file of text, or too long for one".to_owned()));
    }
    let text = fs::read_to_string(path).map_err(|e| fault(e.to_string()))?;
    let text: Text = toml::from_str(&text).map_err(|e| fault(e.to_string()))?;
    let ours = Blueprint::standard(text.certificate);
    let length = match (text.questions, text.minutes) {
        (Some(_), Some(_)) => return Err(fault("give `questions` or `minutes`, not both".to_owned())),
        (Some(questions), None) => Length::Questions(questions),
        (None, Some(minutes)) => Length::Minutes(minutes),
        (None, None) => ours.length,
    };
    let shares = text.shares.into_iter().map(|(competence, weight)| Share { competence, weight }).collect();
    let rules = Rules {
        overall: text.overall.unwrap_or(ours.rules.overall),
        each_function: text.each_function.unwrap_or(ours.rules.each_function),
        critical_fails: text.critical_fails.unwrap_or(ours.rules.critical_fails),
    };
    Blueprint { certificate: text.certificate, shares, length, rules }.checked().map_err(|why| fault(why.message))
}
