//! The matcher's words, read from the files under `vocabulary/`, and the one reader of such files, which refuses a word
//! that stands twice.

use std::collections::HashMap;
use std::sync::OnceLock;

use rustc_hash::{FxHashMap, FxHashSet};

/// A list of words, or of stems where its name says so.
pub(super) type Words = FxHashSet<&'static str>;

/// The families of words that mean the same, for `lexicon`.
pub(super) const FAMILIES: File = File { name: "families.txt", text: include_str!("vocabulary/families.txt") };
const LISTS: [File; 4] = [
    File { name: "small.txt", text: include_str!("vocabulary/small.txt") },
    File { name: "denying.txt", text: include_str!("vocabulary/denying.txt") },
    File { name: "engine-room.txt", text: include_str!("vocabulary/engine-room.txt") },
    File { name: "ignorance.txt", text: include_str!("vocabulary/ignorance.txt") },
];
const STEMS: File = File { name: "stems.txt", text: include_str!("vocabulary/stems.txt") };
const SPELLINGS: File = File { name: "spellings.txt", text: include_str!("vocabulary/spellings.txt") };
const CONFUSABLE: File = File { name: "confusable.txt", text: include_str!("vocabulary/confusable.txt") };

/// A file of words, by its name under `vocabulary/`.
#[derive(Debug, Clone, Copy)]
pub(super) struct File {
    name: &'static str,
    text: &'static str,
}

/// A line of a file: `[section]` lines and notes left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Row {
    /// The line's number, from 1.
    line: usize,
    /// The section that it stands in; empty where there is none.
    pub(super) section: &'static str,
    /// What stands before its colon; empty where it has none.
    pub(super) head: &'static str,
    words: &'static str,
}

impl Row {
    /// The row's words, those behind the colon where it has one.
    pub(super) fn words(self) -> impl Iterator<Item = &'static str> {
        self.words.split(',').map(str::trim).filter(|word| !word.is_empty())
    }
}

/// What is wrong with a file of words.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub(super) enum Fault {
    /// A word stands twice where it may stand once.
    #[error("vocabulary/{file}, line {line}: `{word}` stands in line {first} already")]
    Double { file: &'static str, line: usize, word: String, first: usize },
    /// No file has a list of this name.
    #[error("vocabulary: there is no list `[{0}]`")]
    Missing(&'static str),
}

impl File {
    /// The rows in their order.
    pub(super) fn rows(self) -> impl Iterator<Item = Row> {
        let mut section = "";
        self.text.lines().enumerate().filter_map(move |(at, line)| {
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                return None;
            }
            if let Some(name) = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
                section = name;
                return None;
            }
            let (head, words) = line.split_once(':').unwrap_or(("", line));
            Some(Row { line: at + 1, section, head: head.trim(), words })
        })
    }

    /// Whether no word stands twice among the rows that `group` gives the same name.
    ///
    /// # Errors
    /// Where one does: the first such word, with both its lines.
    fn checked(self, group: impl Fn(&Row) -> &'static str) -> Result<Self, Fault> {
        let mut seen: HashMap<(&str, &str), usize> = HashMap::new();
        for row in self.rows() {
            for word in row.words() {
                let word = word.trim_start_matches('>');
                if let Some(first) = seen.insert((group(&row), word), row.line) {
                    return Err(Fault::Double { file: self.name, line: row.line, word: word.to_owned(), first });
                }
            }
        }
        Ok(self)
    }
}

/// The name of a family, without that of its opposite: `open` of the head `open <> close`.
pub(super) fn family_of(head: &'static str) -> (&'static str, Option<&'static str>) {
    head.split_once("<>").map_or((head, None), |(name, opposite)| (name.trim(), Some(opposite.trim())))
}

/// The matcher's words. What each list is for stands above it in its file.
pub(super) struct Vocabulary {
    pub(super) stops: Words,
    pub(super) denials: Words,
    pub(super) copulas: Words,
    pub(super) copulas_and_participles: Words,
    pub(super) order: Words,
    pub(super) bounds: Words,
    pub(super) finite: Words,
    pub(super) subjects: Words,
    pub(super) links: Words,
    pub(super) denied_verbs: Words,
    pub(super) denying_verbs: Words,
    pub(super) empty_predicates: Words,
    pub(super) dismissing: Words,
    pub(super) passing: Words,
    pub(super) forbidding_stems: Words,
    pub(super) missing_stems: Words,
    pub(super) denied_predicates: Words,
    pub(super) removing_stems: Words,
    pub(super) forbidding_verb_stems: Words,
    pub(super) warning_stems: Words,
    pub(super) forbidden_stems: Words,
    pub(super) put_off: Words,
    pub(super) left: Words,
    pub(super) staying_stems: Words,
    pub(super) light_stems: Words,
    pub(super) acts: Words,
    pub(super) fillers: Words,
    pub(super) given_up: Words,
    pub(super) again: Words,
    pub(super) conditions: Words,
    /// Forms that the stemmer keeps apart, with the stem that they share.
    pub(super) stems: FxHashMap<&'static str, &'static str>,
    /// American spellings with their British ones.
    pub(super) spellings: FxHashMap<&'static str, &'static str>,
    confusable: FxHashSet<(&'static str, &'static str)>,
}

