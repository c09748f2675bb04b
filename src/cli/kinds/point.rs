//! A point in the terminal: nothing can be drawn there, so the parts are told by how they look, in an order of their
//! own, and one is chosen by its number.

use serde_json::{Map, Value};

use crate::cli::form::ReadForm;
use crate::cli::kinds::kind::{Asked, Marked};
use crate::cli::say::{labelled, wrapped};
use crate::domain::answer::{Form, Given, Pointed};
use crate::domain::english;
use crate::present::kinds::point::{PointAskedView, PointMarkedView};

/// The forms in which it is answered.
pub(super) const FORMS: &[ReadForm] = &[
    ReadForm { form: Form::At, keys: &["at"], read: |object| Ok(Given::Pointed(Pointed::At(place(object)?))) },
    ReadForm { form: Form::Part, keys: &["part"], read: |object| Ok(Given::Pointed(Pointed::Part(part(object)?))) },
];

fn place(object: &Map<String, Value>) -> Result<[f64; 2], String> {
    let wrong = || "`at` must be two numbers in the drawing's own units, such as [120, 45.5]".to_owned();
    let Some(Value::Array(numbers)) = object.get("at") else { return Err(wrong()) };
    let numbers: Option<Vec<f64>> = numbers.iter().map(Value::as_f64).collect();
    numbers.and_then(|numbers| numbers.try_into().ok()).ok_or_else(wrong)
}

fn part(object: &Map<String, Value>) -> Result<String, String> {
    match object.get("part") {
        Some(Value::String(id)) => Ok(id.clone()),
        _ => Err("`part` must be the id of a part of the drawing, such as \"qcv\"".to_owned()),
    }
}

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
