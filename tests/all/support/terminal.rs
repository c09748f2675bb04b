//! The program in a terminal, as it is on a pipe: what it says until it asks, and what is said to it.

use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use bedplate::domain::day::Instant;
use tempfile::TempDir;

use crate::support::bundled;
use crate::support::time::MORNING;

/// What the program ends with when it waits for a line.
const PROMPTS: [&[u8]; 7] = [b"> ", b"nowhere): ", b"notch: ", b"next: ", b" to a: ", b"part: ", b"or the answer: "];

/// A watch in the terminal, on the morning of Wednesday 25 November 2026.
pub struct Dialogue {
    child: Child,
    input: ChildStdin,
    out: ChildStdout,
    _home: TempDir,
}

impl Dialogue {
    /// On one of the sound decks of `tests/decks`, beside which nothing else is to study.
    pub fn on_deck(sound: &str) -> Self {
        let home = tempfile::tempdir().expect("a folder");
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks").join(sound);
        let deck = home.path().join("decks/sound");
        fs::create_dir_all(&deck).expect("made");
        for file in ["deck.toml", "cards.toml"] {
            fs::copy(from.join(file), deck.join(file)).expect("copied");
        }
        bundled::share_in(home.path());
        bundled::set_aside_in(&home.path().join("profiles/cadet"), Instant(MORNING));
        Self::in_home(home)
    }

    /// On a home, by the learner `cadet`.
    pub fn in_home(home: TempDir) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_bedplate"))
            .args(["watch", "--plain", "--now", "2026-11-25T08:00:00Z", "--profile"])
            .arg(home.path().join("profiles/cadet"))
            .env("BEDPLATE_HOME", home.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let input = child.stdin.take().expect("a pipe");
        let out = child.stdout.take().expect("a pipe");
        Self { child, input, out, _home: home }
    }

    /// Reads until the program asks for something; what there is where it ends.
    pub fn read(&mut self) -> String {
        let (mut bytes, mut byte) = (Vec::new(), [0]);
        while self.out.read(&mut byte).expect("readable") == 1 {
            bytes.push(byte[0]);
            if PROMPTS.iter().any(|end| bytes.ends_with(end)) {
                break;
            }
        }
        String::from_utf8(bytes).expect("UTF-8")
    }

    /// Says a line, and reads what comes to it.
    pub fn say(&mut self, line: &str) -> String {
        self.input.write_all(format!("{line}\n").as_bytes()).expect("it listens");
        self.read()
    }

    /// Gets past other questions until one has these words.
    pub fn until(&mut self, words: &str) -> String {
        let mut text = self.read();
        while !text.contains(words) {
            assert!(!text.is_empty(), "“{words}” is asked before the watch ends");
            text = self.say(if text.ends_with("nowhere): ") { "1" } else { "" });
        }
        text
    }
}

impl Drop for Dialogue {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
