//! `bedplate keys`: the keys by which decks are signed, one's own and those that are trusted.
//!
//! Exit codes: 0 done, 1 not done (the name is taken), 2 an error of the call.

use std::path::Path;
use std::process::ExitCode;

use serde_json::json;

use super::out::{self, cannot, told};
use super::{passphrase, profile};
use crate::app::publish::keys::{self, KeysTrouble, KnownKey};
use crate::store::StoreError;

/// Makes a pair of one's own.
pub(super) fn new(name: &str, no_passphrase: bool) -> ExitCode {
    let home = match profile::home() {
        Ok(home) => home,
        Err(error) => return cannot(error),
    };
    let words = match no_passphrase {
        true => None,
        false => match passphrase::ask_new() {
            Ok(words) => Some(words),
            Err(error) => return cannot(format!("{error}; without a passphrase it is made by --no-passphrase")),
        },
    };
    match keys::make(&home, name, words.as_deref()) {
        Ok(made) => {
            let printed = out::line(format_args!(
                "Key {name}, number {}\n  public: {}\n  public key’s file, to give away: {}\n  secret key’s file, to keep \
                 to yourself: {}",
                made.key.number(),
                made.key.line(),
                made.public_at.display(),
                made.secret_at.display()
            ));
            out::ended(printed, ExitCode::SUCCESS)
        }
        Err(trouble) => not_done(&trouble),
    }
}

/// Prints the keys of the home.
pub(super) fn show(is_json: bool) -> ExitCode {
    let listed =
        profile::home().map_err(KeysTrouble::from).and_then(|home| Ok((keys::own(&home)?, keys::trusted(&home)?)));
    let (own, trusted) = match listed {
        Ok(listed) => listed,
        Err(trouble) => return cannot(trouble),
    };
    if is_json {
        let row =
            |known: &KnownKey| json!({ "name": known.name, "number": known.key.number(), "key": known.key.line() });
        let rows = |keys: &[KnownKey]| keys.iter().map(row).collect::<Vec<_>>();
        let text = format!("{:#}\n", json!({ "own": rows(&own), "trusted": rows(&trusted) }));
        return out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS);
    }
    let mut text = String::new();
    for (sort, keys) in [("own", &own), ("trusted", &trusted)] {
        for known in keys {
            text.push_str(&format!("{sort}  {}  {}  {}\n", known.name, known.key.number(), known.key.line()));
        }
    }
    if text.is_empty() {
        text.push_str("There are no keys yet: `bedplate keys new NAME` makes one.\n");
    }
    out::ended(out::all(super::say::printable(&text).as_bytes()), ExitCode::SUCCESS)
}

/// Trusts the key of a file.
pub(super) fn trust(file: &Path) -> ExitCode {
    let done = profile::home().map_err(KeysTrouble::from).and_then(|home| keys::trust_file(&home, file));
    match done {
        Ok((known, is_new)) => {
            let how = if is_new { "Trusted from now on" } else { "Trusted already" };
            let printed = out::line(format_args!(
                "{how}: {}, number {}, {}",
                super::say::printable(&known.name),
                known.key.number(),
                known.key.line()
            ));
            out::ended(printed, ExitCode::SUCCESS)
        }
        Err(trouble) => not_done(&trouble),
    }
}

fn not_done(trouble: &KeysTrouble) -> ExitCode {
    match trouble {
        KeysTrouble::Store(StoreError::Refused { .. }) => {
            told(&trouble.to_string());
            ExitCode::from(1)
        }
        _ => cannot(trouble),
    }
}
