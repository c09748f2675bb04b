//! "And if ... now?" of a sequence: what the plant does when a step comes too early, or when a trap is stepped into.

use super::weigh::{never, too_early};
use crate::domain::key_point::KeyPoint;
use crate::domain::kinds::kind::WhatIf;
use crate::domain::plant::{Procedure, Step};

/// For each need of a step with a known fault: what happens if the step is done without it.
pub(super) fn all(procedure: &Procedure) -> Vec<WhatIf> {
    of_faults(procedure).map(|(.., what_if)| what_if).collect()
}

/// Those that ask for what was missed here: the point (its words) of a marked list of steps.
pub(super) fn about(procedure: &Procedure, missed: &str) -> Vec<WhatIf> {
    let early = of_faults(procedure).filter(|(step, tell, _)| too_early(&step.say, tell) == missed);
    early.map(|(.., what_if)| what_if).chain(of_traps(procedure, missed)).collect()
}

/// For a trap that was stepped into: what it does.
fn of_traps<'a>(procedure: &'a Procedure, missed: &'a str) -> impl Iterator<Item = WhatIf> + 'a {
    procedure.steps.iter().filter(move |step| never(&step.say) == missed).filter_map(|step| {
        Some(WhatIf {
            id: format!("if-{}", step.key),
            lead_in: "Think again.",
            ask: format!("You do this: “{}”. What happens?", step.say.trim_end_matches('.')),
            points: vec![KeyPoint::plain(step.trap.as_ref()?.tell.clone()?, false)],
        })
    })
}

/// The questions of the known faults, each with its step and what happens without the need.
fn of_faults(procedure: &Procedure) -> impl Iterator<Item = (&Step, &str, WhatIf)> {
    let steps = procedure.steps.iter().filter(|step| step.trap.is_none());
    steps.flat_map(|step| step.faults.iter().map(move |fault| (step, fault))).filter_map(|(step, fault)| {
        let tell = fault.tell.as_deref()?;
        let fact = procedure.name(fault.without.fact);
        let said = if fault.without.holds { "is not so" } else { "is still so" };
        let what_if = WhatIf {
            id: format!("if-{}-{}", step.key, procedure.written(fault.without).replace('!', "not-")),
            lead_in: "Suppose this.",
            ask: format!("You come to “{}”, but “{fact}” {said}. What happens?", step.say.trim_end_matches('.')),
            points: vec![KeyPoint::plain(tell.to_owned(), false)],
        };
        Some((step, tell, what_if))
    })
}
