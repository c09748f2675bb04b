//! Lists the decks that come with the program, so that the binary carries them.
//!
//! Every folder of `decks/` that holds a `deck.toml` goes in, with its card files and pictures.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let decks = root.join("decks");
    println!("cargo::rerun-if-changed={}", decks.display());
    let mut files = Vec::new();
    if decks.is_dir() {
        for entry in fs::read_dir(&decks)? {
            let folder = entry?.path();
            if folder.join("deck.toml").is_file() {
                collect(&folder, &mut files)?;
            }
        }
    }
    files.sort();
    let mut text = String::from("/// Path inside `decks/`, with `/` between its parts, and the bytes.\n");
    text.push_str("pub static FILES: &[(&str, &[u8])] = &[\n");
    for file in &files {
        println!("cargo::rerun-if-changed={}", file.display());
        let name = file.strip_prefix(&decks).unwrap_or(file).to_string_lossy().replace('\\', "/");
        let _ = writeln!(text, "    ({name:?}, include_bytes!({:?})),", file.display().to_string());
    }
    text.push_str("];\n");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    fs::write(out.join("bundled.rs"), text)
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    println!("cargo::rerun-if-changed={}", folder.display());
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            collect(&path, files)?;
        } else {
            files.push(path);
        }
    }
    Ok(())
}
