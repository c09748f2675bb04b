//! What a voice and a sound are, whatever stands behind them.

use std::path::Path;
use std::sync::Arc;

/// Called when a device has something to tell.
pub type Wake = Arc<dyn Fn() + Send + Sync>;

/// Reads text aloud.
pub trait Voice: Send {
    /// Reads this aloud, in place of what is being read.
    fn say(&mut self, text: &str);

    /// Falls silent.
    fn hush(&mut self);

    /// Something is being read.
    fn is_speaking(&mut self) -> bool;

    /// What went wrong since it was last asked for, as a sentence that says how to mend it.
    fn trouble(&mut self) -> Option<String>;
}

/// Records and plays sound, one of them at a time. Files are WAV, 16 bit.
pub trait Sound: Send {
    /// Records into a file, after what is in it, until it is stopped. What is recorded so far is in the file every second.
    fn record(&mut self, file: &Path);

    /// Plays a file.
    fn play(&mut self, file: &Path);

    /// Stops recording or playing. A recording is whole when [`Sound::doing`] says nothing.
    fn stop(&mut self);

    /// What it does now.
    fn doing(&self) -> Doing;

    /// What went wrong since it was last asked for, as a sentence that says how to mend it.
    fn trouble(&mut self) -> Option<String>;
}

/// What the sound does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Doing {
    /// Nothing.
    #[default]
    Nothing,
    /// Recording.
    Recording,
    /// Playing.
    Playing,
}
