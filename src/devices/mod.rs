//! The machine's voice, microphone and loudspeaker, and files ready for the printer. Each stands behind a small trait,
//! with a stand-in for machines and tests that have none.

pub mod columnar;
mod device;
mod editor;
pub mod pdf;
#[cfg(target_os = "linux")]
pub mod pulse;
mod silent;
pub mod viewer;
pub mod voice;

use std::path::Path;

pub use device::{Doing, Sound, Voice, Wake};
pub use editor::{Edited, edit};
pub use silent::{NoSound, NoVoice};

/// The devices that the program was started with.
pub struct Devices {
    /// The voice.
    pub voice: Box<dyn Voice>,
    /// The sound.
    pub sound: Box<dyn Sound>,
    /// Opens a file in the system's program for it; true where there is one.
    pub open: fn(&Path) -> bool,
    /// Opens a text file at a line (from 1) in an editor.
    pub edit: fn(&Path, usize) -> Edited,
}

impl Devices {
    /// None: for the terminal and for tests.
    pub fn silent() -> Self {
        Self {
            voice: Box::new(NoVoice::default()),
            sound: Box::new(NoSound::default()),
            open: |_| false,
            edit: |_, _| Edited::Nothing,
        }
    }

    /// What this machine has.
    pub fn of_machine(wake: Wake) -> Self {
        #[cfg(target_os = "linux")]
        let sound: Box<dyn Sound> = Box::new(pulse::Pulse::start(None, wake.clone()));
        #[cfg(not(target_os = "linux"))]
        let sound: Box<dyn Sound> = Box::new(NoSound::default());
        Self { voice: Box::new(voice::Spawned::new(wake)), sound, open: viewer::open, edit }
    }
}
