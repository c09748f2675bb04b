//! The plan to the oral: it must do better than a steady target, in the simulation that it was designed with, and keep
//! what it promises: nothing unseen, minutes within the budget.
//!
//! The set-up is an experiment made outside this program (Python, FSRS-6 formulas in double precision, 25 November
//! 2026): 300 cards, every fifth three times as important, 60 days. There a fixed target of 0.90 came to a mean recall
//! of 0.935 at 20 minutes a day with oral cards of about 42 s (3.3 cards unseen), the simple rule to 0.960 and the plan
//! chosen by simulation to 0.962; with quick cards 0.944, 0.989 and 0.993; at 12 minutes 0.606 (108 unseen), 0.858 and
//! 0.860.

use bedplate::domain::day::StudyDay;
use bedplate::domain::memory::model::Model;
use bedplate::domain::memory::plan::{
    Forecast, Habits, Plan, PlanCard, Trace, WindowOrder, choose, play, simple_rule, simulate, todays,
};

const TODAY: StudyDay = StudyDay(20_000);
const EXAM: StudyDay = StudyDay(20_060);

fn cards(seconds: f64) -> Vec<PlanCard> {
    (0..300)
        .map(|n| {
            let weight = if n % 5 == 0 { 3 } else { 1 };
            PlanCard { weight, seconds, rank: if weight == 3 { n } else { 1_000 + n }, trace: None }
        })
        .collect()
}

/// What a steady target does: all that is due first, then unseen cards, by importance of neither.
fn fixed(cards: &[PlanCard], minutes: f64, seed: u64) -> Forecast {
    let model = Model::standard(0.90);
    let policy = |cards: &[PlanCard], day: StudyDay, _: f64| -> Vec<usize> {
        let due = |t: &Trace| day.days_since(t.last_day) >= model.interval_days(t.stability);
        let mut owed: Vec<(f64, usize)> = cards
            .iter()
            .enumerate()
            .filter_map(|(at, card)| Some((at, card.trace?)))
            .filter(|(_, trace)| due(trace))
            .map(|(at, trace)| (model.recall_after(trace.stability, day.days_since(trace.last_day)), at))
            .collect();
        owed.sort_by(|a, b| a.0.total_cmp(&b.0));
        let unseen = cards.iter().enumerate().filter(|(_, card)| card.trace.is_none()).map(|(at, _)| at);
        owed.into_iter().map(|(_, at)| at).chain(unseen.take(10)).collect()
    };
    let budget = minutes * 60.0;
    play(cards, TODAY, EXAM, (budget, budget), &model, &Habits::default(), (seed, 0), policy)
}

fn planned(plan: &Plan, cards: &[PlanCard], minutes: f64, seed: u64) -> Forecast {
    let model = Model::standard(0.90);
    let budget = minutes * 60.0;
    simulate(plan, cards, TODAY, (budget, budget), &model, &model, &Habits::default(), (seed, 0))
}

fn mean(runs: &[Forecast], cards: &[PlanCard]) -> f64 {
    runs.iter().map(|run| run.mean(cards, false)).sum::<f64>() / runs.len() as f64
}

fn minutes(runs: &[Forecast]) -> f64 {
    runs.iter().map(|run| run.seconds.iter().sum::<f64>() / 60.0).sum::<f64>() / runs.len() as f64
}

#[test]
fn the_plan_beats_a_steady_target_when_oral_cards_fill_the_minutes() {
    let cards = cards(42.0);
    let steady: Vec<Forecast> = (0..20).map(|seed| fixed(&cards, 20.0, seed)).collect();
    let rule = simple_rule(&cards, TODAY, EXAM, 1_200.0);
    let by_rule: Vec<Forecast> = (0..20).map(|seed| planned(&rule, &cards, 20.0, seed)).collect();
    let (before, after) = (mean(&steady, &cards), mean(&by_rule, &cards));
    assert!(after >= before + 0.02, "{before} and {after}");
    for run in &by_rule {
        assert_eq!(run.unmet, 0, "no card is left unseen");
        // A day may run over by its last card and its tries.
        assert!(run.seconds.iter().all(|s| *s <= 1_200.0 + 5.0 * 42.0 * 1.4), "{:?}", run.seconds);
    }
    assert!(minutes(&by_rule) <= 60.0 * 20.0 * 1.02, "{} minutes in 60 days", minutes(&by_rule));
}

