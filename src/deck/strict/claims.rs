//! Whether a phrase says something (a claim) or only names what it is about (a topic), by lists of words; and whether a
//! question asks for a name, so that a topic answers it. The manual tells the rule to whoever writes a deck.

use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

/// The lists, each under its name in brackets.
const LISTS: &str = include_str!("claims.txt");

static WORDS: LazyLock<HashMap<&str, HashSet<&str>>> = LazyLock::new(|| {
    let mut lists: HashMap<&str, HashSet<&str>> = HashMap::new();
    let mut list = "";
    for line in LISTS.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        match line.strip_prefix('[').and_then(|line| line.strip_suffix(']')) {
            Some(name) => list = name,
            None => lists.entry(list).or_default().extend(line.split_whitespace()),
        }
    }
    lists
});

/// Words that carry nothing by themselves.
const SMALL: &[&str] = &[
    "a", "an", "the", "of", "and", "or", "its", "this", "that", "these", "those", "their", "his", "her", "our", "your",
    "my",
];
/// Words that stand for a thing.
const PRONOUNS: &[&str] = &["it", "him", "them", "her", "us", "me", "itself"];
/// What stands in front of one of these does something to it.
const BEFORE_AN_OBJECT: &[&str] = &[
    "a", "an", "the", "its", "their", "his", "her", "our", "your", "my", "this", "these", "those", "that", "all",
    "any", "each", "it", "him", "them", "us", "me",
];
/// Words in -ly and -ed that are no adverbs and no participles.
const NO_ENDINGS: &[&str] = &[
    "anomaly",
    "assembly",
    "bleed",
    "exceed",
    "family",
    "feed",
    "indeed",
    "jelly",
    "need",
    "overspeed",
    "reply",
    "seed",
    "speed",
    "supply",
    "weed",
];

fn is_of(list: &str, word: &str) -> bool {
    WORDS.get(list).is_some_and(|words| words.contains(word))
}

