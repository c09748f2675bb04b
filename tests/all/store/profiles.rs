//! Learners of one computer: their folders, their list, the one used last, and where all of it lives.

use std::path::Path;

use bedplate::domain::day::Instant;
use bedplate::domain::settings::Settings;
use bedplate::store::{OpenOptions, Store, home, profiles};
use proptest::prelude::*;

use super::basics::{NOW, options};

#[test]
fn folder_names_come_from_learners_names() {
    let cases = [
        ("R. Halloran", "r-halloran"),
        ("  Róisín  O'Dwyer ", "róisín-o-dwyer"),
        ("../../etc/passwd", "etc-passwd"),
        ("..", "learner"),
        ("C:\\windows", "c-windows"),
        ("Николай Ветров", "николай-ветров"),
        ("山田 太郎", "山田-太郎"),
        ("***", "learner"),
        ("CON", "learner-con"),
        ("com1", "learner-com1"),
        ("Con Rad", "con-rad"),
        ("-x-", "x"),
    ];
    for (learner, folder) in cases {
        assert_eq!(profiles::folder_name(learner), folder, "for `{learner}`");
    }
}

proptest! {
    #[test]
    fn a_folder_name_never_leaves_its_place(learner in any::<String>()) {
        let name = profiles::folder_name(&learner);
        let home = Path::new("/home-of-test");
        prop_assert!(!name.is_empty() && name.len() < 120, "{name}");
        prop_assert!(name.chars().all(|c| c.is_alphanumeric() || c == '-'), "{name}");
        let dir = home::profile_dir(home, &name);
        prop_assert_eq!(dir, Some(home::profiles_dir(home).join(&name)));
    }
}

#[test]
fn only_plain_names_are_folders() {
    let home = Path::new("/home-of-test");
    for wrong in ["", ".", "..", "a/b", "/etc", "../x", "a/", "a/.."] {
        assert_eq!(home::profile_dir(home, wrong), None, "`{wrong}`");
    }
}

#[test]
fn learners_are_made_listed_and_remembered() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    assert_eq!(profiles::list(home).unwrap(), []);
    assert_eq!(profiles::last(home), None);
    let first = profiles::create(home, "K. Vane").unwrap();
    let second = profiles::create(home, " k vane ").unwrap();
    let third = profiles::create(home, "Róisín Halloran").unwrap();
    assert_eq!([&first.folder, &second.folder, &third.folder], ["k-vane", "k-vane-2", "róisín-halloran"]);
    assert_eq!((second.learner.as_str(), second.last_used), ("k vane", None));
    assert!(profiles::create(home, "  ").unwrap_err().to_string().contains("needs a name"));

    let dir = |folder: &str| home::profile_dir(home, folder).unwrap();
    let opened = Store::open(options(&dir("k-vane"), NOW)).unwrap();
    assert_eq!(opened.settings, Settings { learner: "K. Vane".to_owned(), ..Settings::default() });
    drop(opened);
    let later = Instant(NOW.0 + 60_000);
    drop(Store::open(options(&dir("róisín-halloran"), later)).unwrap());
    let listed: Vec<_> =
        profiles::list(home).unwrap().into_iter().map(|p| (p.folder, p.learner, p.last_used)).collect();
    let expected = [
        ("róisín-halloran".to_owned(), "Róisín Halloran".to_owned(), Some(later)),
        ("k-vane".to_owned(), "K. Vane".to_owned(), Some(NOW)),
        ("k-vane-2".to_owned(), "k vane".to_owned(), None),
    ];
    assert_eq!(listed, expected, "the one used last comes first");

    profiles::remember_last(home, "k-vane-2").unwrap();
    assert_eq!(profiles::last(home).as_deref(), Some("k-vane-2"));
    std::fs::remove_dir_all(dir("k-vane-2")).unwrap();
    assert_eq!(profiles::last(home), None, "a profile that is gone is not the last");
    std::fs::write(home.join("last-profile"), "../..").unwrap();
    assert_eq!(profiles::last(home), None);
}

#[test]
fn a_new_name_in_the_settings_shows_in_the_list() {
    let home = tempfile::tempdir().unwrap();
    let made = profiles::create(home.path(), "K. Vane").unwrap();
    let dir = home::profile_dir(home.path(), &made.folder).unwrap();
    let opened = Store::open(options(&dir, NOW)).unwrap();
    opened.store.save_settings(&Settings { learner: "Kit Vane".to_owned(), ..opened.settings }, NOW).wait().unwrap();
    let listed = profiles::list(home.path()).unwrap();
    assert_eq!((listed[0].folder.as_str(), listed[0].learner.as_str()), ("k-vane", "Kit Vane"));
}

#[test]
fn a_profile_whose_card_is_lost_is_still_listed() {
    let home = tempfile::tempdir().unwrap();
    let dir = home::profiles_dir(home.path()).join("by-hand");
    drop(Store::open(options(&dir, NOW)).unwrap());
    std::fs::write(dir.join("profile.json"), "{ not json").unwrap();
    std::fs::create_dir(home::profiles_dir(home.path()).join("empty")).unwrap();
    let listed = profiles::list(home.path()).unwrap();
    assert_eq!(listed.len(), 1);
    assert_eq!((listed[0].learner.as_str(), listed[0].last_used), ("by-hand", None));
}

#[test]
fn two_learners_are_open_at_once_and_apart() {
    let home = tempfile::tempdir().unwrap();
    let dirs = ["K. Vane", "R. Halloran"]
        .map(|name| home::profile_dir(home.path(), &profiles::create(home.path(), name).unwrap().folder).unwrap());
    let [a, b] = dirs.map(|dir| Store::open(OpenOptions { ..options(&dir, NOW) }).unwrap());
    let attempt = super::basics::attempt("drain", 0);
    a.store.record(attempt.clone(), super::basics::known(&attempt, 1)).wait().unwrap();
    assert_eq!(b.store.attempts(None, 9).wait().unwrap(), []);
    assert_ne!(a.device, b.device);
}

/// In this order: named on the command line, by the variable, beside the program, the system's own.
#[test]
fn home_is_found_in_one_order() {
    let stick = tempfile::tempdir().unwrap();
    let program = stick.path().join("bedplate");
    let beside = stick.path().join("bedplate-home");
    let found = |named: Option<&str>, variable: Option<&str>| {
        home::resolve_from(named.map(Path::new), variable.map(Into::into), Some(&program)).unwrap()
    };
    let own = found(None, None);
    assert!(own.to_string_lossy().to_lowercase().contains("bedplate") && !own.starts_with(stick.path()), "{own:?}");
    std::fs::write(&beside, "a file is no folder").unwrap();
    assert_eq!(found(None, None), own);
    std::fs::remove_file(&beside).unwrap();
    std::fs::create_dir(&beside).unwrap();
    assert_eq!(found(None, None), beside);
    assert_eq!(found(None, Some("")), beside, "an empty value counts as none");
    assert_eq!(found(None, Some("/data/bedplate")), Path::new("/data/bedplate"));
    assert_eq!(found(Some("/mnt/home"), Some("/data/bedplate")), Path::new("/mnt/home"));
    for relative in [found(Some("on-a-stick"), None), found(None, Some("on-a-stick"))] {
        assert!(relative.is_absolute() && relative.ends_with("on-a-stick"));
    }
    assert_eq!(home::resolve_from(None, None, None).unwrap(), own, "a program that does not know its place");
}
