//! Every number that the matcher weighs or decides by, with what it is for.
//!
//! All are shares or weights without a unit; a plain word of a phrase weighs 1. They were fitted by hand, one at a time,
//! until the marking of the two open sets of labelled answers (`tests/reference/answers-tune.toml`, `-tune-2.toml`) grew
//! no better, and are held to a third set that nobody tunes on (`tests/all/marking/measure.rs`). Where a number has a
//! reason of its own, its line gives it. `docs/marking-text.md` lists them; a test holds the two together.

// What a place in the answer is worth as a meeting with a unit of a phrase.

/// The phrase's own word, a number of its value and kind, or a term with all its words.
pub(super) const OWN: f64 = 1.0;
/// A misspelling of the phrase's own word: almost the word.
pub(super) const MISSPELT: f64 = 0.9;
/// A word of a close family: it means the same, but the deck chose another.
pub(super) const CLOSE: f64 = 0.94;
/// A word of a loose family: it comes near the meaning, and alone it makes no point.
pub(super) const LOOSE: f64 = 0.88;
/// A word of the same root, such as "viscometer" for "viscosity".
pub(super) const KIN: f64 = 0.8;
/// The right number where one of the two has no unit.
pub(super) const BARE_NUMBER: f64 = 0.8;
/// One word of a term of two: less than half, so that it never carries the term.
pub(super) const HALF_TERM: f64 = 0.45;
/// A word of the opposite meaning.
pub(super) const OPPOSITE: f64 = 0.9;
/// Another number of the same kind, or the same number with the opposite bound.
pub(super) const OTHER_NUMBER: f64 = 0.9;
/// What is left of a meeting whose word has met a unit of one meaning already: "count" is not "muster and head count".
pub(super) const MET_TWICE: f64 = 0.4;
/// Two numbers this share of the phrase's number apart are the same number.
pub(super) const SAME_NUMBER: f64 = 1e-3;
/// Numbers this many times apart are of different things: millimetres beside miles.
pub(super) const OTHER_THING: f64 = 1e3;

// What a unit of a phrase weighs, beside a plain word's 1.

/// A word that carries little meaning of its own, such as "take" or "system".
pub(super) const LIGHT: f64 = 0.35;
/// The number word "one", which is as often an article.
pub(super) const ONE: f64 = 0.25;
/// A number: the point is often the number.
pub(super) const NUMBER: f64 = 1.2;
/// A term of several words, to its heaviest word.
pub(super) const TERM: f64 = 1.3;
/// A word of the question, since an answer need not repeat it.
pub(super) const ASKED: f64 = 0.45;
/// A word that another point of the card has too: it does not tell the two apart.
pub(super) const SHARED: f64 = 0.65;
/// The least that a word of a short phrase weighs: "turning gear in" is nothing without "in".
pub(super) const SHORT_PHRASE: f64 = 0.9;

// From which weight on a unit counts as what.

/// A unit of weight: an own word of the question's falls just below.
pub(super) const HEAVY: f64 = 0.5;
/// A unit that says what is spoken of: above a light word, below a heavy one, so that the question's words count.
pub(super) const TOPICAL: f64 = 0.4;
/// A unit beside which an opposite turns the sense: a light word will do, one that the question has will not.
pub(super) const COMPANION: f64 = 0.3;

// What a window of the answer is worth.

/// For each further clause that it stretches over.
pub(super) const FURTHER_CLAUSE: f64 = 0.97;
/// For each mark between the words of a phrase of two: it must stand between two marks.
pub(super) const FURTHER_MARK: f64 = 0.92;
/// For what runs on into the next sentence.
pub(super) const NEXT_SENTENCE: f64 = 0.75;
/// For the rest of a short phrase without the word that carries it.
pub(super) const WITHOUT_CORE: f64 = 0.8;
/// For a phrase without the condition that it waits for.
pub(super) const WITHOUT_CONDITION: f64 = 0.95;
/// How much a meeting by the same meaning is chosen before one by an opposite, of two for one unit.
pub(super) const SAME_FIRST: f64 = 0.2;
/// How much a meeting loses against another one for each clause that it lies further on.
pub(super) const CLAUSE_ON: f64 = 0.05;
/// An order that the answer states in its own way stands for "before" where less than this weight is missing beside it.
pub(super) const ORDER_STATED: f64 = 0.36;
/// An opposite says all of a phrase where less than this weight is left beside it.
pub(super) const SAYS_ALL: f64 = 0.4;
/// What a phrase waits for is met from this share of it on.
pub(super) const CONDITION: f64 = 0.5;

