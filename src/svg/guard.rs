//! Looks over a drawing's text before the engine sees it.

use std::collections::HashMap;

use resvg::usvg::roxmltree::{Attribute, Document, Node, NodeId, ParsingOptions};

use super::{Fault, For, MOST_BYTES};

/// The namespace of SVG's elements.
const NAMESPACE: &str = "http://www.w3.org/2000/svg";
/// Most elements and texts.
const MOST_NODES: u32 = 50_000;
/// Most elements inside one another, with what is used in its place.
const MOST_DEEP: usize = 128;
/// Most elements, each counted as often as it is used.
const MOST_ELEMENTS: u64 = 50_000;
/// Most letters of text, each counted as often as it is used: the engine makes a shape of each.
const MOST_LETTERS: u64 = 20_000;
/// Most bytes of outlines (`d`, `points`), counted as often as they are used.
const MOST_OUTLINES: u64 = 4 * 1024 * 1024;
/// Most shapes that markers may make along lines.
const MOST_MARKED: u64 = 200_000;
/// Most clips, masks, patterns and markers, which may stand in a chain.
const MOST_REFERRED: usize = 256;

/// A drawing's text, if it is one.
pub(super) fn text(bytes: &[u8]) -> Result<&str, Fault> {
    if bytes.len() > MOST_BYTES {
        return Err(Fault::complicated());
    }
    std::str::from_utf8(bytes).map_err(|_| Fault::unsound("it is not UTF-8 text"))
}

/// Reads the text as XML and refuses what a drawing may not hold.
pub(super) fn document(text: &str, purpose: For) -> Result<Document<'_>, Fault> {
    if let Some(at) = text.find("<!ENTITY") {
        let line = text[..at].matches('\n').count() + 1;
        return Err(Fault::uses("entities (<!ENTITY>)", u32::try_from(line).ok()));
    }
    let allow_dtd = purpose == For::Showing;
    let options = ParsingOptions { allow_dtd, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options)?;
    let root = document.root_element();
    if root.tag_name().name() == "svg" && root.tag_name().namespace() != Some(NAMESPACE) {
        return Err(Fault::new("is not marked as SVG", "write <svg xmlns=\"http://www.w3.org/2000/svg\" ...>"));
    }
    look_over(&document, purpose)?;
    Ok(document)
}

/// The line on which an element begins.
pub(super) fn line(node: Node<'_, '_>) -> u32 {
    node.document().text_pos_at(node.range().start).row
}

fn look_over(document: &Document<'_>, purpose: For) -> Result<(), Fault> {
    let mut by_id = HashMap::new();
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            // Of two with one id the engine uses the first.
            by_id.entry(id).or_insert(node);
        }
        if purpose == For::Pointing {
            only_lines(node)?;
        }
    }
    let mut look = Look { by_id, sizes: HashMap::new(), referred: 0, heaviest_marker: 0 };
    let whole = look.size(document.root_element(), 1)?;
    // A marker may stand at each corner of a line; a corner takes four bytes and more.
    if whole.outlines / 4 * look.heaviest_marker > MOST_MARKED {
        return Err(Fault::too_much("markers on lines with too many corners"));
    }
    Ok(())
}

/// What a drawing that is pointed at may not hold, even where it would do nothing here: such drawings are made for a
/// deck, and go from one to the next.
fn only_lines(node: Node<'_, '_>) -> Result<(), Fault> {
    if node.is_pi() {
        return Err(Fault::runs("a processing instruction (<?...?>)", line(node)));
    }
    let name = node.tag_name().name();
    // As other programs may read them, in small or capital letters.
    match name.to_ascii_lowercase().as_str() {
        "script" | "handler" => return Err(Fault::runs("a script", line(node))),
        "foreignobject" => return Err(Fault::uses("<foreignObject>", Some(line(node)))),
        "set" | "animate" | "animatemotion" | "animatetransform" | "animatecolor" | "discard" => {
            return Err(Fault::uses(&format!("movement (<{}>)", shown(name)), Some(line(node))));
        }
        "image" | "feimage" | "audio" | "video" | "iframe" => {
            return Err(Fault::takes_in(&format!("<{}>", shown(name)), line(node)));
        }
        "style" => {
            let sheet: String = node.descendants().filter_map(|inner| inner.text()).collect();
            reaches_out(&sheet, node)?;
        }
        _ => {}
    }
    for attribute in node.attributes() {
        let key = attribute.name();
        if key.len() > 2 && key[..2].eq_ignore_ascii_case("on") {
            return Err(Fault::runs(&format!("a script ({})", shown(key)), line(node)));
        }
        let links = matches!(key, "href" | "src" | "base");
        if links && !attribute.value().trim_start().starts_with('#') {
            return Err(Fault::takes_in(&format!("<{}> with {key}", shown(name)), line(node)));
        }
        reaches_out(attribute.value(), node)?;
    }
    Ok(())
}

