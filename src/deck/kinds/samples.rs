//! Sample answers of a card: the answer in the forms that answers have everywhere, and what is expected of it.

use serde_json::{Map, Number, Value};
use toml::Spanned;
use toml::de::DeValue;

use super::kind::DeckKind;
use crate::deck::answer_form::{answer_in, answer_keys};
use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, whole_of};
use crate::domain::marking::SlipKind;
use crate::domain::outcome::Outcome;
use crate::domain::sample::{Expected, Sample, SampleAnswer};

/// A card may have this many samples.
pub(crate) const MOST_SAMPLES: usize = 100;
/// Another name for `part`, the part of a drawing that is pointed at.
const PLACE: &str = "place";
const EXPECTATIONS: &[&str] = &["says", "denies", "outcome", "slip", "order"];
const SAMPLE: &str = "samples = [{ text = \"...\", outcome = \"answered\" }]";
/// The one order in words.
pub(crate) const ONE_THAT_WORKS: &str = "one that works";

/// The samples of a card that could be read, each with its place. `points` is how many key points the card has; none where
/// it has none, or they could not be read.
pub(super) fn read(
    context: &mut Context<'_>,
    card: Table<'_, '_>,
    kind: &DeckKind,
    points: Option<usize>,
) -> Vec<(Sample, Site)> {
    let mut samples: Vec<(Sample, Site)> = Vec::new();
    let answer_keys = [answer_keys(), vec![PLACE]].concat();
    for (at, table) in card.tables(context, "samples", "a sample", SAMPLE).unwrap_or_default().into_iter().enumerate() {
        if at == MOST_SAMPLES {
            context.report(checks::file::too_many_of_card(table.site, "samples", MOST_SAMPLES));
            break;
        }
        let errors_before = context.problems.errors();
        table.check_keys(context, &[&answer_keys, EXPECTATIONS]);
        // A key that is misspelt is not told to be missing as well.
        let is_misspelt = context.problems.errors() > errors_before;
        let has = |keys: &[&str]| keys.iter().any(|key| table.get(key).is_some());
        if !has(EXPECTATIONS) && !is_misspelt {
            context.report(checks::sample::sample_expects_nothing(table.site, &may_expect(kind)));
        }
        let expected = expected(context, table, kind, points);
        if is_misspelt && !has(&answer_keys) {
            continue;
        }
        let Some((answer, seconds)) = answer(context, table, kind, &answer_keys) else { continue };
        if samples.iter().any(|(sample, _)| sample.answer == answer && sample.seconds == seconds) {
            context.report(checks::sample::sample_double(table.site));
        }
        if context.problems.errors() == errors_before {
            samples.push((Sample { answer, seconds, expected }, table.site));
        }
    }
    samples
}

/// Every key that a sample may have.
pub(crate) fn sample_keys() -> Vec<&'static str> {
    [answer_keys(), vec![PLACE], EXPECTATIONS.to_vec()].concat()
}

/// The words for what an answer comes to.
pub(crate) fn outcome_words() -> Vec<String> {
    Outcome::ALL.map(|one| one.word().to_lowercase()).to_vec()
}

/// The words for a slip.
pub(crate) fn slip_words() -> Vec<&'static str> {
    SlipKind::ALL.map(SlipKind::word).to_vec()
}

/// The expectations that a card of the kind can have.
fn may_expect(kind: &DeckKind) -> Vec<&'static str> {
    [&["outcome"], kind.expects].concat()
}

/// What the sample expects; all that is wrong with it is reported.
fn expected(context: &mut Context<'_>, table: Table<'_, '_>, kind: &DeckKind, points: Option<usize>) -> Expected {
    let may = may_expect(kind);
    for key in EXPECTATIONS.iter().filter(|key| table.get(key).is_some() && !may.contains(*key)) {
        context.report(checks::sample::sample_expectation(table.site, key, kind.one, &may));
    }
    let outcome = word(context, table, "outcome", &Outcome::ALL.map(|one| (one.word().to_lowercase(), one)));
    let slip = word(context, table, "slip", &SlipKind::ALL.map(|one| (one.word().to_owned(), one)));
    let (says, denies) = expected_points(context, table, kind, points);
    Expected { says, denies, outcome, slip }
}

/// One of the known words of an expectation.
fn word<T: Copy>(context: &mut Context<'_>, table: Table<'_, '_>, key: &str, known: &[(String, T)]) -> Option<T> {
    let text = table.text(context, key)?;
    let found = known.iter().find(|(word, _)| word == text.value);
    if found.is_none() {
        let words: Vec<&str> = known.iter().map(|(word, _)| word.as_str()).collect();
        context.report(match key {
            "slip" => checks::sample::unknown_slip(table.site, text.value, &words),
            _ => checks::sample::unknown_outcome(table.site, text.value, &words),
        });
    }
    found.map(|(_, one)| *one)
}

