//! A sequence as view data: the plant's answer to a learner's list, told line by line.

use crate::app::sheet::{AnswerSheet, Marked};
use crate::app::views::kinds::{KindView, Laid, in_order, part};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::kinds::Detail;
use crate::domain::plant::{
    Became, Break, Facts, Feedback, Need, Procedure, Proof, Run, Severity as Harm, begin, prove, run,
};
use crate::present::kinds::sequence::{
    EffectView, FactView, FailureView, GiverView, How, MissingView, ReflexView, RunLine, SequenceAskedView,
    SequenceRunView, Severity, Stands, StepView,
};
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::library::AnswerView;
use crate::present::stage::RemedyPart;
use crate::present::words;

impl KindView for Procedure {
    fn given(&self, given: &Given) -> Option<String> {
        let Given::Steps(steps) = given else { return None };
        Some(in_order(steps.iter().filter_map(|key| Some(self.steps[self.step_of(key)?].say.clone()))))
    }

    fn can_be_proved(&self) -> bool {
        true
    }

    fn proof(&self, _card: &Card) -> Option<Result<Vec<String>, String>> {
        Some(prove(self).map(|proof| proved(self, &proof)).map_err(|error| error.to_string()))
    }

    fn asked(&self, laid: Laid<'_>) -> AskedView {
        AskedView::Sequence(asked(self, laid.sheet))
    }

    fn marked(&self, laid: Laid<'_>, _marked: &Marked) -> MarkedView {
        MarkedView::Sequence(ran(self, laid.sheet, laid.withheld))
    }

    fn tally(&self, marked: &Marked, _sheet: &AnswerSheet) -> String {
        let Detail::Sequence(told) = &marked.marking.detail else { return String::new() };
        let goal = if told.reaches_goal { "goal reached, " } else { "goal not reached, " };
        let broken = match told.breaks.len() {
            0 => String::new(),
            n => format!("{} broken, ", words::count(n, "step")),
        };
        let traps = match told.traps.len() {
            0 => String::new(),
            n => format!("{}, ", words::count(n, "trap")),
        };
        format!("{goal}{broken}{traps}")
    }

    fn remedy(&self, _card: &Card, _sheet: Option<&AnswerSheet>) -> Vec<RemedyPart> {
        let order = right_order(self);
        let of = order.len();
        order.into_iter().enumerate().map(|(n, step)| part(format!("Step {} of {of}", n + 1), step)).collect()
    }

    fn is_folded(&self) -> bool {
        true
    }

    fn answer(&self, _card: &Card) -> AnswerView {
        let traps = self.traps().map(|step| self.steps[step].say.clone());
        AnswerView::Links { links: right_order(self), false_links: traps.collect() }
    }
}

/// So many facts stand in the strip while the list is made; more where the goal has more.
const STRIP: usize = 5;
/// So many of them hold already.
const STRIP_HOLDING: usize = 2;

/// The steps ashore, in the sheet's random order, and the plant as it is found.
fn asked(procedure: &Procedure, sheet: &AnswerSheet) -> SequenceAskedView {
    let (state, _) = begin(procedure);
    let holding = (0..procedure.facts.len()).filter(|f| state.facts.has(*f));
    let mut shown: Vec<usize> = holding.clone().take(STRIP_HOLDING).collect();
    for fact in procedure.goal.iter().map(|need| need.fact) {
        if !shown.contains(&fact) {
            shown.push(fact);
        }
    }
    let room = STRIP.saturating_sub(shown.len());
    let more: Vec<usize> = holding.filter(|fact| !shown.contains(fact)).take(room).collect();
    shown.extend(more);
    let (mut so, not): (Vec<usize>, Vec<usize>) = shown.into_iter().partition(|f| state.facts.has(*f));
    so.extend(not);
    let steps = sheet.shuffled.iter().filter_map(|position| procedure.steps.get(position.checked_sub(1)?));
    SequenceAskedView {
        facts: so.into_iter().map(|f| fact(procedure, f, &state.facts)).collect(),
        steps: steps.map(|s| StepView { key: s.key.clone(), words: s.say.clone() }).collect(),
    }
}

