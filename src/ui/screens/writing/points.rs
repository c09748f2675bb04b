//! What is typed into a form: a card as texts, lists with one entry on each line, key points.

use eframe::egui::{Id, Ui, vec2};

use crate::domain::form::{CardForm, Holds, Part, PointForm};
use crate::domain::network_form::NetworkForm;
use crate::domain::plant_form::PlantForm;
use crate::ui::keys;
use crate::ui::kit::{self, Field, field, label};
use crate::ui::theme::measure::{READING, S4, S8, S12, S24};
use crate::ui::theme::{self, Cut, Size};

/// A card as it is typed.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Draft {
    pub(super) id: String,
    pub(super) parts: Vec<Typed>,
}

/// A key of a card as it is typed.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Typed {
    /// A text.
    Text(String),
    /// A list, one entry on each line.
    Lines(String),
    /// Key points; an empty one at the end is none.
    Points(Vec<TypedPoint>),
    /// Facts and steps.
    Plant(PlantForm),
    /// Nodes, pipes and demands.
    Network(NetworkForm),
}

/// A key point as it is typed.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct TypedPoint {
    was: Option<usize>,
    say: String,
    accept: String,
    reject: String,
    critical: bool,
}

impl Draft {
    /// The network that is drawn, where the card has one.
    pub(super) fn network(&mut self) -> Option<&mut NetworkForm> {
        self.parts.iter_mut().find_map(|part| match part {
            Typed::Network(network) => Some(network),
            _ => None,
        })
    }

    /// The plant that is typed, where the card has one.
    pub(super) fn plant(&mut self) -> Option<&mut PlantForm> {
        self.parts.iter_mut().find_map(|part| match part {
            Typed::Plant(plant) => Some(plant),
            _ => None,
        })
    }

    pub(super) fn of(form: &CardForm) -> Self {
        let typed = |part: &Part| match &part.holds {
            Holds::Text(text) => Typed::Text(text.clone()),
            Holds::List(list) => Typed::Lines(list.join("\n")),
            Holds::Points(points) => Typed::Points(points.iter().map(TypedPoint::of).collect()),
            Holds::Plant(plant) => Typed::Plant(plant.clone()),
            Holds::Network(network) => Typed::Network(network.clone()),
        };
        Self { id: form.id.clone(), parts: form.parts.iter().map(typed).collect() }
    }

    /// The form that it stands for; what is typed as it was in `base` stays as it is there, spaces and all.
    pub(super) fn form(&self, base: &CardForm) -> CardForm {
        let as_it_was = Self::of(base);
        let mut form = CardForm { id: self.id.trim().to_owned(), ..base.clone() };
        for ((part, typed), was) in form.parts.iter_mut().zip(&self.parts).zip(&as_it_was.parts) {
            let is_same = match (typed, was) {
                // What is begun of a need and says nothing is nothing.
                (Typed::Plant(now), Typed::Plant(was)) => now.settled() == was.settled(),
                (Typed::Network(now), Typed::Network(was)) => now.settled() == was.settled(),
                _ => typed == was,
            };
            if !is_same {
                part.holds = match typed {
                    Typed::Text(text) => Holds::Text(text.trim().to_owned()),
                    Typed::Lines(lines) => Holds::List(entries(lines)),
                    Typed::Plant(plant) => Holds::Plant(plant.clone()),
                    Typed::Network(network) => Holds::Network(network.clone()),
                    Typed::Points(points) => {
                        Holds::Points(points.iter().filter(|point| !point.is_empty()).map(TypedPoint::point).collect())
                    }
                };
            }
        }
        form
    }
}

fn entries(lines: &str) -> Vec<String> {
    lines.lines().map(|line| line.trim().to_owned()).filter(|line| !line.is_empty()).collect()
}

impl TypedPoint {
    fn of(point: &PointForm) -> Self {
        Self {
            was: point.was,
            say: point.say.clone(),
            accept: point.accept.join("\n"),
            reject: point.reject.join("\n"),
            critical: point.critical,
        }
    }

    fn point(&self) -> PointForm {
        PointForm {
            was: self.was,
            say: self.say.trim().to_owned(),
            accept: entries(&self.accept),
            reject: entries(&self.reject),
            critical: self.critical,
        }
    }

    fn is_empty(&self) -> bool {
        let no = |text: &String| text.trim().is_empty();
        no(&self.say) && no(&self.accept) && no(&self.reject)
    }
}

/// A card has at most so many key points.
const MOST_POINTS: usize = 9;

/// Key points, with an empty one at the end to write a new one into.
pub(super) fn points_ui(ui: &mut Ui, points: &mut Vec<TypedPoint>) {
    if points.len() < MOST_POINTS && points.last().is_none_or(|last| !last.is_empty()) {
        points.push(TypedPoint::default());
    }
    let many = points.len();
    let mut moved = None;
    for (at, point) in points.iter_mut().enumerate() {
        if let Some(by) = point_ui(ui, at, point) {
            moved = Some((at, by));
        }
    }
    match moved {
        Some((at, -1)) if at > 0 => points.swap(at, at - 1),
        Some((at, 1)) if at + 1 < many => points.swap(at, at + 1),
        _ => {}
    }
}

/// A key point; whether it is to be moved up or down.
fn point_ui(ui: &mut Ui, at: usize, point: &mut TypedPoint) -> Option<i32> {
    let p = theme::palette(ui);
    let number = at + 1;
    ui.add_space(S12);
    let is_new = point.was.is_none() && point.is_empty();
    let head = if is_new { format!("Point {number}, to be added") } else { format!("Point {number}") };
    label(ui, &head, Size::Label, Cut::Semi, p.ink);
    ui.add_space(S4);
    let mut has_focus = false;
    let mut text = |ui: &mut Ui, what: &str, name: &str, rows: usize, text: &mut String| {
        let named = format!("{name}, point {number}");
        let spec = Field { hint: name, rows, ..Field::line(Id::new(("form-point", at, what)), &named, READING) };
        has_focus |= field(ui, &spec, text).has_focus();
        ui.add_space(S4);
    };
    text(ui, "say", "What must be said", 2, &mut point.say);
    text(ui, "accept", "Accepted phrases, one on each line", 3, &mut point.accept);
    text(ui, "reject", "Refused phrases, one on each line", 2, &mut point.reject);
    if kit::toggle(ui, point.critical, &format!("Point {number} is safety-critical")).clicked() {
        point.critical = !point.critical;
    }
    ui.allocate_space(vec2(S24, S8));
    let up = has_focus && keys::take(ui, keys::CTRL_UP);
    let down = has_focus && keys::take(ui, keys::CTRL_DOWN);
    if up { Some(-1) } else { down.then_some(1) }
}
