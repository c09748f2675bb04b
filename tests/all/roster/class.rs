//! A class's file: what is taken in, in whatever order; who is refused; who is forgotten for good.

use std::fs;
use std::path::{Path, PathBuf};

use bedplate::app::class::adding::{Added, add, find_learner, forget};
use bedplate::domain::day::Instant;
use bedplate::domain::outcome::Outcome;
use bedplate::domain::roster::{Choice, ClassRecord, HandIn, figures};
use bedplate::store::{ClassError, ClassFile, list_classes};
use tempfile::TempDir;

use super::school::{NOW, assignment, hand_in, handed, write};

struct Desk {
    home: TempDir,
    files: TempDir,
}

impl Desk {
    fn new() -> Self {
        Self { home: tempfile::tempdir().expect("a folder"), files: tempfile::tempdir().expect("a folder") }
    }

    fn home(&self) -> &Path {
        self.home.path()
    }

    fn write(&self, file: &str, hand_in: &HandIn) -> PathBuf {
        write(self.files.path(), file, hand_in)
    }

    fn add(&self, files: &[PathBuf]) -> Vec<Result<(usize, usize), String>> {
        self.add_saying(files, false)
    }

    fn add_saying(&self, files: &[PathBuf], yes: bool) -> Vec<Result<(usize, usize), String>> {
        let added = add(self.home(), "3A", files, Instant(NOW), &mut |_| yes).expect("the class is there");
        let told = |one: Added| match one.came_to {
            Ok(joined) => Ok((joined.taken.new, joined.taken.known)),
            Err(why) => Err(why.code().to_owned()),
        };
        added.into_iter().map(told).collect()
    }

    fn record(&self) -> ClassRecord {
        ClassFile::open(self.home(), "3A").expect("the class").record().expect("read")
    }
}

/// Three hand-ins of one learner: an early one with what was typed; a later one, without, in which an answer was taken
/// back; one from another computer, with an attempt of its own and another name.
fn of_one() -> [HandIn; 3] {
    let first = handed("1", "a", NOW - 9_000, Outcome::Missed, "the lamp burns brightest");
    let second = handed("2", "b", NOW - 8_000, Outcome::Fluent, "");
    let mut taken_back = second.clone();
    taken_back.voided = true;
    let mut without = first.clone();
    without.answer = None;
    let third = handed("3", "a", NOW - 7_000, Outcome::Answered, "");
    let elsewhere = handed("4", "c", NOW - 9_500, Outcome::Prompted, "");
    [
        hand_in("one", "R. Halloran", 10, vec![first, second]),
        hand_in("one", "R. Halloran", 30, vec![without, taken_back, third]),
        hand_in("one", "Rory H.", 20, vec![elsewhere]),
    ]
}

#[test]
fn any_order_and_any_number_of_times_gives_the_same() {
    let orders: [&[usize]; 7] =
        [&[0, 1, 2], &[2, 1, 0], &[1, 0, 2], &[0, 2, 1], &[1, 2, 0], &[2, 0, 1], &[0, 0, 1, 2, 1, 0]];
    let mut records = Vec::new();
    for order in orders {
        let desk = Desk::new();
        let hand_ins = of_one();
        for at in order {
            let file = desk.write(&format!("{at}.handin"), &hand_ins[*at]);
            assert!(desk.add(&[file])[0].is_ok());
        }
        records.push(desk.record());
    }
    let first = &records[0];
    assert!(records.iter().all(|record| record == first));
    let learner = &first.learners[0];
    assert_eq!((learner.name.as_str(), learner.last), ("R. Halloran", Instant(NOW + 30)), "the later name");
    let ids: Vec<&str> = learner.attempts.iter().map(|attempt| attempt.id.0.as_str()).collect();
    assert_eq!(ids, ["4", "1", "2", "3"], "in order of time");
    assert!(learner.attempts[1].answer.is_some(), "what was handed in once stays");
    assert!(learner.attempts[2].voided, "what was taken back stays so");
    let found = figures(first, &Choice { minutes: 45, ..Choice::default() }, Instant(NOW));
    assert_eq!(found.learners[0].met, 2, "the one taken back does not count");
    assert_eq!(found.learners[0].first_right, Some(0.0), "missed and prompted came first");
}

