//! Whether matched words make the claim that they are taken for: a rejected claim that hangs together, an order that is
//! the phrase's own, a topic that is not narrowed or put off.

use super::against::{AROUND, Located, behind, verbal};
use super::cluster::Cluster;
use super::hits::Met;
use super::index::Text;
use super::phrase::Phrase;
use super::thresholds::{LOOSE, TOPICAL};
use super::token::{Role, Token};
use super::vocabulary::{is_stop, vocabulary};

/// Whether the words of a phrase that denies hang together as its claim: "sea water is acid" is not claimed by "the
/// sea water's alkalinity neutralises the acid".
pub(super) fn claimed(text: &Text, phrase: &Phrase, cluster: &Cluster) -> bool {
    let (Some(&first), Some(&last)) = (cluster.used.first(), cluster.used.last()) else { return false };
    let open = |i: &usize| {
        let token = &text.tokens[*i];
        !cluster.used.contains(i) && token.role == Role::Content && token.stem != "mean"
    };
    let foreign = (first..=last).filter(open).count();
    let named = |s: &String| !is_stop(s);
    let says_what = phrase.stems.windows(2).any(|two| named(&two[0]) && vocabulary().copulas.contains(two[1].as_str()));
    if !says_what {
        // "The shaft is lifted by the eyebolts" is no lifting by the shaft.
        let passive = !cluster.words.straight && (first..last).any(|i| text.tokens[i].word == "by");
        return foreign < phrase.things.max(FOREIGN) && !passive || phrase.puts_in_order();
    }
    let linked = |i: usize| !vocabulary().links.contains(text.tokens[i].word.as_str()) || cluster.used.contains(&i);
    let adjacent = last + 1 - first == cluster.used.len();
    let small = |i: &usize| matches!(text.tokens[*i].word.as_str(), "the" | "a" | "an" | "this" | "that");
    let subject = (0..first).rev().find(|i| !small(i)).is_none_or(linked);
    foreign <= phrase.things.saturating_sub(2)
        && subject
        && (first..=last).all(linked)
        && (cluster.words.straight || adjacent)
}

/// Fewer words of weight than this may stand inside a phrase that denies, or fewer than the things it names.
const FOREIGN: usize = 3;

/// "Stop the discharge", "standing there is dangerous": what denies the point is ended or warned of, not done.
pub(super) fn withdrawn(text: &Text, cluster: &Cluster) -> bool {
    let first = *cluster.tokens.start();
    let here = |t: &Token| t.reach == text.tokens[first].reach && t.sentence == text.tokens[first].sentence;
    let near = text.tokens[first.saturating_sub(2)..first].iter().rev();
    let ended = near.take_while(|t| here(t)).any(|t| matches!(t.stem.as_str(), "stop" | "ceas" | "end" | "halt"));
    let last = *cluster.tokens.end();
    let mut next = behind(text, last, 4).map(|i| &text.tokens[i]).skip_while(|t| t.role == Role::Stop);
    ended
        || next
            .next()
            .is_some_and(|t| matches!(t.stem.as_str(), "danger" | "unsaf" | "wrong" | "mistak" | "riski" | "deadli"))
}

/// Whether the answer does what a phrase names only after what the point's own sentence puts later: "flush the system"
/// where the point wants it before the boundary, in "we cross the boundary, then flush the system".
pub(super) fn misordered(text: &Text, ordered: &[Located], phrase: &Phrase, cluster: &Cluster) -> bool {
    if phrase.has_order() {
        return false;
    }
    let (Some(&first), Some(&last)) = (cluster.used.first(), cluster.used.last()) else { return false };
    let sentence = text.tokens[first].sentence;
    if text.tokens[first.saturating_sub(AROUND)..text.tokens.len().min(last + AROUND)]
        .iter()
        .any(|t| t.role == Role::Denial && t.sentence == sentence)
    {
        return false;
    }
    // Words that meet only what comes first, or only what comes later.
    let (mut early, mut late): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
    for placed in ordered {
        let from = placed.phrase.units.iter().map(|u| u.rank).min().unwrap_or(0);
        for h in placed.between(first.saturating_sub(WIDE), last + WIDE) {
            let unit = &placed.phrase.units[h.unit];
            let thing =
                h.met == Met::Same && unit.weight >= TOPICAL && !vocabulary().order.contains(unit.word.as_str());
            if thing && text.tokens[h.start].sentence == sentence && (h.quality > LOOSE || unit.rank == from) {
                (if unit.rank > from { &mut late } else { &mut early }).push(h.start);
            }
        }
    }
    let both: Vec<usize> = late.iter().copied().filter(|t| early.contains(t)).collect();
    early.retain(|t| !both.contains(t));
    late.retain(|t| !both.contains(t));
    let inside = |side: &[usize]| side.iter().copied().filter(|t| cluster.used.contains(t)).collect::<Vec<_>>();
    let place = |t: &usize| text.placed[*t];
    match (inside(&early).as_slice(), inside(&late).as_slice()) {
        (own @ [_, ..], []) => {
            let from = own.iter().map(place).min().unwrap_or(0);
            late.iter().any(|t| place(t) < from) && !late.iter().any(|t| place(t) > from)
        }
        ([], own @ [_, ..]) => {
            let to = own.iter().map(place).max().unwrap_or(0);
            early.iter().any(|t| place(t) > to) && !early.iter().any(|t| place(t) < to)
        }
        _ => false,
    }
}

