//! Who uses what: paths followed through `use` and re-exports to the file that defines an item, or out of the crate; and
//! the circles of files that this makes.

use std::collections::{BTreeMap, BTreeSet};

use super::source::Crate;

/// Where a path leads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// An item of a module.
    Item { module: usize, name: String },
    /// A module of this crate.
    Module(usize),
    /// Out of the crate, by this path.
    Outside(Vec<String>),
}

/// By file, the files whose items it uses, each with the names of those items.
pub type Edges = BTreeMap<String, BTreeMap<String, BTreeSet<String>>>;

impl Crate {
    /// Where `path` leads, read in a module; none where it cannot be told, as with the path of a type's own function.
    pub fn resolve(&self, module: usize, path: &[String]) -> Option<Place> {
        let first = path.first()?;
        let mut seen = BTreeSet::new();
        match first.as_str() {
            "Self" => None,
            "crate" => self.within(0, &path[1..], &mut seen),
            "self" => self.within(module, &path[1..], &mut seen),
            "super" => {
                let above = &self.modules[module].path;
                let above = self.module(&above[..above.len().checked_sub(1)?])?;
                match path.get(1).map(String::as_str) {
                    Some("super") => self.resolve(above, &path[1..]),
                    _ => self.within(above, &path[1..], &mut seen),
                }
            }
            _ => self.head(module, path, &mut seen),
        }
    }

    /// A path whose first word is looked for in the module and then among the crates. A word that the module knows is no
    /// crate, even where nothing is found behind it (a macro may make it).
    fn head(&self, module: usize, path: &[String], seen: &mut BTreeSet<(usize, String)>) -> Option<Place> {
        let place = self.within(module, path, seen);
        let (of, first) = (&self.modules[module], &path[0]);
        let brings = of.uses.iter().any(|used| used.path.len() > 1 && used.alias.as_ref() == Some(first));
        let knows = brings || of.children.contains_key(first) || of.items.contains(first);
        place.or_else(|| (!knows).then(|| Place::Outside(path.to_vec())))
    }

    /// Resolves a use's own path, in the module where it stands.
    fn used(&self, module: usize, path: &[String], seen: &mut BTreeSet<(usize, String)>) -> Option<Place> {
        match path.first()?.as_str() {
            "crate" => self.within(0, &path[1..], seen),
            "self" => self.within(module, &path[1..], seen),
            "super" => {
                let above = &self.modules[module].path;
                let above = self.module(&above[..above.len().checked_sub(1)?])?;
                match path.get(1).map(String::as_str) {
                    Some("super") => self.used(above, &path[1..], seen),
                    _ => self.within(above, &path[1..], seen),
                }
            }
            _ => self.head(module, path, seen),
        }
    }

    fn module(&self, path: &[String]) -> Option<usize> {
        path.iter().try_fold(0, |at, name| self.modules[at].children.get(name).copied())
    }

    /// A path that begins with a name of this module.
    fn within(&self, at: usize, path: &[String], seen: &mut BTreeSet<(usize, String)>) -> Option<Place> {
        let Some((first, rest)) = path.split_first() else { return Some(Place::Module(at)) };
        let module = &self.modules[at];
        let item = || Some(Place::Item { module: at, name: first.clone() });
        let child = module.children.get(first);
        if rest.is_empty() && module.items.contains(first) {
            return item();
        }
        if let Some(child) = child.filter(|_| !rest.is_empty()) {
            return self.within(*child, rest, seen);
        }
        if module.items.contains(first) {
            return item();
        }
        if seen.insert((at, first.clone())) {
            let named = module.uses.iter().filter(|used| used.alias.as_ref() == Some(first));
            let mut led: Vec<Place> = named.filter_map(|used| self.used(at, &used.path, &mut seen.clone())).collect();
            // Of a function and a module of one name the function is meant at the end of a path, else the module.
            led.sort_by_key(|place| matches!(place, Place::Module(_)) == rest.is_empty());
            if let Some(place) = led.into_iter().next() {
                return match place {
                    Place::Module(module) => self.within(module, rest, seen),
                    Place::Outside(path) => Some(Place::Outside([path, rest.to_vec()].concat())),
                    item => Some(item),
                };
            }
        }
        if let Some(child) = child {
            return self.within(*child, rest, seen);
        }
        if !seen.insert((at, format!("*{first}"))) {
            // The way to what is brought in whole is not looked for in what it brings in.
            return None;
        }
        let all = module.uses.iter().filter(|used| used.alias.is_none());
        all.filter_map(|used| match self.used(at, &used.path, &mut seen.clone())? {
            Place::Module(of) if seen.insert((of, format!("{first}*"))) => self.within(of, path, seen),
            _ => None,
        })
        .next()
    }