/// The one vocabulary.
pub(super) fn vocabulary() -> &'static Vocabulary {
    static VOCABULARY: OnceLock<Vocabulary> = OnceLock::new();
    VOCABULARY.get_or_init(|| Vocabulary::read().expect("the files are part of the program and tested"))
}

impl Vocabulary {
    fn read() -> Result<Self, Fault> {
        let mut lists: HashMap<&str, Words> = HashMap::new();
        for file in LISTS {
            for row in file.checked(|row| row.section)?.rows() {
                lists.entry(row.section).or_default().extend(row.words());
            }
        }
        FAMILIES.checked(|row| family_of(row.head).0)?;
        let mut list = |name| lists.remove(name).ok_or(Fault::Missing(name));
        let one_stem = |row: Row| row.words().map(move |form| (form, row.head));
        let pairs = |row: Row| row.words().map(move |word| (row.head, word));
        Ok(Self {
            stops: list("stops")?,
            denials: list("denials")?,
            copulas: list("copulas")?,
            copulas_and_participles: list("copulas_and_participles")?,
            order: list("order")?,
            bounds: list("bounds")?,
            finite: list("finite")?,
            subjects: list("subjects")?,
            links: list("links")?,
            denied_verbs: list("denied_verbs")?,
            denying_verbs: list("denying_verbs")?,
            empty_predicates: list("empty_predicates")?,
            dismissing: list("dismissing")?,
            passing: list("passing")?,
            forbidding_stems: list("forbidding_stems")?,
            missing_stems: list("missing_stems")?,
            denied_predicates: list("denied_predicates")?,
            removing_stems: list("removing_stems")?,
            forbidding_verb_stems: list("forbidding_verb_stems")?,
            warning_stems: list("warning_stems")?,
            forbidden_stems: list("forbidden_stems")?,
            put_off: list("put_off")?,
            left: list("left")?,
            staying_stems: list("staying_stems")?,
            light_stems: list("light_stems")?,
            acts: list("acts")?,
            fillers: list("fillers")?,
            given_up: list("given_up")?,
            again: list("again")?,
            conditions: list("conditions")?,
            stems: STEMS.checked(|_| "")?.rows().flat_map(one_stem).collect(),
            spellings: SPELLINGS.checked(|row| row.head)?.rows().flat_map(pairs).collect(),
            confusable: CONFUSABLE.checked(|row| row.head)?.rows().flat_map(pairs).collect(),
        })
    }

    /// Whether two words lie near one another in spelling but mean different things.
    pub(super) fn are_confusable(&self, a: &str, b: &str) -> bool {
        self.confusable.contains(&(a, b)) || self.confusable.contains(&(b, a))
    }
}

/// Whether a small word is passed over.
pub(super) fn is_stop(word: &str) -> bool {
    vocabulary().stops.contains(word)
}

/// Whether a word denies.
pub(super) fn is_denial(word: &str) -> bool {
    vocabulary().denials.contains(word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_is_sound_and_every_list_has_words() {
        let read = Vocabulary::read().unwrap_or_else(|fault| panic!("{fault}"));
        assert!(read.stops.contains("the") && read.denials.contains("not") && read.given_up.contains("next question"));
        assert_eq!(read.stems.get("corrosion"), Some(&"corrod"));
        assert_eq!(read.spellings.get("center"), Some(&"centre"));
        assert!(read.are_confusable("outlet", "inlet") && !read.are_confusable("inlet", "inlets"));
    }

    #[test]
    fn no_list_of_a_file_is_left_unread() {
        let sections: FxHashSet<&str> = LISTS.iter().flat_map(|file| file.rows()).map(|row| row.section).collect();
        // As many lists as the struct has fields of words.
        assert_eq!(sections.len(), 30, "{sections:?}");
    }

    #[test]
    fn a_double_is_refused_with_both_its_lines() {
        let file = File { name: "some.txt", text: "# Notes.\n[one]\nvalve, pump\n[two]\nvalve\n[one]\ncock, pump\n" };
        let fault = file.checked(|row| row.section).expect_err("pump stands twice in one list");
        assert_eq!(fault.to_string(), "vocabulary/some.txt, line 7: `pump` stands in line 3 already");
        assert!(file.checked(|_| "").is_err_and(|fault| fault.to_string().contains("line 5: `valve`")));
        let families =
            File { name: "some.txt", text: "open <> close: open, >reopen\nopen: reopen\nclose <> open: open\n" };
        let fault = families.checked(|row| family_of(row.head).0).expect_err("reopen stands twice in a family");
        assert_eq!(fault.to_string(), "vocabulary/some.txt, line 2: `reopen` stands in line 1 already");
    }
}
