//! The trained reader at the command line: loaded where it is wanted, and told of in one line where there is none.

use super::out;
use crate::app::reader;
use crate::domain::marking::Marker;
use crate::domain::marking::reader::Reader;

/// The reader of a command.
pub(super) struct CommandReader(Option<Reader>);

impl CommandReader {
    /// Loads the trained reader, unless `plain`; where it cannot be had, one line on standard error says why.
    pub(super) fn load(plain: bool) -> Self {
        if plain {
            return Self(None);
        }
        match reader::load() {
            Ok(reader) => Self(Some(reader)),
            Err(why) => {
                out::told(&why.to_string());
                Self(None)
            }
        }
    }

    /// The marker that goes by it.
    pub(super) fn marker(&self) -> Marker<'_> {
        Marker { reader: self.0.as_ref() }
    }
}
