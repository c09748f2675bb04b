//! What is drawn: symbols with their words, pipes with their media. No geometry.

use crate::domain::piping::{Medium, NodeKind};
use crate::present::kinds::lineup::{SchematicView, medium_name};
use crate::ui::schematic::places;

/// How a piece of text is set; its width is asked for with the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Text {
    /// The name beside a symbol.
    Name,
    /// The name inside of a tank, a receiver, an engine.
    Inside,
    /// How something stands.
    State,
    /// A medium's name on its pipe.
    Medium,
}

impl Text {
    /// The height of a line, in points.
    pub fn line(self) -> f32 {
        match self {
            Text::Name | Text::Inside => 18.0,
            Text::State => 16.0,
            Text::Medium => 18.0,
        }
    }
}

/// A symbol with its words.
#[derive(Debug, Clone, PartialEq)]
pub struct Symbol {
    /// What it is.
    pub kind: NodeKind,
    /// Column and row.
    pub place: [i32; 2],
    /// Name of the node; empty where none is shown.
    pub name: String,
    /// Every state that it may be shown in; empty where it has none.
    pub states: Vec<String>,
    /// Whether the node can be turned.
    pub turnable: bool,
    /// For a three-way valve, its two ways.
    pub ways: Option<[usize; 2]>,
}

/// A pipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// The node it leaves.
    pub from: usize,
    /// The node it comes to.
    pub to: usize,
    /// Corners of the pipe on the grid.
    pub via: Vec<[i32; 2]>,
    /// What is in it.
    pub medium: Option<Medium>,
}

/// Everything that is drawn of a line-up before anything is turned.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Model {
    /// One for each node.
    pub symbols: Vec<Symbol>,
    /// One for each pipe.
    pub lines: Vec<Line>,
}

impl Model {
    /// Of a schematic.
    pub fn of(view: &SchematicView) -> Self {
        let network = &view.network;
        let places = places::places(network);
        let tied = |node: usize| network.pipes.iter().filter(|p| p.from == node || p.to == node).count();
        let symbols = network.nodes.iter().enumerate().map(|(at, node)| {
            // Where three pipes meet, or two in a corner, there is nothing to name on a drawing.
            let meets = node.kind == NodeKind::Junction && tied(at) > 1;
            Symbol {
                kind: node.kind,
                place: places[at],
                name: if meets { String::new() } else { view.name(at).to_owned() },
                states: view.states(at),
                turnable: node.can_be_turned(),
                ways: node.ways,
            }
        });
        let lines = network.pipes.iter().enumerate().map(|(at, pipe)| Line {
            from: pipe.from,
            to: pipe.to,
            via: pipe.via.clone(),
            medium: view.media.pipes.get(at).copied().flatten(),
        });
        Self { symbols: symbols.collect(), lines: lines.collect() }
    }

    /// The media of its pipes, each once, in the order of the pipes.
    pub fn media(&self) -> Vec<Medium> {
        let mut media = Vec::new();
        for medium in self.lines.iter().filter_map(|line| line.medium) {
            if !media.contains(&medium) {
                media.push(medium);
            }
        }
        media
    }
}

/// A medium's name and how it is set.
pub(super) fn medium_text(medium: Medium) -> (&'static str, Text) {
    (medium_name(medium), Text::Medium)
}

/// Whether a node's name stands inside of its symbol.
pub(super) fn named_inside(kind: NodeKind) -> bool {
    matches!(kind, NodeKind::Tank | NodeKind::Receiver | NodeKind::Engine)
}

/// Breaks a text into so many lines at most, the longest of them as short as it can be.
pub(super) fn broken(text: &str, lines: usize, width: &dyn Fn(&str) -> f32) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    if words.is_empty() {
        return Vec::new();
    }
    let spans = |from: usize, to: usize| words[from..to].join(" ");
    let lines = lines.clamp(1, words.len());
    // best[n] = the narrowest way to break the first n words into the lines so far, with where the last line begins.
    let mut best: Vec<(f32, Vec<usize>)> = (0..=words.len()).map(|n| (width(&spans(0, n)), vec![0])).collect();
    for _ in 1..lines {
        let before = best.clone();
        for (n, best) in best.iter_mut().enumerate().skip(1) {
            for (cut, (widest, starts)) in before.iter().enumerate().take(n).skip(1) {
                let wide = widest.max(width(&spans(cut, n)));
                if wide < best.0 {
                    *best = (wide, starts.iter().copied().chain([cut]).collect());
                }
            }
        }
    }
    let starts = &best[words.len()].1;
    let ends = starts.iter().skip(1).copied().chain([words.len()]);
    starts.iter().copied().zip(ends).map(|(from, to)| spans(from, to)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_broken_where_its_lines_are_most_even() {
        let width = |text: &str| text.chars().count() as f32;
        let broken = |text: &str, lines| broken(text, lines, &width);
        assert_eq!(broken("Quick-closing valve of the tank", 1), ["Quick-closing valve of the tank"]);
        assert_eq!(broken("Quick-closing valve of the tank", 2), ["Quick-closing", "valve of the tank"]);
        assert_eq!(broken("Quick-closing valve of the tank", 3), ["Quick-closing", "valve", "of the tank"]);
        assert_eq!(broken("Pump", 3), ["Pump"]);
        assert_eq!(broken("  ", 2), [""; 0]);
    }
}