/// How far around a phrase the other side of its order is looked for, in tokens.
const WIDE: usize = 12;

/// Whether the answer denies of the matched words the very word that the point's own sentence denies: "I would never
/// cut on safety gear" where safety is not cut.
pub(super) fn denies_too(text: &Text, say: &Located, cluster: &Cluster) -> bool {
    let (Some(&first), Some(&last)) = (cluster.used.first(), cluster.used.last()) else { return false };
    let reach = text.tokens[first].reach;
    let from = first.saturating_sub(AROUND);
    let denied = (from..text.tokens.len().min(last + AROUND))
        .find(|i| text.tokens[*i].role == Role::Denial && text.tokens[*i].reach == reach && !cluster.used.contains(i));
    let Some(denial) = denied else { return false };
    say.phrase.denials.iter().flat_map(|d| &d.units).any(|unit| {
        say.phrase.units[*unit].weight >= TOPICAL
            && say.between(from, last + AROUND).iter().any(|h| {
                h.unit == *unit
                    && h.met == Met::Same
                    && h.start > denial
                    && text.tokens[h.start].reach == reach
                    && !cluster.used.contains(&h.start)
            })
    })
}

/// Whether the clause around a bare topic narrows it, puts it off or denies something of it that the point's own
/// sentence does not: "only the strainer", "the strainer is left", "starting and stopping is not entered". It is then
/// not said, nor plainly denied.
pub(super) fn doubtful(text: &Text, say: &[Located], phrase: &Phrase, cluster: &Cluster) -> bool {
    let plain = phrase.denials.is_empty() && say.iter().all(|s| s.phrase.denials.is_empty());
    if phrase.things > TOPIC || !plain || phrase.puts_in_order() {
        return false;
    }
    let (Some(&first), Some(&last)) = (cluster.used.first(), cluster.used.last()) else { return false };
    let known = |stem: &str| say.iter().map(|s| s.phrase).chain([phrase]).any(|p| p.stems.iter().any(|s| s == stem));
    let words = vocabulary();
    let ordered = say.iter().any(|s| s.phrase.has_order());
    let here = |i: &usize| {
        let (token, own) = (&text.tokens[*i], &text.tokens[first]);
        token.clause == own.clause && token.sentence == own.sentence && !cluster.used.contains(i)
    };
    let clause: Vec<usize> =
        (first.saturating_sub(CLAUSE)..text.tokens.len().min(last + 1 + CLAUSE)).filter(here).collect();
    let denials = clause.iter().filter(|i| text.tokens[**i].role == Role::Denial).count();
    let word = |i: usize| text.tokens.get(i).map_or("", |t| t.word.as_str());
    let narrowed = clause.iter().any(|&i| {
        let token = &text.tokens[i];
        let quiet = token.role == Role::Quiet || i > 0 && text.tokens[i - 1].role == Role::Quiet;
        !known(&token.stem)
            && !quiet
            && match word(i) {
                // "Only with the master's order" asks for it.
                "only" => !ordered && !matches!(word(i + 1), "with" | "one" | "by"),
                "never" if denials > 1 => false,
                "left" | "leave" | "stays" if word(i + 1) == "open" || clause.iter().any(|o| word(*o) == "open") => {
                    false
                }
                word => {
                    phrase.things < TOPIC
                        && (words.put_off.contains(word)
                            || words.left.contains(word) && !words.staying_stems.iter().any(|s| known(s)))
                }
            }
    });
    let denied = || {
        behind(text, last, AROUND).any(|i| text.tokens[i].role == Role::Denial && verbal(text, i) && !text.in_term(i))
    };
    narrowed || phrase.things < TOPIC && denied()
}

/// A phrase that names more things than these is a claim, no topic.
const TOPIC: usize = 4;
/// How far the clause of a topic is read, in tokens.
const CLAUSE: usize = 8;
