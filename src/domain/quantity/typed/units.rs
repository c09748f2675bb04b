//! Units as people type them: glued to the number, spelt out, in the wrong case, with trailing words.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::chars::Chars;
use crate::domain::quantity::table::{PREFIX_WORDS, UNITS};
use crate::domain::quantity::{Dimension, Unit};

/// What stands where a unit would.
#[derive(Debug, Clone, PartialEq)]
pub enum ReadUnit {
    /// Nothing: the number is bare.
    None,
    /// A unit.
    Known(Unit),
    /// A word that is no unit that the program knows.
    Unknown(String),
}

/// Words that may follow a bare number without being meant as its unit.
const NO_UNITS: &[&str] = &[
    "a",
    "about",
    "absolute",
    "after",
    "and",
    "approx",
    "approximately",
    "are",
    "as",
    "at",
    "before",
    "both",
    "but",
    "by",
    "during",
    "each",
    "for",
    "from",
    "gauge",
    "i",
    "if",
    "in",
    "is",
    "it",
    "max",
    "maximum",
    "minimum",
    "more",
    "normally",
    "not",
    "of",
    "on",
    "only",
    "or",
    "over",
    "plus",
    "roughly",
    "should",
    "so",
    "than",
    "the",
    "then",
    "think",
    "to",
    "under",
    "until",
    "up",
    "usually",
    "when",
    "which",
    "while",
    "with",
    "within",
];

/// Factors of one unit that are looked at; more are no unit.
const MAX_FACTORS: usize = 4;
const MAX_TRIALS: usize = 96;

#[derive(Clone)]
struct Part {
    expression: String,
    end: usize,
    /// 0 as spelt in decks, 1 a learner's word, 2 another case; more for a product by a space.
    penalty: u32,
}

/// Reads the unit that begins at `i` (behind any space or hyphen), and says where it ends. `like` is what the
/// quantity is wanted to be of: among several readings the one of that dimension is taken.
pub(super) fn unit_at(text: &Chars, i: usize, like: Option<&Dimension>) -> (ReadUnit, usize) {
    let mut start = text.skip_spaces(i);
    if text.get(start) == Some('-') && text.is_letter(start + 1) {
        start += 1;
    }
    let bracket = matches!(text.get(start), Some('(' | '['));
    let from = if bracket { start + 1 } else { start };
    let mut found: Vec<(Unit, Part)> = Vec::new();
    let mut trials = MAX_TRIALS;
    for part in factors(text, from, like) {
        extend(text, &part, 1, like, &mut found, &mut trials);
    }
    let best = found.into_iter().min_by_key(|(unit, part)| {
        let wanted = like.is_some_and(|l| *l == unit.dimension);
        let open = u32::from(is_open(text, part.end));
        (!wanted, part.penalty + 10 * open, usize::MAX - part.end)
    });
    match best {
        Some((_, part)) if is_open(text, part.end) => (ReadUnit::Unknown(rest_word(text, from)), part.end),
        Some((unit, part)) => {
            (ReadUnit::Known(unit), part.end + usize::from(bracket && matches!(text.get(part.end), Some(')' | ']'))))
        }
        None => nothing(text, start),
    }
}

/// No unit here: a bare number, or a word that the program does not know.
fn nothing(text: &Chars, start: usize) -> (ReadUnit, usize) {
    let (word, _) = text.word(start);
    if word.is_empty() || NO_UNITS.contains(&word.as_str()) {
        return (ReadUnit::None, start);
    }
    (ReadUnit::Unknown(rest_word(text, start)), start)
}

fn rest_word(text: &Chars, start: usize) -> String {
    text.chars[start..].iter().take_while(|c| !c.is_whitespace() && !",;!?".contains(**c)).take(24).collect()
}

/// Whether a division goes on behind a unit that has been read, with no number on the other side.
fn is_open(text: &Chars, end: usize) -> bool {
    let at = text.skip_spaces(end);
    let (word, after) = text.word(at);
    let behind = if text.get(at) == Some('/') {
        at + 1
    } else if word == "per" {
        after
    } else {
        return false;
    };
    text.is_letter(text.skip_spaces(behind))
}

fn extend(
    text: &Chars,
    part: &Part,
    factors_so_far: usize,
    like: Option<&Dimension>,
    found: &mut Vec<(Unit, Part)>,
    trials: &mut usize,
) {
    if *trials == 0 {
        return;
    }
    *trials -= 1;
    if let Ok(unit) = Unit::parse(&part.expression) {
        found.push((unit, part.clone()));
    }
    if factors_so_far >= MAX_FACTORS {
        return;
    }
    let (sign, next, penalty) = operator(text, part.end);
    if sign.is_empty() {
        return;
    }
    let open = usize::from(sign == "/" && text.get(next) == Some('('));
    for factor in factors(text, next + open, like) {
        let longer = Part {
            expression: format!("{}{sign}{}", part.expression, factor.expression),
            end: factor.end,
            penalty: part.penalty + factor.penalty + penalty,
        };
        if open == 1 {
            extend_bracket(text, &longer, factors_so_far + 1, like, found, trials);
        } else {
            extend(text, &longer, factors_so_far + 1, like, found, trials);
        }
    }
}

