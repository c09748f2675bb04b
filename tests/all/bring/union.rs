//! Bringing in is a union, and of the settings the later ones hold.

use bedplate::domain::attempt::Until;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::{Instant, StudyDay};
use bedplate::domain::outcome::Outcome;
use bedplate::domain::settings::OralResult;
use bedplate::store::StoreError;
use bedplate::store::bring::{Counts, Whose, is_profile_file, look};

use super::computer::Computer;

/// A computer of a learner who has done everything once.
fn with_all() -> (Computer, String) {
    let mut a = Computer::new(0, 180);
    a.change(|s| (s.learner, s.minutes, s.first_run_done) = ("R. Halloran".to_owned(), 40, true));
    a.answer("drain", Outcome::Missed);
    a.answer("drain", Outcome::Answered);
    a.answer("purifier", Outcome::Fluent);
    a.take_back(0);
    a.set_aside("purifier", Until::Day(StudyDay(20_801)));
    a.report("the valve’s name is wrong");
    let sitting = a.begin_sitting();
    a.answer_turn(&sitting);
    a.answer_turn(&sitting);
    let at = a.tick();
    a.store().end_sitting_early(sitting.clone(), at).wait().unwrap();
    (a, sitting)
}

#[test]
fn a_home_without_answers_becomes_the_learners() {
    let (a, _) = with_all();
    let file = a.write();
    let holds =
        Counts { answers: 3, taken_back: 1, sittings: 1, turns: 2, set_aside: 1, faults: 1, editions: 0, events: 1 };
    assert_eq!((file.learner.as_str(), file.counts), ("R. Halloran", holds));
    assert_eq!(look(&file.file).unwrap(), file);
    assert!(is_profile_file(&file.file));
    let mut b = Computer::new(-3, -300);
    b.change(|s| s.minutes = 15);
    let first = b.bring(&file);
    assert_eq!(
        (first.whose, first.taken_in, first.there, first.settings),
        (Whose::Fresh, holds, Counts::default(), true)
    );
    assert_eq!(b.state(), a.state());
    let again = b.bring(&file);
    assert_eq!(
        (again.whose, again.taken_in, again.there, again.settings),
        (Whose::Same, Counts::default(), holds, false)
    );
    assert_eq!(b.state(), a.state());
    // And back: nothing is new there.
    let back = a.bring(&b.write());
    assert_eq!((back.whose, back.taken_in), (Whose::Same, Counts::default()));
}

#[test]
fn what_was_worked_out_is_worked_out_again() {
    let (a, _) = with_all();
    let b = Computer::new(0, 0);
    b.store().replace_memory("some stamp".to_owned(), Vec::new()).wait().unwrap();
    b.bring(&a.write());
    let Computer { folder, opened, .. } = b;
    drop(opened);
    let again = crate::store::basics::open(&folder.path().join("profile"));
    assert_eq!(again.stamp, None);
}

#[test]
fn two_learners_are_mixed_only_where_that_is_wished() {
    let (a, _) = with_all();
    let mut b = Computer::new(0, 0);
    b.change(|s| s.learner = "Kit Vane".to_owned());
    b.answer("drain", Outcome::Fluent);
    let file = a.write();
    let before = b.state();
    let would = b.store().would_bring(file.clone(), Instant(b.clock)).wait().unwrap();
    assert_eq!((would.whose, would.here.as_str()), (Whose::Other, "Kit Vane"));
    let refused = b.store().bring(file.clone(), false, Instant(b.clock)).wait();
    assert!(
        matches!(&refused, Err(StoreError::FileRefused { why, .. }) if why.contains("another learner’s")),
        "{refused:?}"
    );
    assert_eq!(b.state(), before);
    assert_eq!(b.bring(&file).whose, Whose::Other);
    assert_eq!(b.state().attempts.len(), 4);
    // From now on they are one, on either side and on a third.
    assert_eq!(b.bring(&file).whose, Whose::Same);
    assert_eq!(a.bring(&b.write()).whose, Whose::Same);
    assert_eq!(a.state(), b.state());
    let c = Computer::new(0, 0);
    assert_eq!(c.bring(&a.write()).whose, Whose::Fresh);
    assert_eq!(c.bring(&file).whose, Whose::Same);
}

/// One home takes a profile without a question, and only one.
#[test]
fn a_home_is_without_a_learner_only_once() {
    let (a, b, c) = (Computer::new(0, 0), Computer::new(1, 0), Computer::new(2, 0));
    assert_eq!(c.bring(&a.write()).whose, Whose::Fresh);
    assert_eq!(c.store().would_bring(b.write(), Instant(c.clock)).wait().unwrap().whose, Whose::Other);
}

#[test]
fn the_settings_that_were_changed_later_hold() {
    let (mut a, _) = with_all();
    let mut b = Computer::new(-9, 0);
    b.bring(&a.write());
    // This computer's clock is nine days behind: what the learner changes here after that counts as later all the same.
    b.change(|s| s.minutes = 55);
    assert!(a.bring(&b.write()).settings);
    assert_eq!(a.settings().minutes, 55);
    a.change(|s| s.minutes = 20);
    assert!(!a.bring(&b.write()).settings);
    b.bring(&a.write());
    assert_eq!((a.settings().minutes, b.settings().minutes), (20, 20));
}

