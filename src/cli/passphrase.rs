//! Passphrases: typed unseen at a terminal, or a line on a pipe.

use std::io::{self, BufRead, ErrorKind, IsTerminal, Read};

/// Longer lines are none that anybody types.
const LONGEST: u64 = 1024;

/// Asks for the passphrase of a key that is there.
///
/// # Errors
/// Where nobody can be asked, or nothing is given.
pub(super) fn ask(prompt: &str) -> io::Result<String> {
    let words = if io::stdin().is_terminal() { rpassword::prompt_password(prompt)? } else { line()? };
    match words.is_empty() {
        true => Err(io::Error::new(ErrorKind::InvalidInput, "no passphrase was given")),
        false => Ok(words),
    }
}

/// Asks for a new passphrase; at a terminal twice, since nobody sees what is typed.
///
/// # Errors
/// Where nobody can be asked, nothing is given, or the two are not the same.
pub(super) fn ask_new() -> io::Result<String> {
    let words = ask("Passphrase for the new key: ")?;
    if io::stdin().is_terminal() && ask("The same once more: ")? != words {
        return Err(io::Error::new(ErrorKind::InvalidInput, "the two passphrases are not the same"));
    }
    Ok(words)
}

fn line() -> io::Result<String> {
    let mut text = String::new();
    io::stdin().lock().take(LONGEST).read_line(&mut text)?;
    Ok(text.trim_end_matches(['\r', '\n']).to_owned())
}
