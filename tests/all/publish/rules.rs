//! What is taken in and what is not, as a program sees it: the command, its JSON, its exit codes.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use bedplate::deck::sealed::{PublicKey, SecretKey, new_pair, sign};
use serde_json::{Value, json};
use tempfile::TempDir;

use super::parcel::{CARDS, Parcel, card, snapshot};

/// A home, a folder for files, and two keys.
struct Desk {
    at: TempDir,
    keys: [SecretKey; 2],
}

fn key() -> SecretKey {
    SecretKey::open(&new_pair(None).expect("a pair").secret_file, None).expect("a key")
}

/// The parcel, signed.
pub fn signed(parcel: Parcel, key: &SecretKey) -> Parcel {
    let mut parcel = parcel.with("key", Some(&format!("\"{}\"", key.public().line())));
    parcel.signature = Some(sign(parcel.list().as_bytes(), key, "a remark").into_bytes());
    parcel
}

impl Desk {
    fn new() -> Self {
        Self { at: tempfile::tempdir().expect("a folder"), keys: [key(), key()] }
    }

    fn home(&self) -> PathBuf {
        self.at.path().join("home")
    }

    fn public(&self, n: usize) -> &PublicKey {
        self.keys[n].public()
    }

    /// Runs the program; its exit code, and its JSON where it is some.
    fn run(&self, arguments: &[&str]) -> (i32, Value) {
        let output = Command::cargo_bin("bedplate")
            .expect("built")
            .args(arguments)
            .env("BEDPLATE_HOME", self.home())
            .current_dir(self.at.path())
            .output()
            .expect("it runs");
        let json = serde_json::from_slice(&output.stdout).unwrap_or(Value::Null);
        (output.status.code().expect("an exit code"), json)
    }

    /// Installs a parcel.
    fn install(&self, parcel: &Parcel, wishes: &[&str]) -> (i32, Value) {
        fs::write(self.at.path().join("a.bedplate"), parcel.bytes()).expect("written");
        self.run(&[&["install", "a.bedplate", "--json"], wishes].concat())
    }

    /// Installs a parcel that is refused without anything being written; gives the rule.
    fn refused(&self, parcel: &Parcel, wishes: &[&str]) -> String {
        let before = snapshot(&self.home());
        let (code, json) = self.install(parcel, wishes);
        assert_eq!(code, 1, "{json}");
        assert_eq!(snapshot(&self.home()), before);
        json["refused"]["code"].as_str().expect("a rule").to_owned()
    }
}

fn sound(edition: u32) -> Parcel {
    Parcel::sound(edition)
}

#[test]
fn a_first_taking_in_says_all_of_it() {
    let desk = Desk::new();
    let first = signed(sound(1), &desk.keys[0]);
    assert_eq!(desk.refused(&first, &[]), "untrusted");
    assert!(!desk.home().exists());
    let (code, json) = desk.install(&first, &["--trust"]);
    let wanted = json!({
        "deck": "marram-air", "title": "Marram Light, our own plant", "edition": 1, "was_edition": null,
        "publisher": "E. Dunmore", "signature": "good", "key": desk.public(0).line(),
        "new": ["air-starts", "oil-first", "water-out"], "changed": [], "withdrawn": [], "renamed": [], "same": 0,
        "refused": null,
    });
    assert_eq!((code, json), (0, wanted));
    // The same contents again are no work, though they were sealed at another time.
    let before = snapshot(&desk.home());
    let again = signed(sound(1).with("made", Some("\"2026-11-26T08:00:00Z\"")), &desk.keys[0]);
    let (code, json) = desk.install(&again, &[]);
    assert_eq!((code, &json["was_edition"], &json["same"], &json["new"]), (0, &json!(1), &json!(3), &json!([])));
    assert_eq!(snapshot(&desk.home()), before);
}

#[test]
fn an_update_is_told_card_by_card() {
    let desk = Desk::new();
    let ask = |n: usize| CARDS[n];
    let old: String = (0..3).map(|n| card(ask(n).0, ask(n).1, "starting air")).collect();
    let new = [
        card("air-starts", ask(0).1, "compressed air"),
        card("oil-before", ask(1).1, "starting air").replace("topic", "was = [\"oil-first\"]\ntopic"),
        card("a-fourth", "What is looked at last of all?", "the clock"),
    ];
    assert_eq!(desk.install(&signed(Parcel::of(1, &old), &desk.keys[0]), &["--trust"]).0, 0);
    let (code, json) = desk.install(&signed(Parcel::of(2, &new.concat()), &desk.keys[0]), &[]);
    assert_eq!(code, 0, "{json}");
    assert_eq!(json["was_edition"], json!(1));
    assert_eq!(json["new"], json!(["a-fourth"]));
    assert_eq!(json["changed"], json!(["air-starts"]));
    assert_eq!(json["withdrawn"], json!(["water-out"]));
    assert_eq!(json["renamed"], json!([{ "from": "oil-first", "to": "oil-before" }]));
    assert_eq!(json["same"], json!(0));
}

