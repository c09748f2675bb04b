//! SVG text becomes dots. Only here is `resvg` called.
//!
//! A drawing comes from a deck, so it is not trusted: it takes in no other file, nothing in it runs, and how large,
//! deep and entangled it may be has limits, since the engine's own time and memory grow with that.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock};

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::fontdb::{Database, Source};
use resvg::usvg::roxmltree::{self, Document, Node as XmlNode, NodeId, ParsingOptions};
use resvg::usvg::{Error, Group, ImageHrefResolver, Node, Options, Paint, Path, Tree};

use super::{Fault, fitted};
use crate::faces;
use crate::present::Image;

/// Most bytes of a drawing.
const MOST_BYTES: usize = 2 * 1024 * 1024;
/// Most elements and texts.
const MOST_NODES: u32 = 50_000;
/// Most elements inside one another, with what is used in its place.
const MOST_DEEP: usize = 128;
/// Most clips, masks, patterns and markers, which may stand in a chain.
const MOST_REFERRED: usize = 256;
/// Most shapes to be drawn, each counted as often as it is drawn.
const MOST_DRAWN: usize = 200_000;
/// Most layers (see-through groups, clips, masks) inside one another; each takes the memory of a whole picture.
const MOST_LAYERS: usize = 6;
/// The widest and highest tile of a pattern, in dots.
const MOST_TILE: f32 = 2_048.0;

/// Draws a picture as large as it may be shown.
pub(super) fn draw(bytes: &[u8]) -> Result<Image, Fault> {
    if bytes.len() > MOST_BYTES {
        return Err(Fault::Complicated);
    }
    let text = std::str::from_utf8(bytes).map_err(|_| Fault::Drawing("it is not UTF-8 text".to_owned()))?;
    if text.contains("<!ENTITY") {
        return Err(Fault::Effect("entities (<!ENTITY>)"));
    }
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|e| fault(e.into()))?;
    look_over(&document)?;
    let tree = Tree::from_xmltree(&document, &options_for_trees()).map_err(fault)?;
    let size = tree.size();
    let (width, height) = fitted(size.width(), size.height(), true);
    let (x, y) = (width as f32 / size.width(), height as f32 / size.height());
    if !tree.filters().is_empty() {
        return Err(Fault::Effect("filters"));
    }
    Survey { left: MOST_DRAWN, scale: x.max(y) }.group(tree.root(), 0, false)?;
    let mut dots = Pixmap::new(width, height).ok_or(Fault::Broken)?;
    resvg::render(&tree, Transform::from_scale(x, y), &mut dots.as_mut());
    Ok(Image { width, height, rgba: dots.take() })
}

fn fault(error: Error) -> Fault {
    use roxmltree::Error::{AttributesLimitReached, NodesLimitReached};
    match error {
        Error::ElementsLimitReached | Error::ParsingFailed(NodesLimitReached | AttributesLimitReached) => {
            Fault::Complicated
        }
        Error::ParsingFailed(xml) => Fault::Drawing(xml.to_string()),
        Error::InvalidSize => Fault::Drawing("its width, height or viewBox is missing or nought".to_owned()),
        other => Fault::Drawing(other.to_string()),
    }
}

/// What a drawing may not hold is refused rather than left out, since a drawing with a part missing misleads.
fn look_over(document: &Document<'_>) -> Result<(), Fault> {
    let mut by_id = HashMap::new();
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            // Of two with one id the engine uses the first.
            by_id.entry(id).or_insert(node);
        }
    }
    let mut look = Look { by_id, heights: HashMap::new(), referred: 0 };
    look.height(document.root_element(), 1).map(|_| ())
}

/// A walk over the elements, each once.
struct Look<'a, 'input> {
    by_id: HashMap<&'a str, XmlNode<'a, 'input>>,
    /// How many elements stand inside one another from here on; none while that is being found out.
    heights: HashMap<NodeId, Option<usize>>,
    referred: usize,
}

