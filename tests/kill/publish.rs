//! A program killed at any moment of taking a deck in: the edition before is in use, or the new one, and either is whole.
//!
//! At every step the program is this test binary itself, started again with an environment variable that says at which
//! step it dies. At random moments it is the real program, killed by `kill -9`.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use bedplate::app::publish::news::{Done, News};
use bedplate::app::publish::taking_in::take_in;
use bedplate::deck::sealed::{Entry, SealHead, SecretKey, new_pair, seal};
use bedplate::domain::taking_in::Wishes;
use bedplate::store::taken_in::{self, Before, Edition};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::kills;

const HOME: &str = "BEDPLATE_TEST_KILLED_HOME";
const FILE: &str = "BEDPLATE_TEST_KILLED_FILE";
const STEP: &str = "BEDPLATE_TEST_KILLED_STEP";
const DECK: &str = "marram-air";
/// As many as the full job makes.
const KILLS: usize = 200;
/// Yes to all, so that editions can go up and down.
const ALL: Wishes = Wishes { trust: true, older: true, replace_bundled: true };

fn cards(edition: u32) -> String {
    let card = |n: u32| {
        format!(
            "[[recall]]\nid = \"card-{n}\"\ntopic = \"A-III/1.1.4\"\nask = \"What is said as number {n} of edition {edition}?\"\n\
             points = [{{ say = \"number {n} stands here\" }}]\nbecause = \"It is counted.\"\nsources = [\"practice\"]\nseconds = 9\n"
        )
    };
    (0..20).map(card).collect()
}

fn files(edition: u32) -> Vec<Entry> {
    let head = format!(
        "id = \"{DECK}\"\ntitle = \"Marram Light, air\"\nedition = {edition}\nlanguage = \"en\"\npublisher = \"E. Dunmore\"\n\
         licence = \"CC-BY-4.0\"\n\n[source.practice]\ntitle = \"Common practice, no published source\"\nkind = \"practice\"\n"
    );
    let mut files = vec![("deck.toml".to_owned(), head), ("cards/all.toml".to_owned(), cards(edition))];
    files.extend((0..12).map(|n| (format!("notes/{n}/note.txt"), "a note\n".repeat(2_000 * (n + edition as usize)))));
    files.into_iter().map(|(name, text)| Entry { name, bytes: text.into_bytes() }).collect()
}

fn sealed(edition: u32, key: &SecretKey) -> Vec<u8> {
    let head = SealHead {
        deck: DECK.to_owned(),
        title: "Marram Light, air".to_owned(),
        edition,
        publisher: "E. Dunmore".to_owned(),
        made: "2026-11-25T08:00:00Z".to_owned(),
        key: None,
    };
    seal(&head, &files(edition), Some(key)).expect("sealed")
}

fn key() -> SecretKey {
    SecretKey::open(&new_pair(None).expect("a pair").secret_file, None).expect("a key")
}

/// Every file of an edition as it lies in the home.
fn kept(home: &Path, edition: &Edition) -> BTreeMap<String, Vec<u8>> {
    fn add(at: &Path, base: &Path, out: &mut BTreeMap<String, Vec<u8>>) {
        for entry in fs::read_dir(at).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                add(&path, base, out);
            } else {
                let name = path.strip_prefix(base).expect("below").to_string_lossy().replace('\\', "/");
                out.insert(name, fs::read(&path).expect("readable"));
            }
        }
    }
    let base = taken_in::folder(home, DECK, edition).join("deck");
    let mut out = BTreeMap::new();
    add(&base, &base, &mut out);
    out
}

/// Looks that what the state speaks of is whole; the edition in use.
fn check(home: &Path, key: &SecretKey) -> Option<u32> {
    let state = taken_in::state(home, DECK).expect("the state can be read");
    let before = match &state.before {
        Some(Before::TakenIn(before)) => Some(before),
        _ => None,
    };
    for edition in state.in_use.iter().chain(before) {
        let wanted: BTreeMap<String, Vec<u8>> = files(edition.edition).into_iter().map(|f| (f.name, f.bytes)).collect();
        assert_eq!(kept(home, edition).keys().collect::<Vec<_>>(), wanted.keys().collect::<Vec<_>>());
        assert!(kept(home, edition) == wanted, "edition {} is not whole", edition.edition);
    }
    if state.in_use.is_some() {
        assert_eq!(state.key.as_deref(), Some(key.public().line()));
    }
    state.in_use.map(|edition| edition.edition)
}