/// `url(...)` other than to an element of the drawing itself, or a style sheet that takes in another.
fn reaches_out(style: &str, node: Node<'_, '_>) -> Result<(), Fault> {
    let folded = style.to_ascii_lowercase();
    let inside = |rest: &str| rest.trim_start_matches([' ', '\t', '\n', '\r', '"', '\'']).starts_with('#');
    if folded.contains("@import") || folded.split("url(").skip(1).any(|rest| !inside(rest)) {
        return Err(Fault::takes_in("a style with a file or an address", line(node)));
    }
    Ok(())
}

/// A name of the drawing's own, for a message.
fn shown(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric() || "-_.:".contains(*c)).take(40).collect()
}

/// How much there is of an element, with all that stands inside of it and all that it uses in its place.
#[derive(Clone, Copy)]
struct Extent {
    /// How many elements stand inside one another from here on.
    height: usize,
    elements: u64,
    letters: u64,
    /// Bytes of outlines.
    outlines: u64,
}

/// A walk over the elements, each once.
struct Look<'a, 'input> {
    by_id: HashMap<&'a str, Node<'a, 'input>>,
    /// None while it is being found out.
    sizes: HashMap<NodeId, Option<Extent>>,
    referred: usize,
    /// Elements of the largest marker.
    heaviest_marker: u64,
}

impl<'a, 'input> Look<'a, 'input> {
    /// The extent of an element that stands this deep. The engine goes as deep by recursion, once more for each clip,
    /// mask, pattern and marker that stands in a chain of them.
    fn size(&mut self, node: Node<'a, 'input>, depth: usize) -> Result<Extent, Fault> {
        let known = self.sizes.get(&node.id()).copied();
        // An element inside of itself has no height.
        let height = known.map_or(Some(1), |known| known.map(|k| k.height)).ok_or_else(Fault::complicated)?;
        if depth + height > MOST_DEEP {
            return Err(Fault::complicated());
        }
        if let Some(known) = known.flatten() {
            return Ok(known);
        }
        self.sizes.insert(node.id(), None);
        self.element(node)?;
        let uses = |name| name == "href" && node.tag_name().name() == "use";
        let used = node.attributes().filter(|a: &Attribute<'_, '_>| uses(a.name()));
        let used = used.filter_map(|a| self.by_id.get(a.value().trim().trim_start_matches('#')).copied());
        let inside: Vec<_> = node.children().filter(Node::is_element).chain(used).collect();
        let mut extent = own_extent(node);
        for inner in inside {
            let inner = self.size(inner, depth + 1)?;
            extent.height = extent.height.max(1 + inner.height);
            extent.elements = extent.elements.saturating_add(inner.elements);
            extent.letters = extent.letters.saturating_add(inner.letters);
            extent.outlines = extent.outlines.saturating_add(inner.outlines);
        }
        for (much, most, what) in [
            (extent.elements, MOST_ELEMENTS, "more than 50,000 elements, each counted as often as it is used"),
            (extent.letters, MOST_LETTERS, "more than 20,000 letters of text"),
            (extent.outlines, MOST_OUTLINES, "outlines of more than 4 MB, each counted as often as it is used"),
        ] {
            if much > most {
                return Err(Fault::too_much(what));
            }
        }
        if node.tag_name().name() == "marker" {
            self.heaviest_marker = self.heaviest_marker.max(extent.elements);
        }
        self.sizes.insert(node.id(), Some(extent));
        Ok(extent)
    }

    fn element(&mut self, node: Node<'a, 'input>) -> Result<(), Fault> {
        let name = node.tag_name().name();
        if matches!(name, "image" | "feImage") {
            return Err(Fault::takes_in(&format!("<{name}>"), line(node)));
        }
        let elsewhere = node.attributes().any(|a| a.name() == "href" && !a.value().trim_start().starts_with('#'));
        // A link is nothing to draw, and a script is never run.
        if elsewhere && !matches!(name, "a" | "script") {
            return Err(Fault::takes_in(&format!("<{}> with an href", shown(name)), line(node)));
        }
        self.referred += usize::from(matches!(name, "clipPath" | "mask" | "pattern" | "marker" | "filter"));
        if self.referred > MOST_REFERRED { Err(Fault::complicated()) } else { Ok(()) }
    }
}

/// An element alone, with the letters that stand directly in it.
fn own_extent(node: Node<'_, '_>) -> Extent {
    let words = node.children().filter(Node::is_text).filter_map(|text| text.text());
    // Names and looks of parts are not drawn.
    let drawn = !matches!(node.tag_name().name(), "title" | "desc" | "style" | "script" | "metadata");
    let letters =
        words.filter(|_| drawn).filter(|text| !text.trim().is_empty()).map(|text| text.chars().count() as u64);
    let outlines = ["d", "points"].into_iter().filter_map(|key| node.attribute(key));
    Extent { height: 1, elements: 1, letters: letters.sum(), outlines: outlines.map(|text| text.len() as u64).sum() }
}
