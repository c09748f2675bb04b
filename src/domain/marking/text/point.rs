//! Decides of each point whether it is said or contradicted, from the windows in which its phrases were found.

use std::cell::RefCell;
use std::collections::HashSet;
use std::ops::Range;
use std::rc::Rc;

use serde::Serialize;

use super::against::{Located, dispensed, in_context, turned};
use super::claims::{claimed, denies_too, doubtful, misordered, withdrawn};
use super::cluster::{Cluster, clusters, verbatim};
use super::index::Text;
use super::phrase::Phrase;
use super::sense::Sense;
use super::thresholds::{
    ACCEPT, APART, ASKED, DENIED, ENTIRE, EQUAL, FLOOR, LOOSER, NOT_PLAIN, OF_ONE, OF_THREE, OF_TWO, REJECT,
    REST_OPPOSED, REST_OWN_KIND, REST_VALUE, REST_WEIGHT, REST_WEIGHT_VALUE, SAY, SHARED, SIDE, WHOLE,
};
use super::token::Role;
use crate::domain::key_point::KeyPoint;
use crate::domain::quantity::Dimension;

/// What was found of one point in an answer.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// The answer makes the point.
    pub said: bool,
    /// The answer denies it, turns it round or gives another value.
    pub contradicted: bool,
    /// Where the answer makes or contradicts it, in bytes.
    pub evidence: Option<Range<usize>>,
}

/// A card's points made ready to be looked for: what costs most of a first answer, and is the same for the next one.
struct Prepared {
    ask: String,
    points: Vec<KeyPoint>,
    /// Stems of the question.
    asked: HashSet<String>,
    /// Each point's phrases, in order.
    phrases: Vec<Point>,
}

impl Prepared {
    fn new(ask: &str, points: &[KeyPoint]) -> Self {
        let asked = Phrase::stems(ask);
        let shared = shared_stems(points);
        let weigh = |stem: &str| weigh(stem, &asked, &shared);
        let phrases = points.iter().map(|p| prepare(p, &weigh)).collect();
        Self { ask: ask.to_owned(), points: points.to_vec(), asked, phrases }
    }

    /// Of the card, as this thread has it from the answer before, or anew.
    fn of(ask: &str, points: &[KeyPoint]) -> Rc<Self> {
        LAST.with_borrow_mut(|last| match last {
            Some(kept) if kept.ask == ask && kept.points == points => Rc::clone(kept),
            _ => Rc::clone(last.insert(Rc::new(Self::new(ask, points)))),
        })
    }
}

thread_local! {
    static LAST: RefCell<Option<Rc<Prepared>>> = const { RefCell::new(None) };
}

struct Point {
    say: Vec<Phrase>,
    accept: Vec<Phrase>,
    reject: Vec<Phrase>,
    /// Parts of the sentence, which only speak against it.
    parts: Vec<Phrase>,
}

/// The best evidence for and against one point.
#[derive(Default)]
struct Evidence {
    affirms: Option<(f64, Cluster)>,
    denies: Option<(f64, Cluster, bool)>,
}

/// Looks for every point of a card in a typed answer. `ask` is the card's question, whose words an answer need not
/// repeat.
pub fn find(ask: &str, points: &[KeyPoint], answer: &str) -> Vec<Finding> {
    let text = Text::answer(answer);
    let prepared = Prepared::of(ask, points);
    let Prepared { asked, phrases, .. } = &*prepared;
    let evidence: Vec<Evidence> =
        (0..points.len()).map(|at| look(&text, &phrases[at], asked, own_kind(phrases, at))).collect();
    (0..points.len()).map(|at| conclude(&text, &evidence, at)).collect()
}

/// What a word counts for on a card, by its stem: less where the question has it, and where several points do.
pub(super) fn weigh(stem: &str, asked: &HashSet<String>, shared: &HashSet<String>) -> f64 {
    let asked = if asked.contains(stem) { ASKED } else { 1.0 };
    let common = if shared.contains(stem) { SHARED } else { 1.0 };
    asked * common
}

/// Whether words only repeat the question: what near-fits make of them is no answer. Word for word they may be one.
fn repeats(text: &Text, asked: &HashSet<String>, cluster: &Cluster) -> bool {
    let own_words = cluster.words.whole && cluster.used.len() > 1 && !foreign_inside(text, cluster);
    !cluster.words.verbatim
        && !own_words
        && !cluster.words.valued
        && cluster.used.iter().all(|t| asked.contains(&text.tokens[*t].stem))
}

