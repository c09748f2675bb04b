//! `[[why]]`: give the causes in order.

use std::collections::HashSet;

use super::form::{self, ReadForm};
use super::kind::DeckKind;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text};
use crate::deck::folding::folded;
use crate::domain::answer::{Form, Given};
use crate::domain::form::Shape;
use crate::domain::kinds::Body;
use crate::domain::kinds::why::Why;

pub(crate) const KIND: DeckKind = DeckKind {
    word: "why",
    one: "a why card",
    chapter: 3,
    keys: &["links", "false_links"],
    expects: &[],
    forms: FORMS,
    form: &[("links", Shape::List), ("false_links", Shape::List)],
    read,
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
