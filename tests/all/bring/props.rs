//! Three computers with wrong clocks and another ship's time each: in whatever order, and however often, their files are
//! brought in, all three come to the same.

use bedplate::domain::attempt::Until;
use bedplate::domain::day::StudyDay;
use bedplate::domain::outcome::Outcome;
use bedplate::domain::settings::OralResult;
use proptest::prelude::*;

use super::computer::Computer;

/// What is done on a computer.
#[derive(Debug, Clone)]
enum Deed {
    Answer(u8, Outcome),
    TakeBack(usize),
    SetAside(u8, Until),
    Report(u8),
    Minutes(u32),
    Result(i32, bool),
    Begin,
    Turn(usize),
    EndEarly(usize),
    TakeUp(usize),
    End(usize),
    /// Brings in what the computer so many further on has now.
    Bring(usize),
}

fn deed() -> impl Strategy<Value = Deed> {
    let outcome = (1u32..=4).prop_map(|n| Outcome::from_number(n).unwrap());
    let until = prop_oneof![Just(Until::ForGood), Just(Until::Back), (0i32..9).prop_map(|d| Until::Day(StudyDay(d)))];
    prop_oneof![
        6 => (0u8..4, outcome).prop_map(|(card, outcome)| Deed::Answer(card, outcome)),
        2 => (0usize..9).prop_map(Deed::TakeBack),
        2 => (0u8..4, until).prop_map(|(card, until)| Deed::SetAside(card, until)),
        1 => (0u8..3).prop_map(Deed::Report),
        2 => (5u32..120).prop_map(Deed::Minutes),
        1 => (20_000i32..20_003, any::<bool>()).prop_map(|(day, passed)| Deed::Result(day, passed)),
        2 => Just(Deed::Begin),
        6 => (0usize..3).prop_map(Deed::Turn),
        1 => (0usize..3).prop_map(Deed::EndEarly),
        1 => (0usize..3).prop_map(Deed::TakeUp),
        1 => (0usize..3).prop_map(Deed::End),
        3 => (1usize..3).prop_map(Deed::Bring),
    ]
}

fn done(computer: &mut Computer, deed: &Deed) {
    let nth = |computer: &Computer, n: usize| {
        let all = computer.store().sittings().wait().unwrap();
        all.get(n % all.len().max(1)).map(|kept| kept.id.clone())
    };
    match deed {
        Deed::Answer(card, outcome) => drop(computer.answer(&format!("card-{card}"), *outcome)),
        Deed::TakeBack(n) => computer.take_back(*n),
        Deed::SetAside(card, until) => computer.set_aside(&format!("card-{card}"), *until),
        Deed::Report(n) => computer.report(&format!("wrong in {n} places")),
        Deed::Minutes(minutes) => computer.change(|s| s.minutes = *minutes),
        Deed::Result(day, passed) => {
            computer.change(|s| s.results.push(OralResult { day: StudyDay(*day), passed: *passed }));
        }
        Deed::Begin => drop(computer.begin_sitting()),
        Deed::Turn(n) => {
            if let Some(id) = nth(computer, *n) {
                computer.answer_turn(&id);
            }
        }
        Deed::EndEarly(n) | Deed::TakeUp(n) | Deed::End(n) => {
            let at = computer.tick();
            let Some(id) = nth(computer, *n) else { return };
            let store = computer.store();
            let kept = match deed {
                Deed::EndEarly(_) => store.end_sitting_early(id, at),
                Deed::TakeUp(_) => store.take_up_sitting(id, at),
                _ => store.end_sitting(id, at),
            };
            kept.wait().unwrap();
        }
        Deed::Bring(_) => {}
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(24) })]

    #[test]
    fn all_come_to_the_same(
        wrong in prop::array::uniform3(-6i64..7),
        ships in prop::array::uniform3(-24i32..=28),
        deeds in prop::collection::vec((0usize..3, deed()), 1..40),
        orders in prop::array::uniform3(prop::collection::vec(0usize..3, 0..4)),
        last in prop::array::uniform3(any::<bool>()),
    ) {
        let mut all: Vec<Computer> = wrong.iter().zip(ships).map(|(days, ship)| Computer::new(*days, ship * 30)).collect();
        // One learner: the first computer's profile is taken by the others before anything is answered there.
        all[0].change(|s| (s.learner, s.first_run_done) = ("R. Halloran".to_owned(), true));
        let first = all[0].write();
        for other in &all[1..] {
            other.bring(&first);
        }
        for (on, deed) in &deeds {
            if let Deed::Bring(further) = deed {
                let file = all[(on + further) % 3].write();
                all[*on].bring(&file);
            }
            done(&mut all[*on], deed);
        }
        let files: Vec<_> = all.iter().map(Computer::write).collect();
        for (computer, (order, last)) in all.iter().zip(orders.iter().zip(last)) {
            // Any order, any number of times, and at last each at least once.
            let rest = if last { [0, 1, 2] } else { [2, 1, 0] };
            for at in order.iter().copied().chain(rest) {
                computer.bring(&files[at]);
            }
        }
        let states: Vec<_> = all.iter().map(Computer::state).collect();
        prop_assert_eq!(&states[0], &states[1]);
        prop_assert_eq!(&states[0], &states[2]);
        // Nothing that anybody answered is missing, and nothing is there twice.
        let answered = deeds.iter().filter(|(_, deed)| matches!(deed, Deed::Answer(..))).count();
        prop_assert_eq!(states[0].attempts.len(), answered);
        let begun = deeds.iter().filter(|(_, deed)| matches!(deed, Deed::Begin)).count();
        prop_assert_eq!(states[0].sittings.len(), begun);
        // And once more: nothing is new, on a computer that was not there either.
        let third = Computer::new(0, 0);
        third.bring(&all[2].write());
        prop_assert_eq!(&third.state(), &states[2]);
        for file in &files {
            prop_assert!(third.bring(file).taken_in.answers == 0);
            prop_assert_eq!(&third.state(), &states[2]);
        }
    }
}
