//! What every card has, whatever its kind.

use super::kind::DeckKind;
use super::{points, samples};
use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::competences;
use crate::deck::fields::{Context, Table, Text};
use crate::deck::problem::Collector;
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::card::{After, Card, Probe};
use crate::domain::ids::{CardKey, is_id};
use crate::domain::sample::Sample;

/// What every card may hold.
pub(crate) const FIELDS: [Field; 14] = [
    needed("id", Shape::Id, "lower-case letters, digits and hyphens; never used again for another card"),
    needed("topic", Shape::Topic, "a competence of the STCW Code"),
    optional("heading", Shape::Text, "your own section"),
    needed("ask", Shape::Text, "the question"),
    optional("because", Shape::Text, "the reason, shown after the answer"),
    optional("because_points", Shape::Tables(&points::FIELDS), "key points of the reason, where the oral asks for it"),
    optional("caution", Shape::Text, "where the work can hurt someone"),
    needed("sources", Shape::Texts, "names of the sources in deck.toml"),
    optional("picture", Shape::Text, "a file of the deck, such as pictures/pump.svg"),
    optional("seconds", Shape::Number, "the time that a good spoken answer takes"),
    optional("weight", Shape::Whole(1, Some(3)), "how much it matters: 1, 2 or 3"),
    optional("probes", Shape::Tables(&PROBE_FIELDS), "follow-up questions for the oral"),
    optional("samples", Shape::Samples, "answers, with what they must come to"),
    optional("was", Shape::Texts, "ids that the card had before, whose history it carries on"),
];
const KEYS: &[&str] = &keys(&FIELDS);
const PROBE_FIELDS: [Field; 3] = [
    needed("after", Shape::Text, "all, missed:2 or said:1"),
    needed("ask", Shape::Text, "the follow-up"),
    needed("points", Shape::Tables(&points::FIELDS), "what a full answer says"),
];
const PROBE_KEYS: &[&str] = &keys(&PROBE_FIELDS);
const PROBE_SAMPLE: &str = "probes = [{ after = \"all\", ask = \"...\", points = [{ say = \"...\" }] }]";
const USUAL_WEIGHT: u8 = 2;

/// A text of a card with its place, kept for the checks over the whole deck.
#[derive(Debug, Clone)]
pub(crate) struct Placed {
    pub(crate) text: String,
    pub(crate) site: Site,
}

/// A card as read from its file, before the whole deck is known.
#[derive(Debug)]
pub(crate) struct Draft {
    /// The kind's word.
    pub(crate) word: &'static str,
    pub(crate) id: Option<Placed>,
    pub(crate) heading: Option<String>,
    pub(crate) ask: Option<Placed>,
    pub(crate) sources: Vec<Placed>,
    pub(crate) picture: Option<Placed>,
    /// A point's drawing, and the part to find on it.
    pub(crate) drawing: Option<Placed>,
    /// See `drawing`.
    pub(crate) part: Option<Placed>,
    /// Where each sample of the card stands.
    pub(crate) samples: Vec<Site>,
    /// What the card was called before, as far as that may be an id.
    pub(crate) was: Vec<Placed>,
    /// What the card asks is sound, so that answers to it can be marked.
    pub(crate) is_askable: bool,
    /// Where the card begins.
    pub(crate) site: Site,
    /// The card itself where it is sound so far and of a kind that can be asked. Its key has no deck yet.
    pub(crate) card: Option<Card>,
    /// The card where all of it could be read, but something in it is wrong. Its key has no deck yet.
    pub(crate) unsound: Option<Card>,
}

