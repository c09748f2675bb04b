//! A procedure boiled down for searching: only facts that something reads, packed into few words, with every list
//! of facts as a mask.
//!
//! Two states that differ only in facts that nothing will read again have the same future, so a fact is put to
//! false as soon as the last step that reads it is done. That keeps the number of states down where the state
//! depends on the order of the steps and not only on their set.

use super::facts::Bits;
use super::procedure::{Need, Procedure};
use super::settle::{MOST_PASSES, settle};

/// Numbers of a procedure's facts that the model keeps, in the order of its bits.
pub(super) type Kept = Vec<usize>;

/// A procedure with some of its steps.
pub(super) struct Model<const W: usize> {
    /// Position in the procedure of each step of the model, in the order of the file.
    pub(super) steps: Vec<usize>,
    rules: Vec<Rule<W>>,
    reflexes: Vec<Change<W>>,
    goal: Change<W>,
    start: Bits<W>,
    /// What any reflex reads or writes: a change elsewhere wakes none.
    touched: Bits<W>,
    /// Facts that reflexes write and that fade.
    reflex_fades: Vec<Fade<W>>,
    pub(super) kept: Kept,
}

/// What must hold, what must not, and what changes.
#[derive(Clone, Copy, Default)]
pub(super) struct Change<const W: usize> {
    pub(super) on: Bits<W>,
    pub(super) off: Bits<W>,
    pub(super) gives: Bits<W>,
    pub(super) takes: Bits<W>,
}

struct Rule<const W: usize> {
    change: Change<W>,
    wakes: bool,
    fades: Vec<Fade<W>>,
}

/// A fact that fades once these steps are done.
#[derive(Clone, Copy)]
struct Fade<const W: usize> {
    fact: Bits<W>,
    readers: u64,
}

/// Reflexes that never come to rest, one bit each, met in the search.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Restless(pub(super) u64);

/// The facts that a search must keep: those that a need, a reflex or the goal reads, and those that one reflex
/// gives and another takes.
pub(super) fn kept(procedure: &Procedure, steps: &[usize]) -> Kept {
    let read = |needs: &[Need]| needs.iter().map(|need| need.fact).collect::<Vec<_>>();
    let mut keeps: Vec<usize> = read(&procedure.goal);
    steps.iter().for_each(|step| keeps.extend(read(&procedure.steps[*step].needs)));
    procedure.reflexes.iter().for_each(|reflex| keeps.extend(read(&reflex.when)));
    let given = procedure.reflexes.iter().flat_map(|reflex| reflex.gives.iter().copied());
    keeps.extend(given.filter(|fact| procedure.reflexes.iter().any(|reflex| reflex.takes.contains(fact))));
    keeps.sort_unstable();
    keeps.dedup();
    keeps
}

impl<const W: usize> Model<W> {
    /// The model of these steps (at most 64, in the order of the file); `kept` as from [`kept`], at most `64 * W`.
    pub(super) fn new(procedure: &Procedure, steps: &[usize], kept: Kept) -> Self {
        let bits = |facts: &[usize]| Bits::<W>::of(facts.iter().filter_map(|fact| kept.binary_search(fact).ok()));
        let needs = |needs: &[Need], holds: bool| {
            bits(&needs.iter().filter(|need| need.holds == holds).map(|need| need.fact).collect::<Vec<_>>())
        };
        let change = |reads: &[Need], gives: &[usize], takes: &[usize]| Change {
            on: needs(reads, true),
            off: needs(reads, false),
            gives: bits(gives),
            takes: bits(takes),
        };
        let changes: Vec<Change<W>> = steps
            .iter()
            .map(|step| &procedure.steps[*step])
            .map(|step| change(&step.needs, &step.gives, &step.takes))
            .collect();
        let reflexes: Vec<Change<W>> =
            procedure.reflexes.iter().map(|reflex| change(&reflex.when, &reflex.gives, &reflex.takes)).collect();
        let goal = change(&procedure.goal, &[], &[]);
        let touched = reflexes.iter().fold(Bits::NONE, |sum, r| sum | r.on | r.off | r.gives | r.takes);
        let fading = Fading::of(&changes, &reflexes, &goal);
        let rules = changes.iter().map(|change| Rule {
            change: *change,
            wakes: !((change.gives | change.takes) & touched).is_empty(),
            fades: fading.among(change.on | change.off | change.gives),
        });
        let reflex_fades = fading.among(reflexes.iter().fold(Bits::NONE, |sum, reflex| sum | reflex.gives));
        let start = Bits::of(procedure.start.iter().filter_map(|fact| kept.binary_search(&fact).ok()));
        Self { steps: steps.to_vec(), rules: rules.collect(), reflexes, goal, start, touched, reflex_fades, kept }
    }

    /// How many steps there are.
    pub(super) fn len(&self) -> usize {
        self.rules.len()
    }

