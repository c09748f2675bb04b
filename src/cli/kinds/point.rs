//! A point in the terminal: nothing can be drawn there, so the parts are told by how they look, in an order of their
//! own, and one is chosen by its number.

use crate::cli::kinds::kind::{Asked, Marked};
use crate::cli::say::{labelled, wrapped};
use crate::domain::answer::{Given, Pointed};
use crate::domain::english;
use crate::present::kinds::point::{PointAskedView, PointMarkedView};

impl Asked for PointAskedView {
    fn lines(&self) -> Vec<String> {
        let head = wrapped("The drawing cannot be shown here. These are its parts, as they look on it:", 0);
        let parts = self.choice.iter().enumerate();
        let parts = parts.map(|(n, part)| labelled(&format!("  {}", n + 1), &part.look, 6));
        std::iter::once(head).chain(parts).collect()
    }

    fn prompt(&self) -> String {
        "The number of the part: ".to_owned()
    }

    fn given(&self, line: &str) -> Result<Given, String> {
        let number = line.trim().parse::<usize>().ok();
        match number.and_then(|n| n.checked_sub(1)).and_then(|n| self.choice.get(n)) {
            Some(part) => Ok(Given::Pointed(Pointed::Part(part.id.clone()))),
            None => Err(format!("Type one number from 1 to {}.", self.choice.len())),
        }
    }
}

impl Marked for PointMarkedView {
    fn lines(&self) -> Vec<String> {
        let mut lines = vec![wrapped(&self.reason, 0)];
        let target = self.drawing.drawing.parts.get(self.target).filter(|_| !self.hit);
        if let Some((name, look)) = target.and_then(|part| Some((&part.name, part.look.as_ref()?))) {
            lines.push(wrapped(&format!("{}: {look}.", english::capital(name)), 0));
        }
        lines
    }
}