/// Reads one card, reporting all that is wrong with it.
pub(crate) fn read(context: &mut Context<'_>, table: Table<'_, '_>, kind: &DeckKind) -> Draft {
    let errors_before = context.problems.errors();
    table.check_keys(context, &[KEYS, kind.keys]);
    let id = table.required_text(context, "id", "id = \"a-short-name\"");
    if let Some(id) = id.filter(|id| !is_id(id.value)) {
        context.report(checks::key::bad_id(id.site, id.value));
    }
    let topic = table.required_text(context, "topic", "topic = \"A-III/1.2.1\"");
    if let Some(topic) = topic.filter(|topic| competences().get(topic.value).is_none()) {
        context.report(checks::card::unknown_competence(topic.site, topic.value));
    }
    let ask = table.required_text(context, "ask", "ask = \"the question\"");
    let sources = sources(context, table);
    let heading = table.text(context, "heading");
    let because = table.text(context, "because");
    let because_points = points::of_reason(context, table);
    let caution = table.text(context, "caution");
    let picture = table.text(context, "picture");
    let seconds = seconds(context, table);
    let weight = weight(context, table);
    let was = was(context, table);
    let errors_before_body = context.problems.errors();
    let body = (kind.read)(context, table);
    let is_askable = context.problems.errors() == errors_before_body;
    let points = body.as_ref().and_then(|body| body.as_kind().key_points()).map(<[_]>::len);
    let probes = probes(context, table, points, kind.has("points") && points.is_none());
    hints(context, table, ask);
    let is_sound = context.problems.errors() == errors_before;
    // A fault in a sample is its writer's alone: the card can be asked all the same.
    let (samples, sample_sites) = samples(context, table, kind, points).into_iter().unzip();
    let read = match (id, topic, ask, body) {
        (Some(id), Some(topic), Some(ask), Some(body)) => Some(Card {
            key: CardKey::new("", id.value),
            topic: topic.value.to_owned(),
            heading: heading.map(Text::own),
            ask: ask.own(),
            because: because.map(Text::own),
            because_points,
            caution: caution.map(Text::own),
            sources: sources.iter().map(|source| source.text.clone()).collect(),
            picture: picture.map(Text::own),
            seconds,
            weight,
            probes,
            samples,
            // A past in the same deck has no deck yet either.
            was: was.iter().filter_map(|was| past_of(&was.text)).collect(),
            body,
        }),
        _ => None,
    };
    // Read already, with all that is wrong with them.
    let of_point = |key| {
        let value = table.get(key).filter(|_| kind.has(key))?;
        let text = value.get_ref().as_str().filter(|text| !text.trim().is_empty())?;
        Some(Placed { text: text.to_owned(), site: context.site(value.span()) })
    };
    let (drawing, part) = (of_point("drawing"), of_point("part"));
    let placed = |text: Text<'_>| Placed { text: text.value.to_owned(), site: text.site };
    let (card, unsound) = if is_sound { (read, None) } else { (None, read) };
    Draft {
        word: kind.word,
        id: id.map(placed),
        heading: heading.map(Text::own),
        ask: ask.map(placed),
        sources,
        picture: picture.map(placed),
        drawing,
        part,
        samples: sample_sites,
        was,
        is_askable,
        site: table.site,
        card,
        unsound,
    }
}

/// The samples of a card; where the deck is read for learners nothing is told of them.
fn samples(
    context: &mut Context<'_>,
    table: Table<'_, '_>,
    kind: &DeckKind,
    points: Option<usize>,
) -> Vec<(Sample, Site)> {
    if !context.problems.only_to_ask {
        return samples::read(context, table, kind, points);
    }
    let mut untold = Collector::default();
    let mut quiet = Context { file: context.file, base: context.base, text: context.text, problems: &mut untold };
    samples::read(&mut quiet, table, kind, points)
}

/// A sentence of a question should have no more words than this.
const MOST_WORDS: usize = 25;

/// Advice for any card.
fn hints(context: &mut Context<'_>, table: Table<'_, '_>, ask: Option<Text<'_>>) {
    if table.get("because").is_none() {
        context.report(checks::card::no_because(table.site));
    }
    if table.get("seconds").is_none() {
        context.report(checks::card::no_seconds(table.site));
    }
    let Some(ask) = ask else { return };
    let count =
        |sentence: &str| sentence.split_whitespace().filter(|word| word.contains(char::is_alphanumeric)).count();
    // A point inside a number or an abbreviation is followed by no space.
    let sentences = ask.value.split_inclusive([' ', '\n']).fold((0, 0), |(most, now), word| {
        let now = now + count(word);
        let ends = word.trim_end().ends_with(['.', '?', '!', ':', ';']) || word.ends_with('\n');
        (most.max(now), if ends { 0 } else { now })
    });
    if sentences.0 > MOST_WORDS {
        context.report(checks::text::long_sentence(ask.site, sentences.0, MOST_WORDS));
    }
}