#[test]
fn bad_files_are_refused_by_name_and_good_ones_are_taken_in() {
    let desk = Desk::new();
    let good = desk.write("good", &hand_in("one", "R. Halloran", 0, vec![handed("1", "a", NOW, Outcome::Fluent, "")]));
    let mut other = hand_in("two", "E. Dunmore", 0, Vec::new());
    other.assignment = assignment("4B", &["a"]);
    let other = desk.write("other", &other);
    let mut same_name = hand_in("two", "E. Dunmore", 0, Vec::new());
    same_name.assignment.class.id = "made-elsewhere".to_owned();
    let same_name = desk.write("same-name", &same_name);
    let (text, damaged) = (desk.files.path().join("text"), desk.files.path().join("damaged"));
    fs::write(&text, "no hand-in at all").expect("written");
    let mut bytes = fs::read(&good).expect("there");
    let last = bytes.len() - 3;
    bytes[last] ^= 1;
    fs::write(&damaged, bytes).expect("written");
    let files = [good.clone(), other.clone(), text, damaged, same_name, desk.files.path().join("missing")];
    let told = desk.add(&files);
    let refused = |code: &str| Err(code.to_owned());
    assert_eq!(
        told,
        [
            Ok((1, 0)),
            refused("other-class"),
            refused("not-a-hand-in"),
            refused("damaged"),
            refused("other-class"),
            refused("unreadable")
        ]
    );
    assert_eq!(desk.record().learners.len(), 1);
    assert_eq!(desk.add(&[good]), [Ok((0, 1))], "again is all the same");
    // A home without the class, and no file that would make it.
    let bare = Desk::new();
    assert_eq!(bare.add(&[other]), [refused("other-class")]);
    assert_eq!(list_classes(bare.home()), Ok(Vec::new()), "nothing was made");
}

#[test]
fn equal_names_with_different_ids_stay_two() {
    let desk = Desk::new();
    let one = desk.write("1", &hand_in("one", "R. Halloran", 0, vec![handed("1", "a", NOW, Outcome::Fluent, "")]));
    let two = desk.write("2", &hand_in("two", "R. Halloran", 0, vec![handed("1", "a", NOW, Outcome::Missed, "")]));
    assert!(desk.add(&[one, two]).iter().all(Result::is_ok));
    let record = desk.record();
    assert_eq!(record.learners.len(), 2);
    let told = find_learner(&record, "R. Halloran").expect_err("there are two");
    assert!(told.contains("one") && told.contains("two"), "{told}");
    assert_eq!(find_learner(&record, "two"), Ok(1));
    assert!(find_learner(&record, "nobody").is_err());
}

/// All bytes that lie below a folder.
fn all_bytes(folder: &Path) -> Vec<u8> {
    let mut bytes = Vec::new();
    for entry in fs::read_dir(folder).expect("readable").flatten() {
        let path = entry.path();
        if path.is_dir() { bytes.extend(all_bytes(&path)) } else { bytes.extend(fs::read(path).expect("readable")) }
    }
    bytes
}

fn holds(bytes: &[u8], words: &str) -> bool {
    bytes.windows(words.len()).any(|window| window == words.as_bytes())
}

#[test]
fn a_forgotten_learner_leaves_no_trace_and_comes_back_only_on_a_yes() {
    let desk = Desk::new();
    let many: Vec<_> = (0..400)
        .map(|n| handed(&format!("attempt-of-fergus-{n}"), "a", NOW - n, Outcome::Missed, "the quenching phrase"))
        .collect();
    let of_fergus = hand_in("fergus-in-this-class", "Fergus Quill", 0, many);
    let fergus = desk.write("fergus", &of_fergus);
    let stays =
        desk.write("stays", &hand_in("one", "R. Halloran", 0, vec![handed("1", "a", NOW, Outcome::Fluent, "")]));
    desk.add(std::slice::from_ref(&fergus));
    desk.add(std::slice::from_ref(&stays));
    desk.add(&[stays.clone(), fergus.clone()]);
    let folder = desk.home().join("classes");
    let traces = ["Fergus", "fergus-in-this-class", "attempt-of-fergus", "quenching", "oral-fergus"];
    let before = all_bytes(&folder);
    assert!(traces.iter().all(|trace| holds(&before, trace)), "it is looked for where it is");
    let mut class = ClassFile::open(desk.home(), "3A").expect("the class");
    forget(&mut class, "fergus-in-this-class", Instant(NOW)).expect("forgotten");
    drop(class);
    let after = all_bytes(&folder);
    for trace in traces {
        assert!(!holds(&after, trace), "{trace} is still there");
    }
    assert!(holds(&after, "R. Halloran"), "others stay");
    assert_eq!(desk.record().learners.len(), 1);
    assert_eq!(desk.add(std::slice::from_ref(&fergus)), [Err("forgotten".to_owned())]);
    assert_eq!(desk.record().learners.len(), 1);
    assert_eq!(desk.add_saying(std::slice::from_ref(&fergus), true), [Ok((400, 0))]);
    assert_eq!(desk.add(std::slice::from_ref(&fergus)), [Ok((0, 400))], "once is enough");
}

