//! Why did the plant do that? After a run, the chain of causes that made a reflex fire, as a question whose answer
//! is the facts in the order in which each made the next possible.

use std::collections::HashSet;

use super::procedure::{Need, Procedure};
use super::run::Run;
use super::state::Became;
use crate::domain::kinds::why::Why;

/// A chain shorter than this, its end included, is no question.
const SHORTEST: usize = 3;
/// The links nearest to the end are asked for, at most so many with it.
const LONGEST: usize = 6;
/// At most so many facts that did not matter are mixed in.
const FALSE_LINKS: usize = 2;

/// A question about a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// What the plant did by itself, in the deck's words.
    pub tell: String,
    /// The causes in order, the reflex's own words last, and facts that did not matter.
    pub why: Why,
}

/// Something that happened in a run, with what it rested on.
struct Event {
    /// For each of its needs, the event that made it so (none: so from the start).
    rests_on: Vec<(Need, Option<usize>)>,
    /// The reflex, where it was one.
    reflex: Option<usize>,
}

/// The best question that a run gives: about the reflex with the longest chain of causes, the latest of equals.
/// None where nothing fired that rests on enough of what went before.
pub fn explain(procedure: &Procedure, run: &Run) -> Option<Explanation> {
    let events = events(procedure, run);
    let depths = depths(&events);
    let target = (0..events.len()).filter(|e| events[*e].reflex.is_some()).max_by_key(|e| (depths[*e], *e))?;
    let mut links = chain(procedure, &events, &depths, target);
    let tell = procedure.reflexes.get(events[target].reflex?)?.tell.clone()?;
    links.push(tell.clone());
    links.dedup();
    if links.len() < SHORTEST {
        return None;
    }
    let links = links.split_off(links.len().saturating_sub(LONGEST));
    let false_links = did_not_matter(procedure, &events, target, &links);
    Some(Explanation { tell, why: Why { links, false_links } })
}

/// What happened, in order, with the event that made each need so.
fn events(procedure: &Procedure, run: &Run) -> Vec<Event> {
    let mut made_by: Vec<Option<usize>> = vec![None; procedure.facts.len()];
    let mut events: Vec<Event> = Vec::new();
    let mut happen = |needs: &[Need], lost: &[usize], gained: &[usize], reflex: Option<usize>| {
        let rests_on = needs.iter().map(|need| (*need, made_by.get(need.fact).copied().flatten())).collect();
        for fact in lost.iter().chain(gained) {
            if let Some(maker) = made_by.get_mut(*fact) {
                *maker = Some(events.len());
            }
        }
        events.push(Event { rests_on, reflex });
    };
    let stirs = std::iter::once((None, &run.begun)).chain(run.lines.iter().map(|line| (Some(line), &line.stir)));
    for (line, stir) in stirs {
        if let Some(line) = line.filter(|line| line.became == Became::Done)
            && let Some(step) = procedure.steps.get(line.step)
        {
            happen(&step.needs, &line.lost, &line.gained, None);
        }
        for firing in &stir.firings {
            if let Some(reflex) = procedure.reflexes.get(firing.reflex) {
                happen(&reflex.when, &firing.lost, &firing.gained, Some(firing.reflex));
            }
        }
    }
    events
}

/// For each event, the number of events on the longest chain that ends with it.
fn depths(events: &[Event]) -> Vec<usize> {
    let mut depths: Vec<usize> = Vec::with_capacity(events.len());
    for event in events {
        let below = event.rests_on.iter().filter_map(|(_, maker)| depths.get((*maker)?)).max();
        depths.push(below.copied().unwrap_or(0) + 1);
    }
    depths
}

/// The facts along the longest chain to the target, from the first.
fn chain(procedure: &Procedure, events: &[Event], depths: &[usize], target: usize) -> Vec<String> {
    let mut facts = Vec::new();
    let mut at = target;
    while let Some((need, maker)) = events[at]
        .rests_on
        .iter()
        .filter_map(|(need, maker)| maker.map(|m| (*need, m)))
        .max_by_key(|(_, maker)| (depths[*maker], *maker))
    {
        facts.push(in_words(procedure, need));
        at = maker;
    }
    facts.reverse();
    facts
}

/// Facts that came about in the run, or might have, and on which the target does not rest.
fn did_not_matter(procedure: &Procedure, events: &[Event], target: usize, links: &[String]) -> Vec<String> {
    let mut mattered: HashSet<usize> = HashSet::new();
    let mut waiting = vec![target];
    let mut seen: HashSet<usize> = HashSet::new();
    while let Some(event) = waiting.pop() {
        if seen.insert(event) {
            for (need, maker) in &events[event].rests_on {
                mattered.insert(need.fact);
                waiting.extend(*maker);
            }
        }
    }
    let reflex = events[target].reflex.and_then(|r| procedure.reflexes.get(r));
    let changed: HashSet<usize> = reflex.map(|r| r.gives.iter().chain(&r.takes).copied().collect()).unwrap_or_default();
    let given: Vec<usize> = procedure.steps.iter().filter(|s| s.trap.is_none()).flat_map(|s| s.gives.clone()).collect();
    let idle = |fact: &usize| !mattered.contains(fact) && !changed.contains(fact);
    let mut names: Vec<String> = Vec::new();
    for fact in given.into_iter().filter(idle) {
        let name = procedure.name(fact).to_owned();
        if !names.contains(&name) && !links.contains(&name) {
            names.push(name);
        }
    }
    names.truncate(FALSE_LINKS);
    names
}

fn in_words(procedure: &Procedure, need: Need) -> String {
    let name = procedure.name(need.fact);
    if need.holds { name.to_owned() } else { format!("No longer so: {name}") }
}