    /// All steps, one bit each.
    pub(super) fn all(&self) -> u64 {
        u64::MAX.checked_shr(64 - self.len() as u32).unwrap_or(0)
    }

    /// The facts at the start, once the reflexes have come to rest.
    pub(super) fn begin(&self) -> Result<Bits<W>, Restless> {
        self.rest(self.start)
    }

    /// What of a step's needs is unmet: facts that should hold and do not, facts that hold and should not.
    #[inline]
    pub(super) fn unmet(&self, step: usize, facts: Bits<W>) -> (Bits<W>, Bits<W>) {
        let change = &self.rules[step].change;
        (change.on & !facts, change.off & facts)
    }

    /// What a step reads and writes.
    pub(super) fn change(&self, step: usize) -> &Change<W> {
        &self.rules[step].change
    }

    /// What the reflexes read and write.
    pub(super) fn reflexes(&self) -> &[Change<W>] {
        &self.reflexes
    }

    /// What the goal reads.
    pub(super) fn goal(&self) -> &Change<W> {
        &self.goal
    }

    /// Whether the goal holds.
    #[inline]
    pub(super) fn is_goal(&self, facts: Bits<W>) -> bool {
        (self.goal.on & !facts).is_empty() && (self.goal.off & facts).is_empty()
    }

    /// The facts after a step that can be done; `done` has it among the steps done.
    #[inline]
    pub(super) fn after(&self, step: usize, facts: Bits<W>, done: u64) -> Result<Bits<W>, Restless> {
        let rule = &self.rules[step];
        let mut after = (facts & !rule.change.takes) | rule.change.gives;
        let moved = (after & !facts) | (facts & !after);
        if rule.wakes && !(moved & self.touched).is_empty() {
            after = fade(self.rest(after)?, &self.reflex_fades, done);
        }
        Ok(fade(after, &rule.fades, done))
    }

    fn rest(&self, facts: Bits<W>) -> Result<Bits<W>, Restless> {
        settle(facts, |facts| self.pass(facts) != 0).map_err(|never| {
            let (mut facts, mut fired) = (never.again, 0);
            for _ in 0..MOST_PASSES {
                fired |= self.pass(&mut facts);
                if facts == never.again {
                    break;
                }
            }
            Restless(fired)
        })
    }

    /// Lets each reflex fire once, in the order of the file; gives those that did, one bit each.
    fn pass(&self, facts: &mut Bits<W>) -> u64 {
        let mut fired = 0;
        for (at, reflex) in self.reflexes.iter().enumerate() {
            if (reflex.on & !*facts).is_empty() && (reflex.off & *facts).is_empty() {
                let before = *facts;
                *facts = (before & !reflex.takes) | reflex.gives;
                fired |= u64::from(*facts != before) << at;
            }
        }
        fired
    }
}

#[inline]
fn fade<const W: usize>(mut facts: Bits<W>, fades: &[Fade<W>], done: u64) -> Bits<W> {
    for fade in fades {
        if fade.readers & !done == 0 {
            facts = facts & !fade.fact;
        }
    }
    facts
}

/// Which facts fade: those that only steps read.
struct Fading<const W: usize> {
    fades: Vec<Fade<W>>,
}

impl<const W: usize> Fading<W> {
    fn of(steps: &[Change<W>], reflexes: &[Change<W>], goal: &Change<W>) -> Self {
        // Where nothing is ever taken and no reflex waits for a fact not to hold, the facts follow from the set of
        // steps alone, and fading would find nothing to join.
        let is_rising = reflexes.iter().all(|reflex| reflex.takes.is_empty() && reflex.off.is_empty())
            && steps.iter().all(|step| step.takes.is_empty());
        if is_rising {
            return Self { fades: Vec::new() };
        }
        let given = reflexes.iter().fold(Bits::NONE, |sum, reflex| sum | reflex.gives);
        let taken = reflexes.iter().fold(Bits::NONE, |sum, reflex| sum | reflex.takes);
        let stays =
            reflexes.iter().fold(goal.on | goal.off | (given & taken), |sum, reflex| sum | reflex.on | reflex.off);
        let readers = |fact: Bits<W>| {
            let reads = |step: &Change<W>| !((step.on | step.off) & fact).is_empty();
            steps.iter().enumerate().filter(|(_, step)| reads(step)).fold(0, |sum, (at, _)| sum | 1_u64 << at)
        };
        let read = steps.iter().fold(Bits::NONE, |sum, step| sum | step.on | step.off);
        let fades = (read & !stays).iter().map(|fact| Bits::of([fact]));
        Self { fades: fades.map(|fact| Fade { fact, readers: readers(fact) }).collect() }
    }

    fn among(&self, facts: Bits<W>) -> Vec<Fade<W>> {
        self.fades.iter().copied().filter(|fade| !(fade.fact & facts).is_empty()).collect()
    }
}