/// Goes on inside a bracket of a denominator, as in `kJ/(kg K)`.
fn extend_bracket(
    text: &Chars,
    part: &Part,
    factors_so_far: usize,
    like: Option<&Dimension>,
    found: &mut Vec<(Unit, Part)>,
    trials: &mut usize,
) {
    if text.get(part.end) == Some(')') {
        let closed = Part { end: part.end + 1, ..part.clone() };
        return extend(text, &closed, factors_so_far, like, found, trials);
    }
    let at = text.skip_spaces(part.end);
    let at = at + usize::from(matches!(text.get(at), Some('*' | '·' | '.')));
    if factors_so_far >= MAX_FACTORS {
        return;
    }
    for factor in factors(text, text.skip_spaces(at), like) {
        let longer = Part {
            expression: format!("{}·{}", part.expression, factor.expression),
            end: factor.end,
            penalty: part.penalty + factor.penalty,
        };
        extend_bracket(text, &longer, factors_so_far + 1, like, found, trials);
    }
}

/// The sign between two units: division, or a product. A product by a space alone weighs so much that it is taken
/// only where it makes the wanted dimension.
fn operator(text: &Chars, end: usize) -> (&'static str, usize, u32) {
    let at = text.skip_spaces(end);
    let (word, after) = text.word(at);
    match text.get(at) {
        Some('/') => ("/", text.skip_spaces(at + 1), 0),
        Some('*' | '·') => ("·", text.skip_spaces(at + 1), 0),
        Some(c) if at == end && c.is_alphabetic() && end > 0 && text.is_digit(end - 1) => ("·", at, 3),
        Some('-' | '.') if at == end && text.is_letter(at + 1) => ("·", at + 1, 3),
        _ if word == "per" => ("/", text.skip_spaces(after), 0),
        _ if matches!(word.as_str(), "a" | "an") => ("/", text.skip_spaces(after), 4),
        Some(c) if at > end && c.is_alphabetic() => ("·", at, 4),
        _ => ("", at, 0),
    }
}

/// Every reading of one factor at `i`, with its power.
fn factors(text: &Chars, i: usize, like: Option<&Dimension>) -> Vec<Part> {
    let mut out = Vec::new();
    let (word, after) = text.word(i);
    if let Some(power) = power_word(&word) {
        for part in factors(text, text.skip_spaces(after), like).into_iter().take(3) {
            if !part.expression.contains('^') {
                out.push(Part { expression: format!("{}^{power}", part.expression), ..part });
            }
        }
        return out;
    }
    if text.get(i) == Some('1') && text.get(text.skip_spaces(i + 1)) == Some('/') {
        return vec![Part { expression: "1".to_owned(), end: i + 1, penalty: 0 }];
    }
    let names = names();
    for (spelt, end) in runs(text, i) {
        if names.exact.contains(spelt.as_str()) {
            out.push(Part { expression: spelt.clone(), end, penalty: 0 });
        }
        let lower = spelt.to_lowercase();
        if let Some(symbol) = names
            .words
            .get(lower.as_str())
            .copied()
            .map(str::to_owned)
            .or_else(|| prefixed(&lower))
            .or_else(|| half_spelt(&spelt))
        {
            out.push(Part { expression: symbol, end, penalty: 1 });
        }
        for symbol in names.folded.get(lower.as_str()).into_iter().flatten().filter(|s| **s != spelt && **s != "mPa") {
            if like.is_some() && keeps_prefix(&spelt, symbol) {
                out.push(Part { expression: (*symbol).to_owned(), end, penalty: 2 });
            }
        }
        if let Some(symbol) = meant(&spelt, like) {
            out.push(Part { expression: symbol.to_owned(), end, penalty: 1 });
        }
    }
    for part in &mut out {
        take_power(text, part);
    }
    out.retain(|p| p.expression != "in" || like.is_some_and(|l| l.word() == Some("length")));
    out
}