#[test]
fn a_deck_is_bound_to_the_key_of_its_first_signed_edition() {
    let desk = Desk::new();
    let [ours, other] = &desk.keys;
    // Unsigned: a yes at first, none after that, and not bound.
    assert_eq!(desk.refused(&sound(1), &[]), "untrusted");
    let (_, json) = desk.install(&sound(1), &["--trust"]);
    assert_eq!((&json["signature"], &json["key"], &json["refused"]), (&json!("none"), &Value::Null, &Value::Null));
    assert_eq!(desk.install(&sound(2), &[]).0, 0);
    // Then a signed one binds it.
    assert_eq!(desk.refused(&signed(sound(3), ours), &[]), "untrusted");
    assert_eq!(desk.install(&signed(sound(3), ours), &["--trust"]).0, 0);
    assert_eq!(desk.install(&signed(sound(4), ours), &[]).0, 0);
    let all = ["--trust", "--older", "--replace-bundled"];
    assert_eq!(desk.refused(&sound(5), &all), "unsigned");
    let (code, json) = desk.install(&signed(sound(5), other), &all);
    assert_eq!((code, &json["signature"], &json["refused"]["code"]), (1, &json!("other-key"), &json!("other-key")));
    // The other key is trusted elsewhere, and that changes nothing here.
    assert_eq!(desk.install(&signed(Parcel::named("marram-oil", 1, &cards()), other), &["--trust"]).0, 0);
    assert_eq!(desk.refused(&signed(sound(5), other), &[]), "other-key");
    // A trusted key is trusted for every deck that is not bound.
    assert_eq!(desk.install(&signed(Parcel::named("marram-water", 1, &cards()), other), &[]).0, 0);
    let (_, keys) = desk.run(&["keys", "show", "--json"]);
    let trusted: Vec<&str> =
        keys["trusted"].as_array().expect("keys").iter().filter_map(|k| k["key"].as_str()).collect();
    assert_eq!(trusted, [ours.public().line(), other.public().line()]);
}

fn cards() -> String {
    CARDS.map(|(id, ask)| card(id, ask, "starting air")).concat()
}

#[test]
fn the_same_contents_signed_bind_an_unsigned_deck() {
    let desk = Desk::new();
    assert_eq!(desk.install(&sound(1), &["--trust"]).0, 0);
    let (code, json) = desk.install(&signed(sound(1), &desk.keys[0]), &["--trust"]);
    assert_eq!((code, &json["refused"]), (0, &Value::Null));
    assert_eq!(desk.refused(&sound(2), &["--trust"]), "unsigned");
    assert_eq!(desk.install(&signed(sound(2), &desk.keys[0]), &[]).0, 0);
}

#[test]
fn editions_go_up_and_down_only_by_a_wish() {
    let desk = Desk::new();
    let ours = &desk.keys[0];
    assert_eq!(desk.install(&signed(sound(3), ours), &["--trust"]).0, 0);
    assert_eq!(desk.refused(&signed(sound(2), ours), &["--trust"]), "older-edition");
    let other = signed(Parcel::of(3, &card("air-starts", CARDS[0].1, "steam")), ours);
    assert_eq!(desk.refused(&other, &["--older", "--trust"]), "same-edition");
    let (code, json) = desk.install(&signed(sound(2), ours), &["--older"]);
    assert_eq!((code, &json["was_edition"], &json["edition"]), (0, &json!(3), &json!(2)));
    let (code, json) = desk.install(&signed(sound(3), ours), &[]);
    assert_eq!((code, &json["was_edition"]), (0, &json!(2)));
}