/// The points that must be said and those that must be denied.
fn expected_points(
    context: &mut Context<'_>,
    table: Table<'_, '_>,
    kind: &DeckKind,
    points: Option<usize>,
) -> (Vec<usize>, Vec<usize>) {
    let mut seen: Vec<i64> = Vec::new();
    let mut list = |key: &str| {
        let mut sound = Vec::new();
        for point in table.wholes(context, key).unwrap_or_default() {
            if !kind.expects.contains(&key) {
                // That the kind has no points has been told.
                continue;
            }
            if seen.contains(&point) {
                context.report(checks::sample::sample_double_point(table.site, point));
                continue;
            }
            seen.push(point);
            let number = usize::try_from(point).unwrap_or(0);
            match points {
                Some(count) if !(1..=count).contains(&number) => {
                    context.report(checks::sample::sample_point(table.site, point, count));
                }
                _ => sound.push(number),
            }
        }
        sound
    };
    (list("says"), list("denies"))
}

/// The answer and its time; none where it has been reported.
fn answer(
    context: &mut Context<'_>,
    table: Table<'_, '_>,
    kind: &DeckKind,
    keys: &[&str],
) -> Option<(SampleAnswer, Option<f64>)> {
    let mut object = Map::new();
    let mut is_told = false;
    for key in keys {
        let Some(value) = table.get(key) else { continue };
        let Some(value) = json_of(context, value, key) else {
            is_told = true;
            continue;
        };
        let form_key = if *key == PLACE { "part" } else { key };
        if object.insert(form_key.to_owned(), value).is_some() {
            context.report(checks::sample::sample_answer(table.site, "it gives `part` and `place` at once"));
            is_told = true;
        }
    }
    if is_told {
        return None;
    }
    let Some(order) = table.get("order").filter(|_| kind.expects.contains(&"order")) else {
        return match answer_in(&object) {
            Ok(answer) => Some((SampleAnswer::Given(answer.given), answer.seconds)),
            Err(why) => {
                context.report(checks::sample::sample_answer(table.site, &why));
                None
            }
        };
    };
    one_that_works(context, table, order, &object)
}

/// An order that the program is to find.
fn one_that_works(
    context: &mut Context<'_>,
    table: Table<'_, '_>,
    order: &Spanned<DeValue<'_>>,
    object: &Map<String, Value>,
) -> Option<(SampleAnswer, Option<f64>)> {
    let order = context.text_of(order, "order")?;
    if order.value != ONE_THAT_WORKS {
        context.report(checks::sample::unknown_order(table.site, order.value));
        return None;
    }
    if let Some(key) = object.keys().find(|key| *key != "seconds") {
        let why = format!("it gives `{key}` and `order` at once");
        context.report(checks::sample::sample_answer(table.site, &why));
        return None;
    }
    // With steps beside it the time is read as that of any answer.
    let mut timed = object.clone();
    timed.insert("steps".to_owned(), Value::Array(Vec::new()));
    match answer_in(&timed) {
        Ok(answer) => Some((SampleAnswer::OneThatWorks, answer.seconds)),
        Err(why) => {
            context.report(checks::sample::sample_answer(table.site, &why));
            None
        }
    }
}

/// A value as the forms of answers take it; none where a text in it may not stand in a deck, which has been reported.
fn json_of(context: &mut Context<'_>, value: &Spanned<DeValue<'_>>, key: &str) -> Option<Value> {
    Some(match value.get_ref() {
        DeValue::String(_) => Value::String(context.text_of(value, key)?.own()),
        DeValue::Integer(_) => whole_of(value.get_ref()).map_or(Value::Null, Value::from),
        DeValue::Float(float) => {
            let number = float.as_str().parse().ok().and_then(Number::from_f64);
            number.map_or(Value::Null, Value::Number)
        }
        DeValue::Boolean(is) => Value::Bool(*is),
        // No answer holds a date; the form says what it wants instead.
        DeValue::Datetime(_) => Value::Null,
        DeValue::Array(entries) => {
            Value::Array(entries.iter().map(|entry| json_of(context, entry, key)).collect::<Option<_>>()?)
        }
        DeValue::Table(table) => {
            let entry = |(name, value): (&Spanned<std::borrow::Cow<'_, str>>, &Spanned<DeValue<'_>>)| {
                Some((name.get_ref().to_string(), json_of(context, value, key)?))
            };
            Value::Object(table.iter().map(entry).collect::<Option<_>>()?)
        }
    })
}
