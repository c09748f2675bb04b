//! A point in the terminal.

use crate::domain::answer::Given;
use crate::present::point::{PointAskedView, PointMarkedView};

/// What stands over the prompt, as lines of text.
pub fn asked(_view: &PointAskedView) -> Vec<String> {
    Vec::new()
}

/// The prompt.
pub fn prompt(_view: &PointAskedView) -> String {
    "> ".to_owned()
}

/// What a line gives.
///
/// # Errors
/// Where it gives nothing that the card can be answered with.
pub fn given(_line: &str, _view: &PointAskedView) -> Result<Given, String> {
    Err("This card cannot be answered in the terminal yet.".to_owned())
}

/// The marking, as lines of text.
pub fn told(_view: &PointMarkedView) -> Vec<String> {
    Vec::new()
}
