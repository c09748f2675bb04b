//! A crate's sources as the house rules look at them: without comments, texts and unit tests, each file a module with
//! the items that it defines, what it brings in by `use`, and the paths that stand in its code.

use std::collections::{BTreeMap, BTreeSet};

/// What stands, in the macro of a room, for each file that the list of kinds names.
const LISTED: &str = "$file";

/// The macro that is the list of kinds: `Recall(Recall): recall;` and so on.
const LIST: &str = "each_kind";

/// Words that begin an item, before its name.
const ITEMS: &[&str] = &["fn", "struct", "enum", "trait", "const", "static", "type", "union"];

/// Tokens of a source: words, `::`, single signs; a text, a sign in quotes and a number are all `""`.
pub fn tokens(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let mut length = c.len_utf8();
        if c.is_whitespace() {
            // Passed over.
        } else if rest.starts_with("//") {
            length = rest.find('\n').unwrap_or(rest.len());
        } else if rest.starts_with("/*") {
            length = block_comment(rest);
        } else if let Some(literal) = literal(rest) {
            length = literal;
            found.push("\"\"");
        } else if c.is_alphanumeric() || c == '_' {
            length = rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len());
            found.push(if c.is_ascii_digit() { "\"\"" } else { &rest[..length] });
        } else if c == '$' {
            // What a macro is given: no name of this file.
            let word = &rest[1..];
            length = 1 + word.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(word.len());
            found.push(if &rest[..length] == LISTED { LISTED } else { "$" });
        } else if rest.starts_with("::") {
            length = 2;
            found.push("::");
        } else {
            found.push(&rest[..length]);
        }
        rest = &rest[length..];
    }
    found
}

/// The length of the comment at the start, with those inside of it.
fn block_comment(text: &str) -> usize {
    let (mut at, mut depth) = (2, 1);
    while depth > 0 && at < text.len() {
        if text[at..].starts_with("/*") {
            (at, depth) = (at + 2, depth + 1);
        } else if text[at..].starts_with("*/") {
            (at, depth) = (at + 2, depth - 1);
        } else {
            at += text[at..].chars().next().map_or(1, char::len_utf8);
        }
    }
    at
}

/// The length of the text, or of the sign in quotes, at the start.
fn literal(text: &str) -> Option<usize> {
    let body = text.strip_prefix(['b', 'c']).unwrap_or(text);
    if let Some(raw) = body.strip_prefix('r') {
        let inside = raw.trim_start_matches('#');
        let end = format!("\"{}", "#".repeat(raw.len() - inside.len()));
        if let Some(inside) = inside.strip_prefix('"') {
            return Some(text.len() - inside.len() + inside.find(&end)? + end.len());
        }
    }
    let before = text.len() - body.len();
    if body.starts_with('"') {
        return Some(before + quoted(body, '"')?);
    }
    // A sign in quotes, or a lifetime.
    let mut signs = body.strip_prefix('\'')?.chars();
    let is_sign = signs.next()? == '\\' || signs.next()? == '\'';
    is_sign.then(|| quoted(body, '\'')).flatten().map(|length| before + length)
}

/// The length of what begins with a quote, up to the quote that closes it.
fn quoted(text: &str, quote: char) -> Option<usize> {
    let mut is_escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        if !is_escaped && c == quote {
            return Some(at + 1);
        }
        is_escaped = c == '\\' && !is_escaped;
    }
    None
}

fn is_word(token: &str) -> bool {
    token.starts_with(|c: char| c.is_alphabetic() || c == '_')
}

/// The index after the bracket that closes the one at `at`.
fn closed(tokens: &[&str], mut at: usize) -> usize {
    let mut depth = 0;
    while at < tokens.len() {
        match tokens[at] {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => depth -= 1,
            _ => {}
        }
        at += 1;
        if depth == 0 {
            break;
        }
    }
    at
}

