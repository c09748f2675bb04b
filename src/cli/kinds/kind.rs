//! How a kind of card is asked, answered and told in the terminal, and what its files share.

use crate::app::program::command::Command;
use crate::domain::answer::Given;
use crate::present::kinds::working::WorkingAskedView;

/// A card that is asked.
pub(in crate::cli) trait Asked {
    /// What stands over the prompt.
    fn lines(&self) -> Vec<String> {
        Vec::new()
    }

    /// The prompt.
    fn prompt(&self) -> String {
        "> ".to_owned()
    }

    /// What a line gives.
    ///
    /// # Errors
    /// Where it gives nothing that the card can be answered with: why, in a sentence.
    fn given(&self, line: &str) -> Result<Given, String>;

    /// The worksheet that it is worked on, line by line, in the place of one answer.
    fn worksheet(&self) -> Option<&WorkingAskedView> {
        None
    }
}

/// A card whose answer is marked.
pub(in crate::cli) trait Marked {
    /// The marking.
    fn lines(&self) -> Vec<String>;

    /// What may be done with it besides accepting it: `m shows a model working`; empty where nothing.
    fn choices(&self) -> &'static str {
        ""
    }

    /// What a line chooses.
    fn chosen(&self, _line: &str) -> Chosen {
        Chosen::Nothing
    }
}

/// What a line chooses at a marked card.
pub(in crate::cli) enum Chosen {
    /// Nothing that is this kind's.
    Nothing,
    /// These are carried out, and the marking is shown again.
    Run(Vec<Command>),
    /// This is carried out, and another question comes first.
    Ask(Command),
    /// This is carried out, and the worksheet may be open again.
    Work(Command),
    /// The line could not be read: why.
    Unread(String),
}

/// Parts of a line between spaces or commas.
pub(super) fn listed(line: &str) -> impl Iterator<Item = &str> {
    line.split(|c: char| c.is_whitespace() || c == ',').filter(|part| !part.is_empty())
}

/// Numbers between spaces or commas; `None` where something else stands there.
pub(super) fn numbers(line: &str) -> Option<Vec<usize>> {
    listed(line).map(|part| part.parse().ok()).collect()
}
