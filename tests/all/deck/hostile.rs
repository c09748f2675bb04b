//! Hostile input, made here because no editor would keep it: each case must end with the error that it is for,
//! within bounded time and memory, and never with a panic.

use std::fs;
use std::path::Path;

use bedplate::deck::{Reading, Severity, read_deck};

/// A code and what makes a deck with that error.
pub type Case = (&'static str, fn(&Path));

/// The cases by the code that they are for.
pub const GENERATED: &[Case] = &[
    ("not-utf8", latin1),
    ("too-large", text_of_50_mb),
    ("too-large", cards_of_30_mb),
    ("too-large", many_large_files),
    ("too-deep", nested_arrays),
    ("too-deep", nested_inline_tables),
    ("too-many", many_cards),
    ("too-many", many_files),
    ("too-many", many_values),
    ("too-many", many_headers),
    ("too-many-problems", many_problems),
    ("not-toml", deep_dotted_key),
    ("not-toml", many_faults),
    ("control-character", nul_bytes),
    ("not-utf8", utf16),
    ("not-utf8", random_looking_bytes),
    #[cfg(unix)]
    ("symbolic-link", linked_card_file),
    #[cfg(unix)]
    ("symbolic-link", linked_deck_file),
    #[cfg(unix)]
    ("symbolic-link", linked_cards_folder),
    #[cfg(unix)]
    ("symbolic-link", linked_picture),
    #[cfg(unix)]
    ("unreadable-file", socket_for_a_card_file),
    ("unreadable-deck", no_deck_file),
];

const HEAD: &str = "id = \"marram-light\"\ntitle = \"Standing orders\"\nedition = 1\nlanguage = \"en\"\n\
    publisher = \"The engineers\"\nlicence = \"CC-BY-4.0\"\n[source.practice]\ntitle = \"common practice\"\n\
    kind = \"practice\"\n";

fn put(folder: &Path, name: &str, bytes: impl AsRef<[u8]>) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().expect("inside the folder")).expect("a folder");
    fs::write(path, bytes).expect("written");
}

fn card(id: &str, ask: &str) -> String {
    format!(
        "[[recall]]\nid = \"{id}\"\ntopic = \"A-III/1.1.4\"\nask = \"{ask}\"\npoints = [{{ say = \"Full\" }}]\n\
         because = \"So.\"\nsources = [\"practice\"]\nseconds = 20\n"
    )
}

fn with(folder: &Path, cards: impl AsRef<[u8]>) {
    put(folder, "deck.toml", HEAD);
    put(folder, "cards.toml", cards);
}

fn latin1(folder: &Path) {
    let mut bytes = card("one", "One?").into_bytes();
    bytes.extend(b"# line 9\n# at 15 \xB0C\n");
    with(folder, bytes);
}

fn text_of_50_mb(folder: &Path) {
    with(folder, format!("[[recall]]\nask = \"{}\"\n", "x".repeat(50_000_000)));
}

fn cards_of_30_mb(folder: &Path) {
    with(folder, "[[recall]]\n".repeat(30_000_000 / 11));
}

fn many_large_files(folder: &Path) {
    put(folder, "deck.toml", HEAD);
    let comment = format!("# {}\n", "x".repeat(7_900_000));
    for n in 0..10 {
        put(folder, &format!("cards/{n}.toml"), &comment);
    }
}

fn nested_arrays(folder: &Path) {
    with(folder, format!("a = {}{}\n", "[".repeat(100_000), "]".repeat(100_000)));
}

fn nested_inline_tables(folder: &Path) {
    with(folder, format!("a = {}1{}\n", "{ a = ".repeat(100_000), " }".repeat(100_000)));
}

fn many_cards(folder: &Path) {
    put(folder, "deck.toml", HEAD);
    for file in 0..3 {
        let cards: String = (0..6_700).map(|n| card(&format!("c-{file}-{n}"), &format!("{file} and {n}?"))).collect();
        put(folder, &format!("cards/{file}.toml"), cards);
    }
}