/// A list that was run, with what the plant did at every line.
fn ran(procedure: &Procedure, sheet: &AnswerSheet, withheld: bool) -> SequenceRunView {
    let list = sheet.list(procedure);
    let run = run(procedure, &list);
    let facts: Vec<usize> = (0..procedure.facts.len()).collect();
    let first_failure = run.lines.iter().position(|line| line.became != Became::Done);
    let lines = run.lines.iter().enumerate().map(|(n, line)| RunLine {
        key: procedure.steps[line.step].key.clone(),
        words: procedure.steps[line.step].say.clone(),
        how: match &line.became {
            _ if first_failure.is_some_and(|first| n > first) => How::NotRun,
            Became::Done => How::Done,
            Became::Trapped(_) => How::Trap,
            Became::Broken(_) | Became::Refused => How::Broken,
        },
        effects: effects(procedure, &line.gained, &line.lost),
        reflexes: reflexes(procedure, line),
        facts_after: facts.iter().map(|f| run.facts.get(n + 1).is_some_and(|after| after.has(*f))).collect(),
    });
    let at_start = run.facts.first().copied().unwrap_or_default();
    SequenceRunView {
        asked: asked(procedure, sheet),
        run: sheet.sequence.runs.max(1),
        facts: facts.iter().map(|f| fact(procedure, *f, &at_start)).collect(),
        begun: run.begun.firings.iter().map(|f| reflex(procedure, f.reflex, &f.gained, &f.lost)).collect(),
        lines: lines.collect(),
        failures: failures(procedure, &run, &list).into_iter().map(|f| told(f, withheld)).collect(),
        unmet: unmet(procedure, &run, &list).into_iter().map(|missing| by_whom(missing, withheld)).collect(),
        right_order: sheet.sequence.right.clone().filter(|_| !withheld),
        explain: sheet.sequence.may_explain && !withheld,
    }
}

/// A failure as it is told: where what was right is withheld, without what it did to the plant and without what would
/// have met the need, for an examiner asks for both.
fn told(failure: FailureView, withheld: bool) -> FailureView {
    if !withheld {
        return failure;
    }
    let missing: Vec<MissingView> = failure.missing.into_iter().map(|missing| by_whom(missing, true)).collect();
    let cause = if missing.is_empty() {
        "This step is never part of a right answer."
    } else {
        "This step cannot be done here."
    };
    FailureView { cause: cause.to_owned(), missing, ..failure }
}

fn by_whom(missing: MissingView, withheld: bool) -> MissingView {
    if !withheld {
        return missing;
    }
    let untold = GiverView { words: String::new(), stands: Stands::Untold };
    MissingView { givers: vec![untold], ..missing }
}

/// The words of an order that works, the shortest; empty where there is none.
fn right_order(procedure: &Procedure) -> Vec<String> {
    let order = prove(procedure).ok().and_then(|proof| proof.one).unwrap_or_default();
    order.into_iter().map(|step| procedure.steps[step].say.clone()).collect()
}

fn fact(procedure: &Procedure, fact: usize, facts: &Facts) -> FactView {
    FactView { key: procedure.facts[fact].key.clone(), name: procedure.name(fact).to_owned(), holds: facts.has(fact) }
}

fn effects(procedure: &Procedure, gained: &[usize], lost: &[usize]) -> Vec<EffectView> {
    let effect = |fact: &usize, holds| EffectView { name: procedure.name(*fact).to_owned(), holds };
    gained.iter().map(|f| effect(f, true)).chain(lost.iter().map(|f| effect(f, false))).collect()
}

fn reflexes(procedure: &Procedure, line: &Feedback) -> Vec<ReflexView> {
    line.stir.firings.iter().map(|f| reflex(procedure, f.reflex, &f.gained, &f.lost)).collect()
}

fn reflex(procedure: &Procedure, reflex: usize, gained: &[usize], lost: &[usize]) -> ReflexView {
    let effects = effects(procedure, gained, lost);
    let tell = procedure.reflexes.get(reflex).and_then(|r| r.tell.clone());
    let plain = || effects.iter().map(EffectView::words).collect::<Vec<_>>().join(", ");
    ReflexView { tell: tell.unwrap_or_else(plain), effects }
}

fn severity(harm: Harm) -> Severity {
    match harm {
        Harm::NoEffect => Severity::NoEffect,
        Harm::Trip => Severity::Trip,
        Harm::Damage => Severity::Damage,
        Harm::Injury => Severity::Injury,
    }
}