fn sources(context: &mut Context<'_>, table: Table<'_, '_>) -> Vec<Placed> {
    let Some(value) = table.get("sources") else {
        context.report(checks::source::no_source(table.site));
        return Vec::new();
    };
    let is_empty = value.get_ref().as_array().is_some_and(|entries| entries.is_empty());
    if is_empty {
        let site = context.site(value.span());
        context.report(checks::source::no_source(site));
    }
    let mut sources: Vec<Placed> = Vec::new();
    for text in table.texts(context, "sources").unwrap_or_default() {
        if sources.iter().take(20).any(|source| source.text == text.value) {
            context.report(checks::source::repeated_source(text.site, text.value));
        } else {
            sources.push(Placed { text: text.value.to_owned(), site: text.site });
        }
    }
    sources
}

/// What the card was called before; what can be no id is reported.
fn was(context: &mut Context<'_>, table: Table<'_, '_>) -> Vec<Placed> {
    let mut was = Vec::new();
    for text in table.texts(context, "was").unwrap_or_default() {
        if past_of(text.value).is_some() {
            was.push(Placed { text: text.value.to_owned(), site: text.site });
        } else {
            context.report(checks::past::bad_was(text.site, text.value));
        }
    }
    was
}

/// A key from `card-id`, without a deck, or `deck-id/card-id`.
fn past_of(text: &str) -> Option<CardKey> {
    CardKey::parse(text).or_else(|| is_id(text).then(|| CardKey::new("", text)))
}

fn seconds(context: &mut Context<'_>, table: Table<'_, '_>) -> Option<f64> {
    let (seconds, site) = table.number(context, "seconds")?;
    if seconds.is_finite() && seconds > 0.0 {
        return Some(seconds);
    }
    context.report(checks::card::bad_seconds(site));
    None
}

fn weight(context: &mut Context<'_>, table: Table<'_, '_>) -> u8 {
    match table.whole(context, "weight") {
        None => USUAL_WEIGHT,
        Some(Ok((weight @ 1..=3, _))) => weight as u8,
        Some(Ok((_, site)) | Err(site)) => {
            context.report(checks::card::bad_weight(site));
            USUAL_WEIGHT
        }
    }
}

/// `points` is how many key points the card has, where it has any; with `points_unknown` the numbers cannot be
/// compared with them.
fn probes(context: &mut Context<'_>, table: Table<'_, '_>, points: Option<usize>, points_unknown: bool) -> Vec<Probe> {
    let mut probes = Vec::new();
    for table in table.tables(context, "probes", "a probe", PROBE_SAMPLE).unwrap_or_default() {
        table.check_keys(context, &[PROBE_KEYS]);
        let after = table.required_text(context, "after", "after = \"all\"");
        let after = after.and_then(|text| match parse_after(text.value) {
            None => {
                context.report(checks::card::bad_probe(text.site, text.value, Some(0)));
                None
            }
            Some(after @ (After::Missed(point) | After::Said(point))) if !points_unknown => {
                let fits = points.is_some_and(|count| (1..=count).contains(&point));
                if !fits {
                    context.report(checks::card::bad_probe(text.site, text.value, points.filter(|count| *count > 0)));
                }
                fits.then_some(after)
            }
            Some(after) => Some(after),
        });
        let ask = table.required_text(context, "ask", "ask = \"the follow-up\"");
        let points = points::read(context, table);
        if let (Some(after), Some(ask), Some(points)) = (after, ask, points) {
            probes.push(Probe { after, ask: ask.own(), points });
        }
    }
    probes
}

fn parse_after(text: &str) -> Option<After> {
    if text == "all" {
        return Some(After::All);
    }
    let (word, number) = text.split_once(':')?;
    let is_number = !number.is_empty() && number.len() <= 4 && number.bytes().all(|b| b.is_ascii_digit());
    let number: usize = number.parse().ok().filter(|_| is_number)?;
    match word {
        "missed" => Some(After::Missed(number)),
        "said" => Some(After::Said(number)),
        _ => None,
    }
}