fn many_files(folder: &Path) {
    put(folder, "deck.toml", HEAD);
    for n in 0..1_100 {
        put(folder, &format!("cards/{n}.toml"), "");
    }
}

fn many_values(folder: &Path) {
    with(folder, format!("a = [{}]\n", "[],".repeat(2_000_000)));
}

fn many_headers(folder: &Path) {
    with(folder, "[[recall]]\n".repeat(7_000_000 / 11));
}

fn many_problems(folder: &Path) {
    with(folder, "[[recall]]\n".repeat(15_000));
}

fn deep_dotted_key(folder: &Path) {
    with(folder, format!("{}a = 1\n", "a.".repeat(100_000)));
}

fn many_faults(folder: &Path) {
    with(folder, "a b c\n".repeat(200_000));
}

fn nul_bytes(folder: &Path) {
    with(folder, vec![0; 1_000_000]);
}

fn utf16(folder: &Path) {
    let text: Vec<u8> = card("one", "One?").encode_utf16().flat_map(u16::to_le_bytes).collect();
    with(folder, [&[0xFF, 0xFE][..], &text].concat());
}

fn random_looking_bytes(folder: &Path) {
    let bytes: Vec<u8> = (0..4_000_000_u64).map(|n| (n.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 56) as u8).collect();
    with(folder, bytes);
}

#[cfg(unix)]
fn linked_card_file(folder: &Path) {
    put(folder, "deck.toml", HEAD);
    std::os::unix::fs::symlink("/etc/passwd", folder.join("passwords.toml")).expect("a link");
}

#[cfg(unix)]
fn linked_deck_file(folder: &Path) {
    put(folder, "elsewhere.txt", HEAD);
    std::os::unix::fs::symlink(folder.join("elsewhere.txt"), folder.join("deck.toml")).expect("a link");
}

#[cfg(unix)]
fn linked_cards_folder(folder: &Path) {
    put(folder, "deck.toml", HEAD);
    put(folder, "elsewhere/one.toml", card("one", "One?"));
    std::os::unix::fs::symlink(folder.join("elsewhere"), folder.join("cards")).expect("a link");
}

#[cfg(unix)]
fn linked_picture(folder: &Path) {
    with(folder, format!("{}picture = \"pictures/a.png\"\n", card("one", "One?")));
    fs::create_dir(folder.join("pictures")).expect("a folder");
    std::os::unix::fs::symlink("/etc/passwd", folder.join("pictures/a.png")).expect("a link");
}

#[cfg(unix)]
fn socket_for_a_card_file(folder: &Path) {
    put(folder, "deck.toml", HEAD);
    // Dropping the listener leaves its file, which must not be opened and waited for.
    drop(std::os::unix::net::UnixListener::bind(folder.join("cards.toml")).expect("a socket"));
}

fn no_deck_file(folder: &Path) {
    put(folder, "cards.toml", card("one", "One?"));
}

fn reading_of(make: fn(&Path)) -> Reading {
    let folder = tempfile::tempdir().expect("a folder");
    make(folder.path());
    read_deck(folder.path())
}

#[test]
fn every_case_ends_with_its_error() {
    for (n, (code, make)) in GENERATED.iter().enumerate() {
        let reading = reading_of(*make);
        let codes: Vec<&str> = reading.problems.iter().map(|p| p.code).collect();
        let has_code = codes.contains(code);
        let has_error = reading.problems.iter().any(|p| p.severity == Severity::Error);
        assert!(has_code && has_error, "case {n}, {code}: {:?}", &codes[..codes.len().min(20)]);
        assert!(reading.problems.len() <= 30_001, "case {n}, {code}: {} problems", reading.problems.len());
        assert_eq!(reading.readable, *code != "unreadable-deck", "case {n}, {code}");
    }
}

