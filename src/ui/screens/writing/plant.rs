//! The plant of a sequence as a table: a row for each step, a column for each fact, and in each cell what the one has to do
//! with the other. What is said of the step and the fact in hand stands below it.

use eframe::egui::{
    Align2, CornerRadius, Id, Rect, Response, ScrollArea, Sense, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, pos2,
    vec2,
};

use crate::domain::plant_form::{Cell, Effect, FaultForm, Need, PlantForm};
use crate::ui::keys::{self, Held};
use crate::ui::kit::{self, Field, field, heading, label_in, lines, paint, ring_focus};
use crate::ui::theme::measure::{CORNER, FACTS, FOCUS, GIVEN_ROW, LINE, READING, S4, S8, S12, S16};
use crate::ui::theme::{self, Cut, Size};

/// Which cell is in hand: row 0 is the start, the last one the goal, those between are steps.
#[derive(Default)]
pub(super) struct GridLocal {
    row: usize,
    fact: usize,
    /// Another row has come into the hand: it is brought into sight.
    moved: bool,
}

/// A column of the table.
const COLUMN: f32 = GIVEN_ROW + S4;

impl GridLocal {
    fn step(&self, plant: &PlantForm) -> Option<usize> {
        self.row.checked_sub(1).filter(|step| *step < plant.steps.len())
    }

    pub(super) fn add_step(&mut self, plant: &mut PlantForm) {
        let key = plant.free_key("step");
        plant.add_step(key);
        (self.row, self.moved) = (plant.steps.len(), true);
    }

    pub(super) fn add_fact(&mut self, plant: &mut PlantForm) {
        let key = plant.free_key("fact");
        plant.add_fact(key);
        self.fact = plant.facts.len() - 1;
    }

    /// Leaves the step in hand out; at the start and the goal, the fact.
    pub(super) fn leave_out(&mut self, plant: &mut PlantForm) {
        match self.step(plant) {
            Some(step) => {
                plant.steps.remove(step);
            }
            None => plant.leave_fact_out(self.fact),
        }
        self.hold(plant);
    }

    fn hold(&mut self, plant: &PlantForm) {
        self.row = self.row.min(plant.steps.len() + 1);
        self.fact = self.fact.min(plant.facts.len().saturating_sub(1));
    }

    /// Keys where no field is typed into: the arrows go through the cells, N and G and Space change the one in hand.
    fn by_keys(&mut self, ui: &Ui, plant: &mut PlantForm) {
        if keys::take_repeated(ui, keys::UP) {
            (self.row, self.moved) = (self.row.saturating_sub(1), true);
        }
        if keys::take_repeated(ui, keys::DOWN) {
            (self.row, self.moved) = (self.row + 1, true);
        }
        if keys::take_repeated(ui, keys::TO_LEFT) {
            self.fact = self.fact.saturating_sub(1);
        }
        if keys::take_repeated(ui, keys::RIGHT) {
            self.fact += 1;
        }
        self.hold(plant);
        if keys::take(ui, keys::letter('N')) || keys::take(ui, keys::SPACE) {
            self.change_need(plant);
        }
        if keys::take(ui, keys::letter('G'))
            && let Some(cell) = self.cell(plant)
        {
            cell.effect = cell.effect.next();
        }
    }

    fn cell<'p>(&self, plant: &'p mut PlantForm) -> Option<&'p mut Cell> {
        let step = self.step(plant)?;
        plant.steps.get_mut(step)?.cells.get_mut(self.fact)
    }

    fn change_need(&self, plant: &mut PlantForm) {
        if let Some(cell) = self.cell(plant) {
            cell.need = cell.need.next();
            return;
        }
        let is_start = self.row == 0;
        if let Some(fact) = plant.facts.get_mut(self.fact) {
            if is_start {
                fact.at_start = !fact.at_start;
            } else {
                fact.goal = fact.goal.next();
            }
        }
    }
}