#[test]
fn a_backup_is_made_before_a_change_and_seven_are_kept() {
    let desk = Desk::new();
    for n in 0..12 {
        let attempts = vec![handed(&n.to_string(), "a", NOW + n, Outcome::Fluent, "")];
        let file = desk.write("a", &hand_in("one", "R. Halloran", n, attempts));
        assert!(desk.add(&[file])[0].is_ok());
    }
    let folder = desk.home().join("classes/3a/backups");
    let mut names: Vec<String> =
        fs::read_dir(folder).expect("there").flatten().map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    assert_eq!(names.len(), 7, "{names:?}");
    assert!(names[6].starts_with("000012-"), "{names:?}");
}

#[test]
fn a_damaged_class_or_one_of_a_later_version_is_left_as_it_is() {
    let desk = Desk::new();
    for n in 0..2 {
        let attempts = (0..300).map(|a| handed(&format!("{n}-{a}"), "a", NOW + a, Outcome::Fluent, "")).collect();
        let file = desk.write("a", &hand_in("one", "R. Halloran", n, attempts));
        assert!(desk.add(&[file])[0].is_ok());
    }
    let path = desk.home().join("classes/3a/class.sqlite");
    let good = fs::read(&path).expect("there");
    let mut bad = good.clone();
    bad[4096..12_288].fill(0x5a);
    fs::write(&path, &bad).expect("written");
    let told = ClassFile::open(desk.home(), "3A").err().expect("damaged");
    assert!(matches!(&told, ClassError::Damaged { backup: Some(_), .. }), "{told:?}");
    assert_eq!(fs::read(&path).expect("there"), bad, "it was left as it is");
    let mut newer = good.clone();
    newer[60..64].copy_from_slice(&9u32.to_be_bytes());
    fs::write(&path, newer).expect("written");
    assert!(matches!(ClassFile::open(desk.home(), "3A"), Err(ClassError::Newer { found: 9, .. })));
    fs::write(&path, &good).expect("written");
    let open = ClassFile::open(desk.home(), "3A").expect("sound again");
    assert!(matches!(ClassFile::open(desk.home(), "3A"), Err(ClassError::InUse { .. })));
    drop(open);
    assert!(matches!(ClassFile::open(desk.home(), "4B"), Err(ClassError::NotThere { .. })));
}

#[test]
fn a_program_killed_while_it_takes_in_leaves_all_of_a_hand_in_or_nothing() {
    let desk = Desk::new();
    let many = |learner: &str| {
        let attempts: Vec<_> =
            (0..300).map(|n| handed(&format!("{learner}-{n}"), "a", NOW + n, Outcome::Fluent, "")).collect();
        desk.write(learner, &hand_in(learner, learner, 0, attempts))
    };
    assert!(desk.add(&[many("first")])[0].is_ok());
    let files: Vec<PathBuf> = (0..6).map(|n| many(&format!("learner-{n}"))).collect();
    for wait in [0, 5, 10, 20, 30, 45, 60, 80, 110, 150] {
        let mut program = std::process::Command::new(env!("CARGO_BIN_EXE_bedplate"))
            .args(["class", "add", "3A"])
            .args(&files)
            .env("BEDPLATE_HOME", desk.home())
            .stdout(std::process::Stdio::null())
            .spawn()
            .expect("it starts");
        std::thread::sleep(std::time::Duration::from_millis(wait));
        // It may have ended by itself.
        let _ = program.kill();
        program.wait().expect("it ends");
        let record = desk.record();
        for learner in &record.learners {
            assert_eq!(learner.attempts.len(), 300, "{} after {wait} ms", learner.name);
        }
    }
    assert!(desk.add(&files).iter().all(Result::is_ok), "what was broken off is taken in again");
    assert_eq!(desk.record().learners.len(), 7);
}