/// Whether other words of weight stand among the matched ones.
fn foreign_inside(text: &Text, cluster: &Cluster) -> bool {
    cluster.tokens.clone().any(|t| !cluster.used.contains(&t) && text.tokens[t].role == Role::Content)
}

/// Stems that stand in more than one point.
fn shared_stems(points: &[KeyPoint]) -> HashSet<String> {
    let (mut seen, mut shared) = (HashSet::new(), HashSet::new());
    for point in points {
        let mut own = HashSet::new();
        for phrase in std::iter::once(&point.say).chain(&point.accept) {
            own.extend(Phrase::stems(phrase));
        }
        for stem in own {
            if !seen.insert(stem.clone()) {
                shared.insert(stem);
            }
        }
    }
    shared
}

fn prepare(point: &KeyPoint, weigh: &dyn Fn(&str) -> f64) -> Point {
    let all = |list: &[String]| list.iter().flat_map(|p| Phrase::prepare(p, weigh)).collect();
    Point {
        say: Phrase::prepare(&point.say, weigh),
        accept: all(&point.accept),
        reject: all(&point.reject),
        parts: Phrase::parts(&point.say, weigh),
    }
}

/// Whether no other point has a number of the kind that this point has: another such number can only be meant for it.
fn own_kind(points: &[Point], at: usize) -> bool {
    let others: Vec<Dimension> =
        points.iter().enumerate().filter(|(o, _)| *o != at).flat_map(|(_, p)| kinds(p)).collect();
    kinds(&points[at]).iter().all(|kind| !others.contains(kind))
}

fn kinds(point: &Point) -> Vec<Dimension> {
    let phrases = point.say.iter().chain(&point.accept);
    let units = phrases.flat_map(|p| &p.units).filter_map(|u| u.value.as_ref()?.unit.as_ref());
    units.map(|unit| unit.dimension).collect()
}

/// The best evidence in a text for and against one point.
fn look(text: &Text, point: &Point, asked: &HashSet<String>, own_kind: bool) -> Evidence {
    let mut evidence = Evidence::default();
    look_for_phrases(text, point, asked, own_kind, &mut evidence);
    look_for_turned_parts(text, point, &mut evidence);
    let own: Vec<&Phrase> = point.say.iter().chain(&point.accept).collect();
    if let Some(cluster) = dispensed(text, &own) {
        deny(&mut evidence, 1.0, cluster, true);
    }
    look_for_rejected(text, point, &mut evidence);
    evidence
}

/// The point's own sentence and its accepted phrases, said or turned round.
fn look_for_phrases(text: &Text, point: &Point, asked: &HashSet<String>, own_kind: bool, evidence: &mut Evidence) {
    let say: Vec<Located> = point.say.iter().map(|s| Located::new(text, s)).collect();
    let ordered: Vec<Located> = (point.say.iter().chain(&point.accept))
        .filter(|p| p.has_order() && p.denials.is_empty())
        .map(|p| Located::new(text, p))
        .collect();
    for (phrases, threshold) in [(&point.say, SAY), (&point.accept, ACCEPT)] {
        for phrase in phrases {
            let threshold = threshold_for(phrase, threshold);
            for mut cluster in verbatim(text, phrase).into_iter().chain(clusters(text, phrase, FLOOR)) {
                if cluster.sense == Sense::Denies && say.iter().any(|s| denies_too(text, s, &cluster)) {
                    cluster.sense = Sense::Affirms;
                }
                let affirms = cluster.sense == Sense::Affirms;
                let strength = cluster.share.coverage / threshold;
                if affirms
                    && strength >= 1.0
                    && (turned(text, &say, phrase, &cluster) || misordered(text, &ordered, phrase, &cluster))
                {
                    deny(evidence, strength, cluster, true);
                } else if affirms && doubtful(text, &say, phrase, &cluster) {
                    // Neither said nor denied.
                } else if !(is_thin(text, &say, phrase, &cluster) || affirms && repeats(text, asked, &cluster)) {
                    weigh_up(evidence, cluster, threshold, own_kind);
                }
            }
        }
    }
}