/// The tokens without what stands under `#[cfg(test)]`; none of a file that is all for tests.
fn without_tests(tokens: Vec<&str>) -> Vec<&str> {
    const TEST: [&str; 7] = ["#", "[", "cfg", "(", "test", ")", "]"];
    if tokens.starts_with(&["#", "!", "[", "cfg", "(", "test", ")", "]"]) {
        return Vec::new();
    }
    let mut kept = Vec::with_capacity(tokens.len());
    let mut at = 0;
    while at < tokens.len() {
        if !tokens[at..].starts_with(&TEST) {
            kept.push(tokens[at]);
            at += 1;
            continue;
        }
        at += TEST.len();
        while tokens.get(at) == Some(&"#") {
            at = closed(&tokens, at + 1);
        }
        let is_use =
            matches!(tokens.get(at), Some(&"use" | &"pub")) && tokens[at..].iter().take(6).any(|token| *token == "use");
        while at < tokens.len() && !matches!(tokens[at], ")" | "]" | "}") {
            let token = tokens[at];
            at = if matches!(token, "(" | "[" | "{") { closed(&tokens, at) } else { at + 1 };
            if matches!(token, ";" | ",") || (token == "{" && !is_use) {
                break;
            }
        }
    }
    kept
}

/// What a `use` brings in.
#[derive(Debug)]
pub struct Use {
    pub path: Vec<String>,
    /// The name that it has here; none where all of a module is brought in.
    pub alias: Option<String>,
    /// Others may name it from here.
    pub is_public: bool,
}

/// A module: a file, or a part of one.
#[derive(Debug, Default)]
pub struct Module {
    /// From the root of the crate.
    pub path: Vec<String>,
    pub file: String,
    pub items: BTreeSet<String>,
    /// By name, the numbers of the modules in it.
    pub children: BTreeMap<String, usize>,
    pub uses: Vec<Use>,
    /// Paths of two words or more in its code.
    pub paths: BTreeSet<Vec<String>>,
    /// Words of its code, `use` apart.
    pub words: BTreeSet<String>,
}

/// A crate, as far as `mod` leads from its root; module 0 is the root.
#[derive(Debug, Default)]
pub struct Crate {
    pub modules: Vec<Module>,
    /// The names that the list of kinds has for files.
    listed: Vec<String>,
}

impl Crate {
    /// Reads the crate whose root is `src/lib.rs`, from files by their paths.
    pub fn read(files: &BTreeMap<String, String>) -> Self {
        let mut all =
            Self { listed: listed_kinds(files).into_iter().map(|kind| kind.file).collect(), ..Self::default() };
        all.load(files, Vec::new(), "src/lib.rs", "src");
        all
    }

    fn load(&mut self, files: &BTreeMap<String, String>, path: Vec<String>, file: &str, folder: &str) -> usize {
        let tokens = without_tests(tokens(files.get(file).map_or("", String::as_str)));
        self.scan(files, path, file, folder, &tokens)
    }

    /// The module in a file of its own, if there is one of this name.
    fn child(
        &mut self,
        files: &BTreeMap<String, String>,
        path: Vec<String>,
        folder: &str,
        name: &str,
    ) -> Option<usize> {
        let inner = format!("{folder}/{name}");
        let names = [format!("{inner}.rs"), format!("{inner}/mod.rs")];
        let file = names.into_iter().find(|name| files.contains_key(name))?;
        Some(self.load(files, path, &file, &inner))
    }

