//! Reading a table key by key: types, missing and unknown keys, and the text rules that hold everywhere.
//! A wrong value is reported and read as not there, so that the rest of its table is still checked.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::check::{Found, Site};
use super::checks;
use super::font_signs;
use super::problem::Collector;
use super::signs::{BadSign, bad_sign};

/// A text may have this many characters.
pub(crate) const MOST_CHARS: usize = 20_000;

/// Keys whose text is a number with its unit.
const QUANTITIES: [&str; 3] = ["value", "within", "step"];

/// Where reading stands: which file, and where the parsed part begins in it.
pub(crate) struct Context<'a> {
    pub(crate) file: usize,
    /// Byte of the file at which the parsed text begins.
    pub(crate) base: usize,
    /// The parsed text.
    pub(crate) text: &'a str,
    pub(crate) problems: &'a mut Collector,
}

/// A text with its place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Text<'t> {
    pub(crate) value: &'t str,
    pub(crate) site: Site,
}

impl Text<'_> {
    /// The text for the deck, with plain line ends whatever the file has.
    pub(crate) fn own(self) -> String {
        self.value.replace("\r\n", "\n")
    }
}

/// A table of an array of tables, or one in braces.
#[derive(Clone, Copy)]
pub(crate) struct Table<'t, 'i> {
    pub(crate) table: &'t DeTable<'i>,
    /// The table's header, or its braces.
    pub(crate) site: Site,
    /// What it is in words, such as `a recall card`.
    pub(crate) what: &'static str,
}

impl Context<'_> {
    pub(crate) fn site(&self, span: Range<usize>) -> Site {
        Site { file: self.file, start: self.base + span.start, end: self.base + span.end }
    }

    pub(crate) fn report(&mut self, found: Found) {
        self.problems.report(found);
    }

    fn wrong_type(&mut self, value: &Spanned<DeValue<'_>>, key: &str, wanted: &str, mend: &str) {
        let site = self.site(value.span());
        self.report(checks::key::wrong_type(site, key, wanted, type_word(value.get_ref()), mend));
    }

    /// A value as text, checked.
    pub(crate) fn text_of<'t>(&mut self, value: &'t Spanned<DeValue<'_>>, key: &str) -> Option<Text<'t>> {
        let DeValue::String(text) = value.get_ref() else {
            let mend = match value.get_ref() {
                DeValue::Integer(_) | DeValue::Float(_) if QUANTITIES.contains(&key) => {
                    let raw = self.raw(value);
                    format!("put it in quotes with its unit, such as {key} = \"{raw} bar\"; a pure number has none")
                }
                DeValue::Integer(_) | DeValue::Float(_) => format!("put it in quotes: {key} = \"{}\"", self.raw(value)),
                _ => format!("write {key} = \"...\""),
            };
            self.wrong_type(value, key, "a text in quotes", &mend);
            return None;
        };
        let site = self.site(value.span());
        if text.len() > MOST_CHARS && text.chars().count() > MOST_CHARS {
            self.report(checks::text::too_long(site, key, MOST_CHARS));
            return None;
        }
        // What stands in the file as it is has been looked at already; here only what escapes have made.
        if let Cow::Owned(text) = text {
            self.escaped_signs(text, value, site);
        }
        if !text.is_ascii() {
            self.unknown_signs(text, value, site);
        }
        Some(Text { value: text, site })
    }

    /// The first sign that cannot be shown, at its own place where it stands as it is.
    fn unknown_signs(&mut self, text: &str, value: &Spanned<DeValue<'_>>, site: Site) {
        let is_unknown = |c: &char| !c.is_ascii() && bad_sign(*c).is_none() && *c != '\u{FFFD}' && !font_signs::has(*c);
        if let Some(sign) = text.chars().find(is_unknown) {
            let place = self.raw(value).find(sign).map_or(site, |at| {
                let start = site.start + at;
                Site { start, end: start + sign.len_utf8(), ..site }
            });
            self.report(checks::text::unknown_sign(place, sign));
        }
    }

    fn escaped_signs(&mut self, text: &str, value: &Spanned<DeValue<'_>>, site: Site) {
        let raw = self.raw(value);
        let made = |c: char| bad_sign(c).filter(|_| !raw.contains(c)).map(|sort| (c, sort));
        if let Some((sign, sort)) = text.chars().filter(|c| *c != '\r').find_map(made) {
            self.report(if sort == BadSign::Control {
                checks::text::control_character(site, sign)
            } else {
                checks::text::hidden_character(site, sign, sort)
            });
        }
    }

    /// The value as the file writes it.
    pub(crate) fn raw<T>(&self, value: &Spanned<T>) -> &str {
        self.text.get(value.span()).unwrap_or_default()
    }
}