    /// Who uses whose items. A `use` that others may name counts only where the file itself names what it brings in;
    /// that of all of a module counts for its file.
    pub fn edges(&self) -> Edges {
        let mut edges = Edges::new();
        for (at, module) in self.modules.iter().enumerate() {
            let mut add = |file: &str, name: &str| {
                if file != module.file {
                    let to = edges.entry(module.file.clone()).or_default().entry(file.to_owned()).or_default();
                    to.insert(name.to_owned());
                }
            };
            for used in &module.uses {
                let is_used = |alias: &String| !used.is_public || module.words.contains(alias);
                match (self.resolve(at, &used.path), &used.alias) {
                    (Some(Place::Module(of)), None) => add(&self.modules[of].file, "*"),
                    (Some(Place::Item { module: of, name }), None) => add(&self.modules[of].file, &name),
                    (Some(Place::Item { module: of, name }), Some(alias)) if is_used(alias) => {
                        add(&self.modules[of].file, &name);
                    }
                    _ => {}
                }
            }
            for path in &module.paths {
                if let Some(Place::Item { module: of, name }) = self.resolve(at, path) {
                    add(&self.modules[of].file, &name);
                }
            }
        }
        edges
    }

    /// Every path out of the crate, by file; its first word is a crate's name.
    pub fn outside(&self) -> BTreeSet<(&str, Vec<String>)> {
        let mut found = BTreeSet::new();
        for (at, module) in self.modules.iter().enumerate() {
            for path in module.uses.iter().map(|used| &used.path).chain(&module.paths) {
                if let Some(Place::Outside(path)) = self.resolve(at, path)
                    && path[0].starts_with(|c: char| c.is_lowercase())
                {
                    found.insert((module.file.as_str(), path));
                }
            }
        }
        found
    }

    /// Every module and item of this crate that a file names, as a path from the root.
    pub fn inside(&self) -> BTreeSet<(&str, Vec<String>)> {
        let mut found = BTreeSet::new();
        for (at, module) in self.modules.iter().enumerate() {
            for path in module.uses.iter().map(|used| &used.path).chain(&module.paths) {
                match self.resolve(at, path) {
                    Some(Place::Module(of)) => found.insert((module.file.as_str(), self.modules[of].path.clone())),
                    Some(Place::Item { module: of, name }) => {
                        let path = self.modules[of].path.iter().cloned().chain([name]).collect();
                        found.insert((module.file.as_str(), path))
                    }
                    _ => false,
                };
            }
        }
        found
    }
}

/// The circles: files each of which uses, over others or by itself, every other one of its circle.
pub fn circles(edges: &Edges) -> Vec<Vec<&str>> {
    let reach: BTreeMap<&str, BTreeSet<&str>> =
        edges.keys().map(|file| (file.as_str(), reached(edges, file))).collect();
    let mut circles: Vec<Vec<&str>> = Vec::new();
    for (file, reached) in &reach {
        if reached.contains(file) && !circles.iter().any(|circle| circle.contains(file)) {
            let back = reached.iter().filter(|other| reach.get(*other).is_some_and(|from| from.contains(file)));
            circles.push(back.copied().collect());
        }
    }
    circles
}

/// Every file that one uses, over however many others; itself only where it comes back.
fn reached<'e>(edges: &'e Edges, from: &str) -> BTreeSet<&'e str> {
    let mut found = BTreeSet::new();
    let mut left = vec![from];
    while let Some(file) = left.pop() {
        for to in edges.get(file).into_iter().flat_map(BTreeMap::keys) {
            if found.insert(to.as_str()) {
                left.push(to);
            }
        }
    }
    found
}
