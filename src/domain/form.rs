//! A card as a form holds it: texts and lists by key, whatever its kind. What a form may hold of a kind is that kind's to
//! say, where decks are read.

use crate::domain::kinds::Kind;
use crate::domain::network_form::NetworkForm;
use crate::domain::plant_form::PlantForm;

/// A card in a form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardForm {
    /// What kind of card.
    pub kind: Kind,
    /// Its id, which stays with it for ever.
    pub id: String,
    /// What is written in it, in the order of a deck's file.
    pub parts: Vec<Part>,
}

/// One key of a card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// As in the deck's file.
    pub key: &'static str,
    /// How it is written.
    pub shape: Shape,
    /// What stands in it.
    pub holds: Holds,
}

/// How a key of a card is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A text of one line.
    Line,
    /// A text of several lines.
    Text,
    /// A number.
    Number,
    /// Short texts, one beside the other.
    List,
    /// Key points.
    Points,
    /// Facts and steps, under several keys of the card.
    Plant,
    /// Nodes, pipes and demands, under several keys of the card.
    Network,
}

/// What stands in a key of a card. What is empty is not written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Holds {
    /// A text, or a number as it is written.
    Text(String),
    /// Texts in their order.
    List(Vec<String>),
    /// Key points in their order.
    Points(Vec<PointForm>),
    /// Facts and steps.
    Plant(PlantForm),
    /// Nodes, pipes and demands.
    Network(NetworkForm),
}

/// A key point in a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PointForm {
    /// Which point of the file it was, from 0; none for a new one.
    pub was: Option<usize>,
    /// In full.
    pub say: String,
    /// Phrases that make it.
    pub accept: Vec<String>,
    /// Phrases that deny it.
    pub reject: Vec<String>,
    /// Missing it is unsafe.
    pub critical: bool,
}

/// A deck that is to be begun.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BeginDeck {
    /// Its id.
    pub id: String,
    /// For people.
    pub title: String,
    /// The competence that its cards are mostly filed under; may be empty.
    pub topic: String,
    /// Whose deck it is; may be empty.
    pub publisher: String,
}

impl Shape {
    /// A key of this shape in which nothing stands.
    pub fn empty(self) -> Holds {
        match self {
            Shape::Line | Shape::Text | Shape::Number => Holds::Text(String::new()),
            Shape::List => Holds::List(Vec::new()),
            Shape::Points => Holds::Points(Vec::new()),
            Shape::Plant => Holds::Plant(PlantForm::default()),
            Shape::Network => Holds::Network(NetworkForm::default()),
        }
    }
}

impl CardForm {
    /// What stands in a key that is a text; empty where there is no such key.
    pub fn text(&self, key: &str) -> &str {
        match self.part(key) {
            Some(Holds::Text(text)) => text,
            _ => "",
        }
    }

    /// What stands in a key.
    pub fn part(&self, key: &str) -> Option<&Holds> {
        self.parts.iter().find(|part| part.key == key).map(|part| &part.holds)
    }

    /// Puts something into a key, where the form has it.
    pub fn set(&mut self, key: &str, holds: Holds) {
        if let Some(part) = self.parts.iter_mut().find(|part| part.key == key) {
            part.holds = holds;
        }
    }

    /// Whether it says the same as another: which point or step of the file one was is no matter.
    pub fn says_as(&self, other: &Self) -> bool {
        let plain = |form: &Self| {
            let mut form = form.clone();
            for part in &mut form.parts {
                match &mut part.holds {
                    Holds::Points(points) => points.iter_mut().for_each(|point| point.was = None),
                    Holds::Plant(plant) => plant.steps.iter_mut().for_each(|step| step.was = None),
                    Holds::Network(network) => {
                        network.nodes.iter_mut().for_each(|node| node.was = None);
                        network.pipes.iter_mut().for_each(|pipe| pipe.was = None);
                        network.demands.iter_mut().for_each(|demand| demand.was = None);
                    }
                    Holds::Text(_) | Holds::List(_) => {}
                }
            }
            form
        };
        plain(self) == plain(other)
    }
}
