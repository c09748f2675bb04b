//! Where in a deck something stands, in words.

use std::collections::HashMap;

use super::check::Site;
use super::source_text::SourceText;

/// Line numbers, worked out once for each file that is asked for.
#[derive(Default)]
pub(crate) struct Lines {
    starts: HashMap<usize, Vec<usize>>,
}

impl Lines {
    /// `cards/air.toml, line 12`.
    pub(crate) fn place(&mut self, texts: &[SourceText], site: Site) -> String {
        let Some(file) = texts.get(site.file) else { return String::new() };
        let ends = self.starts.entry(site.file).or_insert_with(|| {
            file.text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at).collect()
        });
        format!("{}, line {}", file.name, ends.partition_point(|end| *end < site.start) + 1)
    }
}
