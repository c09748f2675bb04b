//! A lineup in the terminal.

use crate::domain::answer::Given;
use crate::present::lineup::{LineupAskedView, LineupCheckedView};

/// What stands over the prompt, as lines of text.
pub fn asked(_view: &LineupAskedView) -> Vec<String> {
    Vec::new()
}

/// The prompt.
pub fn prompt(_view: &LineupAskedView) -> String {
    "> ".to_owned()
}

/// What a line gives.
///
/// # Errors
/// Where it gives nothing that the card can be answered with.
pub fn given(_line: &str, _view: &LineupAskedView) -> Result<Given, String> {
    Err("This card cannot be answered in the terminal yet.".to_owned())
}

/// The marking, as lines of text.
pub fn told(_view: &LineupCheckedView) -> Vec<String> {
    Vec::new()
}
