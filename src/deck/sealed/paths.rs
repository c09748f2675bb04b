//! Names that files of a sealed deck may have: such as mean the same on every system, inside one folder.

use std::collections::BTreeMap;

use super::refusal::Refusal;
use crate::deck::folding::folded_path;

/// A path may be this long, in bytes.
const LONGEST: usize = 200;

/// Refuses a path that is not one plain way down from the deck's folder. `shown` is the entry as the file names it.
pub fn check(path: &str, shown: &str) -> Result<(), Refusal> {
    let refused = |code, why: &str| Err(Refusal::rule(code, format!("`{shown}` {why}")));
    if path.starts_with('/') {
        return refused("path-absolute", "begins at the top of the disk");
    }
    if path.contains('\\') {
        return refused("path-backslash", "has a backslash, which parts folders on some systems");
    }
    if path.as_bytes().get(1) == Some(&b':') && path.as_bytes()[0].is_ascii_alphabetic() {
        return refused("path-drive", "begins with a drive letter");
    }
    if path.split('/').any(|part| part == "..") {
        return refused("path-outside", "leaves the deck’s folder");
    }
    if path.len() > LONGEST {
        return refused("path-long", &format!("is longer than {LONGEST} bytes"));
    }
    for part in path.split('/') {
        if part.is_empty() {
            return refused("path-empty", "has an empty name between its strokes");
        }
        let is_letter = |c: char| c.is_alphabetic() || c.is_ascii_digit() || matches!(c, '-' | '_' | ' ' | '.');
        if !part.chars().all(is_letter) {
            return refused("path-sign", "has a sign in it that is no letter, digit, space, `-`, `_` or `.`");
        }
        let edges = ['.', ' '];
        if part.starts_with(edges) || part.ends_with(edges) {
            return refused("path-edge", "has a name that begins or ends with a dot or a space");
        }
        if is_device(part) {
            return refused("path-device", "has the name of a device on Windows");
        }
    }
    Ok(())
}

/// Names that Windows keeps for devices, whatever ending stands behind them.
fn is_device(part: &str) -> bool {
    let folded = folded_path(part);
    let stem = folded.split('.').next().unwrap_or_default().trim_end_matches(' ');
    let numbered = |of: &str| stem.strip_prefix(of).is_some_and(|n| n.len() == 1 && n.as_bytes()[0].is_ascii_digit());
    matches!(stem, "con" | "prn" | "aux" | "nul") || numbered("com") || numbered("lpt")
}

/// Paths that have been met, to find two that are one name somewhere.
#[derive(Debug, Default)]
pub(super) struct Met {
    /// What each folded name is, and how it was spelt: a file, or a folder.
    names: BTreeMap<String, (String, bool)>,
}

impl Met {
    /// Takes a path in; refuses one that another path is equal to, on some system, as a file or as a folder.
    pub(super) fn add(&mut self, path: &str) -> Result<(), Refusal> {
        let stops = path.match_indices('/').map(|(at, _)| at).chain([path.len()]);
        for stop in stops {
            let (part, is_file) = (&path[..stop], stop == path.len());
            match self.names.get(&folded_path(part)) {
                None => {
                    self.names.insert(folded_path(part), (part.to_owned(), is_file));
                }
                Some((_, was_file)) if *was_file != is_file => {
                    let text = format!("`{path}`: `{part}` is a file and a folder at once");
                    return Err(Refusal::rule("file-and-folder", text));
                }
                Some((spelt, _)) if is_file || spelt != part => {
                    let text = format!("`{part}` and `{spelt}` are one name on many computers");
                    return Err(Refusal::rule("double-name-folded", text));
                }
                Some(_) => {}
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::{Met, check};

    #[test]
    fn plain_paths_pass() {
        for path in
            ["deck.toml", "cards/air 2.toml", "pictures/kühlwasser_pumpe-1.svg", "concrete.toml", "com.x/common.png"]
        {
            assert_eq!(check(path, path), Ok(()), "{path}");
        }
        assert_eq!(check(&"a".repeat(200), "a"), Ok(()));
    }

    #[test]
    fn each_way_out_has_its_name() {
        let long = "a".repeat(201);
        for (path, code) in [
            ("/etc/x", "path-absolute"),
            ("a\\b", "path-backslash"),
            ("c:x", "path-drive"),
            ("a/../b", "path-outside"),
            (long.as_str(), "path-long"),
            ("a//b", "path-empty"),
            ("a:b", "path-sign"),
            ("a\u{202e}b", "path-sign"),
            (".hidden", "path-edge"),
            ("a./b", "path-edge"),
            ("a /b", "path-edge"),
            ("NUL", "path-device"),
            ("a/com1.toml", "path-device"),
            ("lpt9 .txt", "path-device"),
            ("ＣＯＮ.toml", "path-device"),
        ] {
            assert_eq!(check(path, path).map_err(|refusal| refusal.code), Err(code), "{path}");
        }
    }

    #[test]
    fn names_are_compared_as_the_least_particular_system_does() {
        for (one, other, code) in [
            ("a.toml", "A.toml", "double-name-folded"),
            ("stra\u{df}e", "STRASSE", "double-name-folded"),
            ("\u{e9}", "\u{c9}", "double-name-folded"),
            ("ﬁre", "fire", "double-name-folded"),
            ("\u{3c3}", "\u{3c2}", "double-name-folded"),
            ("cards/a", "Cards/b", "double-name-folded"),
            ("a", "a/b", "file-and-folder"),
            ("A/b", "a", "file-and-folder"),
        ] {
            let mut met = Met::default();
            assert_eq!(met.add(one), Ok(()), "{one}");
            assert_eq!(met.add(other).map_err(|refusal| refusal.code), Err(code), "{one}, {other}");
        }
        let mut met = Met::default();
        assert_eq!(met.add("cards/a").and_then(|()| met.add("cards/b")), Ok(()));
    }
}