impl<'a, 'input> Look<'a, 'input> {
    /// The height of an element that stands this deep, with what it uses in its place. The engine goes as deep by
    /// recursion, once more for each clip, mask, pattern and marker that stands in a chain of them.
    fn height(&mut self, node: XmlNode<'a, 'input>, depth: usize) -> Result<usize, Fault> {
        let known = self.heights.get(&node.id()).copied();
        // An element inside of itself has no height.
        let height = known.map_or(Some(1), |known| known).ok_or(Fault::Complicated)?;
        if depth + height > MOST_DEEP {
            return Err(Fault::Complicated);
        }
        if known.is_some() {
            return Ok(height);
        }
        self.heights.insert(node.id(), None);
        self.element(node)?;
        let uses = |name| name == "href" && node.tag_name().name() == "use";
        let used = node.attributes().filter(|a| uses(a.name()));
        let used = used.filter_map(|a| self.by_id.get(a.value().trim().trim_start_matches('#')).copied());
        let inside: Vec<_> = node.children().filter(XmlNode::is_element).chain(used).collect();
        let mut height = 1;
        for inner in inside {
            height = height.max(1 + self.height(inner, depth + 1)?);
        }
        self.heights.insert(node.id(), Some(height));
        Ok(height)
    }

    fn element(&mut self, node: XmlNode<'a, 'input>) -> Result<(), Fault> {
        let name = node.tag_name().name();
        if matches!(name, "image" | "feImage") {
            return Err(Fault::TakesIn(format!("<{name}>")));
        }
        let elsewhere = node.attributes().any(|a| a.name() == "href" && !a.value().trim_start().starts_with('#'));
        // A link is nothing to draw, and a script is never run.
        if elsewhere && !matches!(name, "a" | "script") {
            return Err(Fault::TakesIn(format!("<{name}> with an href")));
        }
        self.referred += usize::from(matches!(name, "clipPath" | "mask" | "pattern" | "marker" | "filter"));
        if self.referred > MOST_REFERRED { Err(Fault::Complicated) } else { Ok(()) }
    }
}

/// No folder, no file, no data: text in our own faces and nothing from outside.
fn options_for_trees() -> Options<'static> {
    Options {
        resources_dir: None,
        font_family: "Source Sans 3".to_owned(),
        image_href_resolver: ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        fontdb: Arc::clone(&FACES),
        ..Options::default()
    }
}

static FACES: LazyLock<Arc<Database>> = LazyLock::new(|| {
    let mut database = Database::new();
    for face in [faces::SANS, faces::SANS_SEMI, faces::SANS_ITALIC, faces::CODE, faces::CODE_MEDIUM] {
        database.load_font_source(Source::Binary(Arc::new(face)));
    }
    database.set_serif_family("Source Sans 3");
    database.set_sans_serif_family("Source Sans 3");
    database.set_cursive_family("Source Sans 3");
    database.set_fantasy_family("Source Sans 3");
    database.set_monospace_family("Source Code Pro");
    Arc::new(database)
});

/// Goes through a tree just as it will be drawn, to refuse what would take too long or too much memory.
struct Survey {
    /// Shapes that may still come.
    left: usize,
    /// From the drawing's units to dots.
    scale: f32,
}

impl Survey {
    fn group(&mut self, group: &Group, layers: usize, in_pattern: bool) -> Result<(), Fault> {
        let layers = layers + usize::from(group.should_isolate());
        if layers > MOST_LAYERS {
            return Err(Fault::Complicated);
        }
        for node in group.children() {
            self.left = self.left.checked_sub(1).ok_or(Fault::Complicated)?;
            match node {
                Node::Group(inner) => self.group(inner, layers, in_pattern)?,
                Node::Path(path) => self.path(path, layers, in_pattern)?,
                Node::Text(text) => self.group(text.flattened(), layers, in_pattern)?,
                Node::Image(_) => return Err(Fault::TakesIn("<image>".to_owned())),
            }
        }
        let mut clip = group.clip_path();
        let mut deep = layers;
        while let Some(c) = clip {
            deep += 1;
            self.group(c.root(), deep, in_pattern)?;
            clip = c.clip_path();
        }
        let mut mask = group.mask();
        let mut deep = layers;
        while let Some(m) = mask {
            deep += 1;
            self.group(m.root(), deep, in_pattern)?;
            mask = m.mask();
        }
        Ok(())
    }

    fn path(&mut self, path: &Path, layers: usize, in_pattern: bool) -> Result<(), Fault> {
        let paints = [path.fill().map(|f| f.paint()), path.stroke().map(|s| s.paint())];
        for paint in paints.into_iter().flatten() {
            let Paint::Pattern(pattern) = paint else { continue };
            let (x, y) = path.abs_transform().pre_concat(pattern.transform()).get_scale();
            let tile = (pattern.rect().width() * x).max(pattern.rect().height() * y) * self.scale;
            // Also refuses what is no number.
            let fits = tile <= MOST_TILE;
            if !fits || in_pattern {
                return Err(Fault::Complicated);
            }
            self.group(pattern.root(), layers + 1, true)?;
        }
        Ok(())
    }
}
