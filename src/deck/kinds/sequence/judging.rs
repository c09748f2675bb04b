//! What cannot work in a sequence that reads well: facts that nothing gives, a goal out of reach, traps that are
//! needed; and what could be better.

use std::collections::HashSet;

use super::places::Places;
use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::fields::Context;
use crate::domain::plant::{Findings, Need, Procedure, Proof, begin, examine};

/// Judges a procedure and reports what is wrong with it.
pub(super) fn judge(context: &mut Context<'_>, procedure: &Procedure, places: &Places) {
    unused(context, procedure, places);
    if never_given(context, procedure, places) {
        return;
    }
    let Ok((proof, findings)) = examine(procedure) else {
        context.report(checks::card::too_complex_sequence(places.card));
        return;
    };
    if let Some((first, others)) = findings.restless.split_first() {
        let others: Vec<usize> = others.iter().map(|at| at + 1).collect();
        context.report(checks::sequence::restless_reflexes(places.reflexes[*first].reflex, &others));
        return;
    }
    if !proof.works {
        out_of_reach(context, procedure, places, &findings);
        return;
    }
    if procedure.reaches_goal(&begin(procedure).0.facts) {
        context.report(checks::sequence::goal_at_start(places.goal_list));
    }
    steps(context, procedure, places, &findings);
    tells(context, procedure, places, &findings);
    orders(context, procedure, places, &proof);
}

/// Every need that someone waits for, with its place: the goal's, the steps' and the reflexes'. The needs of traps
/// are not looked at.
fn awaited<'a>(procedure: &'a Procedure, places: &'a Places) -> impl Iterator<Item = (Need, Site)> + 'a {
    let goal = procedure.goal.iter().zip(&places.goal);
    let steps = procedure.right_steps().flat_map(|at| procedure.steps[at].needs.iter().zip(&places.steps[at].needs));
    let when = procedure.reflexes.iter().zip(&places.reflexes).flat_map(|(r, sites)| r.when.iter().zip(&sites.when));
    goal.chain(steps).chain(when).map(|(need, site)| (*need, *site))
}

/// Reports facts that are waited for and that nothing gives; whether there were any.
fn never_given(context: &mut Context<'_>, procedure: &Procedure, places: &Places) -> bool {
    let given: HashSet<usize> = procedure
        .start
        .iter()
        .chain(procedure.steps.iter().flat_map(|step| step.gives.iter().copied()))
        .chain(procedure.reflexes.iter().flat_map(|reflex| reflex.gives.iter().copied()))
        .collect();
    let taken: HashSet<usize> = procedure
        .steps
        .iter()
        .flat_map(|step| &step.takes)
        .chain(procedure.reflexes.iter().flat_map(|reflex| &reflex.takes))
        .copied()
        .collect();
    let mut told = HashSet::new();
    let mut is_any = false;
    for (need, site) in awaited(procedure, places) {
        let key = &procedure.facts[need.fact].key;
        if need.holds && !given.contains(&need.fact) && told.insert(need) {
            let perhaps = meant(procedure, need.fact).map(|step| procedure.steps[step].key.as_str());
            context.report(checks::sequence::nothing_gives(site, key, perhaps));
            is_any = true;
        } else if !need.holds && procedure.start.has(need.fact) && !taken.contains(&need.fact) && told.insert(need) {
            context.report(checks::sequence::nothing_takes(site, key));
        }
    }
    is_any
}

/// The step that was probably meant to give a fact: the one whose words are most like the fact's, a step that gives
/// nothing before others.
fn meant(procedure: &Procedure, fact: usize) -> Option<usize> {
    let fact = &procedure.facts[fact];
    let wanted = words(&format!("{} {}", fact.key, fact.name));
    let score = |at: usize| {
        let step = &procedure.steps[at];
        let own = words(&format!("{} {}", step.key, step.say));
        let alike = wanted.iter().filter(|word| own.contains(word.as_str())).count();
        2 * alike + usize::from(alike > 0 && step.gives.is_empty())
    };
    let best = procedure.right_steps().max_by_key(|at| (score(*at), usize::MAX - at))?;
    (score(best) > 0).then_some(best)
}

/// The longer words of a text, each cut to its first five letters so that `charge` and `charging` are alike.
fn words(text: &str) -> HashSet<String> {
    let lower = text.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric()).filter(|word| word.chars().count() > 3);
    words.map(|word| word.chars().take(5).collect()).collect()
}

