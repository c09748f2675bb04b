//! `[[why]]`: give the causes in order.

use std::collections::HashSet;

use super::form::{self, ReadForm};
use super::in_row::{InRow, PointColumns, Wanted};
use super::kind::DeckKind;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text};
use crate::deck::folding::folded;
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::answer::{Form, Given};
use crate::domain::form::Shape as FormShape;
use crate::domain::kinds::Body;
use crate::domain::kinds::why::Why;

/// What only this kind holds.
const FIELDS: [Field; 2] = [
    needed("links", Shape::Texts, "two or more causes in their order"),
    optional("false_links", Shape::Texts, "what sounds likely and belongs nowhere"),
];

pub(crate) const KIND: DeckKind = DeckKind {
    word: "why",
    one: "a why card",
    chapter: 3,
    fields: &FIELDS,
    keys: &keys(&FIELDS),
    expects: &[],
    forms: FORMS,
    in_row: Ok(IN_ROW),
    form: &[("links", FormShape::List), ("false_links", FormShape::List)],
    read,
};

/// A row has its links in the columns of points; false links are added in the file.
const IN_ROW: InRow = InRow {
    points: PointColumns::Texts,
    value: false,
    wanted: |cells| vec![("links", Wanted::Texts(cells.points.iter().map(|point| point.say.clone()).collect()))],
    example: &[
        ("id", "example-hot-alternator-engine"),
        ("topic", "A-III/1.2.1"),
        ("heading", "Blackout"),
        ("question", "A choked strainer ended in a blackout. Put the causes in order, from the first to what you saw."),
        ("point 1", "The sea-water suction strainer chokes"),
        ("point 2", "The cooling water of the running alternator engine grows too hot"),
        ("point 3", "The engine trips on high cooling-water temperature"),
        ("point 4", "Its breaker opens and the main switchboard is dead"),
        ("reason", "Each step is seen on the alarm list, if it is read from the oldest alarm upwards."),
        ("source", "practice"),
    ],
};

/// The forms in which it is answered.
const FORMS: &[ReadForm] = &[ReadForm {
    form: Form::Links,
    keys: &["links"],
    read: |object| Ok(Given::Links(form::positions(object, "links")?)),
}];

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    let value = card.required(context, "links", "links = [\"first cause\", \"next\", \"what was seen\"]");
    let links = card.texts(context, "links");
    let false_links = card.texts(context, "false_links").unwrap_or_default();
    let (value, links) = (value?, links?);
    if links.len() < 2 {
        let site = context.site(value.span());
        context.report(checks::why::too_few_links(site));
    }
    let mut seen = HashSet::new();
    for link in &links {
        if !seen.insert(folded(link.value)) {
            context.report(checks::why::equal_links(link.site, link.value));
        }
    }
    let mut seen_false = HashSet::new();
    for link in &false_links {
        let fold = folded(link.value);
        if seen.contains(&fold) {
            context.report(checks::why::false_link_is_true(link.site, link.value));
        } else if !seen_false.insert(fold) {
            context.report(checks::why::equal_links(link.site, link.value));
        }
    }
    let own = |texts: Vec<Text<'_>>| texts.into_iter().map(Text::own).collect();
    Some(Body::Why(Why { links: own(links), false_links: own(false_links) }))
}