/// Whether one unit of weight is all there is to a phrase, and what is met of it does not stand alone.
fn is_thin(text: &Text, say: &[Located], phrase: &Phrase, cluster: &Cluster) -> bool {
    !cluster.words.verbatim
        && cluster.sense != Sense::Opposes
        && phrase.is_thin()
        && !(cluster.used.len() > 1 && cluster.share.coverage >= ENTIRE)
        && !stands_alone(text, say, phrase, cluster)
}

/// Parts of the point's sentence that are denied, opposed or turned round in order.
fn look_for_turned_parts(text: &Text, point: &Point, evidence: &mut Evidence) {
    for phrase in &point.parts {
        for cluster in clusters(text, phrase, FLOOR) {
            let turned = matches!(cluster.sense, Sense::Denies | Sense::Opposes | Sense::Reverses);
            let order = cluster.sense == Sense::Reverses;
            let least = if cluster.sense == Sense::Denies { WHOLE } else { REST_OPPOSED };
            let close = cluster.clauses == 1 || order && cluster.clauses <= 3;
            let share = cluster.share;
            let enough = share.rest >= least && share.rest_weight >= REST_WEIGHT || order && share.both_sides >= SIDE;
            if turned && close && enough && cluster.words.own_words >= 1 {
                deny(evidence, share.coverage, cluster, order);
            }
        }
    }
}

/// Phrases that deny the point.
fn look_for_rejected(text: &Text, point: &Point, evidence: &mut Evidence) {
    for phrase in &point.reject {
        if let Some(cluster) = verbatim(text, phrase).filter(|c| !withdrawn(text, c)) {
            deny(evidence, 1.0 / REJECT, cluster, true);
        }
        for cluster in clusters(text, phrase, FLOOR) {
            let ordered = cluster.ordered || !phrase.has_order();
            let close = cluster.clauses == 1 || (phrase.has_order() && cluster.clauses <= 3);
            if cluster.sense == Sense::Affirms
                && (cluster.words.close || cluster.words.own_words > 0)
                && cluster.share.coverage >= threshold_for(phrase, REJECT)
                && ordered
                && close
                && (cluster.used.len() > 1 || phrase.units.len() == 1)
                && claimed(text, phrase, &cluster)
                && !withdrawn(text, &cluster)
            {
                deny(evidence, cluster.share.coverage / REJECT, cluster, true);
            }
        }
    }
}

/// Whether one word is enough: the deck's own single word or one that means the same; else what it is about must
/// stand beside it.
fn stands_alone(text: &Text, say: &[Located], phrase: &Phrase, cluster: &Cluster) -> bool {
    (cluster.words.close && phrase.is_whole()) || say.iter().any(|say| in_context(text, say, phrase, cluster))
}

/// How much of a phrase must stand in the answer: short phrases must be there in full.
pub(super) fn threshold_for(phrase: &Phrase, base: f64) -> f64 {
    match phrase.heavy() {
        0 | 1 => base.max(OF_ONE),
        2 => base.max(OF_TWO),
        3 => base.max(OF_THREE),
        _ => base,
    }
}

fn weigh_up(evidence: &mut Evidence, cluster: Cluster, threshold: f64, own_kind: bool) {
    let rest_value = if own_kind { REST_OWN_KIND } else { REST_VALUE };
    let strength = cluster.share.coverage / threshold;
    match cluster.sense {
        Sense::Affirms if strength >= 1.0 => {
            let better = |old: &Cluster, before: f64| (cluster.words.verbatim, strength) > (old.words.verbatim, before);
            if evidence.affirms.as_ref().is_none_or(|(before, old)| better(old, *before)) {
                evidence.affirms = Some((strength, cluster));
            }
        }
        Sense::Reverses
            if strength >= 1.0 && cluster.words.heavy >= 2 && cluster.words.own_words >= 1 && cluster.clauses <= 3 =>
        {
            deny(evidence, strength, cluster, true)
        }
        Sense::Denies
            if strength >= 1.0
                && cluster.share.coverage >= DENIED
                && cluster.words.heavy >= 2
                && cluster.words.own_words >= 1
                && cluster.clauses <= 2 =>
        {
            deny(evidence, strength, cluster, true)
        }
        Sense::Opposes
            if (cluster.words.own_words >= 1 || cluster.clauses == 1 && cluster.share.rest >= WHOLE)
                && cluster.clauses <= 2
                && cluster.share.rest >= REST_OPPOSED
                && cluster.share.rest_weight >= REST_WEIGHT =>
        {
            deny(evidence, strength, cluster, false)
        }
        Sense::OtherValue
            if cluster.words.own_words >= 1
                && cluster.clauses <= 2
                && cluster.share.rest >= rest_value
                && cluster.share.rest_weight >= REST_WEIGHT_VALUE =>
        {
            deny(evidence, strength, cluster, false)
        }
        _ => {}
    }
}