/// Draws the table with what stands below it.
pub(super) fn plant_ui(ui: &mut Ui, plant: &mut PlantForm, local: &mut GridLocal) {
    let p = theme::palette(ui);
    ui.add_space(S12);
    heading(ui, "Facts and steps", Size::Body, Cut::Semi);
    let words = "Arrows go through the cells. N or Space: what is needed; G: what is given or taken. N needs it, !N needs \
                 that it does not hold, G gives it, T takes it away.";
    label_in(ui, ui.available_width(), words, Size::Label, Cut::Regular, p.ink_second);
    for (face, does) in [("N", "What the step in hand needs of the fact"), ("G", "What it gives, or takes away")] {
        keys::offer(ui.ctx(), keys::letter(face.chars().next().unwrap_or('N')), does);
    }
    ui.add_space(S8);
    local.by_keys(ui, plant);
    let moved = std::mem::take(&mut local.moved);
    if let Some((row, fact)) = table_ui(ui, plant, local, moved) {
        (local.row, local.fact) = (row, fact);
    }
    ui.add_space(S12);
    facts_ui(ui, plant, local);
    ui.add_space(S16);
    in_hand_ui(ui, plant, local);
}

/// What stands in a cell.
fn sign(need: Need, effect: Effect) -> String {
    let need = match need {
        Need::Nothing => "",
        Need::Holds => "N",
        Need::HoldsNot => "!N",
    };
    let effect = match effect {
        Effect::Nothing => "",
        Effect::Gives => "G",
        Effect::Takes => "T",
    };
    format!("{need}{effect}")
}

/// The table; the cell that was clicked.
fn table_ui(ui: &mut Ui, plant: &PlantForm, local: &GridLocal, moved: bool) -> Option<(usize, usize)> {
    let mut clicked = None;
    let width = FACTS + COLUMN * plant.facts.len() as f32;
    ScrollArea::horizontal().id_salt("plant").show(ui, |ui| {
        ui.set_min_width(width);
        ui.vertical(|ui| {
            let numbers: Vec<String> = (1..=plant.facts.len()).map(|number| number.to_string()).collect();
            row_ui(ui, "Fact", &numbers, None, width);
            let top = ui.cursor().min;
            for row in 0..plant.steps.len() + 2 {
                let (name, cells) = row_of(plant, row);
                let chosen = (row == local.row).then_some(local.fact);
                if let Some(fact) = row_ui(ui, &name, &cells, chosen, width) {
                    clicked = Some((row, fact));
                }
            }
            if moved {
                let at = top + vec2(0.0, GIVEN_ROW * local.row as f32);
                ui.scroll_to_rect(Rect::from_min_size(at, vec2(FACTS, GIVEN_ROW)), None);
            }
        });
    });
    clicked
}

fn row_of(plant: &PlantForm, row: usize) -> (String, Vec<String>) {
    let steps = plant.steps.len();
    if row == 0 {
        let holds = |is: bool| if is { "G".to_owned() } else { String::new() };
        return ("Holds at the start".to_owned(), plant.facts.iter().map(|fact| holds(fact.at_start)).collect());
    }
    if row > steps {
        let goal = plant.facts.iter().map(|fact| sign(fact.goal, Effect::Nothing)).collect();
        return ("The goal".to_owned(), goal);
    }
    let step = &plant.steps[row - 1];
    let say = if step.say.trim().is_empty() { step.key.clone() } else { step.say.clone() };
    let name = if step.trap { format!("{say} (trap)") } else { say };
    (name, step.cells.iter().map(|cell| sign(cell.need, cell.effect)).collect())
}