fn unused(context: &mut Context<'_>, procedure: &Procedure, places: &Places) {
    let steps = procedure
        .steps
        .iter()
        .flat_map(|step| step.needs.iter().map(|need| need.fact).chain(step.gives.iter().chain(&step.takes).copied()));
    let reflexes = procedure.reflexes.iter().flat_map(|reflex| {
        reflex.when.iter().map(|need| need.fact).chain(reflex.gives.iter().chain(&reflex.takes).copied())
    });
    let goal = procedure.goal.iter().map(|need| need.fact);
    let used: HashSet<usize> = procedure.start.iter().chain(goal).chain(steps).chain(reflexes).collect();
    for (at, fact) in procedure.facts.iter().enumerate().filter(|(at, _)| !used.contains(at)) {
        context.report(checks::sequence::unused_fact(places.facts[at], &fact.key));
    }
}

fn out_of_reach(context: &mut Context<'_>, procedure: &Procedure, places: &Places, findings: &Findings) {
    for trap in &findings.needed_traps {
        context.report(checks::sequence::needed_trap(places.steps[*trap].trap, &procedure.steps[*trap].key));
    }
    if !findings.needed_traps.is_empty() {
        return;
    }
    let never = |need: &Need| findings.never_met.contains(need);
    let Some((at, need)) = procedure.goal.iter().enumerate().find(|(_, need)| never(need)) else {
        let mend = "see which step undoes what another has done, and let one of them wait for the other";
        context.report(checks::sequence::unreachable_goal(places.goal_list, "its facts never hold together", mend));
        return;
    };
    let key = &procedure.facts[need.fact].key;
    let why = if need.holds { format!("`{key}` never holds") } else { format!("`{key}` never ends") };
    let writes = |step: &&usize| {
        let step = &procedure.steps[**step];
        if need.holds { step.gives.contains(&need.fact) } else { step.takes.contains(&need.fact) }
    };
    let mend = match findings.never_done.iter().find(writes) {
        None => "see which steps lead to it, and what they wait for".to_owned(),
        Some(step) => {
            let step = &procedure.steps[*step];
            match step.needs.iter().find(|need| never(need)) {
                None => format!("step `{}` can never be done: its needs never hold together", step.key),
                Some(need) => format!(
                    "step `{}` can never be done: it waits for `{}`, which nothing brings about before it",
                    step.key,
                    procedure.written(*need)
                ),
            }
        }
    };
    context.report(checks::sequence::unreachable_goal(places.goal[at], &why, &mend));
}

fn steps(context: &mut Context<'_>, procedure: &Procedure, places: &Places, findings: &Findings) {
    for &at in &findings.needless {
        let (step, site) = (&procedure.steps[at], places.steps[at].step);
        if findings.never_done.contains(&at) {
            let need = step.needs.iter().find(|need| findings.never_met.contains(need));
            let need = need.map(|need| procedure.written(*need));
            context.report(checks::sequence::needless_step_never_done(site, &step.key, need.as_deref()));
        } else {
            context.report(checks::sequence::needless_step(site, &step.key));
        }
    }
}

fn tells(context: &mut Context<'_>, procedure: &Procedure, places: &Places, findings: &Findings) {
    for (at, step) in procedure.steps.iter().enumerate() {
        let sites = &places.steps[at];
        if step.trap.as_ref().is_some_and(|trap| trap.tell.is_none()) {
            context.report(checks::sequence::missing_tell(sites.step, "this trap"));
        }
        for (need, site) in step.needs.iter().zip(&sites.needs) {
            if !findings.unmet[at].contains(need) {
                continue;
            }
            match step.faults.iter().zip(&sites.faults).find(|(fault, _)| fault.without == *need) {
                Some((fault, site)) if fault.tell.is_none() => {
                    context.report(checks::sequence::missing_tell(*site, "this fault"))
                }
                Some(_) => {}
                None => {
                    context.report(checks::sequence::missing_tell_need(*site, &step.key, &procedure.written(*need)))
                }
            }
        }
    }
    for (reflex, sites) in procedure.reflexes.iter().zip(&places.reflexes) {
        if reflex.tell.is_none() {
            context.report(checks::sequence::missing_tell(sites.reflex, "this reflex"));
        }
    }
}

fn orders(context: &mut Context<'_>, procedure: &Procedure, places: &Places, proof: &Proof) {
    match proof.orders {
        Some(0) => context.report(checks::sequence::no_full_order(places.card)),
        Some(1) if !procedure.strict => context.report(checks::sequence::single_order(places.card)),
        Some(orders) if procedure.strict && orders > 1 => {
            let site = places.strict.unwrap_or(places.card);
            context.report(checks::sequence::not_strict(site, &orders.to_string()));
        }
        _ => {}
    }
}