/// Does nothing unless the tests below start it.
#[test]
#[ignore = "the program that the kill test starts"]
fn the_program() {
    let (Some(home), Some(file), Some(step)) =
        (std::env::var_os(HOME), std::env::var_os(FILE), std::env::var(STEP).ok())
    else {
        return;
    };
    let mut left: usize = step.parse().expect("a number");
    let news = take_in(Path::new(&home), &fs::read(file).expect("there"), ALL, &mut |_| {
        left = left.checked_sub(1).unwrap_or_else(|| std::process::abort());
    });
    assert_eq!((news.refused, news.done), (None, Done::TakenIn));
}

/// Takes a file in, dying at a step; whether there was such a step.
fn dies_at(home: &Path, file: &Path, step: usize) -> bool {
    let status = Command::new(std::env::current_exe().expect("this program"))
        .args(["--exact", "publish::the_program", "--ignored", "--test-threads=1"])
        .env(HOME, home)
        .env(FILE, file)
        .env(STEP, step.to_string())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .expect("it starts");
    !status.success()
}

fn taken(home: &Path, file: &Path) -> News {
    take_in(home, &fs::read(file).expect("there"), ALL, &mut |_| {})
}

#[test]
fn a_death_at_any_step_leaves_one_whole_edition() {
    let folder = tempfile::tempdir().expect("a folder");
    let key = key();
    let paths: Vec<PathBuf> = (1..=2).map(|edition| folder.path().join(format!("{edition}.bedplate"))).collect();
    for (path, edition) in paths.iter().zip(1..) {
        fs::write(path, sealed(edition, &key)).expect("written");
    }
    for first in [None, Some(1)] {
        let mut seen = Vec::new();
        for step in 0.. {
            let home = folder.path().join(format!("home-{}-{step}", first.is_some()));
            if first.is_some() {
                assert_eq!(taken(&home, &paths[0]).done, Done::TakenIn);
            }
            let died = dies_at(&home, &paths[1], step);
            seen.push(check(&home, &key));
            if !died {
                break;
            }
            // And the next time it goes through, whatever the death left lying about.
            let again = taken(&home, &paths[1]);
            assert_eq!(again.refused, None, "after step {step}");
            assert_eq!(check(&home, &key), Some(2), "after step {step}");
            let left = fs::read_dir(home.join("taken-in").join(DECK)).expect("a folder").count();
            assert!(left <= 3, "{left} things lie in the folder of the deck after step {step}");
        }
        // A folder, fourteen files, the list and its signature, all on the disk, named; in use; swept; and the end.
        assert_eq!(seen.len(), 1 + 16 + 2 + 2 + 1, "{seen:?}");
        let (before, after) = seen.split_at(19);
        assert!(before.iter().all(|edition| *edition == first), "{seen:?}");
        assert!(after.iter().all(|edition| *edition == Some(2)), "{seen:?}");
    }
}

#[test]
fn kills_at_random_moments_leave_one_whole_edition() {
    let folder = tempfile::tempdir().expect("a folder");
    let (home, key) = (folder.path().join("home"), key());
    let paths: Vec<PathBuf> = (1..=2).map(|edition| folder.path().join(format!("{edition}.bedplate"))).collect();
    for (path, edition) in paths.iter().zip(1..) {
        fs::write(path, sealed(edition, &key)).expect("written");
    }
    assert_eq!(taken(&home, &paths[0]).done, Done::TakenIn);
    let mut random = StdRng::seed_from_u64(20_261_201);
    let (mut held, mut moved) = (0, 0);
    let rounds = kills(KILLS);
    // How long one takes here, so that the kills fall into all of it.
    let whole = std::time::Instant::now();
    assert!(install(&home, &paths[1]).wait().expect("it ends").success());
    let whole = u64::try_from(whole.elapsed().as_micros()).expect("less than ages") * 11 / 10;
    for round in 0..rounds {
        let now = check(&home, &key).expect("an edition");
        let mut child = install(&home, &paths[usize::from(now == 1)]);
        std::thread::sleep(Duration::from_micros(random.random_range(0..whole)));
        child.kill().expect("killed");
        child.wait().expect("it ends");
        match check(&home, &key) {
            Some(edition) if edition == now => held += 1,
            Some(_) => moved += 1,
            None => panic!("round {round}: no edition is in use"),
        }
    }
    println!("{held} kills left the edition before, {moved} came when the new one was in use");
    assert!(held > rounds / 10, "the kills must fall into the work: {held} of {rounds}");
    let now = check(&home, &key).expect("an edition");
    assert_eq!(taken(&home, &paths[usize::from(now == 1)]).refused, None);
    assert_ne!(check(&home, &key), Some(now));
}

fn install(home: &Path, file: &Path) -> std::process::Child {
    Command::new(env!("CARGO_BIN_EXE_bedplate"))
        .arg("install")
        .arg(file)
        .arg("--older")
        .env("BEDPLATE_HOME", home)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts")
}
