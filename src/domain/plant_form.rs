//! The plant of a sequence as a form holds it: facts, steps, and what needs and gives what.

/// A plant in a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlantForm {
    /// In the order of the file.
    pub facts: Vec<FactForm>,
    /// In the order of the file.
    pub steps: Vec<StepForm>,
}

/// A fact in a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FactForm {
    /// Its key, which stays.
    pub key: String,
    /// For people.
    pub name: String,
    /// It holds at the start.
    pub at_start: bool,
    /// What the goal asks of it.
    pub goal: Need,
}

/// A step in a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StepForm {
    /// Which step of the file it was, from 0; none for a new one.
    pub was: Option<usize>,
    /// Its key, which stays.
    pub key: String,
    /// What is done.
    pub say: String,
    /// It belongs to no right order.
    pub trap: bool,
    /// How grave a trap is, by the word of decks; empty for others.
    pub severity: String,
    /// What a trap does; empty for others.
    pub tell: String,
    /// What it has to do with each fact, in the order of the facts.
    pub cells: Vec<Cell>,
    /// What happens where a need is not met.
    pub faults: Vec<FaultForm>,
}

/// What a step has to do with a fact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Cell {
    /// What it needs of it.
    pub need: Need,
    /// What it does to it.
    pub effect: Effect,
}

/// What is needed of a fact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Need {
    /// Nothing.
    #[default]
    Nothing,
    /// That it holds.
    Holds,
    /// That it does not.
    HoldsNot,
}

/// What is done to a fact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Effect {
    /// Nothing.
    #[default]
    Nothing,
    /// It holds from then on.
    Gives,
    /// It holds no more.
    Takes,
}

/// What happens where a need of a step is not met.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FaultForm {
    /// The need as it is written: a fact, or `!` and a fact.
    pub without: String,
    /// How grave, by the word of decks.
    pub severity: String,
    /// What is told.
    pub tell: String,
}

impl Need {
    /// The next one, in the order in which a key goes through them.
    pub fn next(self) -> Self {
        match self {
            Need::Nothing => Need::Holds,
            Need::Holds => Need::HoldsNot,
            Need::HoldsNot => Need::Nothing,
        }
    }

    /// As it is written of a fact; none where nothing is needed.
    pub fn written(self, fact: &str) -> Option<String> {
        match self {
            Need::Nothing => None,
            Need::Holds => Some(fact.to_owned()),
            Need::HoldsNot => Some(format!("!{fact}")),
        }
    }
}

impl Effect {
    /// The next one, in the order in which a key goes through them.
    pub fn next(self) -> Self {
        match self {
            Effect::Nothing => Effect::Gives,
            Effect::Gives => Effect::Takes,
            Effect::Takes => Effect::Nothing,
        }
    }
}

impl PlantForm {
    /// Adds a fact; every step has nothing to do with it yet.
    pub fn add_fact(&mut self, key: String) {
        self.facts.push(FactForm { key, ..FactForm::default() });
        self.steps.iter_mut().for_each(|step| step.cells.push(Cell::default()));
    }

    /// Adds a step.
    pub fn add_step(&mut self, key: String) {
        let cells = vec![Cell::default(); self.facts.len()];
        self.steps.push(StepForm { key, cells, ..StepForm::default() });
    }

    /// Leaves a fact out, with all that steps had to do with it.
    pub fn leave_fact_out(&mut self, at: usize) {
        if at >= self.facts.len() {
            return;
        }
        let fact = self.facts.remove(at);
        for step in &mut self.steps {
            step.cells.remove(at);
            step.faults.retain(|fault| fault.without.trim_start_matches('!') != fact.key);
        }
    }

    /// As it is written into a file: without spaces around texts, and without what says nothing there.
    pub fn settled(&self) -> Self {
        let own = |text: &String| text.trim().to_owned();
        let mut plant = self.clone();
        for fact in &mut plant.facts {
            fact.name = own(&fact.name);
        }
        for at in 0..plant.steps.len() {
            let needs = self.needs(at);
            let step = &mut plant.steps[at];
            step.say = own(&step.say);
            let of_trap = |text: &String| if step.trap { own(text) } else { String::new() };
            (step.severity, step.tell) = (of_trap(&step.severity), of_trap(&step.tell));
            for fault in &mut step.faults {
                (fault.severity, fault.tell) = (own(&fault.severity), own(&fault.tell));
            }
            step.faults.retain(|fault| {
                needs.contains(&fault.without) && !(fault.severity.is_empty() && fault.tell.is_empty())
            });
        }
        plant
    }

    /// What a step needs, as it is written.
    pub fn needs(&self, step: usize) -> Vec<String> {
        let Some(step) = self.steps.get(step) else { return Vec::new() };
        let needs = self.facts.iter().zip(&step.cells);
        needs.filter_map(|(fact, cell)| cell.need.written(&fact.key)).collect()
    }

    /// A key that no fact and no step has yet: `fact-3`, `step-7`.
    pub fn free_key(&self, word: &str) -> String {
        let is_taken =
            |key: &str| self.facts.iter().any(|fact| fact.key == key) || self.steps.iter().any(|step| step.key == key);
        let mut number = 1;
        loop {
            let key = format!("{word}-{number}");
            if !is_taken(&key) {
                return key;
            }
            number += 1;
        }
    }
}