/// A row: its name and its cells; the cell that was clicked.
fn row_ui(ui: &mut Ui, name: &str, cells: &[String], chosen: Option<usize>, width: f32) -> Option<usize> {
    let p = theme::palette(ui);
    let (id, rect) = ui.allocate_space(vec2(width, GIVEN_ROW));
    let response: Response = ui.interact(rect, id, Sense::click());
    let told: Vec<String> = cells
        .iter()
        .enumerate()
        .filter(|(_, cell)| !cell.is_empty())
        .map(|(at, cell)| format!("{} {cell}", at + 1))
        .collect();
    let said = format!("{name}: {}", if told.is_empty() { "nothing".to_owned() } else { told.join(", ") });
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Button);
    }
    if chosen.is_some() {
        ui.painter().rect_filled(rect, 0, p.raised);
    }
    let place = Rect::from_min_max(rect.min, pos2(rect.left() + FACTS - S8, rect.bottom()));
    let cut = if chosen.is_some() { Cut::Semi } else { Cut::Regular };
    let galley = lines(ui, name, place.width(), 1, Size::Label, cut, p.ink);
    ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), place).min, galley, p.ink);
    for (at, cell) in cells.iter().enumerate() {
        let left = rect.left() + FACTS + COLUMN * at as f32;
        let place = Rect::from_min_max(pos2(left, rect.top()), pos2(left + COLUMN, rect.bottom()));
        ui.painter().vline(ui.painter().round_to_pixel_center(place.left()), place.y_range(), theme::hairline(ui));
        paint(ui.painter(), place.center(), Align2::CENTER_CENTER, cell, Size::Label, Cut::Mono, p.ink);
        if chosen == Some(at) {
            let stroke = Stroke::new(FOCUS, p.bronze);
            ui.painter().rect_stroke(place.shrink(LINE), CornerRadius::same(CORNER), stroke, StrokeKind::Inside);
        }
    }
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - LINE), theme::hairline(ui));
    ring_focus(ui, &response, rect);
    let at = response.interact_pointer_pos().filter(|_| response.clicked())?;
    let column = ((at.x - rect.left() - FACTS) / COLUMN).max(0.0) as usize;
    Some(column.min(cells.len().saturating_sub(1)))
}

/// The facts by their numbers.
fn facts_ui(ui: &mut Ui, plant: &PlantForm, local: &GridLocal) {
    let p = theme::palette(ui);
    for (at, fact) in plant.facts.iter().enumerate() {
        let name = if fact.name.trim().is_empty() { &fact.key } else { &fact.name };
        let cut = if at == local.fact { Cut::Semi } else { Cut::Regular };
        label_in(ui, ui.available_width(), &format!("{}  {name}", at + 1), Size::Label, cut, p.ink);
    }
}

fn line_ui(ui: &mut Ui, id: impl std::hash::Hash + std::fmt::Debug, name: &str, text: &mut String) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    label_in(ui, READING, name, Size::Small, Cut::Regular, p.ink_second);
    field(ui, &Field::line(Id::new(("plant", id)), name, READING), text);
}

/// What is said of the step and of the fact in hand.
fn in_hand_ui(ui: &mut Ui, plant: &mut PlantForm, local: &GridLocal) {
    if let Some(fact) = plant.facts.get_mut(local.fact) {
        heading(ui, &format!("Fact {}: {}", local.fact + 1, fact.key), Size::Label, Cut::Semi);
        line_ui(ui, ("fact", &fact.key), "Name of the fact, for people", &mut fact.name);
        ui.add_space(S16);
    }
    let Some(at) = local.step(plant) else { return };
    let needs = plant.needs(at);
    let step = &mut plant.steps[at];
    heading(ui, &format!("Step: {}", step.key), Size::Label, Cut::Semi);
    line_ui(ui, ("say", &step.key), "What is done", &mut step.say);
    ui.add_space(S8);
    if kit::toggle(ui, step.trap, "It is a trap: never part of a right order").clicked() {
        step.trap = !step.trap;
    }
    const SEVERITY: &str = "How grave: no-effect, trip, damage or injury";
    if step.trap {
        line_ui(ui, ("severity", &step.key), SEVERITY, &mut step.severity);
        line_ui(ui, ("tell", &step.key), "What happens", &mut step.tell);
    }
    for need in needs {
        if step.faults.iter().all(|fault| fault.without != need) {
            step.faults.push(FaultForm { without: need.clone(), ..FaultForm::default() });
        }
        let Some(fault) = step.faults.iter_mut().find(|fault| fault.without == need) else { continue };
        line_ui(
            ui,
            ("fault", &step.key, &need),
            &format!("Without {need}: how grave (no-effect, trip, damage, injury)"),
            &mut fault.severity,
        );
        line_ui(ui, ("fault-tell", &step.key, &need), &format!("Without {need}: what happens"), &mut fault.tell);
    }
}
