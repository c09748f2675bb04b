//! A drawing as the engine's tree, held to what can be drawn in good time.

use std::sync::{Arc, LazyLock};

use resvg::usvg::fontdb::{Database, Source};
use resvg::usvg::roxmltree::Document;
use resvg::usvg::{Group, ImageHrefResolver, Node, Options, Paint, Path, Tree};

use super::{Fault, stop};
use crate::faces;

/// Most shapes to be drawn, each counted as often as it is drawn.
const MOST_DRAWN: usize = 200_000;
/// Most layers (see-through groups, clips, masks) inside one another; each takes the memory of a whole picture.
const MOST_LAYERS: usize = 6;
/// How often all shapes together may cover the drawing, and each layer covers it once more: painting takes as long as
/// there are dots to paint.
const MOST_COVERED: f32 = 1_000.0;
/// The widest and highest tile of a pattern, in dots.
const MOST_TILE: f32 = 2_048.0;

/// The tree of a drawing that has been looked over.
pub(super) fn of(document: &Document<'_>) -> Result<Tree, Fault> {
    let tree = Tree::from_xmltree(document, &options())?;
    if !tree.filters().is_empty() {
        return Err(Fault::uses("filters", None));
    }
    Ok(tree)
}

/// Goes through a tree just as it will be drawn, to refuse what would take too long or too much memory. `scale` is
/// from the drawing's units to dots.
pub(super) fn survey(tree: &Tree, scale: f32) -> Result<(), Fault> {
    let area = tree.size().width() * tree.size().height();
    Survey { left: MOST_DRAWN, scale, area, covered: 0.0 }.group(tree.root(), 0, false)
}

/// No folder, no file, no data: text in our own faces and nothing from outside.
fn options() -> Options<'static> {
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

struct Survey {
    /// Shapes that may still come.
    left: usize,
    /// From the drawing's units to dots.
    scale: f32,
    /// The drawing's, in its units.
    area: f32,
    /// How often it is covered so far.
    covered: f32,
}

impl Survey {
    fn group(&mut self, group: &Group, layers: usize, in_pattern: bool) -> Result<(), Fault> {
        let layers = layers + usize::from(group.should_isolate());
        if layers > MOST_LAYERS {
            return Err(Fault::complicated());
        }
        if group.should_isolate() {
            self.cover(1.0)?;
        }
        for node in group.children() {
            stop::step()?;
            self.left = self.left.checked_sub(1).ok_or_else(Fault::complicated)?;
            match node {
                Node::Group(inner) => self.group(inner, layers, in_pattern)?,
                Node::Path(path) => self.path(path, layers, in_pattern)?,
                Node::Text(text) => self.group(text.flattened(), layers, in_pattern)?,
                Node::Image(_) => {
                    let mend = "a drawing in a deck holds lines, shapes and text of its own";
                    return Err(Fault::new("takes in another file or a picture (<image>)", mend));
                }
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

    /// So much of the drawing, from 0 to 1, is painted over.
    fn cover(&mut self, share: f32) -> Result<(), Fault> {
        // What is no number counts as all of it.
        self.covered += if (0.0..=1.0).contains(&share) { share } else { 1.0 };
        if self.covered > MOST_COVERED {
            return Err(Fault::too_much("its shapes cover one another too often"));
        }
        Ok(())
    }

    fn path(&mut self, path: &Path, layers: usize, in_pattern: bool) -> Result<(), Fault> {
        let bounds = path.abs_stroke_bounding_box();
        self.cover(bounds.width() * bounds.height() / self.area)?;
        let paints = [path.fill().map(|f| f.paint()), path.stroke().map(|s| s.paint())];
        for paint in paints.into_iter().flatten() {
            let Paint::Pattern(pattern) = paint else { continue };
            let (x, y) = path.abs_transform().pre_concat(pattern.transform()).get_scale();
            let tile = (pattern.rect().width() * x).max(pattern.rect().height() * y) * self.scale;
            // Also refuses what is no number.
            let fits = tile <= MOST_TILE;
            if !fits || in_pattern {
                return Err(Fault::complicated());
            }
            self.group(pattern.root(), layers + 1, true)?;
        }
        Ok(())
    }
}
