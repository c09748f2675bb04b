//! The order that a text states, in time or cause, and where its main clauses begin.

use super::token::{Role, Token};
use super::vocabulary::vocabulary;

/// The order that a text states: a greater number is later in time, or the effect of a cause.
pub(super) fn ranks(tokens: &[Token]) -> Vec<i32> {
    let mut rank = vec![0; tokens.len()];
    let mut at = 0;
    while at < tokens.len() {
        let sentence = tokens[at].sentence;
        let end = (at..tokens.len()).find(|i| tokens[*i].sentence != sentence).unwrap_or(tokens.len());
        rank_sentence(tokens, at, end, &mut rank);
        at = end;
    }
    rank
}

fn rank_sentence(tokens: &[Token], from: usize, end: usize, rank: &mut [i32]) {
    let mut current = 0;
    // What the next comma brings back, where a sentence begins with "before" or "after".
    let mut turn: Option<(usize, i32)> = None;
    let mut main = None;
    for at in from..end {
        let token = &tokens[at];
        if let Some((clause, value)) = turn
            && (token.clause != clause || main == Some(at))
        {
            current = value;
            turn = None;
        }
        let opening = at == from
            || tokens[at - 1].clause != token.clause && matches!(token.word.as_str(), "before" | "after" | "once");
        match token.word.as_str() {
            // "Only when it is shut do I open": what stands behind the turned verb comes later.
            "when" | "if" | "after" | "once"
                if at > from && tokens[at - 1].word == "only" && turned_verb(tokens, at, end).is_some() =>
            {
                main = turned_verb(tokens, at, end);
                turn = Some((token.clause, current + 1));
            }
            "after"
                if tokens.get(at + 1).is_some_and(|n| matches!(n.word.as_str(), "the" | "another" | "each"))
                    && turn_about(tokens, at) => {}
            "after" if tokens.get(at + 1).is_some_and(|n| matches!(n.word.as_str(), "that" | "this" | "which")) => {
                current += 1;
            }
            "next" if names_a_thing(tokens, from, at) => {}
            "then" | "afterwards" | "next" | "later" | "subsequently" | "therefore" | "thereafter" => current += 1,
            "before" | "prior" if opening && at == from => {
                main = main_clause(tokens, at, end);
                turn = Some((token.clause, current));
                current += 1;
            }
            // "Nobody enters before it is aired": airing comes first.
            "before" | "until" | "till" | "unless" if denied_earlier(tokens, from, at) => current -= 1,
            "when" | "if" if at > from && tokens[at - 1].word == "only" => current -= 1,
            "before" | "prior" | "until" | "till" | "causes" | "causing" => current += 1,
            "after" | "once" if opening && (at == from || tokens[at - 1].word == "and") => {
                main = main_clause(tokens, at, end);
                turn = Some((token.clause, current + 1));
            }
            "after" | "because" | "since" | "due" | "once" => current -= 1,
            _ => {}
        }
        rank[at] = current;
    }
}

/// How far behind "only when" the turned verb of the main clause may stand, in tokens.
const TURNED_WITHIN: usize = 16;

/// Where the main clause begins behind a fronted "only when": at its verb, which stands before its subject.
fn turned_verb(tokens: &[Token], at: usize, end: usize) -> Option<usize> {
    let turns =
        |i: &usize| matches!(tokens[*i].word.as_str(), "do" | "does" | "did" | "can" | "may" | "will" | "shall");
    (at + 2..end.min(at + TURNED_WITHIN)).filter(turns).find(|i| tokens.get(i + 1).is_some_and(is_who))
}

/// A pronoun that is a subject and nothing else.
fn is_who(token: &Token) -> bool {
    matches!(token.word.as_str(), "i" | "we" | "he" | "she" | "they")
}

/// Gives the main clause behind an opening "if" or "when" without a mark a clause and a reach of its own: in "if it
/// does not drop the steam side is choked" nothing is denied of the steam side.
pub(super) fn part_main_clauses(tokens: &mut [Token]) {
    let mut at = 0;
    while at < tokens.len() {
        let (part, sentence) = (tokens[at].part, tokens[at].sentence);
        let end = (at..tokens.len()).find(|i| tokens[*i].part != part || tokens[*i].sentence != sentence);
        let end = end.unwrap_or(tokens.len());
        if matches!(tokens[at].word.as_str(), "if" | "when" | "once" | "after" | "as")
            && let Some(main) = second_statement(tokens, at, end)
        {
            for token in &mut tokens[main..] {
                token.clause += 1;
                token.reach += 1;
            }
        }
        at = end;
    }
}

