//! `deck.toml`: what stands above the cards, and the sources they cite.

use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::DeValue;

use super::check::Site;
use super::checks;
use super::fields::{Context, Table, Text, table_of};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::deck::{Source, SourceKind};
use crate::domain::ids::is_id;

/// What stands at the top of `deck.toml`.
pub(crate) const FIELDS: [Field; 9] = [
    needed("id", Shape::Id, "the deck's name for the program; never change it"),
    needed("title", Shape::Text, "for people"),
    needed("edition", Shape::Whole(1, None), "a whole number, one higher at each publication"),
    optional("language", Shape::Text, "a language tag such as en"),
    optional("publisher", Shape::Text, "whose deck it is"),
    optional("licence", Shape::Text, "what others may do with it, such as CC-BY-4.0"),
    optional("about", Shape::Text, "what the deck is about"),
    optional("caution", Shape::Text, "shown with the deck"),
    optional("source", Shape::Named(&SOURCE_FIELDS), "what the cards cite, each under a short name"),
];
/// The keys of that.
pub(crate) const KEYS: &[&str] = &keys(&FIELDS);
const SOURCE_FIELDS: [Field; 2] = [
    needed("title", Shape::Text, "with regulation or clause"),
    needed("kind", Shape::Word(|| KINDS.map(SourceKind::word).to_vec()), "what sort of source it is"),
];
const SOURCE_KEYS: &[&str] = &keys(&SOURCE_FIELDS);
const SOURCE_SAMPLE: &str = "[source.a-short-name] with title and kind under it";
const KINDS: [SourceKind; 5] =
    [SourceKind::Convention, SourceKind::Standard, SourceKind::ClassRule, SourceKind::Textbook, SourceKind::Practice];

/// What `deck.toml` says, as far as it is sound.
#[derive(Debug, Default)]
pub(crate) struct Head {
    pub(crate) id: Option<String>,
    pub(crate) title: Option<String>,
    pub(crate) edition: Option<u32>,
    pub(crate) language: Option<String>,
    pub(crate) publisher: Option<String>,
    pub(crate) licence: Option<String>,
    pub(crate) about: Option<String>,
    pub(crate) caution: Option<String>,
}

/// A source as read, sound or not.
#[derive(Debug)]
pub(crate) struct SourceDraft {
    pub(crate) site: Site,
    pub(crate) source: Option<Source>,
}

/// Reads the head's own keys.
pub(crate) fn read(context: &mut Context<'_>, table: Table<'_, '_>) -> Head {
    let id = table.required_text(context, "id", "id = \"a-short-name\"");
    let id = id.filter(|id| {
        let is_sound = is_id(id.value);
        if !is_sound {
            context.report(checks::key::bad_id(id.site, id.value));
        }
        is_sound
    });
    Head {
        id: id.map(Text::own),
        title: table.required_text(context, "title", "title = \"for people\"").map(Text::own),
        edition: edition(context, table),
        language: language(context, table),
        publisher: detail(context, table, "publisher", "publisher = \"who publishes it\"").map(Text::own),
        licence: detail(context, table, "licence", "licence = \"CC-BY-4.0\"").map(Text::own),
        about: table.text(context, "about").map(Text::own),
        caution: table.text(context, "caution").map(Text::own),
    }
}

/// A text that a published deck should have.
fn detail<'t>(context: &mut Context<'_>, table: Table<'t, '_>, key: &str, sample: &str) -> Option<Text<'t>> {
    if table.get(key).is_none() {
        context.report(checks::deck::missing_detail(table.site, key, sample));
    }
    table.text(context, key)
}

fn edition(context: &mut Context<'_>, table: Table<'_, '_>) -> Option<u32> {
    table.required(context, "edition", "edition = 1")?;
    let site = match table.whole(context, "edition")? {
        Ok((whole, site)) => match u32::try_from(whole) {
            Ok(edition) if edition >= 1 => return Some(edition),
            _ => site,
        },
        Err(site) => site,
    };
    context.report(checks::deck::bad_edition(site));
    None
}

fn language(context: &mut Context<'_>, table: Table<'_, '_>) -> Option<String> {
    let tag = detail(context, table, "language", "language = \"en\"")?;
    if is_language_tag(tag.value) {
        return Some(tag.value.to_owned());
    }
    context.report(checks::deck::bad_language(tag.site, tag.value));
    None
}

/// Whether `tag` has the form of a language tag of BCP 47 (RFC 5646): a language of two or three letters, then
/// parts of up to eight letters and digits.
fn is_language_tag(tag: &str) -> bool {
    let mut parts = tag.split('-');
    let first = parts.next().unwrap_or_default();
    let is_language = (2..=3).contains(&first.len()) && first.bytes().all(|b| b.is_ascii_alphabetic());
    let is_part = |part: &str| (1..=8).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_alphanumeric());
    is_language && tag.len() <= 35 && parts.all(is_part)
}

/// Reads `[source.*]`.
pub(crate) fn read_sources(
    context: &mut Context<'_>,
    value: &Spanned<DeValue<'_>>,
    sources: &mut BTreeMap<String, SourceDraft>,
) {
    let Some(all) = table_of(context, value, "source", "the sources", SOURCE_SAMPLE) else { return };
    for (key, value) in all.table.iter() {
        let name: &str = key.get_ref();
        let site = context.site(key.span());
        let source = table_of(context, value, name, "a source", SOURCE_SAMPLE).and_then(|table| source(context, table));
        sources.insert(name.to_owned(), SourceDraft { site, source });
    }
}

fn source(context: &mut Context<'_>, table: Table<'_, '_>) -> Option<Source> {
    table.check_keys(context, &[SOURCE_KEYS]);
    let title = table.required_text(context, "title", "title = \"title with regulation or clause\"");
    let kind = table.required_text(context, "kind", "kind = \"convention\"")?;
    let known = KINDS.into_iter().find(|known| known.word() == kind.value);
    if known.is_none() {
        context.report(checks::source::unknown_source_kind(kind.site, kind.value, &KINDS.map(SourceKind::word)));
    }
    Some(Source { title: title?.value.to_owned(), kind: known? })
}