impl<'t, 'i> Table<'t, 'i> {
    /// Reports every key that is not among `known`.
    pub(crate) fn check_keys(&self, context: &mut Context<'_>, known: &[&[&str]]) {
        for key in self.table.keys() {
            let name: &str = key.get_ref();
            if !known.iter().any(|some| some.contains(&name)) {
                let site = context.site(key.span());
                context.problems.report_with(&checks::key::UNKNOWN_KEY, site, || {
                    checks::key::unknown_key(site, name, self.what, &known.concat())
                });
            }
        }
    }

    pub(crate) fn get(&self, key: &str) -> Option<&'t Spanned<DeValue<'i>>> {
        self.table.get(key)
    }

    /// A value that must be there.
    pub(crate) fn required(
        &self,
        context: &mut Context<'_>,
        key: &str,
        sample: &str,
    ) -> Option<&'t Spanned<DeValue<'i>>> {
        let value = self.get(key);
        if value.is_none() {
            context.report(checks::key::missing_key(self.site, key, self.what, sample));
        }
        value
    }

    /// A text that must be there and must say something.
    pub(crate) fn required_text(&self, context: &mut Context<'_>, key: &str, sample: &str) -> Option<Text<'t>> {
        let value = self.required(context, key, sample)?;
        full_text(context, value, key)
    }

    /// A text that may be left out, but must say something where it stands.
    pub(crate) fn text(&self, context: &mut Context<'_>, key: &str) -> Option<Text<'t>> {
        full_text(context, self.get(key)?, key)
    }

    /// A list of texts; a wrong entry is reported and passed over.
    pub(crate) fn texts(&self, context: &mut Context<'_>, key: &str) -> Option<Vec<Text<'t>>> {
        let value = self.get(key)?;
        let DeValue::Array(entries) = value.get_ref() else {
            let mend = match value.get_ref() {
                DeValue::String(text) if text.len() < 40 => format!("put it in square brackets: {key} = [\"{text}\"]"),
                _ => format!("write {key} = [\"...\", \"...\"]"),
            };
            context.wrong_type(value, key, "a list of texts", &mend);
            return None;
        };
        let mut texts = Vec::with_capacity(entries.len());
        for entry in entries.iter() {
            if !matches!(entry.get_ref(), DeValue::String(_)) {
                let mend = "put each entry in quotes";
                context.wrong_type(entry, key, "a list of texts", mend);
                continue;
            }
            let Some(text) = context.text_of(entry, key) else { continue };
            if text.value.trim().is_empty() {
                context.report(checks::text::empty_text_entry(text.site, key));
                continue;
            }
            texts.push(text);
        }
        Some(texts)
    }

    /// A list of tables; a wrong entry is reported and passed over. `what` names one of them.
    pub(crate) fn tables(
        &self,
        context: &mut Context<'_>,
        key: &str,
        what: &'static str,
        sample: &str,
    ) -> Option<Vec<Table<'t, 'i>>> {
        tables_of(context, self.get(key)?, key, what, sample)
    }

    /// A number, whole or not.
    pub(crate) fn number(&self, context: &mut Context<'_>, key: &str) -> Option<(f64, Site)> {
        let value = self.get(key)?;
        let number = match value.get_ref() {
            DeValue::Integer(_) => whole_of(value.get_ref()).map(|whole| whole as f64),
            DeValue::Float(float) => float.as_str().parse().ok(),
            _ => {
                context.wrong_type(value, key, "a number", &format!("write a number without quotes: {key} = 40"));
                return None;
            }
        };
        Some((number.unwrap_or(f64::NAN), context.site(value.span())))
    }

    /// A whole number; `Err` holds the place of a number that is not whole or too large to be held.
    pub(crate) fn whole(&self, context: &mut Context<'_>, key: &str) -> Option<Result<(i64, Site), Site>> {
        let value = self.get(key)?;
        let site = context.site(value.span());
        match value.get_ref() {
            DeValue::Integer(_) => Some(whole_of(value.get_ref()).map(|whole| (whole, site)).ok_or(site)),
            DeValue::Float(_) => Some(Err(site)),
            _ => {
                context.wrong_type(value, key, "a whole number", &format!("write a number without quotes: {key} = 2"));
                None
            }
        }
    }

    /// A list of whole numbers; reported as a whole where an entry is none.
    pub(crate) fn wholes(&self, context: &mut Context<'_>, key: &str) -> Option<Vec<i64>> {
        let value = self.get(key)?;
        let entries = value.get_ref().as_array();
        let wholes = entries.and_then(|entries| entries.iter().map(|entry| whole_of(entry.get_ref())).collect());
        if wholes.is_none() {
            context.wrong_type(value, key, "a list of whole numbers", &format!("write {key} = [1, 3]"));
        }
        wholes
    }

    /// A list of two whole numbers with its place, such as `[3, 1]`.
    pub(crate) fn pair(&self, context: &mut Context<'_>, key: &str) -> Option<([i64; 2], Site)> {
        let value = self.get(key)?;
        let pair = pair_of(context, value);
        if pair.is_none() {
            context.wrong_type(value, key, "a list of two whole numbers", &format!("write {key} = [3, 1]"));
        }
        pair
    }

    /// A list of lists of two whole numbers; a wrong entry is reported and passed over.
    pub(crate) fn pairs(&self, context: &mut Context<'_>, key: &str) -> Option<Vec<([i64; 2], Site)>> {
        const WANTED: &str = "a list of lists of two whole numbers";
        let value = self.get(key)?;
        let mend = format!("write {key} = [[3, 1], [3, 4]]");
        let DeValue::Array(entries) = value.get_ref() else {
            context.wrong_type(value, key, WANTED, &mend);
            return None;
        };
        let mut pairs = Vec::with_capacity(entries.len());
        for entry in entries.iter() {
            match pair_of(context, entry) {
                Some(pair) => pairs.push(pair),
                None => context.wrong_type(entry, key, WANTED, &mend),
            }
        }
        Some(pairs)
    }

    /// True or false; false where it is left out.
    pub(crate) fn flag(&self, context: &mut Context<'_>, key: &str) -> bool {
        match self.get(key) {
            None => false,
            Some(value) => match value.get_ref() {
                DeValue::Boolean(flag) => *flag,
                _ => {
                    let mend = format!("write {key} = true, or leave it out");
                    context.wrong_type(value, key, "true or false", &mend);
                    false
                }
            },
        }
    }
}

/// A value as a list of tables.
pub(crate) fn tables_of<'t, 'i>(
    context: &mut Context<'_>,
    value: &'t Spanned<DeValue<'i>>,
    key: &str,
    what: &'static str,
    sample: &str,
) -> Option<Vec<Table<'t, 'i>>> {
    let DeValue::Array(entries) = value.get_ref() else {
        context.wrong_type(value, key, "a list of tables", &format!("write {sample}"));
        return None;
    };
    let mut tables = Vec::with_capacity(entries.len());
    for entry in entries.iter() {
        match entry.get_ref() {
            DeValue::Table(table) => tables.push(Table { table, site: context.site(entry.span()), what }),
            _ => context.wrong_type(entry, key, "a list of tables", &format!("write {sample}")),
        }
    }
    Some(tables)
}

/// A value as a table.
pub(crate) fn table_of<'t, 'i>(
    context: &mut Context<'_>,
    value: &'t Spanned<DeValue<'i>>,
    key: &str,
    what: &'static str,
    sample: &str,
) -> Option<Table<'t, 'i>> {
    match value.get_ref() {
        DeValue::Table(table) => Some(Table { table, site: context.site(value.span()), what }),
        _ => {
            context.wrong_type(value, key, "a table", &format!("write {sample}"));
            None
        }
    }
}

fn full_text<'t>(context: &mut Context<'_>, value: &'t Spanned<DeValue<'_>>, key: &str) -> Option<Text<'t>> {
    let text = context.text_of(value, key)?;
    if text.value.trim().is_empty() {
        context.report(checks::text::empty_text(text.site, key));
        return None;
    }
    Some(text)
}

fn pair_of(context: &Context<'_>, value: &Spanned<DeValue<'_>>) -> Option<([i64; 2], Site)> {
    let entries = value.get_ref().as_array()?;
    let numbers: Vec<i64> = entries.iter().map(|entry| whole_of(entry.get_ref())).collect::<Option<_>>()?;
    Some((numbers.try_into().ok()?, context.site(value.span())))
}

pub(crate) fn whole_of(value: &DeValue<'_>) -> Option<i64> {
    let integer = value.as_integer()?;
    i64::from_str_radix(integer.as_str(), integer.radix()).ok()
}

fn type_word(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
