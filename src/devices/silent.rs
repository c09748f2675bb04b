//! Stand-ins for machines without a voice or a microphone: they say once that there is none.

use std::path::Path;

use super::device::{Doing, Sound, Voice};

/// No voice.
#[derive(Default)]
pub struct NoVoice {
    trouble: Option<String>,
}

impl Voice for NoVoice {
    fn say(&mut self, _: &str) {
        self.trouble = Some("This program has no voice here; the questions are to be read.".to_owned());
    }

    fn hush(&mut self) {}

    fn is_speaking(&mut self) -> bool {
        false
    }

    fn trouble(&mut self) -> Option<String> {
        self.trouble.take()
    }
}

/// No microphone and no loudspeaker.
#[derive(Default)]
pub struct NoSound {
    trouble: Option<String>,
}

impl Sound for NoSound {
    fn record(&mut self, _: &Path) {
        self.trouble = Some("This program cannot record here; the sitting goes on without recordings.".to_owned());
    }

    fn play(&mut self, _: &Path) {
        self.trouble = Some("This program cannot play recordings here.".to_owned());
    }

    fn stop(&mut self) {}

    fn doing(&self) -> Doing {
        Doing::Nothing
    }

    fn trouble(&mut self) -> Option<String> {
        self.trouble.take()
    }
}
