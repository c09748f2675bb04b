//! Plain British English, made in one place: numbers in words, lists, sentences.

/// The number words from zero to nineteen.
pub const ONES: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
/// The tens from twenty to ninety.
pub const TENS: [&str; 8] = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// Counts up to this are written in words by [`in_words`], greater ones in digits.
const MOST_IN_WORDS: usize = 12;

/// A whole number in words up to ninety-nine, such as `zero`, `six` or `forty-one`; none from 100 on.
pub fn cardinal(number: usize) -> Option<String> {
    match number {
        0..=19 => Some(ONES[number].to_owned()),
        20..=99 if number.is_multiple_of(10) => Some(TENS[number / 10 - 2].to_owned()),
        20..=99 => Some(format!("{}-{}", TENS[number / 10 - 2], ONES[number % 10])),
        _ => None,
    }
}

/// The whole number that one word names, such as 7 for `seven` and 40 for `forty`; none for a word that names none.
pub fn named(word: &str) -> Option<usize> {
    let ones = || ONES.iter().position(|one| *one == word);
    ones().or_else(|| TENS.iter().position(|ten| *ten == word).map(|at| (at + 2) * 10))
}

/// A count in a sentence: `none`, in words to twelve, in digits from there on.
pub fn in_words(count: usize) -> String {
    match count {
        0 => "none".to_owned(),
        1..=MOST_IN_WORDS => ONES[count].to_owned(),
        _ => count.to_string(),
    }
}

/// A text with its first letter as a capital; a sign such as `pH` or `kW` stays as it is.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    let Some(first) = chars.next() else { return String::new() };
    if first.is_lowercase() && chars.clone().next().is_some_and(char::is_uppercase) {
        return text.to_owned();
    }
    first.to_uppercase().chain(chars).collect()
}

/// A text as a sentence: a capital at the start, one full stop at the end unless it asks or exclaims.
pub fn sentence(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['?', '!']) { capital(text) } else { format!("{}.", capital(text.trim_end_matches('.'))) }
}

/// Names as a list: `A`, `A and B`, `A, B and C`.
pub fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [others @ .., last] => format!("{} and {last}", others.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_number_word_names_its_number() {
        for number in (0..20).chain((20..100).step_by(10)) {
            assert_eq!(cardinal(number).as_deref().and_then(named), Some(number));
        }
        assert_eq!(cardinal(41).as_deref(), Some("forty-one"));
        assert_eq!((cardinal(100), named("hundred")), (None, None));
        assert_eq!([0, 1, 12, 13].map(in_words), ["none", "one", "twelve", "13"]);
    }
}
