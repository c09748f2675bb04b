//! The receipt for a request: the answer comes later, once the store's thread has done the work.

use std::sync::mpsc::{Receiver, SyncSender, TryRecvError, sync_channel};

use super::error::StoreError;
use super::wake::Wake;

/// Stands for an answer that is on its way. Dropping it does not take the request back.
#[derive(Debug)]
#[must_use = "a request is only known to be kept once its ticket says so"]
pub struct Ticket<T> {
    answer: Receiver<Result<T, StoreError>>,
}

impl<T> Ticket<T> {
    /// The answer, where it has come; `None` while the work is still to be done. Gives an answer once; asked
    /// again after that it says [`StoreError::Closed`].
    pub fn try_take(&self) -> Option<Result<T, StoreError>> {
        match self.answer.try_recv() {
            Ok(answer) => Some(answer),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Err(StoreError::Closed)),
        }
    }

    /// Blocks until the answer comes.
    pub fn wait(self) -> Result<T, StoreError> {
        self.answer.recv().unwrap_or(Err(StoreError::Closed))
    }
}

/// The other end of a ticket. Wakes the window when it goes, answered or not, so that nobody waits in vain.
pub(super) struct Replier<T> {
    answer: Option<SyncSender<Result<T, StoreError>>>,
    wake: Wake,
}

impl<T> Replier<T> {
    pub(super) fn reply(mut self, answer: Result<T, StoreError>) {
        if let Some(sender) = self.answer.take() {
            // Nobody listening any more is no fault: the work is done all the same.
            let _ = sender.send(answer);
        }
    }
}

impl<T> Drop for Replier<T> {
    fn drop(&mut self) {
        self.answer = None;
        (self.wake)();
    }
}

/// A ticket and its other end.
pub(super) fn ticket<T>(wake: Wake) -> (Replier<T>, Ticket<T>) {
    let (sender, receiver) = sync_channel(1);
    (Replier { answer: Some(sender), wake }, Ticket { answer: receiver })
}
