//! The machine's own voice, as a program of the system that is started for each text.
//!
//! Text goes in by standard input, never through a shell, and without the signs that some of these programs take for
//! orders to themselves.

use std::io::Write;
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Duration;

use super::device::{Voice, Wake};

/// A program that reads its standard input aloud, with its arguments.
type Speaker = (&'static str, &'static [&'static str]);

/// Tried in this order.
#[cfg(target_os = "linux")]
const SPEAKERS: &[Speaker] = &[
    ("espeak-ng", &["-s", "150", "--stdin"]),
    ("espeak", &["-s", "150", "--stdin"]),
    ("spd-say", &["--wait", "--pipe-mode"]),
];
#[cfg(target_os = "macos")]
const SPEAKERS: &[Speaker] = &[("say", &["-f", "-"])];
#[cfg(target_os = "windows")]
const SPEAKERS: &[Speaker] = &[(
    "powershell",
    &[
        "-NoProfile",
        "-Command",
        "Add-Type -AssemblyName System.Speech; \
         (New-Object System.Speech.Synthesis.SpeechSynthesizer).Speak([Console]::In.ReadToEnd())",
    ],
)];
#[cfg(not(any(target_os = "linux", target_os = "macos", target_os = "windows")))]
const SPEAKERS: &[Speaker] = &[];

/// How often a running voice is looked at.
const LOOK: Duration = Duration::from_millis(50);

/// The system's voice.
pub struct Spawned {
    speakers: &'static [Speaker],
    state: Arc<Mutex<State>>,
    wake: Wake,
}

#[derive(Default)]
struct State {
    /// Each text has a number; only the newest is read on.
    number: u64,
    child: Option<Child>,
    trouble: Option<String>,
}

impl Spawned {
    /// The voice; nothing is started before there is something to say.
    pub fn new(wake: Wake) -> Self {
        Self::of(SPEAKERS, wake)
    }

    /// A voice of these programs.
    pub fn of(speakers: &'static [Speaker], wake: Wake) -> Self {
        Self { speakers, state: Arc::default(), wake }
    }

    fn start(&self) -> Result<Child, String> {
        for (program, arguments) in self.speakers {
            let started = Command::new(program)
                .args(*arguments)
                .stdin(Stdio::piped())
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn();
            match started {
                Ok(child) => return Ok(child),
                Err(why) if why.kind() == std::io::ErrorKind::NotFound => {}
                Err(why) => return Err(format!("The voice {program} did not start ({why}).")),
            }
        }
        let known: Vec<&str> = self.speakers.iter().map(|(program, _)| *program).collect();
        Err(format!(
            "There is no voice on this machine, so questions are to be read. Install one of these to hear them: {}.",
            if known.is_empty() { "none is known for this system".to_owned() } else { known.join(", ") }
        ))
    }
}

/// A text's words without what a voice would obey instead of reading: `spd-say` takes a line that begins with `!-!` for
/// a command of its server (its manual, `--pipe-mode`), also where it cuts a long line itself; `say` obeys `[[...]]` and
/// `espeak` reads it as sounds. Signs that cannot be read become spaces; lines stay.
fn readable(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        let last = out.chars().next_back();
        if matches!((last, sign), (Some('!'), '-') | (Some('['), '[')) {
            out.push(' ');
        }
        out.push(if sign.is_control() && sign != '\n' { ' ' } else { sign });
    }
    out
}

fn locked(state: &Mutex<State>) -> MutexGuard<'_, State> {
    state.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Voice for Spawned {
    fn say(&mut self, text: &str) {
        self.hush();
        let mut child = match self.start() {
            Ok(child) => child,
            Err(trouble) => {
                locked(&self.state).trouble = Some(trouble);
                return;
            }
        };
        let stdin = child.stdin.take();
        let text = readable(text);
        let number = {
            let mut state = locked(&self.state);
            state.child = Some(child);
            state.number
        };
        let (state, wake) = (Arc::clone(&self.state), self.wake.clone());
        thread::spawn(move || {
            if let Some(mut stdin) = stdin {
                // A voice that has been silenced does not read on.
                let _ = stdin.write_all(text.as_bytes());
            }
            loop {
                thread::sleep(LOOK);
                let mut state = locked(&state);
                if state.number != number {
                    return;
                }
                match state.child.as_mut().map(Child::try_wait) {
                    Some(Ok(None)) => continue,
                    Some(Ok(Some(status))) if !status.success() => {
                        state.trouble = Some(
                            "The machine’s voice failed. Look whether other programs are heard on it; until then \
                             questions are to be read."
                                .to_owned(),
                        );
                    }
                    _ => {}
                }
                state.child = None;
                break;
            }
            wake();
        });
    }

    fn hush(&mut self) {
        let mut state = locked(&self.state);
        state.number += 1;
        if let Some(mut child) = state.child.take() {
            // It may have ended by itself in this moment.
            let _ = child.kill();
            let _ = child.wait();
        }
    }

    fn is_speaking(&mut self) -> bool {
        locked(&self.state).child.is_some()
    }

    fn trouble(&mut self) -> Option<String> {
        locked(&self.state).trouble.take()
    }
}

impl Drop for Spawned {
    fn drop(&mut self) {
        self.hush();
    }
}
