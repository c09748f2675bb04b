//! Key points, of a recall card, of a probe and of a reason alike.

use super::phrases::{self, Phrases};
use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::key_point::KeyPoint;

/// The digits 1 to 9 tick the points.
const MOST_POINTS: usize = 9;
/// What a key point may hold.
pub(super) const FIELDS: [Field; 4] = [
    needed("say", Shape::Text, "the point in full"),
    optional("accept", Shape::Texts, "phrases of one to four words that make the point"),
    optional("reject", Shape::Texts, "phrases that deny it or turn it round"),
    optional("critical", Shape::Flag, "true where missing it is unsafe"),
];
const KEYS: &[&str] = &keys(&FIELDS);
const SAMPLE: &str = "points = [{ say = \"...\", accept = [\"...\"] }]";
const REASON_SAMPLE: &str = "because_points = [{ say = \"...\", accept = [\"...\"] }]";

/// Reads `points` of a card or a probe; `None` where there is no list of them. Points that are not sound have
/// been reported, and stand in the list as far as they could be read.
pub(super) fn read(context: &mut Context<'_>, owner: Table<'_, '_>) -> Option<Vec<KeyPoint>> {
    let value = owner.required(context, "points", SAMPLE)?;
    list(context, owner, "points", (context.site(value.span()), SAMPLE))
}

/// Reads `because_points` of a card, which may be left out; the same form, and the same checks.
pub(super) fn of_reason(context: &mut Context<'_>, owner: Table<'_, '_>) -> Vec<KeyPoint> {
    let Some(value) = owner.get("because_points") else { return Vec::new() };
    let site = context.site(value.span());
    if owner.get("because").is_none() {
        context.report(checks::card::because_alone(site));
    }
    list(context, owner, "because_points", (site, REASON_SAMPLE)).unwrap_or_default()
}

fn list(
    context: &mut Context<'_>,
    owner: Table<'_, '_>,
    key: &str,
    (site, sample): (Site, &str),
) -> Option<Vec<KeyPoint>> {
    let tables = owner.tables(context, key, "a key point", sample)?;
    if tables.is_empty() || tables.len() > MOST_POINTS {
        context.report(checks::recall::point_count(site, tables.len()));
    }
    let mut points = Vec::with_capacity(tables.len());
    let mut all_phrases = Vec::with_capacity(tables.len());
    for table in tables {
        table.check_keys(context, &[KEYS]);
        let say = table.required_text(context, "say", "say = \"the point in full\"");
        let accept = table.texts(context, "accept").unwrap_or_default();
        let reject = table.texts(context, "reject").unwrap_or_default();
        let critical = table.flag(context, "critical");
        let own = |texts: &[Text<'_>]| texts.iter().map(|text| text.own()).collect();
        // A point that does not say anything keeps its place, so that probes still name the right ones.
        let full = say.map(Text::own).unwrap_or_default();
        points.push(KeyPoint { say: full, accept: own(&accept), reject: own(&reject), critical });
        all_phrases.extend(say.map(|say| Phrases { number: points.len(), say, accept, reject }));
    }
    if all_phrases.len() <= MOST_POINTS {
        phrases::check(context, &all_phrases);
    }
    Some(points)
}
