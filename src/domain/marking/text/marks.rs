//! What small words do to what stands beside them: denials that deny nothing, bounds on numbers, "in" that means
//! something.

use super::token::{Bound, Role, Token};
use super::vocabulary::{is_denial, vocabulary};
use super::words::stem;

/// "By-pass" and "by pass" are one word.
pub(super) fn join_bypass(tokens: &mut Vec<Token>) {
    let mut at = 0;
    while at + 1 < tokens.len() {
        let next = &tokens[at + 1];
        if tokens[at].word == "by" && next.word.starts_with("pass") && next.span.start == tokens[at].span.end + 1 {
            let word = format!("by{}", next.word);
            let end = next.span.end;
            tokens.remove(at + 1);
            tokens[at].stem = stem(&word);
            tokens[at].word = word;
            tokens[at].role = Role::Content;
            tokens[at].span.end = end;
        }
        at += 1;
    }
}

/// "Turning gear in": at the end of a clause "in" carries the meaning.
pub(super) fn keep_particles(tokens: &mut [Token]) {
    for at in 0..tokens.len() {
        let last =
            tokens.get(at + 1).is_none_or(|n| n.clause != tokens[at].clause || n.sentence != tokens[at].sentence);
        if tokens[at].word == "in" && last {
            tokens[at].role = Role::Content;
        }
    }
}

/// Makes denials quiet that deny nothing: "not more than", "not only", "do not forget", "no. 3", "no doubt".
pub(super) fn quieten(tokens: &mut [Token]) {
    for at in 0..tokens.len() {
        if tokens[at].role != Role::Denial {
            continue;
        }
        let next = |n: usize| tokens.get(at + n).map_or("", |t| t.word.as_str());
        // "No entry without a permit" wants the permit.
        let lifted = (1..=6).find(|n| {
            tokens
                .get(at + n)
                .is_some_and(|t| t.word == "without" && t.reach == tokens[at].reach && t.role == Role::Denial)
        });
        if let Some(n) = lifted.filter(|_| tokens[at].word != "without") {
            tokens[at].role = Role::Quiet;
            tokens[at + n].role = Role::Quiet;
            continue;
        }
        let compared = matches!(
            next(1),
            "more"
                | "less"
                | "over"
                | "above"
                | "below"
                | "under"
                | "exceeding"
                | "exceed"
                | "later"
                | "earlier"
                | "greater"
                | "lower"
                | "higher"
        );
        // "not over 15 ppm" is a bound; "not above" beside no number is a denial of "above".
        let number_near = (1..=4).any(|n| tokens.get(at + n).is_some_and(|t| t.value.is_some()));
        let bound = compared && (next(2) == "than" || number_near);
        let fall = matches!(next(1), "fall" | "go" | "drop" | "get" | "be")
            && matches!(next(2), "below" | "under" | "less" | "over" | "above" | "more");
        let forget = matches!(next(1), "forget" | "only" | "just" | "doubt" | "problem" | "fail" | "matter")
            || (next(1) == "to" && next(2) == "forget")
            || (tokens[at].word == "without" && matches!(next(1), "fail" | "recharging" | "recharge" | "refilling"));
        let number = tokens[at].word == "no"
            && tokens.get(at + 1).is_some_and(|t| t.value.is_some() && t.span.start <= tokens[at].span.end + 2);
        let condition = tokens[at].word == "no" && at > 0 && tokens[at - 1].word == "if";
        if bound || (fall && number_near) || forget || number || condition {
            tokens[at].role = Role::Quiet;
        }
    }
}

/// Finds the bounds that stand beside numbers: "at least 1", "max 15 ppm", "20 min minimum".
pub(super) fn bound_values(tokens: &mut [Token]) {
    for at in 0..tokens.len() {
        if tokens[at].value.is_none() {
            continue;
        }
        let from = at.saturating_sub(5);
        let before: Vec<&str> = tokens[from..at]
            .iter()
            .filter(|t| t.part == tokens[at].part && t.sentence == tokens[at].sentence)
            .map(|t| t.word.as_str())
            .collect();
        let after: Vec<&str> = tokens[at + 1..]
            .iter()
            .take(2)
            .filter(|t| t.clause == tokens[at].clause)
            .map(|t| t.word.as_str())
            .collect();
        let bound = bound_before(&before).or_else(|| bound_after(&after));
        if let Some(value) = tokens[at].value.as_mut() {
            value.bound = bound;
        }
        // The bound is in the number now; its word stands for nothing else.
        for near in at.saturating_sub(2)..at {
            if bound.is_some()
                && vocabulary().bounds.contains(tokens[near].word.as_str())
                && tokens[near].part == tokens[at].part
            {
                tokens[near].role = Role::Stop;
            }
        }
    }
}

fn bound_before(words: &[&str]) -> Option<Bound> {
    use Bound::{AtLeast, AtMost};
    let denied = words.iter().any(|w| is_denial(w));
    let flip = |b: Bound| match (denied, b) {
        (false, b) => b,
        (true, AtLeast) => AtMost,
        (true, AtMost) => AtLeast,
    };
    for word in words.iter().rev() {
        match *word {
            "least" | "minimum" | "min" => return Some(AtLeast),
            "most" | "max" | "maximum" | "within" => return Some(AtMost),
            "more" | "over" | "above" | "exceeding" | "exceed" | "exceeds" | "greater" | "higher" | "earlier" => {
                return Some(flip(AtLeast));
            }
            "less" | "under" | "below" | "lower" | "later" => return Some(flip(AtMost)),
            _ => {}
        }
    }
    None
}

fn bound_after(words: &[&str]) -> Option<Bound> {
    match words {
        ["max" | "maximum", ..] | ["or", "less"] | ["at", "most"] => Some(Bound::AtMost),
        ["minimum", ..] | ["or", "more" | "better" | "higher"] | ["at", "least"] => Some(Bound::AtLeast),
        _ => None,
    }
}
