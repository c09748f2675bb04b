//! Runs of a small invented plant: breaks, faults, traps, reflexes and the words told, case by case from the deck
//! format's "Exact meaning of a sequence".

use bedplate::domain::plant::{
    Became, Fact, Facts, Fault, Need, Procedure, Reflex, Severity, Step, Trap, apply, begin, examine, prove, run,
};

const BOARD: usize = 0;
const COOLED: usize = 1;
const AIR: usize = 2;
const PRIMED: usize = 3;
const RUNNING: usize = 4;
const ALARM: usize = 5;

const LINE_UP: usize = 0;
const CHARGE: usize = 1;
const PRIME: usize = 2;
const START: usize = 3;
const BACKFEED: usize = 4;

/// The auxiliary engine of the Marram Light, much simplified.
fn plant() -> Procedure {
    let fact = |key: &str, name: &str| Fact { key: key.to_owned(), name: name.to_owned() };
    let step = |key: &str, needs: Vec<Need>, gives: Vec<usize>| Step {
        key: key.to_owned(),
        say: format!("Do {key}"),
        needs,
        gives,
        ..Step::default()
    };
    let mut p = Procedure {
        facts: vec![
            fact("board-live", "Board live"),
            fact("cooled", "Cooling lined up"),
            fact("air", "Air in receiver"),
            fact("priming", "Priming pump running"),
            fact("running", "Engine running"),
            fact("low-air", "Low air alarm"),
        ],
        start: Facts::of([BOARD, ALARM]),
        goal: vec![Need::on(RUNNING), Need::off(PRIMED), Need::off(ALARM)],
        steps: vec![
            step("line-up", vec![], vec![COOLED]),
            step("charge", vec![Need::on(BOARD), Need::on(COOLED)], vec![AIR]),
            step("prime", vec![Need::on(BOARD), Need::off(RUNNING)], vec![PRIMED]),
            step("start", vec![Need::on(AIR), Need::on(PRIMED), Need::on(COOLED)], vec![RUNNING]),
            step("backfeed", vec![Need::on(RUNNING)], vec![BOARD]),
        ],
        reflexes: vec![
            Reflex {
                when: vec![Need::on(RUNNING)],
                gives: vec![],
                takes: vec![PRIMED],
                tell: Some("The engine's own pump takes over.".to_owned()),
            },
            Reflex {
                when: vec![Need::on(AIR)],
                gives: vec![],
                takes: vec![ALARM],
                tell: Some("The alarm clears.".to_owned()),
            },
        ],
        strict: false,
    };
    let fault = |without, severity, tell: &str| Fault { without, severity, tell: Some(tell.to_owned()) };
    p.steps[START].faults = vec![
        fault(Need::on(PRIMED), Severity::Damage, "The bearings turn dry."),
        fault(Need::on(AIR), Severity::NoEffect, "Nothing turns."),
    ];
    p.steps[PRIME].faults = vec![fault(Need::off(RUNNING), Severity::Trip, "It trips.")];
    p.steps[BACKFEED].trap = Some(Trap { severity: Severity::Trip, tell: Some("It trips the board.".to_owned()) });
    p
}

#[test]
fn a_right_order_runs_with_its_reflexes_in_turn() {
    let ran = run(&plant(), &[LINE_UP, PRIME, CHARGE, START]);
    assert!(ran.works());
    assert_eq!(ran.firings().collect::<Vec<_>>(), [1, 0]);
    assert_eq!(ran.lines[2].stir.firings[0].lost, [ALARM]);
    assert_eq!(ran.lines[3].gained, [RUNNING]);
    assert_eq!(ran.facts_after(), Facts::of([BOARD, COOLED, AIR, RUNNING]));
}

#[test]
fn a_break_lists_every_unmet_need_and_tells_the_first_fault_that_fits() {
    let ran = run(&plant(), &[START, LINE_UP, START, CHARGE]);
    let breaks: Vec<_> = ran.breaks().collect();
    assert_eq!(breaks[0].without, [Need::on(AIR), Need::on(PRIMED), Need::on(COOLED)], "in the order of the needs");
    assert_eq!((breaks[0].severity, breaks[0].tell.as_str()), (Severity::Damage, "The bearings turn dry."));
    // A step that was passed over may be tried again by a caller; a list of the deck format has each step once.
    assert_eq!(breaks[1].without, [Need::on(AIR), Need::on(PRIMED)]);
    assert_eq!(ran.lines[3].became, Became::Done, "the run goes on to its end");
    assert!(!ran.reaches_goal);
}

#[test]
fn a_break_without_a_fault_has_no_effect_and_a_plain_sentence() {
    let ran = run(&plant(), &[CHARGE]);
    let broken = ran.breaks().next().expect("it breaks");
    assert_eq!(broken.severity, Severity::NoEffect);
    assert_eq!(broken.tell, "This cannot be done here: “Cooling lined up” does not hold.");
}

