//! The trained reader, loaded once for all tests of a process.

use std::sync::LazyLock;

use bedplate::app::reader::load;
use bedplate::domain::marking::Marker;
use bedplate::domain::marking::reader::Reader;

static READER: LazyLock<Reader> = LazyLock::new(|| load().expect("the reader's files are whole"));

/// The marker that learners meet: words and sentences.
pub fn marker() -> Marker<'static> {
    Marker::with(&READER)
}
