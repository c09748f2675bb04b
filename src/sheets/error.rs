//! Why a sheet cannot be read at all.

use std::io;

/// Why a sheet cannot be read at all.
#[derive(Debug, thiserror::Error)]
pub enum SheetError {
    /// The name ends in something else.
    #[error("a sheet is a file whose name ends in .xlsx, .ods or .csv; save it as one of these")]
    Type,
    /// There is no ordinary file of this name.
    #[error("it is no ordinary file")]
    NoFile,
    /// The system refused it.
    #[error("it could not be read: {0}")]
    Unread(#[source] io::Error),
    /// The file has more bytes than are read.
    #[error("the file is larger than {} MB; share its rows over several sheets", .0 / 1024 / 1024)]
    TooLarge(u64),
    /// What is packed in the file has more bytes than are read.
    #[error("what is packed in the file is larger than {} MB, which no sheet of questions is; it was not read", .0 / 1024 / 1024)]
    Swollen(u64),
    /// There are more rows than are read.
    #[error(
        "more than {0} rows have something in them, and a deck has at most 20,000 cards; share them over several sheets and decks"
    )]
    TooLong(usize),
    /// There are more columns than are read.
    #[error(
        "there is something to the right of column {0}; the headings of a sheet of questions need no more than thirty"
    )]
    TooWide(usize),
    /// Nothing stands in it.
    #[error("nothing stands in it; `bedplate draft --template FILE` writes a sheet with an example of each kind")]
    Empty,
    /// The file has no sheet with cells.
    #[error("it has no sheet with rows")]
    NoSheet,
    /// The file is in another encoding.
    #[error("it is in {0}; save the sheet as “CSV UTF-8”, or as .xlsx")]
    Encoding(&'static str),
    /// A quotation mark is not closed.
    #[error(
        "the quotation mark that opens in row {0} is never closed, so the rows after it cannot be told apart; close it, or write a quotation mark inside a text twice"
    )]
    OpenQuote(usize),
    /// The file is opened with a password.
    #[error("it is locked with a password; save it without one")]
    Locked,
    /// The file is not what its name says, or is broken.
    #[error("it is damaged, or is not what its name says: {0}")]
    Damaged(String),
}
