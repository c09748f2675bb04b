//! Words with which a learner says that they do not know. They, and what they are said of, make no point.

use super::token::{Role, Token};
use super::vocabulary::vocabulary;

/// Takes out of an answer what the learner says not to know: "I do not know the emergency generator".
pub(super) fn leave_out(tokens: &mut Vec<Token>) {
    let words = vocabulary();
    let filler = |t: &Token| words.fillers.contains(t.word.as_str());
    let heavy: Vec<&str> =
        tokens.iter().filter(|t| !filler(t) || t.role == Role::Denial).map(|t| t.word.as_str()).collect();
    if words.given_up.contains(heavy.join(" ").as_str()) {
        tokens.clear();
        return;
    }
    let mut out = vec![false; tokens.len()];
    for at in 0..tokens.len() {
        let Some(length) = says_so(tokens, at) else { continue };
        let same = |t: &Token| t.part == tokens[at].part && t.sentence == tokens[at].sentence;
        let from = (0..at).rev().take_while(|i| same(&tokens[*i])).last().unwrap_or(at);
        let before = &tokens[from..at];
        let end = at + (tokens[at..].iter().take_while(|t| same(t)).count());
        let goes_on = tokens
            .get(at + length)
            .is_some_and(|t| same(t) && matches!(t.word.as_str(), "until" | "till" | "before" | "if"));
        let own =
            before.iter().all(filler) || before.last().is_some_and(|t| matches!(t.word.as_str(), "i" | "im" | "am"));
        if goes_on || !own || before.iter().any(|t| words.conditions.contains(t.word.as_str())) {
            continue;
        }
        let start = before.iter().rposition(|t| !filler(t)).map_or(from, |p| from + p + 1);
        let stop = (at + length..end).find(|i| words.again.contains(tokens[*i].word.as_str())).unwrap_or(end);
        out[start..stop].fill(true);
    }
    let mut kept = out.iter();
    tokens.retain(|_| !kept.next().copied().unwrap_or(false));
}

/// Whether such words begin at `at`, and how many they are.
fn says_so(tokens: &[Token], at: usize) -> Option<usize> {
    let word = |n: usize| tokens.get(at + n).map_or("", |t| t.word.as_str());
    let knows = |w: &str| matches!(w, "know" | "remember" | "recall");
    let denied = |n: usize| tokens.get(at + n).is_some_and(|t| t.role == Role::Denial);
    match word(0) {
        "do" | "did" | "can" | "could" if word(1) == "not" && knows(word(2)) => Some(3),
        "dont" | "didnt" | "cannot" | "cant" | "couldnt" if knows(word(1)) => Some(2),
        "not" | "no" if denied(0) && knows(word(1)) => Some(2),
        "no" if matches!(word(1), "idea" | "clue") => Some(2),
        "not" if matches!(word(1), "sure" | "certain") => Some(2),
        "not"
            if matches!(word(1), "so" | "very" | "really" | "quite" | "totally")
                && matches!(word(2), "sure" | "certain") =>
        {
            Some(3)
        }
        "unsure" | "dunno" | "idk" => Some(1),
        "forgot" | "forgotten" if at > 0 && matches!(tokens[at - 1].word.as_str(), "i" | "have") => Some(1),
        _ => None,
    }
}