/// The words of a text in lower case; hyphens, apostrophes and per cent signs belong to them.
fn words(text: &str) -> Vec<String> {
    let is_part = |c: char| c.is_alphanumeric() || matches!(c, '-' | '\'' | '%');
    let lower = text.to_lowercase();
    let words = lower.split(|c| !is_part(c)).map(|word| word.trim_matches(['-', '\'']));
    words.filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Whether a phrase says something. One word alone does not, unless it is a number.
pub(super) fn is_claim(phrase: &str) -> bool {
    let words = words(phrase);
    if has_number(&words) {
        return true;
    }
    let content: Vec<usize> = (0..words.len()).filter(|at| !SMALL.contains(&words[*at].as_str())).collect();
    content.len() > 1 && content.iter().enumerate().any(|(nth, at)| makes_a_claim(&words, *at, nth == 0))
}

/// A number alone, or with its unit or what is counted.
fn has_number(words: &[String]) -> bool {
    words.iter().enumerate().any(|(at, word)| {
        let begins = word.starts_with(|c: char| c.is_ascii_digit());
        let has_unit = word.ends_with(|c: char| c.is_alphabetic() || c == '%');
        begins && (has_unit || words.len() == 1 || words.get(at + 1).is_some())
    })
}

/// Whether the word at this place makes the phrase a claim; `is_first` of the words that carry something.
fn makes_a_claim(words: &[String], at: usize, is_first: bool) -> bool {
    let word = words[at].as_str();
    let next = words.get(at + 1).map(String::as_str);
    if is_of("states", word) || is_of("forms", word) || base_forms(word).any(|base| is_of("events", &base)) {
        return true;
    }
    if PRONOUNS.contains(&word) || is_of("names", word) {
        return false;
    }
    if let Some((_, last)) = word.rsplit_once('-')
        && (is_of("forms", last) || last.ends_with("ed"))
    {
        return true;
    }
    if ["ly", "less", "proof", "tight"].iter().any(|end| has_ending(word, end, end.len() + 2)) {
        return true;
    }
    // "cooling water" is a name, "cooling the piston" is none.
    let has_object = next.is_some_and(|next| BEFORE_AN_OBJECT.contains(&next));
    if at == 0 && has_object {
        // Whatever it is, it is done to something: "brief the team", "review it".
        return true;
    }
    if is_of("front", word) && next.is_some() && !has_object {
        return false;
    }
    let is_verb = base_forms(word).any(|base| is_of("verbs", &base));
    if is_verb || has_ending(word, "ing", 4) || has_ending(word, "ed", 3) {
        return true;
    }
    let leads = next.is_some_and(|next| !is_of("things", next));
    let after_several = at > 0 && words[at - 1].ends_with('s') && next.is_none();
    let is_base = is_of("actions", word) || is_of("devices", word);
    if is_base && (has_object || (is_first && leads) || (after_several && is_of("actions", word))) {
        return true;
    }
    let does = base_forms(word).skip(1).any(|base| is_of("actions", &base));
    let does_to = base_forms(word).skip(1).any(|base| is_of("devices", &base));
    does && (!is_first || leads) || does_to && has_object
}

/// A word that is long enough to have this ending.
fn has_ending(word: &str, ending: &str, longer_than: usize) -> bool {
    word.len() > longer_than && word.ends_with(ending) && !NO_ENDINGS.contains(&word)
}

/// The word, and what it may be without -s.
fn base_forms(word: &str) -> impl Iterator<Item = String> {
    let cut = |ending: &str, put: &str| Some(format!("{}{put}", word.strip_suffix(ending)?));
    let singular = cut("s", "").filter(|_| !word.ends_with("ss"));
    [Some(word.to_owned()), singular, cut("es", ""), cut("ies", "y")].into_iter().flatten()
}

/// Whether a question asks for a name, a person, a thing among others, or a number, so that one word may answer it.
pub(super) fn asks_for_a_name(question: &str) -> bool {
    const ASKED: &[&str] = &["which", "who", "whom", "whose"];
    const ASKING: &[&str] = &["and", "or", "tell", "say", "know", "decide", "show", "see"];
    const LEADING: &[&str] = &["in", "at", "to", "from", "by", "of", "on", "with", "under", "for", "through", "into"];
    const NUMBERS: &[&str] = &["many", "much", "often", "long", "far", "fast", "high", "deep"];
    const SORTS: &[&str] = &[
        "kind",
        "sort",
        "type",
        "colour",
        "word",
        "gas",
        "unit",
        "instrument",
        "tool",
        "material",
        "metal",
        "substance",
        "fuel",
        "oil",
        "liquid",
        "fluid",
        "letter",
        "document",
        "certificate",
        "code",
        "number",
    ];
    let of = |list: &[&str], word: Option<&String>| word.is_some_and(|word| list.contains(&word.as_str()));
    question.split(['.', '?', '!', ':', ';', '\n']).any(|sentence| {
        let words = words(sentence);
        let first = words.first();
        let calls = words.iter().any(|word| word == "call" || word == "called") && of(&["what", "how"], first);
        calls
            || of(&["list"], first)
            || words.iter().enumerate().any(|(at, word)| {
                let before = at.checked_sub(1).map(|at| &words[at]);
                let next = words.get(at + 1);
                match word.as_str() {
                    "name" | "names" => true,
                    "how" => of(NUMBERS, next),
                    "what" => of(SORTS, next),
                    asked if ASKED.contains(&asked) => {
                        at == 0 || of(ASKING, before) || (at == 1 && of(LEADING, before))
                    }
                    _ => false,
                }
            })
    })
}

/// Whether a point is itself no more than a word or two.
pub(super) fn is_a_name(say: &str) -> bool {
    words(say).iter().filter(|word| !["a", "an", "the"].contains(&word.as_str())).count() <= 2
}

#[cfg(test)]
mod tests {
    use super::{WORDS, asks_for_a_name, is_a_name, is_claim};

    #[test]
    fn topics_are_told_from_claims() {
        for topic in [
            "valve",
            "the pump",
            "isolate",
            "pressure switch",
            "oil level",
            "drain valve",
            "test cock",
            "cooling water",
            "lub oil pressure",
            "power supply",
            "emergency stop",
            "bearing temperature",
            "the state of the engine",
            "oil pumps",
            "speed control",
            "it",
        ] {
            assert!(!is_claim(topic), "{topic}");
        }
        for claim in [
            "pump starts",
            "stop the unit",
            "tell the bridge",
            "low oil pressure",
            "valve shut",
            "no air",
            "oil is hot",
            "unload it",
            "30 bar",
            "100 %",
            "0.85",
            "bearing failure",
            "current rises",
            "test alarm",
            "cooling the piston",
            "water in oil",
            "at once",
            "engine running",
            "engine-driven pump",
            "conditions change",
            "slowly opened",
            "drain the line",
            "twelve hours",
            "never overboard",
            "breaks the circuit",
            "brief the team",
            "review it",
            "max 90",
        ] {
            assert!(is_claim(claim), "{claim}");
        }
    }

    #[test]
    fn questions_for_a_name_are_known() {
        for name in [
            "Which gas is used?",
            "The tank is full. What is it called?",
            "Name two trips.",
            "At which pressure?",
            "What colour is it?",
            "How often is it tested?",
            "What do you do, and who must know?",
        ] {
            assert!(asks_for_a_name(name), "{name}");
        }
        for other in
            ["You are called out at night. What do you do?", "Why does the pump, which is new, stop?", "What stops it?"]
        {
            assert!(!asks_for_a_name(other), "{other}");
        }
        assert!(is_a_name("The coolers") && is_a_name("Carbon dioxide") && !is_a_name("The pump starts again"));
    }

    #[test]
    fn every_list_is_there() {
        let mut names: Vec<&str> = WORDS.keys().copied().collect();
        names.sort_unstable();
        assert_eq!(names, ["actions", "devices", "events", "forms", "front", "names", "states", "things", "verbs"]);
        assert!(WORDS.values().all(|words| words.len() > 10));
    }
}
