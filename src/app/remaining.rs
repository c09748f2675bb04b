//! Decks whose drawings were not all read when the first page came: they are read whole on a thread of their own.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use crate::deck::{Reading, read_deck};
use crate::store::Wake;

/// The decks that are on their way, one after the other.
#[derive(Default)]
pub(super) struct Remaining {
    comes: Option<Receiver<(PathBuf, Reading)>>,
}

impl Remaining {
    /// Begins to read these; what was on its way before no longer counts.
    pub(super) fn begin(&mut self, folders: Vec<PathBuf>, wake: &Wake) {
        self.comes = None;
        if folders.is_empty() {
            return;
        }
        let (sender, comes) = channel();
        let wake = Arc::clone(wake);
        let read = move || {
            for folder in folders {
                let reading = read_deck(&folder);
                // Nobody listening any more: the decks are being read anew, or the window is closing.
                if sender.send((folder, reading)).is_err() {
                    return;
                }
                wake();
            }
        };
        // Without a thread their cards wait for the next start.
        self.comes = thread::Builder::new().name("decks".to_owned()).spawn(read).ok().map(|_| comes);
    }

    /// One that has come.
    pub(super) fn take(&mut self) -> Option<(PathBuf, Reading)> {
        match self.comes.as_ref()?.try_recv() {
            Ok(come) => Some(come),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                self.comes = None;
                None
            }
        }
    }

    /// The next one, waited for; none once all have come.
    pub(super) fn wait(&mut self) -> Option<(PathBuf, Reading)> {
        let come = self.comes.as_ref()?.recv().ok();
        if come.is_none() {
            self.comes = None;
        }
        come
    }
}