/// The program itself, in one gigabyte of address space: a case that wanted more would die and not exit with 1.
#[cfg(target_os = "linux")]
#[test]
fn every_case_is_met_within_a_gigabyte() {
    let program = assert_cmd::cargo::cargo_bin("bedplate");
    for (n, (code, make)) in GENERATED.iter().enumerate().filter(|(_, (code, _))| *code != "unreadable-deck") {
        let folder = tempfile::tempdir().expect("a folder");
        make(folder.path());
        let output = std::process::Command::new("sh")
            .arg("-c")
            .arg("ulimit -v 1048576 && exec \"$0\" check \"$1\" --json")
            .arg(&program)
            .arg(folder.path())
            .output()
            .expect("a shell");
        let error = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "case {n}, {code}: {error}");
    }
}

#[test]
fn a_bad_byte_is_told_at_its_own_line_and_the_cards_before_it_stay() {
    let reading = reading_of(latin1);
    let problem = &reading.problems[0];
    assert_eq!((problem.code, problem.file.as_str(), problem.line, problem.column), ("not-utf8", "cards.toml", 10, 9));
    // The bad byte stands in the last card's stretch of the file, so that card is not trusted.
    assert_eq!(reading.deck.expect("the head is sound").cards.len(), 0);
}

#[test]
fn a_deck_file_that_is_no_text_is_an_error_at_its_place_and_not_unreadable() {
    let folder = tempfile::tempdir().expect("a folder");
    let latin1 = [HEAD.as_bytes(), b"# \xE5 and \xE6\n# \xF8\n"].concat();
    put(folder.path(), "deck.toml", latin1);
    let reading = read_deck(folder.path());
    assert!(reading.readable);
    let places: Vec<_> = reading.problems.iter().map(|p| (p.code, p.line, p.column)).collect();
    assert_eq!(places, [("not-utf8", 10, 3), ("not-utf8", 11, 3)]);
}

#[test]
fn brackets_in_texts_and_comments_do_not_count_as_depth() {
    let folder = tempfile::tempdir().expect("a folder");
    let brackets = "[".repeat(200);
    with(
        folder.path(),
        format!("{}# {brackets}\ncaution = '{brackets}'\nheading = \"\"\"\n{brackets}\"\"\"\n", card("one", "One?")),
    );
    let reading = read_deck(folder.path());
    assert!(reading.problems.is_empty(), "{:?}", reading.problems);
}

#[cfg(unix)]
#[test]
fn a_link_to_the_deck_folder_itself_is_followed() {
    let folder = tempfile::tempdir().expect("a folder");
    with(&folder.path().join("deck"), card("one", "One?"));
    std::os::unix::fs::symlink(folder.path().join("deck"), folder.path().join("link")).expect("a link");
    let reading = read_deck(&folder.path().join("link"));
    assert!(reading.problems.is_empty(), "{:?}", reading.problems);
    assert_eq!(reading.deck.expect("a deck").cards.len(), 1);
}

#[test]
fn a_byte_order_mark_is_passed_over() {
    let folder = tempfile::tempdir().expect("a folder");
    with(folder.path(), [b"\xEF\xBB\xBF", card("one", "One?").as_bytes()].concat());
    let reading = read_deck(folder.path());
    assert!(reading.problems.is_empty(), "{:?}", reading.problems);
}

#[test]
fn what_is_no_folder_or_has_no_deck_file_is_unreadable() {
    let folder = tempfile::tempdir().expect("a folder");
    put(folder.path(), "file", "");
    fs::create_dir_all(folder.path().join("holds-a-folder/deck.toml")).expect("a folder");
    for name in ["nothing-here", "file", "holds-a-folder", "."] {
        let reading = read_deck(&folder.path().join(name));
        assert!(!reading.readable, "{name}");
        assert_eq!(reading.problems.len(), 1, "{name}");
        assert_eq!(reading.problems[0].code, "unreadable-deck");
        assert!(reading.deck.is_none());
    }
}