/// Where the second statement begins in a run of words that holds two: at the subject of its verb.
fn second_statement(tokens: &[Token], from: usize, end: usize) -> Option<usize> {
    let words = vocabulary();
    let word = |i: usize| tokens[i].word.as_str();
    if tokens[from..end].iter().any(|t| t.clause != tokens[from].clause) {
        return None;
    }
    let states = |i: usize| {
        words.finite.contains(word(i)) || matches!(word(i), "does" | "do" | "did") || tokens[i].role == Role::Denial
    };
    let joins = |i: usize| matches!(word(i), "that" | "which" | "who" | "what" | "where" | "how" | "as" | "than");
    // "If the man is not there I cut it": who acts says so himself.
    let who = (from + 3..end).find(|i| is_who(&tokens[*i]) && !joins(i - 1) && (from + 1..*i).any(states));
    if who.is_some() {
        return who;
    }
    (from + 4..end).filter(|i| words.finite.contains(word(*i))).find_map(|verb| {
        let subject = (from + 3..verb).rev().find(|i| words.subjects.contains(word(*i)))?;
        ((from + 1..subject).any(states) && tokens[subject - 1].role == Role::Content).then_some(subject)
    })
}

/// "The next tank", "next to it": no order in time. "Next I open it" begins its clause.
fn names_a_thing(tokens: &[Token], from: usize, at: usize) -> bool {
    let begins = at == from
        || tokens[at - 1].clause != tokens[at].clause
        || matches!(tokens[at - 1].word.as_str(), "and" | "then");
    !begins || tokens.get(at + 1).is_some_and(|n| n.word == "to")
}

/// Where the main clause begins in a sentence that opens with "after", "once" or "before" and has no mark: "after
/// opening the next tank close the full one", "once it is earthed I prove it dead".
fn main_clause(tokens: &[Token], from: usize, end: usize) -> Option<usize> {
    let first = tokens.get(from)?;
    let opens = matches!(first.word.as_str(), "after" | "once" | "before" | "when");
    let end = (from + 1..end).find(|i| tokens[*i].clause != first.clause).unwrap_or(end);
    let marked = tokens.get(end).is_some_and(|t| t.sentence == first.sentence && t.part != first.part);
    if !opens || marked || end - from < 5 {
        return None;
    }
    let word = |i: usize| tokens[i].word.as_str();
    let named =
        |i: usize| matches!(word(i), "the" | "a" | "an" | "of" | "to" | "its" | "is" | "are" | "and" | "have" | "has");
    let late = from + 3..end;
    let speaker = late.clone().find(|&i| matches!(word(i), "i" | "we" | "you" | "they") && !named(i - 1));
    let act = || {
        late.clone().find(|&i| {
            vocabulary().acts.contains(word(i)) && !named(i - 1) && !matches!(word(i - 1), "i" | "we" | "you" | "they")
        })
    };
    // The last "the" behind a word of weight: "after we have entered the area the system is flushed".
    let subject = || {
        late.clone().rev().find(|&i| {
            word(i) == "the" && tokens[i - 1].role == Role::Content && tokens[from..i].iter().any(|t| t.word == "the")
        })
    };
    speaker.or_else(act).or_else(subject)
}

/// Whether a denial stands before a word in the same run of words between marks.
fn denied_earlier(tokens: &[Token], from: usize, at: usize) -> bool {
    tokens[from.max(at.saturating_sub(9))..at].iter().any(|t| t.role == Role::Denial && t.part == tokens[at].part)
}

/// "One after the other", "after another": no order of two things.
fn turn_about(tokens: &[Token], at: usize) -> bool {
    let near = |n: usize| tokens.get(at + n).map_or("", |t| t.word.as_str());
    near(1) == "another" || near(2) == "other"
}

/// "Water cock first", "steam last", "the drain afterwards": the whole clause is moved.
pub(super) fn placed(tokens: &[Token], rank: &[i32]) -> Vec<i32> {
    let mut placed = rank.to_vec();
    for (at, token) in tokens.iter().enumerate() {
        // "First I shut both and open the drain": at the head it moves all up to the next mark.
        let heads = at == 0 || tokens[at - 1].part != token.part || tokens[at - 1].sentence != token.sentence;
        let here =
            |t: &Token| (t.clause == token.clause || heads && t.part == token.part) && t.sentence == token.sentence;
        let closing = tokens.get(at + 1).is_none_or(|next| !here(next));
        let shift = match token.word.as_str() {
            "first" | "firstly" => -1,
            "last" | "lastly" | "finally" => 1,
            "afterwards" | "later" | "after" | "subsequently" if closing => 1,
            _ => continue,
        };
        let from = tokens[..at].iter().rposition(|t| !here(t) || turns(t)).map_or(0, |p| p + 1);
        let end = tokens[at + 1..].iter().position(|t| !here(t) || turns(t)).map_or(tokens.len(), |p| at + 1 + p);
        for place in &mut placed[from..end] {
            *place += shift;
        }
    }
    placed
}

/// Words that carry on to what comes next.
fn turns(token: &Token) -> bool {
    matches!(token.word.as_str(), "then" | "afterwards" | "before" | "after" | "next" | "later")
}