#[test]
fn quick_cards_and_short_days_too() {
    for (seconds, minutes, least) in [(14.0, 20.0, 0.03), (42.0, 12.0, 0.15), (14.0, 10.0, 0.02)] {
        let cards = cards(seconds);
        let rule = simple_rule(&cards, TODAY, EXAM, minutes * 60.0);
        let steady: Vec<Forecast> = (0..3).map(|seed| fixed(&cards, minutes, seed)).collect();
        let by_rule: Vec<Forecast> = (0..3).map(|seed| planned(&rule, &cards, minutes, seed)).collect();
        let (before, after) = (mean(&steady, &cards), mean(&by_rule, &cards));
        assert!(after >= before + least, "{seconds} s, {minutes} min: {before} and {after}");
    }
}

#[test]
fn the_chosen_plan_is_no_worse_than_the_rule_and_can_be_stopped() {
    let cards = cards(42.0);
    let model = Model::standard(0.90);
    let mut told = Vec::new();
    let mut progress = |share: f64| {
        told.push(share);
        true
    };
    let habits = Habits::default();
    let chosen = choose(&cards, TODAY, EXAM, (1_200.0, 1_200.0), &model, &habits, &mut progress).expect("not stopped");
    assert!(told.is_sorted() && (told.last().copied().unwrap_or_default() - 1.0).abs() < 1e-9, "{told:?}");
    let runs: Vec<Forecast> = (0..20).map(|seed| planned(&chosen.plan, &cards, 20.0, seed)).collect();
    let steady: Vec<Forecast> = (0..20).map(|seed| fixed(&cards, 20.0, seed)).collect();
    let (before, found) = (mean(&steady, &cards), mean(&runs, &cards));
    assert!(found >= before + 0.02, "{found} for {before} in {:.0} min: {:?}", minutes(&runs), chosen.plan);
    assert!(runs.iter().all(|run| run.unmet == 0));
    let mut stop = |_: f64| false;
    assert!(choose(&cards, TODAY, EXAM, (1_200.0, 1_200.0), &model, &habits, &mut stop).is_none());
}

fn met(stability: f32, last: i32, missed: bool) -> Option<Trace> {
    Some(Trace { stability, difficulty: 5.0, last_day: StudyDay(last), missed, new: false })
}

fn picked(plan: &Plan, cards: &[PlanCard], today: StudyDay, budget: f64) -> Vec<usize> {
    todays(plan, cards, today, budget, &Model::standard(0.90)).into_iter().map(|pick| pick.card).collect()
}

#[test]
fn a_day_begins_with_what_slipped_then_its_share_of_unseen_cards_then_what_is_due() {
    let card = |rank, trace| PlanCard { weight: 2, seconds: 60.0, rank, trace };
    let today = StudyDay(100);
    let plan =
        Plan { exam: StudyDay(140), introduce_by: StudyDay(101), window_days: 10, window: WindowOrder::DurableFirst };
    let cards = [
        card(0, met(5.0, 90, false)),
        card(9, None),
        card(3, None),
        card(4, None),
        card(0, met(2.0, 99, true)),
        card(0, met(50.0, 95, false)),
    ];
    assert_eq!(
        picked(&plan, &cards, today, 3_600.0),
        vec![4, 2, 3, 0],
        "half of three unseen cards, rounded up; the last is not due"
    );
    assert_eq!(picked(&plan, &cards, today, 125.0), vec![4, 2], "as long as the minutes last");
    assert_eq!(picked(&plan, &cards, today, 10.0), vec![4], "the first may run over");
    assert_eq!(picked(&plan, &cards, today, 0.0), Vec::<usize>::new());
}

#[test]
fn in_the_window_every_card_has_its_turn_and_the_fragile_come_last() {
    let card = |trace| PlanCard { weight: 2, seconds: 60.0, rank: 0, trace };
    let plan =
        Plan { exam: StudyDay(110), introduce_by: StudyDay(80), window_days: 10, window: WindowOrder::DurableFirst };
    let mut cards: Vec<PlanCard> = (0..20).map(|n| card(met(3.0 + n as f32 * 8.0, 95, false))).collect();
    let mut seen = vec![0; cards.len()];
    let mut firsts = Vec::new();
    for day in 100..110 {
        let day = StudyDay(day);
        let picks = picked(&plan, &cards, day, 125.0);
        assert!(picks.len() <= 2, "two fit into a day");
        firsts.push(picks[0]);
        for at in picks {
            seen[at] += 1;
            let stability = cards[at].trace.expect("met").stability * 1.5;
            cards[at].trace = met(stability, day.0, false);
        }
    }
    assert!(seen.iter().all(|n| *n == 1), "each once: {seen:?}");
    assert!(firsts[0] > 15 && firsts[9] < 4, "durable first, fragile last: {firsts:?}");
}