// How much of a phrase must stand in the answer, as a share of its weight.

/// A window is looked at from here on.
pub(super) const FLOOR: f64 = 0.30;
/// The point's own sentence, which is long and says more than an answer must.
pub(super) const SAY: f64 = 0.50;
/// An accepted phrase, which is short.
pub(super) const ACCEPT: f64 = 0.60;
/// A phrase that denies the point: nearly in full, since its words are often those of the point.
pub(super) const REJECT: f64 = 0.84;
/// A phrase of one unit of weight, at least.
pub(super) const OF_ONE: f64 = 0.8;
/// A phrase of two units of weight, at least.
pub(super) const OF_TWO: f64 = 0.64;
/// A phrase of three units of weight, at least.
pub(super) const OF_THREE: f64 = 0.57;
/// A short phrase stands entire, however little its words weigh.
pub(super) const ENTIRE: f64 = 0.9;
/// A phrase that a denial reaches, to count as denied.
pub(super) const DENIED: f64 = 0.72;
/// A part of the point's sentence that is denied or said in full against it.
pub(super) const WHOLE: f64 = 0.84;
/// What comes first and what comes later, each, where their order is turned.
pub(super) const SIDE: f64 = 0.25;
/// What is left beside an opposite.
pub(super) const REST_OPPOSED: f64 = 0.66;
/// What is left beside another number, where a second point has a number of the kind.
pub(super) const REST_VALUE: f64 = 0.5;
/// What is left beside another number, where no other point has a number of the kind.
pub(super) const REST_OWN_KIND: f64 = 0.3;
/// The weight that is left beside an opposite, at least: more than one word of the question.
pub(super) const REST_WEIGHT: f64 = 0.55;
/// The weight that is left beside another number, at least: a word of the question will do.
pub(super) const REST_WEIGHT_VALUE: f64 = 0.45;
/// What is dispensed with must hold this much of a phrase.
pub(super) const NAMED: f64 = 0.45;

// Which of two readings holds.

/// What a reading loses for each further clause, when two are compared.
pub(super) const LOOSER: f64 = 0.05;
/// A contradiction in other words than those that say the point holds from so much below them on.
pub(super) const APART: f64 = 0.1;
/// A contradiction that is not plain must fit by so much better than what says the point.
pub(super) const NOT_PLAIN: f64 = 0.02;
/// Shares that are no further apart are equal: far below any of the above, far above rounding.
pub(super) const EQUAL: f64 = 1e-9;

#[cfg(test)]
mod tests {
    /// The name and the value, as written, of every number in this file.
    fn numbers() -> Vec<(&'static str, &'static str)> {
        let text = include_str!("thresholds.rs");
        let number = |line: &'static str| {
            let (name, value) = line.strip_prefix("pub(super) const ")?.split_once(": f64 = ")?;
            Some((name, value.trim_end_matches(';')))
        };
        text.lines().filter_map(number).collect()
    }

    #[test]
    fn the_page_on_the_matcher_lists_every_number() {
        let page = include_str!("../../../../docs/marking-text.md");
        let missing: Vec<_> =
            numbers().into_iter().filter(|(name, value)| !page.contains(&format!("| `{name}` | {value} |"))).collect();
        assert!(missing.is_empty(), "docs/marking-text.md lacks {missing:?}");
        let is_number = |line: &&str| line.split('|').nth(2).is_some_and(|cell| cell.trim().parse::<f64>().is_ok());
        let rows = page.lines().filter(is_number).count();
        assert_eq!(rows, numbers().len(), "the page lists a number that is gone");
    }
}