fn failures(procedure: &Procedure, run: &Run, list: &[usize]) -> Vec<FailureView> {
    let failure = |(n, line): (usize, &Feedback)| match &line.became {
        Became::Broken(Break { without, severity: harm, tell, .. }) => Some(FailureView {
            line: n + 1,
            cause: tell.clone(),
            severity: severity(*harm),
            missing: without.iter().map(|need| missing(procedure, run, list, *need, n)).collect(),
        }),
        Became::Trapped(harm) => Some(FailureView {
            line: n + 1,
            cause: procedure.steps[line.step]
                .trap
                .as_ref()
                .and_then(|t| t.tell.clone())
                .unwrap_or_else(|| "This step is never part of a right answer.".to_owned()),
            severity: severity(*harm),
            missing: Vec::new(),
        }),
        Became::Done | Became::Refused => None,
    };
    run.lines.iter().enumerate().filter_map(failure).collect()
}

fn unmet(procedure: &Procedure, run: &Run, list: &[usize]) -> Vec<MissingView> {
    let facts = run.facts_after();
    let open = procedure.goal.iter().filter(|need| !need.is_met(&facts));
    open.map(|need| missing(procedure, run, list, *need, list.len())).collect()
}

/// A need that is not met before line `at` (from 0).
fn missing(procedure: &Procedure, run: &Run, list: &[usize], need: Need, at: usize) -> MissingView {
    let undid = |line: &Feedback| {
        let changed = |gained: &[usize], lost: &[usize]| if need.holds { lost } else { gained }.contains(&need.fact);
        changed(&line.gained, &line.lost) || line.stir.firings.iter().any(|f| changed(&f.gained, &f.lost))
    };
    let undone_at = run.lines.iter().take(at).rposition(undid).map(|n| n + 1);
    let stands = |step: usize| match list.iter().position(|s| *s == step) {
        Some(line) => Stands::Line(line + 1),
        None => Stands::Ashore,
    };
    let meets = |gives: &[usize], takes: &[usize]| if need.holds { gives } else { takes }.contains(&need.fact);
    let by_step = procedure
        .right_steps()
        .filter(|step| meets(&procedure.steps[*step].gives, &procedure.steps[*step].takes))
        .map(|step| GiverView { words: procedure.steps[step].say.clone(), stands: stands(step) });
    let by_itself = procedure.reflexes.iter().filter(|r| meets(&r.gives, &r.takes)).map(|r| {
        let words = r.tell.clone().unwrap_or_else(|| "as soon as all that it waits for holds.".to_owned());
        GiverView { words, stands: Stands::ByItself }
    });
    let mut givers: Vec<GiverView> = by_step.chain(by_itself).collect();
    // What stands later in the list, or was left ashore, explains more than what stands before and failed.
    givers.sort_by_key(|giver| match giver.stands {
        Stands::Line(line) if line > at + 1 => 0,
        Stands::Ashore => 1,
        Stands::ByItself => 2,
        Stands::Line(_) | Stands::Untold => 3,
    });
    MissingView {
        key: procedure.facts[need.fact].key.clone(),
        name: procedure.name(need.fact).to_owned(),
        must_not: !need.holds,
        undone_at,
        givers,
    }
}

/// What is known of a sequence, in sentences.
fn proved(procedure: &Procedure, proof: &Proof) -> Vec<String> {
    let say = |steps: &[usize]| -> Vec<&str> { steps.iter().map(|step| procedure.steps[*step].say.as_str()).collect() };
    let mut lines = vec![match (proof.works, proof.orders) {
        (false, _) => "No order of the steps reaches the goal: nobody can be right.".to_owned(),
        (true, None) => "It works. There are too many steps to count the orders.".to_owned(),
        (true, Some(0)) => "It works, but no order that works uses every step.".to_owned(),
        (true, Some(1)) => "It works. One order of all steps is right.".to_owned(),
        (true, Some(orders)) => format!("It works. {orders} orders of all steps are right."),
    }];
    // A shortest order stands below, as the answer.
    let all = proof.works && proof.optional.is_empty();
    if all {
        lines.push("Every step that is no trap is needed.".to_owned());
    }
    let needed: &[usize] = if all { &[] } else { &proof.needed };
    for (what, steps) in
        [("Always needed", needed), ("May be left out", proof.optional.as_slice()), ("Traps", proof.traps.as_slice())]
    {
        if !steps.is_empty() {
            lines.push(format!("{what}: {}.", say(steps).join("; ")));
        }
    }
    lines
}