    fn scan(
        &mut self,
        files: &BTreeMap<String, String>,
        path: Vec<String>,
        file: &str,
        folder: &str,
        tokens: &[&str],
    ) -> usize {
        let number = self.modules.len();
        let mut module = Module { path: path.clone(), file: file.to_owned(), ..Module::default() };
        self.modules.push(Module { path: path.clone(), file: file.to_owned(), ..Module::default() });
        let (mut at, mut depth) = (0, 0);
        while at < tokens.len() {
            match tokens[at..] {
                ["mod", name, mark @ (";" | "{"), ..] if is_word(name) => {
                    let path = path.iter().cloned().chain([name.to_owned()]).collect();
                    let inner = format!("{folder}/{name}");
                    let child = if mark == "{" {
                        let end = closed(tokens, at + 2);
                        let child = self.scan(files, path, file, &inner, &tokens[at + 3..end - 1]);
                        at = end;
                        Some(child)
                    } else {
                        at += 3;
                        self.child(files, path, folder, name)
                    };
                    module.children.extend(child.map(|child| (name.to_owned(), child)));
                    continue;
                }
                ["mod", LISTED, ";", ..] => {
                    at += 3;
                    for name in self.listed.clone() {
                        let path = path.iter().cloned().chain([name.clone()]).collect();
                        module.children.extend(self.child(files, path, folder, &name).map(|child| (name, child)));
                    }
                    continue;
                }
                [LISTED, "::", name, ..] if is_word(name) => {
                    module.paths.extend(self.listed.iter().map(|file| vec![file.clone(), name.to_owned()]));
                }
                ["use", next, ..] if is_word(next) || matches!(next, "::" | "{") => {
                    let is_public = at > 0 && matches!(tokens[at - 1], "pub" | ")");
                    at = use_tree(tokens, at + 1, &[], is_public, &mut module.uses);
                    continue;
                }
                ["macro_rules", "!", name, ..] if depth == 0 => {
                    module.items.insert(name.to_owned());
                }
                [word, name, ..] if depth == 0 && ITEMS.contains(&word) => {
                    let name = if name == "mut" { tokens.get(at + 2).copied().unwrap_or_default() } else { name };
                    if is_word(name) && !ITEMS.contains(&name) {
                        module.items.insert(name.to_owned());
                    }
                }
                _ => {}
            }
            let token = tokens[at];
            at += 1;
            match token {
                "(" | "[" | "{" => depth += 1,
                ")" | "]" | "}" => depth -= 1,
                word if is_word(word) && (at < 2 || !matches!(tokens[at - 2], "::" | ".")) => {
                    let mut path = vec![word.to_owned()];
                    while let ["::", word, ..] = tokens[at..]
                        && is_word(word)
                    {
                        path.push(word.to_owned());
                        at += 2;
                    }
                    module.words.insert(word.to_owned());
                    if path.len() > 1 {
                        module.paths.insert(path);
                    }
                }
                _ => {}
            }
        }
        self.modules[number] = module;
        number
    }
}

/// A kind of card as the list of kinds has it.
pub struct ListedKind {
    /// The name of its variants.
    pub name: String,
    /// The name of its files.
    pub file: String,
}

/// The list of kinds, wherever it stands.
pub fn listed_kinds(files: &BTreeMap<String, String>) -> Vec<ListedKind> {
    let mut found = Vec::new();
    for text in files.values().filter(|text| text.contains(LIST)) {
        let tokens = tokens(text);
        let list = tokens.windows(3).position(|at| at == ["macro_rules", "!", LIST]);
        let Some(list) = list.map(|at| &tokens[at + 3..closed(&tokens, at + 3)]) else { continue };
        let names = list.windows(2).filter(|at| is_word(at[0]) && at[1] == "(").map(|at| at[0].to_owned());
        let named = list.windows(3).filter(|at| at[0] == ":" && is_word(at[1]) && at[2] == ";");
        found.extend(names.zip(named).map(|(name, at)| ListedKind { name, file: at[1].to_owned() }));
    }
    found
}

/// Reads a tree of `use` from `at`; gives the index after it.
fn use_tree(tokens: &[&str], mut at: usize, above: &[String], is_public: bool, found: &mut Vec<Use>) -> usize {
    let mut path = above.to_vec();
    while let Some(token) = tokens.get(at) {
        at += 1;
        match *token {
            "{" => {
                while tokens.get(at).is_some_and(|token| *token != "}") {
                    at = use_tree(tokens, at, &path, is_public, found);
                    at += usize::from(tokens.get(at) == Some(&","));
                }
                return at + 1;
            }
            "*" => {
                found.push(Use { path, alias: None, is_public });
                return at;
            }
            "::" => continue,
            "self" if !path.is_empty() => {}
            word => path.push(word.to_owned()),
        }
        if tokens.get(at) != Some(&"::") {
            let alias = match tokens[at..] {
                ["as", alias, ..] => {
                    at += 2;
                    Some(alias.to_owned())
                }
                _ => path.last().cloned(),
            };
            found.push(Use { path, alias, is_public });
            return at;
        }
    }
    at
}
