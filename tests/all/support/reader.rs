//! The trained reader, loaded once for all tests; and readers that come late or not at all.

use std::path::PathBuf;
use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, Mutex, OnceLock};

use bedplate::app::reader::{Load, NoReader, load};
use bedplate::domain::marking::Marker;
use bedplate::domain::marking::reader::Reader;

/// The reader of the program.
pub fn trained() -> Arc<Reader> {
    static READER: OnceLock<Arc<Reader>> = OnceLock::new();
    Arc::clone(READER.get_or_init(|| Arc::new(load().expect("the reader's files are whole"))))
}

/// The marker that learners meet: words and sentences.
pub fn marker() -> Marker<'static> {
    static READER: OnceLock<Arc<Reader>> = OnceLock::new();
    Marker::with(READER.get_or_init(trained))
}

/// A program's way to it.
pub fn at_once() -> Load {
    Arc::new(|| Ok(trained()))
}

/// The same, not before something is sent.
pub fn once_told() -> (Load, Sender<()>) {
    let (go, gate) = channel();
    let gate = Mutex::new(gate);
    let load = Arc::new(move || {
        let _ = gate.lock().expect("one program loads it").recv();
        Ok(trained())
    });
    (load, go)
}

/// A program whose files of the reader are not there.
pub fn missing() -> Load {
    Arc::new(|| Err(NoReader::Missing(vec![PathBuf::from("/opt/bedplate/reader")])))
}