#[test]
fn a_need_that_a_fact_does_not_hold_breaks_too() {
    let ran = run(&plant(), &[LINE_UP, PRIME, CHARGE, START]);
    let mut p = plant();
    p.start = ran.facts_after();
    let again = run(&p, &[PRIME]);
    let broken = again.breaks().next().expect("the engine runs");
    assert_eq!(p.written(broken.without[0]), "!running");
    assert_eq!((broken.severity, broken.tell.as_str()), (Severity::Trip, "It trips."));
}

#[test]
fn a_trap_changes_nothing_and_its_needs_are_not_looked_at() {
    let mut p = plant();
    p.start = Facts::of([COOLED]);
    let ran = run(&p, &[BACKFEED, CHARGE]);
    assert_eq!(ran.traps().collect::<Vec<_>>(), [(BACKFEED, Severity::Trip)]);
    assert_eq!(ran.breaks().next().map(|b| b.without.clone()), Some(vec![Need::on(BOARD)]), "the board is still dead");
}

#[test]
fn a_step_takes_before_it_gives_and_is_done_once() {
    let mut p = plant();
    p.steps[LINE_UP].takes = vec![COOLED, BOARD];
    let (start, _) = begin(&p);
    let (after, feedback) = apply(&p, &start, LINE_UP);
    assert!(after.facts.has(COOLED) && !after.facts.has(BOARD));
    assert_eq!((feedback.gained, feedback.lost), (vec![COOLED], vec![BOARD]));
    let (same, feedback) = apply(&p, &after, LINE_UP);
    assert_eq!((same, feedback.became), (after, Became::Refused));
    assert_eq!(apply(&p, &after, 99).1.became, Became::Refused);
}

#[test]
fn reflexes_run_at_the_start_in_whole_passes() {
    // 1 wakes 0, which stands before it: it fires in the second pass.
    let mut p = plant();
    p.reflexes = vec![
        Reflex { when: vec![Need::on(AIR)], gives: vec![PRIMED], ..Reflex::default() },
        Reflex { when: vec![Need::on(BOARD)], gives: vec![AIR], ..Reflex::default() },
        Reflex { when: vec![Need::off(PRIMED)], gives: vec![COOLED], ..Reflex::default() },
    ];
    assert_eq!(run(&p, &[]).firings().collect::<Vec<_>>(), [1, 2, 0]);
}

#[test]
fn reflexes_that_never_settle_are_named() {
    let mut p = plant();
    p.reflexes = vec![
        Reflex { when: vec![Need::on(BOARD)], gives: vec![COOLED], ..Reflex::default() },
        Reflex { when: vec![Need::on(AIR), Need::on(PRIMED)], takes: vec![PRIMED], ..Reflex::default() },
        Reflex { when: vec![Need::on(AIR), Need::off(PRIMED)], gives: vec![PRIMED], ..Reflex::default() },
    ];
    let ran = run(&p, &[CHARGE]);
    assert_eq!(ran.lines[0].stir.restless, [1, 2]);
    let (proof, findings) = examine(&p).expect("it is small");
    assert!(!proof.works);
    assert_eq!(findings.restless, [1, 2]);
}

#[test]
fn a_proof_says_what_is_needed_and_what_may_be_left() {
    let mut p = plant();
    p.facts.push(Fact { key: "logged".to_owned(), name: "Logged".to_owned() });
    p.steps.push(Step { key: "log".to_owned(), gives: vec![6], ..Step::default() });
    let proof = prove(&p).expect("it is small");
    assert_eq!(proof.needed, [LINE_UP, CHARGE, PRIME, START]);
    assert_eq!((proof.optional.as_slice(), proof.traps.as_slice()), (&[5][..], &[BACKFEED][..]));
    assert_eq!(proof.one.as_deref(), Some(&[LINE_UP, CHARGE, PRIME, START][..]));
    // Line up before charging, start last, the priming anywhere before it; the log at any of five places.
    assert_eq!(proof.orders, Some(3 * 5));
    let (_, findings) = examine(&p).expect("it is small");
    assert_eq!(findings.needless, [5]);
    assert_eq!(findings.unmet[CHARGE], [Need::on(COOLED)], "the board is live from the start and stays so");
    assert_eq!(findings.unmet[PRIME], [], "the engine cannot run before it is primed");
}

#[test]
fn a_trap_without_which_nothing_works_is_found() {
    let mut p = plant();
    p.start = Facts::NONE;
    p.steps[BACKFEED].needs = vec![];
    let (proof, findings) = examine(&p).expect("it is small");
    assert!(!proof.works && proof.one.is_none());
    assert_eq!(findings.needed_traps, [BACKFEED]);
    assert_eq!(findings.never_done, [CHARGE, PRIME, START]);
    assert_eq!(findings.never_met[0], Need::on(RUNNING));
}
