//! The list as the learner makes it: what lies on the procedure sheet, what is chosen, where the next step goes,
//! and what can be undone. It knows no screen, and no rule but that a step stands on the sheet once.

/// What lies on the sheet, and where one stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Draft {
    /// Keys of steps on the sheet, in order.
    placed: Vec<String>,
    /// The key of the step that is chosen, ashore or on the sheet.
    chosen: Option<String>,
    /// Where the next step goes: before this line, from 0.
    slot: usize,
    undo: Vec<Moment>,
    redo: Vec<Moment>,
}

/// What is undone and done again.
#[derive(Debug, Clone, PartialEq)]
struct Moment {
    placed: Vec<String>,
    chosen: Option<String>,
    slot: usize,
}

/// Where a step stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// Ashore, counted from 0 among those ashore.
    Ashore(usize),
    /// On the sheet, at this line from 0.
    Line(usize),
}

impl Draft {
    /// A list that stands already, to be mended, with one of its lines chosen.
    pub(super) fn of(placed: Vec<String>, chosen: Option<usize>) -> Self {
        let chosen = chosen.and_then(|line| placed.get(line).cloned());
        Self { slot: placed.len(), placed, chosen, ..Self::default() }
    }

    /// Keeps to the steps that there are (`all`, in their order ashore) and chooses the first where none is chosen.
    pub(super) fn settle(&mut self, all: &[&str]) {
        self.placed.retain(|k| all.contains(&k.as_str()));
        self.slot = self.slot.min(self.placed.len());
        if self.chosen.as_deref().is_none_or(|k| !all.contains(&k)) {
            let first = self.ashore(all).first().map(|k| (*k).to_owned());
            self.chosen = first.or_else(|| self.placed.first().cloned());
        }
    }

    /// The keys on the sheet, in order.
    pub(super) fn placed(&self) -> &[String] {
        &self.placed
    }