fn deny(evidence: &mut Evidence, strength: f64, cluster: Cluster, plain: bool) {
    let rank = |plain: bool, cluster: &Cluster, strength: f64| (plain, cluster.words.verbatim, strength);
    let better = evidence
        .denies
        .as_ref()
        .is_none_or(|(old, kept, was)| rank(plain, &cluster, strength) > rank(*was, kept, *old));
    if better {
        evidence.denies = Some((strength, cluster, plain));
    }
}

fn conclude(text: &Text, evidence: &[Evidence], at: usize) -> Finding {
    let own = &evidence[at];
    let denied = own.denies.as_ref().filter(|(_, cluster, plain)| !explained(evidence, at, cluster, *plain));
    match (&own.affirms, denied) {
        (Some((_, said)), Some((_, against, plain))) => {
            let apart = !against.used.iter().any(|t| said.used.contains(t));
            let (pro, contra) = (close_fit(said), close_fit(against));
            let valued = against.sense == Sense::OtherValue && !said.words.valued && !apart;
            let wins = match (apart, plain) {
                (true, plain) => *plain && contra + APART > pro,
                (false, true) => valued || beats(said, against) || (against.sense == Sense::Reverses && !said.ordered),
                (false, false) => valued || (contra > pro + NOT_PLAIN && against.clauses == 1),
            };
            let wins = wins && !said.conditional;
            if wins && !corrected(text, said, against) { contradicted(text, against) } else { said_at(text, said) }
        }
        (Some((_, said)), None) => said_at(text, said),
        (None, Some((_, against, _))) => contradicted(text, against),
        (None, None) => Finding::default(),
    }
}

/// Of two readings of the same words the one that fits more closely holds, or that takes in more of them.
fn beats(said: &Cluster, against: &Cluster) -> bool {
    let (pro, contra) = (close_fit(said), close_fit(against));
    if said.words.verbatim != against.words.verbatim {
        return against.words.verbatim && against.used.len() >= said.used.len() || !said.words.verbatim && contra > pro;
    }
    if (pro - contra).abs() <= EQUAL { against.used.len() > said.used.len() } else { contra > pro }
}

/// How well and how closely a phrase was met.
fn close_fit(cluster: &Cluster) -> f64 {
    cluster.share.coverage - LOOSER * cluster.clauses.saturating_sub(1) as f64
}

/// Whether the words that oppose a point make another point. What plainly denies is explained only by words that
/// make the other point as well as they deny this one.
fn explained(evidence: &[Evidence], at: usize, against: &Cluster, plain: bool) -> bool {
    let others = evidence.iter().enumerate().filter(|(other, _)| *other != at).filter_map(|(_, e)| e.affirms.as_ref());
    others.into_iter().any(|(_, said)| {
        let shared = against.used.iter().filter(|t| said.used.contains(t)).count();
        if plain {
            shared == against.used.len()
                && close_fit(said) + EQUAL >= close_fit(against)
                && said.used.len() >= against.used.len()
        } else {
            2 * shared >= against.used.len()
        }
    })
}

/// Whether the answer takes back what denies the point before it says it.
fn corrected(text: &Text, said: &Cluster, against: &Cluster) -> bool {
    let (end, start) = (*against.tokens.end(), *said.tokens.start());
    end < start
        && text.tokens[end..=start].iter().any(|t| {
            matches!(
                t.word.as_str(),
                "sorry" | "correction" | "actually" | "wait" | "mean" | "rather" | "mistake" | "wrong"
            )
        })
}

fn said_at(text: &Text, cluster: &Cluster) -> Finding {
    Finding { said: true, contradicted: false, evidence: span(text, cluster) }
}

fn contradicted(text: &Text, cluster: &Cluster) -> Finding {
    Finding { said: false, contradicted: true, evidence: span(text, cluster) }
}

fn span(text: &Text, cluster: &Cluster) -> Option<Range<usize>> {
    let first = text.tokens.get(*cluster.tokens.start())?;
    let last = text.tokens.get(*cluster.tokens.end())?;
    Some(first.span.start..last.span.end)
}
