//! A figure in the terminal.

use crate::cli::kinds::kind::{Asked, Marked};
use crate::cli::say::wrapped;
use crate::domain::answer::Given;
use crate::present::kinds::figure::{FigureAskedView, FigureMarkedView};

impl Asked for FigureAskedView {
    fn prompt(&self) -> String {
        format!("{}\n> ", self.hint)
    }

    fn given(&self, line: &str) -> Result<Given, String> {
        Ok(Given::Text(line.to_owned()))
    }
}

impl Marked for FigureMarkedView {
    fn lines(&self) -> Vec<String> {
        let error = if self.error.is_empty() { String::new() } else { format!(" ({})", self.error) };
        let mut lines = vec![format!("Right: {}{error}", self.expected)];
        lines.extend(self.tell.iter().map(|tell| wrapped(tell, 0)));
        lines
    }
}