#[test]
fn results_of_orals_are_kept_from_both() {
    let (mut a, _) = with_all();
    let mut b = Computer::new(2, 0);
    b.bring(&a.write());
    let [first, second] =
        [(20_100, false), (20_400, true)].map(|(day, passed)| OralResult { day: StudyDay(day), passed });
    a.change(|s| s.results.push(second));
    b.change(|s| (s.results, s.certificate) = (vec![first], Certificate::Second));
    let (of_a, of_b) = (a.write(), b.write());
    a.bring(&of_b);
    b.bring(&of_a);
    for computer in [&a, &b] {
        assert_eq!(computer.settings().results, [first, second]);
        assert_eq!(computer.settings().certificate, Certificate::Second);
    }
}

/// One sitting that went on in two ways: the same one stands on both computers, and goes on from there.
#[test]
fn a_sitting_that_went_on_in_two_ways_is_one() {
    let (mut a, sitting) = with_all();
    let mut b = Computer::new(-1, 60);
    b.bring(&a.write());
    a.answer_turn(&sitting);
    b.answer_turn(&sitting);
    b.answer_turn(&sitting);
    let (of_a, of_b) = (a.write(), b.write());
    assert_eq!(b.bring(&of_a).taken_in.turns, 1);
    assert_eq!(a.bring(&of_b).taken_in.turns, 2);
    assert_eq!(a.state(), b.state());
    assert_eq!(a.sitting(&sitting).sitting.turns.len(), 4, "the longer one");
    let answer = b.sitting(&sitting).sitting.turns[2].clone();
    assert_eq!(a.sitting(&sitting).sitting.turns[2], answer);
    // On the computer whose own turns gave way, it goes on behind the others.
    a.answer_turn(&sitting);
    assert_eq!(a.sitting(&sitting).sitting.turns.len(), 5);
    let other = a.sitting(&sitting).sitting.turns[0].clone();
    let refused = a.store().keep_turn(sitting.clone(), 3, other, None).wait();
    assert!(matches!(refused, Err(StoreError::Refused { .. })), "{refused:?}");
    let last = a.sitting(&sitting).sitting.turns[4].clone();
    assert_eq!(a.store().keep_turn(sitting.clone(), 4, last, None).wait(), Ok(()), "asked twice");
    b.bring(&a.write());
    assert_eq!(a.state(), b.state());
    assert_eq!(b.sitting(&sitting).sitting.turns.len(), 5);
    b.answer_turn(&sitting);
    a.bring(&b.write());
    assert_eq!((a.sitting(&sitting).sitting.turns.len(), a.state()), (6, b.state()));
}

#[test]
fn a_sitting_is_over_and_taken_up_in_order_of_time() {
    let (mut a, sitting) = with_all();
    let mut b = Computer::new(4, 0);
    b.bring(&a.write());
    assert!(b.sitting(&sitting).early);
    // Taken up where the clock is behind, after it was ended where it was ahead.
    let ended = b.tick();
    b.store().end_sitting_early(sitting.clone(), ended).wait().unwrap();
    a.bring(&b.write());
    let at = a.tick();
    a.store().take_up_sitting(sitting.clone(), at).wait().unwrap();
    assert_eq!(a.sitting(&sitting).ended, None);
    b.bring(&a.write());
    assert_eq!(b.sitting(&sitting), a.sitting(&sitting));
    // Over on both, at two times: the later one.
    let (first, second) = (a.tick(), b.tick());
    a.store().end_sitting(sitting.clone(), first).wait().unwrap();
    b.store().end_sitting(sitting.clone(), second).wait().unwrap();
    let (of_a, of_b) = (a.write(), b.write());
    a.bring(&of_b);
    b.bring(&of_a);
    assert_eq!((a.sitting(&sitting).ended, b.sitting(&sitting).ended), (Some(second), Some(second)));
}

#[test]
fn a_backup_of_the_profile_as_it_was_is_kept() {
    let (a, _) = with_all();
    let mut b = Computer::new(0, 0);
    b.answer("drain", Outcome::Fluent);
    let made = |b: &Computer| b.store().backups().wait().unwrap();
    while made(&b).is_empty() {
        std::thread::yield_now();
    }
    let before = made(&b).len();
    b.bring(&a.write());
    let after = made(&b);
    assert_eq!(after.len(), before + 1);
    let backup = rusqlite::Connection::open(&after[0].path).unwrap();
    let count: i64 = backup.query_row("SELECT count(*) FROM attempt", [], |row| row.get(0)).unwrap();
    assert_eq!(count, 1);
}

/// A file is written whole or not at all, and only over one of its kind.
#[test]
fn no_other_file_is_written_over() {
    let (mut a, _) = with_all();
    let to = a.file("notes.txt");
    std::fs::write(&to, "what I must not forget").unwrap();
    let refused = a.store().write_profile(to.clone(), Instant(a.clock)).wait();
    assert!(matches!(&refused, Err(StoreError::Refused { what, .. }) if what.contains("notes.txt")), "{refused:?}");
    assert_eq!(std::fs::read_to_string(&to).unwrap(), "what I must not forget");
    let to = a.file("mine.profile");
    let first = a.store().write_profile(to.clone(), Instant(a.clock)).wait().unwrap();
    a.answer("drain", Outcome::Fluent);
    let second = a.store().write_profile(to.clone(), Instant(a.clock)).wait().unwrap();
    assert_eq!(second.counts.answers, first.counts.answers + 1);
    assert_eq!(look(&to).unwrap(), second);
    let nowhere = a.store().write_profile(a.file("no-folder/mine.profile"), Instant(a.clock)).wait();
    assert!(matches!(nowhere, Err(StoreError::Io { .. })), "{nowhere:?}");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(std::fs::metadata(&to).unwrap().permissions().mode() & 0o777, 0o600, "its owner's alone");
    }
}