/// The runs that may be one unit's name at `i`: several words, the whole run of letters and digits, its letters.
fn runs(text: &Chars, i: usize) -> Vec<(String, usize)> {
    let mut ends = Vec::new();
    let mut end = i;
    for _ in 0..4 {
        let start = end;
        // "r.p.m." is one word.
        while text.get(end).is_some_and(|c| c.is_alphanumeric() || matches!(c, '%' | '‰'))
            || (end > start && text.get(end) == Some('.') && text.is_letter(end - 1) && text.is_letter(end + 1))
        {
            end += 1;
        }
        if end == start {
            break;
        }
        ends.push(end);
        let gap = text.get(end);
        if !(gap == Some(' ') || (gap == Some('-') && text.is_letter(end + 1))) {
            break;
        }
        end += 1;
    }
    let mut out: Vec<(String, usize)> = Vec::new();
    for end in ends.into_iter().rev() {
        let run: String = text.chars[i..end].iter().collect();
        if run.contains('.') {
            out.push((run.replace('.', ""), end));
        }
        out.push((run, end));
    }
    let letters = text.word_end(i);
    if letters > i && out.iter().all(|(_, e)| *e != letters) {
        out.push((text.chars[i..letters].iter().collect(), letters));
    }
    out
}

fn power_word(word: &str) -> Option<u8> {
    match word {
        "cubic" | "cu" => Some(3),
        "square" | "sq" => Some(2),
        _ => None,
    }
}

/// A power behind a factor: `^3`, `2`, "squared", "cubed".
fn take_power(text: &Chars, part: &mut Part) {
    let mut at = part.end;
    let marked = text.get(at) == Some('^');
    at += usize::from(marked);
    let minus = text.get(at) == Some('-') && text.is_digit(at + 1);
    let digit = at + usize::from(minus);
    if let Some(power) = text.get(digit).filter(char::is_ascii_digit)
        && !text.is_digit(digit + 1)
        && (marked || minus || part.end == at)
    {
        part.expression = format!("{}^{}{power}", part.expression, if minus { "-" } else { "" });
        part.end = digit + 1;
        return;
    }
    let (word, after) = text.word(text.skip_spaces(part.end));
    let power = match word.as_str() {
        "squared" => 2,
        "cubed" => 3,
        _ => return,
    };
    part.expression = format!("{}^{power}", part.expression);
    part.end = after;
}

/// Names that mean another unit beside a quantity of this dimension.
fn meant(spelt: &str, like: Option<&Dimension>) -> Option<&'static str> {
    let kind = like.and_then(Dimension::word)?;
    match (kind, spelt) {
        ("length", "M" | "Nm" | "NMs" | "nms") => Some("nmi"),
        ("temperature", "F" | "f") => Some("degF"),
        ("temperature", "deg" | "degs" | "degree" | "degrees" | "Deg" | "Degrees" | "c") => Some("degC"),
        ("pressure", "kg" | "kgs" | "Kg" | "KG") => Some("kgf"),
        ("pressure", "lb" | "lbs" | "pounds") => Some("lbf"),
        _ => None,
    }
}

/// Whether another case of a name keeps what its first letter says: milli is not mega where both exist.
fn keeps_prefix(spelt: &str, symbol: &str) -> bool {
    let (a, b) = (spelt.chars().next(), symbol.chars().next());
    if a == b || !matches!(b, Some('m' | 'M')) {
        return true;
    }
    let other = names().folded.get(spelt.to_lowercase().as_str());
    let rival = |s: &&str| s.chars().next() == a && **s != *"mPa";
    !other.is_some_and(|names| names.iter().any(rival))
}

/// "kilowatts" as `kW`, where the table holds it.
fn prefixed(word: &str) -> Option<String> {
    let names = names();
    let (rest, sign) = PREFIX_WORDS.iter().find_map(|(p, sign)| word.strip_prefix(p).map(|rest| (rest, *sign)))?;
    let rest = rest.trim_start_matches(['-', ' ']);
    let base = names.words.get(rest).copied().or_else(|| names.exact.get(rest).copied())?;
    let base = if base == "kg" { return None } else { base };
    let symbol = format!("{sign}{base}");
    names.exact.contains(symbol.as_str()).then_some(symbol)
}

/// "kWatt" and "Mpascal": the sign of a multiple before a word.
fn half_spelt(run: &str) -> Option<String> {
    let names = names();
    let (_, sign) = PREFIX_WORDS.iter().find(|(_, sign)| run.starts_with(sign))?;
    let base = names.words.get(run[sign.len()..].to_lowercase().as_str())?;
    let symbol = format!("{sign}{base}");
    names.exact.contains(symbol.as_str()).then_some(symbol)
}

struct Names {
    exact: std::collections::HashSet<&'static str>,
    words: HashMap<&'static str, &'static str>,
    folded: HashMap<String, Vec<&'static str>>,
}

fn names() -> &'static Names {
    static NAMES: OnceLock<Names> = OnceLock::new();
    NAMES.get_or_init(|| {
        let mut names = Names { exact: Default::default(), words: HashMap::new(), folded: HashMap::new() };
        for unit in UNITS {
            for name in unit.names {
                names.exact.insert(*name);
                names.folded.entry(name.to_lowercase()).or_default().push(*name);
            }
            for word in unit.words {
                names.words.insert(*word, unit.names[0]);
            }
        }
        names
    })
}