#[test]
fn a_deck_of_the_program_is_replaced_only_by_a_plain_wish() {
    let desk = Desk::new();
    let of = |edition: u32| signed(Parcel::named("main-engines", edition, &cards()), &desk.keys[0]);
    assert_eq!(desk.refused(&of(900), &["--trust"]), "bundled");
    assert_eq!(desk.refused(&Parcel::named("main-engines", 900, &cards()), &["--trust", "--older"]), "bundled");
    assert!(!desk.home().exists());
    let (code, json) = desk.install(&of(900), &["--trust", "--replace-bundled"]);
    assert_eq!((code, &json["same"]), (0, &json!(0)), "{json}");
    assert!(json["was_edition"].as_u64().is_some_and(|edition| edition >= 1), "{json}");
    assert!(json["withdrawn"].as_array().is_some_and(|cards| cards.len() > 20));
    // Back to the program's own, and back once more.
    let back = || desk.run(&["install", "--go-back", "main-engines", "--json"]).1;
    let (to_bundled, to_theirs) = (back(), back());
    assert_eq!((&to_bundled["edition"], &to_bundled["was_edition"]), (&json["was_edition"], &json!(900)));
    assert_eq!((&to_theirs["edition"], &to_theirs["was_edition"]), (&json!(900), &json["was_edition"]));
    // Now it is theirs, and goes on by its key alone.
    assert_eq!(desk.install(&of(901), &[]).0, 0);
    let json = back();
    assert_eq!((&json["edition"], &json["was_edition"]), (&json!(900), &json!(901)));
}

#[test]
fn going_back_brings_the_edition_before_and_undoes_itself() {
    let desk = Desk::new();
    let back = || desk.run(&["install", "--go-back", "marram-air", "--json"]);
    let (code, json) = back();
    assert_eq!((code, &json["refused"]["code"]), (1, &json!("no-edition-before")));
    assert_eq!(desk.install(&signed(sound(1), &desk.keys[0]), &["--trust"]).0, 0);
    assert_eq!(back().0, 1);
    let changed = Parcel::of(2, &cards().replace("starting air", "compressed air"));
    assert_eq!(desk.install(&signed(changed, &desk.keys[0]), &[]).0, 0);
    let (code, json) = back();
    assert_eq!((code, &json["edition"], &json["was_edition"]), (0, &json!(1), &json!(2)), "{json}");
    assert_eq!(json["changed"], json!(["air-starts", "oil-first", "water-out"]));
    assert_eq!((&json["signature"], &json["key"]), (&json!("good"), &json!(desk.public(0).line())));
    let (code, json) = back();
    assert_eq!((code, &json["edition"], &json["was_edition"]), (0, &json!(2), &json!(1)));
    // The key stays bound through it all.
    assert_eq!(desk.refused(&sound(3), &["--trust"]), "unsigned");
    let (code, json) = desk.run(&["install", "--go-back", "../x", "--json"]);
    assert_eq!((code, &json["refused"]["code"]), (1, &json!("no-such-deck")));
}

#[test]
fn a_deck_of_ones_own_folder_is_the_edition_before() {
    let desk = Desk::new();
    crate::support::decks::write_into(&desk.home().join("decks/plant"), "marram-air", 1, &cards());
    assert_eq!(
        desk.refused(&signed(Parcel::of(1, &card("air-starts", CARDS[0].1, "steam")), &desk.keys[0]), &["--trust"]),
        "same-edition"
    );
    let (code, json) = desk.install(&signed(sound(2), &desk.keys[0]), &["--trust"]);
    assert_eq!((code, &json["was_edition"], &json["same"]), (0, &json!(1), &json!(3)));
    assert!(desk.home().join("decks/plant/deck.toml").is_file());
    let (code, json) = desk.run(&["install", "--go-back", "marram-air", "--json"]);
    assert_eq!((code, &json["edition"], &json["was_edition"]), (0, &json!(1), &json!(2)));
    let (code, json) = desk.run(&["install", "--go-back", "marram-air", "--json"]);
    assert_eq!((code, &json["edition"], &json["was_edition"]), (0, &json!(2), &json!(1)));
}

#[test]
fn a_refusal_is_told_with_what_could_be_read() {
    let desk = Desk::new();
    let nothing = |json: &Value| ["deck", "title", "edition", "publisher", "key"].iter().all(|key| json[key].is_null());
    let (code, json) = desk.run(&["install", "not-there.bedplate", "--json"]);
    assert_eq!((code, &json["refused"]["code"], nothing(&json)), (2, &json!("file-unreadable"), true));
    fs::write(desk.at.path().join("a.txt"), "not a deck").expect("written");
    let (code, json) = desk.run(&["install", "a.txt", "--json"]);
    assert_eq!((code, &json["refused"]["code"], nothing(&json)), (2, &json!("not-a-zip"), true));
    assert_eq!((&json["new"], &json["same"], &json["signature"]), (&json!([]), &json!(0), &json!("none")));
    let (code, json) =
        desk.install(&signed(sound(1), &desk.keys[0]).with("made", Some("\"2026-11-26T08:00:00Z\"")), &["--trust"]);
    assert_eq!((code, &json["signature"], &json["deck"]), (1, &json!("bad"), &json!("marram-air")));
    assert!(!Path::new(&desk.home()).exists());
}