    /// The keys ashore, in their order there.
    pub(super) fn ashore<'a>(&self, all: &[&'a str]) -> Vec<&'a str> {
        all.iter().copied().filter(|k| !self.is_placed(k)).collect()
    }

    /// Before which line the next step goes, from 0.
    pub(super) fn slot(&self) -> usize {
        self.slot
    }

    /// The key that is chosen.
    pub(super) fn chosen(&self) -> Option<&str> {
        self.chosen.as_deref()
    }

    /// Whether the chosen step lies ashore.
    pub(super) fn chosen_ashore(&self) -> bool {
        self.chosen().is_some_and(|k| !self.is_placed(k))
    }

    pub(super) fn is_placed(&self, key: &str) -> bool {
        self.placed.iter().any(|k| k == key)
    }

    /// Where a step stands.
    pub(super) fn place_of(&self, key: &str, all: &[&str]) -> Option<Place> {
        let line = self.placed.iter().position(|k| k == key).map(Place::Line);
        line.or_else(|| self.ashore(all).iter().position(|k| *k == key).map(Place::Ashore))
    }

    /// Chooses a step.
    pub(super) fn choose(&mut self, key: &str) {
        self.chosen = Some(key.to_owned());
    }

    /// Moves the choice up or down in its own list.
    pub(super) fn step(&mut self, all: &[&str], down: bool) {
        let Some(place) = self.chosen().and_then(|k| self.place_of(k, all)) else { return };
        let (list, at): (Vec<&str>, usize) = match place {
            Place::Ashore(at) => (self.ashore(all), at),
            Place::Line(at) => (self.placed.iter().map(String::as_str).collect(), at),
        };
        let to = if down { at + 1 } else { at.wrapping_sub(1) };
        self.chosen = list.get(to).or(list.get(at)).map(|k| (*k).to_owned());
    }

    /// Goes over to the sheet, or ashore, to the step that stands about as high.
    pub(super) fn cross(&mut self, all: &[&str], to_sheet: bool) {
        let Some(place) = self.chosen().and_then(|k| self.place_of(k, all)) else { return };
        let near = |list: Vec<&str>, at: usize| list.get(at.min(list.len().saturating_sub(1))).map(|k| (*k).to_owned());
        let chosen = match place {
            Place::Ashore(at) if to_sheet => near(self.placed.iter().map(String::as_str).collect(), at),
            Place::Line(at) if !to_sheet => near(self.ashore(all), at),
            _ => None,
        };
        self.chosen = chosen.or(self.chosen.take());
    }

    /// Puts a step on the sheet, before this line counted without it; chooses the next one ashore.
    pub(super) fn put(&mut self, all: &[&str], key: &str, before: usize) {
        let was = self.place_of(key, all);
        self.remember();
        self.placed.retain(|k| k != key);
        let at = before.min(self.placed.len());
        self.placed.insert(at, key.to_owned());
        self.slot = at + 1;
        let ashore = self.ashore(all);
        self.chosen = match was {
            Some(Place::Ashore(n)) if !ashore.is_empty() => Some(ashore[n.min(ashore.len() - 1)].to_owned()),
            _ => Some(key.to_owned()),
        };
    }

    /// Takes a step from the sheet; it is chosen ashore, and the slot stays where it stood.
    pub(super) fn lift(&mut self, key: &str) {
        let Some(at) = self.placed.iter().position(|k| k == key) else { return };
        self.remember();
        self.placed.remove(at);
        self.slot = at;
        self.chosen = Some(key.to_owned());
    }

    /// Moves the chosen line up or down; where a step ashore is chosen, the slot.
    pub(super) fn shift(&mut self, down: bool) {
        let Some(at) = self.chosen().and_then(|k| self.placed.iter().position(|p| p == k)) else {
            self.slot = if down { (self.slot + 1).min(self.placed.len()) } else { self.slot.saturating_sub(1) };
            return;
        };
        let to = if down { at + 1 } else { at.wrapping_sub(1) };
        if to < self.placed.len() {
            self.remember();
            self.placed.swap(at, to);
        }
    }

    /// Whether the chosen line, or the slot, can be moved up or down.
    pub(super) fn can_shift(&self, down: bool) -> bool {
        let line = self.chosen().and_then(|k| self.placed.iter().position(|p| p == k));
        match (line, down) {
            (Some(at), true) => at + 1 < self.placed.len(),
            (Some(at), false) => at > 0,
            (None, true) => self.slot < self.placed.len(),
            (None, false) => self.slot > 0,
        }
    }

    /// Puts the slot before a line, from 0.
    pub(super) fn set_slot(&mut self, before: usize) {
        self.slot = before.min(self.placed.len());
    }

    /// Takes everything from the sheet.
    pub(super) fn clear(&mut self) {
        if !self.placed.is_empty() {
            self.remember();
            (self.placed, self.chosen, self.slot) = (Vec::new(), None, 0);
        }
    }

    pub(super) fn can_undo(&self) -> bool {
        !self.undo.is_empty()
    }

    /// Undoes the last change.
    pub(super) fn undo(&mut self) {
        if let Some(moment) = self.undo.pop() {
            let now = self.moment();
            self.redo.push(now);
            self.restore(moment);
        }
    }

    /// Does again what was undone.
    pub(super) fn redo(&mut self) {
        if let Some(moment) = self.redo.pop() {
            let now = self.moment();
            self.undo.push(now);
            self.restore(moment);
        }
    }

    fn remember(&mut self) {
        let now = self.moment();
        self.undo.push(now);
        self.redo.clear();
    }

    fn moment(&self) -> Moment {
        Moment { placed: self.placed.clone(), chosen: self.chosen.clone(), slot: self.slot }
    }

    fn restore(&mut self, moment: Moment) {
        (self.placed, self.chosen, self.slot) = (moment.placed, moment.chosen, moment.slot);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [&str; 4] = ["a", "b", "c", "d"];

    fn with(placed: &[&str]) -> Draft {
        let mut draft = Draft::default();
        draft.settle(&ALL);
        for key in placed {
            draft.put(&ALL, key, usize::MAX);
        }
        draft
    }

    #[test]
    fn a_step_goes_into_the_slot_and_the_slot_moves_on() {
        let mut draft = with(&["a", "b"]);
        draft.set_slot(1);
        draft.put(&ALL, "d", draft.slot());
        assert_eq!(draft.placed(), ["a", "d", "b"]);
        assert_eq!(draft.slot(), 2);
        assert_eq!(draft.chosen(), Some("c"), "the next one ashore is chosen");
    }

    #[test]
    fn what_is_lifted_out_can_be_put_back_where_it_stood() {
        let mut draft = with(&["a", "b", "c"]);
        draft.lift("b");
        assert_eq!((draft.placed().len(), draft.chosen(), draft.slot()), (2, Some("b"), 1));
        draft.put(&ALL, "b", draft.slot());
        assert_eq!(draft.placed(), ["a", "b", "c"]);
    }

    #[test]
    fn every_change_is_undone_and_done_again() {
        let mut draft = with(&["a", "b", "c"]);
        draft.choose("c");
        draft.shift(false);
        draft.lift("a");
        let after = draft.placed().to_vec();
        assert_eq!(after, ["c", "b"]);
        for _ in 0..5 {
            draft.undo();
        }
        assert_eq!(draft.placed(), [""; 0]);
        for _ in 0..5 {
            draft.redo();
        }
        assert_eq!(draft.placed(), after);
        assert!(!draft.can_shift(false) || draft.chosen() != Some("c"));
    }

    #[test]
    fn steps_that_are_gone_leave_the_sheet() {
        let mut draft = with(&["a", "b"]);
        draft.choose("a");
        draft.settle(&["b", "c"]);
        assert_eq!((draft.placed(), draft.chosen()), (&["b".to_owned()][..], Some("c")));
    }
}
