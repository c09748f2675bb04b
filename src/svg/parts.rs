//! What a drawing says of its parts: ids, names, looks; and where the engine's picture of it lies in its own units.

use std::collections::HashMap;

use resvg::tiny_skia::Transform;
use resvg::usvg::roxmltree::{Document, Node};

use super::{Fault, guard};

/// Most parts of a drawing.
const MOST_PARTS: usize = 200;
/// Most letters of a name.
const MOST_NAME: usize = 120;
/// Most letters of a look.
const MOST_LOOK: usize = 400;

/// An element with an id.
#[derive(Debug)]
pub(super) struct Element {
    pub(super) id: String,
    /// The part's name for people, where the drawing gives one.
    pub(super) name: Option<String>,
    /// The text of its `<desc>`.
    pub(super) look: Option<String>,
    pub(super) is_use: bool,
    /// How often the id stands in the drawing.
    pub(super) times: usize,
    pub(super) line: u32,
}

/// The elements that can be parts, by id.
pub(super) struct Elements {
    pub(super) list: Vec<Element>,
    by_id: HashMap<String, usize>,
    /// Every id of the drawing that is no part.
    pub(super) others: Vec<String>,
}

impl Elements {
    /// The parts of a drawing: each element with an id and a name is a part, and the one that is asked for; where none has
    /// a name, each with an id is one. The outermost element is the drawing and no part.
    pub(super) fn of(document: &Document<'_>, asked: Option<&str>) -> Result<Self, Fault> {
        let root = document.root_element();
        let mut list: Vec<Element> = Vec::new();
        let mut by_id: HashMap<&str, usize> = HashMap::new();
        for node in root.descendants().skip(1).filter(Node::is_element) {
            let Some(id) = node.attribute("id").filter(|id| !id.trim().is_empty()) else { continue };
            if let Some(first) = by_id.get(id) {
                list[*first].times += 1;
                continue;
            }
            by_id.insert(id, list.len());
            list.push(Element {
                id: id.to_owned(),
                name: name(node)?,
                look: child(node, "desc", MOST_LOOK)?,
                is_use: node.tag_name().name() == "use",
                times: 1,
                line: guard::line(node),
            });
        }
        let some_are_named = list.iter().any(|element| element.name.is_some());
        let is_part = |e: &Element| !some_are_named || e.name.is_some() || asked == Some(e.id.as_str());
        let (list, others): (Vec<_>, Vec<_>) = list.into_iter().partition(is_part);
        let by_id = list.iter().enumerate().map(|(n, element)| (element.id.clone(), n)).collect();
        Ok(Self { list, by_id, others: others.into_iter().map(|element| element.id).collect() })
    }

    /// The part of this id.
    pub(super) fn find(&self, id: &str) -> Option<usize> {
        self.by_id.get(id).copied()
    }

    /// Refuses what cannot be told apart. `drawn` says which parts there are to see.
    pub(super) fn judge(&self, drawn: &[bool]) -> Result<(), Fault> {
        let seen = || self.list.iter().zip(drawn).filter(|(_, drawn)| **drawn).map(|(element, _)| element);
        if seen().count() > MOST_PARTS {
            return Err(Fault::too_many(&format!("more than {MOST_PARTS} parts")));
        }
        match seen().find(|element| element.times > 1) {
            Some(twice) => Err(Fault::new(
                format!("has the id `{}` {} times, the first on line {}", twice.id, twice.times, twice.line),
                "give each part an id of its own",
            )),
            None => Ok(()),
        }
    }
}

/// Most texts of a drawing that are looked at for the names of parts.
const MOST_LETTERED: usize = 1_000;

/// What is written on the drawing, text by text.
pub(super) fn lettering(document: &Document<'_>) -> Vec<String> {
    let texts = document.root_element().descendants().filter(|node| node.tag_name().name() == "text");
    let written = texts.take(MOST_LETTERED).map(|node| {
        let own = node.descendants().filter(|inner| {
            inner.is_text() && !inner.ancestors().any(|above| ["title", "desc"].contains(&above.tag_name().name()))
        });
        words(&own.filter_map(|inner| inner.text()).collect::<Vec<_>>().join(" "))
    });
    written.filter(|text| !text.is_empty()).collect()
}

fn name(node: Node<'_, '_>) -> Result<Option<String>, Fault> {
    let label = || node.attribute("aria-label").map(words).filter(|name| !name.is_empty());
    match child(node, "title", MOST_NAME)?.or_else(label) {
        Some(name) if name.chars().count() > MOST_NAME => Err(too_long("name", MOST_NAME, node)),
        name => Ok(name),
    }
}

/// The words of an element's own child of this kind; none where it is not there or empty.
fn child(node: Node<'_, '_>, kind: &str, most: usize) -> Result<Option<String>, Fault> {
    let Some(child) = node.children().find(|inner| inner.tag_name().name() == kind) else { return Ok(None) };
    let text: String = child.descendants().filter(Node::is_text).filter_map(|inner| inner.text()).collect();
    let text = words(&text);
    if text.chars().count() > most {
        return Err(too_long(&format!("<{kind}>"), most, child));
    }
    Ok(Some(text).filter(|text| !text.is_empty()))
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn too_long(what: &str, most: usize, node: Node<'_, '_>) -> Fault {
    let line = guard::line(node);
    Fault::new(format!("has a {what} of more than {most} letters on line {line}"), "say it in fewer words")
}

/// From the engine's units to the drawing's own. The engine has fitted the `viewBox`, if there is one, into a picture
/// of this width and height.
pub(super) fn into_own_units(document: &Document<'_>, width: f32, height: f32) -> Result<Transform, Fault> {
    let root = document.root_element();
    for key in ["transform", "preserveAspectRatio"] {
        let usual = key == "preserveAspectRatio" && root.attribute(key).is_none_or(|how| how.starts_with("xMidYMid"));
        if root.attribute(key).is_some() && !usual {
            return Err(Fault::uses(&format!("{key} on its outermost element"), Some(guard::line(root))));
        }
    }
    let Some(view_box) = root.attribute("viewBox") else { return Ok(Transform::identity()) };
    let numbers = view_box.split([' ', ',', '\t', '\n', '\r']).filter(|number| !number.is_empty());
    let numbers: Vec<f32> = numbers.map_while(|number| number.parse().ok().filter(|n: &f32| n.is_finite())).collect();
    let [left, top, wide, high] = numbers[..] else {
        return Err(Fault::unsound("its viewBox is not four numbers"));
    };
    if !(wide > 0.0 && high > 0.0) {
        return Err(Fault::unsound("its viewBox has no width or no height"));
    }
    // Fitted whole and in the middle (SVG 2, 8.7: xMidYMid meet).
    let scale = (width / wide).min(height / high);
    let (x, y) = ((width - wide * scale) / 2.0 - left * scale, (height - high * scale) / 2.0 - top * scale);
    let fitted = Transform::from_row(scale, 0.0, 0.0, scale, x, y);
    fitted.invert().ok_or_else(|| Fault::unsound("its viewBox cannot be fitted to its width and height"))
}
