//! Changes to a card that stands in a file: only what differs is written, in its own place, so that everything else keeps
//! every byte: comments, order, blank lines and line ends.

use std::ops::Range;

use toml_edit::{Item, TableLike, Value};

use super::written;
use crate::deck::kinds::{RowPoint, Wanted};

/// A range of a file's bytes, and what stands there instead.
#[derive(Debug)]
pub(super) struct Edit {
    pub(super) at: Range<usize>,
    pub(super) with: String,
}

/// The bytes of an entry, where it has a place in the text.
type Span = Option<Range<usize>>;

/// A card that is changed.
pub(super) struct Change<'a> {
    /// The text of its file.
    pub(super) text: &'a str,
    pub(super) table: &'a dyn TableLike,
    /// It stands in braces, not under a header of its own.
    pub(super) is_inline: bool,
    pub(super) edits: Vec<Edit>,
    /// What its writer may want to know.
    pub(super) notes: Vec<String>,
}

/// Why a card cannot be changed from a sheet: what is the matter, and how to mend it.
pub(super) type Refusal = (String, &'static str);

const BY_HAND: &str = "change this card in its file, and then the sheet";

impl Change<'_> {
    /// Gathers what is to be changed so that the card's keys are what is wanted, in their order.
    ///
    /// # Errors
    /// Where a change cannot be made without spoiling what stands beside it.
    pub(super) fn gather(&mut self, wanted: &[(&'static str, Wanted)]) -> Result<(), Refusal> {
        // Where the next key that is missing goes: behind the value before it.
        let mut anchor = None;
        for (key, wanted) in wanted {
            match self.table.get(key) {
                None => self.insert(anchor, key, &written::value(wanted))?,
                Some(item) => {
                    self.renew(item, wanted)?;
                    if item.is_value() {
                        anchor = item.span().map(|span| span.end).or(anchor);
                    }
                }
            }
        }
        Ok(())
    }

    fn replace(&mut self, at: Option<Range<usize>>, with: String) -> Result<(), Refusal> {
        let at =
            at.ok_or_else(|| ("the card is written in a way that cannot be changed from a sheet".to_owned(), BY_HAND))?;
        self.edits.push(Edit { at, with });
        Ok(())
    }

    /// Writes a key that is missing, behind the byte `anchor`.
    fn insert(&mut self, anchor: Option<usize>, key: &str, value: &str) -> Result<(), Refusal> {
        let at = anchor.map(|anchor| if self.is_inline { anchor } else { self.line_end(anchor) });
        let with = if self.is_inline { format!(", {key} = {value}") } else { format!("\n{key} = {value}") };
        self.replace(at.map(|at| at..at), with)
    }

    /// The end of the line that a byte stands in, before its line break.
    fn line_end(&self, from: usize) -> usize {
        let rest = &self.text[from..];
        let end = from + rest.find('\n').unwrap_or(rest.len());
        if self.text[..end].ends_with('\r') { end - 1 } else { end }
    }

    fn renew(&mut self, item: &Item, wanted: &Wanted) -> Result<(), Refusal> {
        match wanted {
            Wanted::Text(text) if is_text(item, text) => Ok(()),
            Wanted::Texts(texts) if is_texts(item, texts) => Ok(()),
            Wanted::Points(points) => self.renew_points(item, points),
            other => self.replace(item.span().filter(|_| item.is_value()), written::value(other)),
        }
    }

    fn renew_points(&mut self, item: &Item, wanted: &[RowPoint]) -> Result<(), Refusal> {
        let (standing, spans, is_list): (Vec<&dyn TableLike>, Vec<Span>, bool) = match item {
            Item::Value(Value::Array(list)) => {
                let tables: Option<Vec<_>> = list.iter().map(Value::as_inline_table).collect();
                let tables = tables.ok_or_else(|| ("its points are not written as points".to_owned(), BY_HAND))?;
                let spans = tables.iter().map(|table| table.span()).collect();
                (tables.into_iter().map(|table| table as &dyn TableLike).collect(), spans, true)
            }
            Item::ArrayOfTables(list) => {
                (list.iter().map(|table| table as &dyn TableLike).collect(), Vec::new(), false)
            }
            _ => return self.replace(item.span(), written::value(&Wanted::Points(wanted.to_vec()))),
        };
        let says: Vec<&str> = standing.iter().map(|point| say(*point)).collect();
        let stays = |text: &str| wanted.iter().any(|point| point.say == text);
        // Every point that stands in both keeps its place; the others are new, reworded or gone.
        let keeps_order = wanted
            .iter()
            .zip(&says)
            .all(|(point, before)| point.say == *before || (!stays(before) && !says.contains(&point.say.as_str())))
            && says.iter().skip(wanted.len()).all(|before| !stays(before));
        if !keeps_order || (!is_list && standing.len() != wanted.len()) {
            if self.is_named_by_number() {
                return Err((
                    "its points have changed places, and follow-ups or samples name them by number".to_owned(),
                    BY_HAND,
                ));
            }
            if !is_list {
                return Err(("its points stand under headers of their own".to_owned(), BY_HAND));
            }
            return self.reorder(item, &standing, &spans, wanted);
        }
        for (point, before) in wanted.iter().zip(&standing) {
            self.renew_point(*before, point, !is_list)?;
        }
        if is_list {
            self.lengthen_or_shorten(item, &spans, wanted)?;
        }
        Ok(())
    }

    /// Whether something in the card names a point by its number.
    fn is_named_by_number(&self) -> bool {
        let tables = |key: &str| -> Vec<&dyn TableLike> {
            match self.table.get(key) {
                Some(Item::Value(Value::Array(list))) => {
                    list.iter().filter_map(Value::as_inline_table).map(|table| table as &dyn TableLike).collect()
                }
                Some(Item::ArrayOfTables(list)) => list.iter().map(|table| table as &dyn TableLike).collect(),
                _ => Vec::new(),
            }
        };
        let is_numbered =
            |probe: &&dyn TableLike| probe.get("after").and_then(Item::as_str).is_some_and(|after| after.contains(':'));
        let names = |sample: &&dyn TableLike| ["says", "denies", "said"].iter().any(|key| sample.contains_key(key));
        tables("probes").iter().any(is_numbered) || tables("samples").iter().any(names)
    }

    fn renew_point(&mut self, before: &dyn TableLike, point: &RowPoint, has_header: bool) -> Result<(), Refusal> {
        let Some(say_item) = before.get("say") else {
            return Err(("one of its points has no `say`".to_owned(), BY_HAND));
        };
        if !is_text(say_item, &point.say) {
            if ["accept", "reject"].iter().any(|key| before.contains_key(key)) {
                self.notes.push(format!("the point “{}” has new words; see whether its phrases still fit", point.say));
            }
            self.replace(say_item.span(), written::text(&point.say))?;
        }
        let behind = say_item.span().map(|span| span.end);
        let add = |change: &mut Self, key: &str, value: &str| {
            let was_inline = std::mem::replace(&mut change.is_inline, !has_header);
            let added = change.insert(behind, key, value);
            change.is_inline = was_inline;
            added
        };
        match before.get("accept") {
            _ if point.accept.is_empty() => {}
            None => add(self, "accept", &written::texts(&point.accept))?,
            Some(item) if is_texts(item, &point.accept) => {}
            Some(item) => self.replace(item.span(), written::texts(&point.accept))?,
        }
        match (before.get("critical"), point.critical) {
            (None, true) => add(self, "critical", "true")?,
            (Some(item), is) if item.as_bool() != Some(is) => {
                if !is {
                    self.notes.push(format!("the point “{}” is no longer safety-critical", point.say));
                }
                self.replace(item.span(), is.to_string())?;
            }
            _ => {}
        }
        Ok(())
    }

    /// Adds points behind the last one, or takes the last ones away.
    fn lengthen_or_shorten(&mut self, list: &Item, spans: &[Span], wanted: &[RowPoint]) -> Result<(), Refusal> {
        let last_kept = spans.iter().take(wanted.len()).next_back().cloned().flatten();
        let Some(last_kept) = last_kept else {
            return self.replace(list.span(), written::value(&Wanted::Points(wanted.to_vec())));
        };
        if let Some(Some(last)) = spans.get(wanted.len()..).and_then(<[_]>::last) {
            self.notes.push(format!("{} of its points are gone, as in the sheet", spans.len() - wanted.len()));
            return self.replace(Some(last_kept.end..last.end), String::new());
        }
        let before = &self.text[..last_kept.start];
        let indent = &before[before.rfind('\n').map_or(0, |at| at + 1)..];
        let gap =
            if indent.trim().is_empty() && before.contains('\n') { format!(",\n{indent}") } else { ", ".to_owned() };
        let added: String =
            wanted[spans.len().min(wanted.len())..].iter().map(|point| gap.clone() + &written::point(point)).collect();
        if added.is_empty() { Ok(()) } else { self.replace(Some(last_kept.end..last_kept.end), added) }
    }

    /// Writes the whole list anew, each point that stood there as it stood.
    fn reorder(
        &mut self,
        list: &Item,
        standing: &[&dyn TableLike],
        spans: &[Span],
        wanted: &[RowPoint],
    ) -> Result<(), Refusal> {
        let outer = std::mem::take(&mut self.edits);
        let mut lines = Vec::new();
        for point in wanted {
            let before = standing.iter().zip(spans).find(|(before, _)| say(**before) == point.say);
            let Some((before, Some(span))) = before else {
                lines.push(written::point(point));
                continue;
            };
            self.renew_point(*before, point, false)?;
            let own = std::mem::take(&mut self.edits);
            lines.push(spliced(self.text, span.clone(), own));
        }
        let gone = standing.iter().filter(|before| !wanted.iter().any(|point| point.say == say(**before))).count();
        if gone > 0 {
            self.notes.push(format!("{gone} of its points are gone, as in the sheet"));
        }
        self.edits = outer;
        self.replace(list.span(), format!("[\n  {},\n]", lines.join(",\n  ")))
    }
}

fn say(point: &dyn TableLike) -> &str {
    point.get("say").and_then(Item::as_str).unwrap_or_default()
}

fn is_text(item: &Item, text: &str) -> bool {
    item.as_str().is_some_and(|have| have.replace("\r\n", "\n") == text)
}

fn is_texts(item: &Item, texts: &[String]) -> bool {
    let Some(list) = item.as_array() else { return false };
    list.len() == texts.len()
        && list
            .iter()
            .zip(texts)
            .all(|(have, text)| have.as_str().is_some_and(|have| have.replace("\r\n", "\n") == *text))
}

/// The bytes of a range with edits carried out; those at one place stand in the order in which they were gathered. Line
/// ends that are added are those of the text.
pub(super) fn spliced(text: &str, range: Range<usize>, mut edits: Vec<Edit>) -> String {
    edits.sort_by_key(|edit| edit.at.start);
    let has_crlf = text.contains("\r\n");
    let (mut out, mut at) = (String::new(), range.start);
    for edit in edits {
        out += text.get(at..edit.at.start).unwrap_or_default();
        let plain = edit.with.replace("\r\n", "\n");
        out += &if has_crlf { plain.replace('\n', "\r\n") } else { plain };
        at = edit.at.end.max(at);
    }
    out + text.get(at..range.end).unwrap_or_default()
}
