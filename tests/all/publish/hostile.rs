//! Files that mean no good: each is refused by its own rule, and the home is as it was.

use std::collections::BTreeSet;

use bedplate::app::publish::news::{Done, News};
use bedplate::app::publish::taking_in::take_in;
use bedplate::deck::sealed::{SecretKey, new_pair, sign};
use bedplate::domain::taking_in::Wishes;

use super::parcel::{CARDS, Parcel, card, line, sha256, snapshot};
use super::zip::{Item, Zip, deflated};

/// Everything that a person can say yes to.
const ALL: Wishes = Wishes { trust: true, older: true, replace_bundled: true };

/// What it is, the rule that it breaks, and whether it cannot even be read.
type Case = (&'static str, &'static str, bool, Vec<u8>);

fn sound() -> Parcel {
    Parcel::sound(2)
}

/// The zip of a sound deck with something done to it.
fn zip(change: impl FnOnce(&mut Zip)) -> Vec<u8> {
    let mut zip = sound().zip();
    change(&mut zip);
    zip.bytes()
}

/// The same with something done to its second entry.
fn item(change: impl FnOnce(&mut Item)) -> Vec<u8> {
    zip(|zip| change(&mut zip.items[1]))
}

/// The same with one more entry, which the list does not name.
fn more(entry: Item) -> Vec<u8> {
    zip(|zip| zip.items.push(entry))
}

/// The same with one more file that the list names.
fn named(path: &str) -> Vec<u8> {
    sound().and(path, b"x").bytes()
}

/// The same with this text as the list.
fn listed(list: &str) -> Vec<u8> {
    sound().zip_with(list.as_bytes()).bytes()
}

fn head(key: &str, value: Option<&str>) -> Vec<u8> {
    sound().with(key, value).bytes()
}

fn not_zips() -> Vec<Case> {
    let whole = sound().bytes();
    let mut all: Vec<Case> = vec![
        ("an empty file", "not-a-zip", true, Vec::new()),
        ("a text", "not-a-zip", true, b"format = 1\n".to_vec()),
        ("the first half", "not-a-zip", true, whole[..whole.len() / 2].to_vec()),
        ("all but the last byte", "not-a-zip", true, whole[..whole.len() - 1].to_vec()),
        ("bytes behind the end", "trailing-bytes", false, zip(|zip| zip.behind = b"and more".to_vec())),
        ("a comment", "trailing-bytes", false, zip(|zip| zip.comment = b"a comment".to_vec())),
        ("another zip behind it", "trailing-bytes", false, zip(|zip| zip.behind = vec![0; 64])),
        ("the directory outside the file", "damaged-zip", true, zip(|zip| zip.directory_moved = (0, 1 << 20))),
        ("a directory that is longer", "damaged-zip", true, zip(|zip| zip.directory_moved = (5, 0))),
        ("a directory that is shorter", "gap", false, zip(|zip| zip.directory_moved = (-5, 0))),
        ("an entry of the directory by another sign", "damaged-zip", true, item(|item| item.listed.sign ^= 1)),
        ("one entry fewer than said", "entry-count", false, zip(|zip| zip.miscount = (1, 1))),
        ("one entry more than said", "entry-count", false, zip(|zip| zip.miscount = (-1, -1))),
        ("two counts", "entry-count", false, zip(|zip| zip.miscount = (-1, 0))),
        ("the second of two disks", "several-disks", false, zip(|zip| zip.disks = (1, 0))),
        ("a directory on another disk", "several-disks", false, zip(|zip| zip.disks = (0, 1))),
        ("an entry on another disk", "several-disks", false, item(|item| item.disk = 1)),
        ("as many entries as only zip64 can say", "zip64", false, zip(|zip| zip.miscount = (-4, -4))),
    ];
    // Sixty megabytes and more of nothing in particular.
    all.push(("more bytes than any sealed deck has", "too-large", false, vec![b'P'; 67 * 1024 * 1024]));
    let mut locator = sound().zip();
    locator.behind_directory = [&0x0706_4b50_u32.to_le_bytes()[..], &[0; 16]].concat();
    all.push(("a locator of zip64", "zip64", false, locator.bytes()));
    all
}

fn places() -> Vec<Case> {
    vec![
        ("bytes in front of the first entry", "gap", false, zip(|zip| zip.items[0].before = b"#!/bin/sh\n".to_vec())),
        ("bytes between two entries", "gap", false, zip(|zip| zip.items[1].before = vec![0; 9])),
        ("bytes in front of the directory", "gap", false, zip(|zip| zip.before_directory = vec![0; 9])),
        ("bytes behind the directory", "gap", false, zip(|zip| zip.behind_directory = vec![0; 9])),
        ("two entries at one place", "overlap", false, {
            let mut two = sound().zip();
            two.items[1].moved = -(two.items[0].data.len() as i64 + 30 + 9);
            two.bytes()
        }),
        ("an entry that begins in another", "overlap", false, zip(|zip| zip.items[1].moved = -5)),
        ("an entry that reaches into the directory", "overlap", false, {
            zip(|zip| {
                let last = zip.items.len() - 1;
                let data = zip.items[last].data.len() as u32;
                zip.items[last] = zip.items[last].clone().both(|header| header.packed = data + 40);
            })
        }),
        ("an entry behind the end", "gap", false, item(|item| item.moved = 1 << 20)),
    ]
}

fn headers() -> Vec<Case> {
    vec![
        ("another sign in front of the entry", "header-differs", false, item(|item| item.local.sign ^= 1)),
        ("another name in front of the entry", "header-differs", false, item(|item| item.local.name[5] ^= 1)),
        ("a longer name in front of the entry", "header-differs", false, item(|item| item.local.name.push(b'x'))),
        ("another method in front of the entry", "header-differs", false, item(|item| item.local.method = 0)),
        ("another flag in front of the entry", "header-differs", false, item(|item| item.local.flags = 0x0800)),
        ("another checksum in front of the entry", "header-differs", false, item(|item| item.local.checksum ^= 1)),
        ("another packed size in front of the entry", "header-differs", false, item(|item| item.local.packed += 1)),
        ("another size in front of the entry", "header-differs", false, item(|item| item.local.size = 1)),
        ("an encrypted entry", "encrypted", false, item(|i| *i = i.clone().both(|header| header.flags = 1))),
        ("a strongly encrypted entry", "encrypted", false, item(|i| *i = i.clone().both(|h| h.flags = 0x41))),
        ("masked headers", "encrypted", false, item(|i| *i = i.clone().both(|header| header.flags = 0x2000))),
        ("an entry locked by AES", "encrypted", false, item(|i| i.listed.extra = vec![1, 0x99, 1, 0, 0])),
        ("sizes behind the entry", "size-behind", false, item(|i| *i = i.clone().both(|h| h.flags = 8))),
        ("a patch of another file", "flags", false, item(|i| *i = i.clone().both(|header| header.flags = 0x20))),
        ("a method of long ago", "method", false, item(|i| *i = i.clone().both(|header| header.method = 1))),
        ("bzip2", "method", false, item(|i| *i = i.clone().both(|header| header.method = 12))),
        ("a size of zip64", "zip64", false, item(|i| *i = i.clone().both(|header| header.size = u32::MAX))),
        ("a field of zip64", "zip64", false, item(|i| i.listed.extra = vec![1, 0, 0, 0])),
        ("a second name", "second-name", false, item(|i| i.listed.extra = vec![0x75, 0x70, 1, 0, 1])),
        ("a field that is cut short", "extra-field", false, item(|i| i.listed.extra = vec![9, 9, 9])),
        ("a field longer than there is", "extra-field", false, item(|i| i.listed.extra = vec![9, 9, 9, 0])),
        ("a link", "link", false, item(|item| item.attributes = 0o120_777 << 16)),
        ("a folder by Unix", "folder-entry", false, item(|item| item.attributes = 0o040_755 << 16)),
        ("a folder by DOS", "folder-entry", false, item(|item| item.attributes |= 0x10)),
        ("a folder by its name", "folder-entry", false, more(Item::stored("deck/cards/", b""))),
        ("a device", "device", false, item(|item| item.attributes = 0o020_666 << 16)),
        ("a disk", "device", false, item(|item| item.attributes = 0o060_666 << 16)),
        ("a pipe", "device", false, item(|item| item.attributes = 0o010_666 << 16)),
        ("a socket", "device", false, item(|item| item.attributes = 0o140_666 << 16)),
        ("the name of a disk", "device", false, item(|item| item.attributes |= 0x08)),
    ]
}

fn contents() -> Vec<Case> {
    let zeros = vec![0; 8 * 1024 * 1024 + 1];
    let bomb = Item::deflated("deck/zeros.txt", &zeros);
    let lying = bomb.clone().both(|header| header.size = 10);
    let mut many = sound();
    for n in 0..9 {
        many = many.and(&format!("zeros-{n}.txt"), &zeros[..zeros.len() - 1]);
    }
    let mut crowd = sound();
    for n in 0..999 {
        crowd = crowd.and(&format!("notes/{n}.txt"), b"");
    }
    let mut flood = crowd.clone();
    for n in 0..2 {
        flood = flood.and(&format!("more/{n}.txt"), b"");
    }
    vec![
        ("another checksum in both places", "checksum-differs", false, {
            item(|i| *i = i.clone().both(|header| header.checksum ^= 1))
        }),
        ("less than was packed", "size-differs", false, item(|i| *i = i.clone().both(|header| header.size -= 1))),
        ("more than was packed", "size-differs", false, item(|i| *i = i.clone().both(|header| header.size += 1))),
        ("stored bytes of another size", "size-differs", false, {
            more(Item::stored("deck/a.txt", b"four").both(|header| header.size = 5))
        }),
        (
            "no stream of deflate",
            "damaged-entry",
            true,
            item(|item| item.data.iter_mut().for_each(|byte| *byte = 0xFF)),
        ),
        ("a stream that breaks off", "damaged-entry", true, {
            item(|i| {
                let half = i.data.len() / 2;
                i.data.truncate(half);
                *i = i.clone().both(|header| header.packed = half as u32);
            })
        }),
        ("bytes behind the stream", "size-differs", false, {
            item(|i| {
                i.data.extend([0; 7]);
                *i = i.clone().both(|header| header.packed += 7);
            })
        }),
        ("a file too large", "file-too-large", false, more(bomb)),
        ("a file too large that says it is small", "file-too-large", false, more(lying)),
        ("files that are too large together", "deck-too-large", false, many.bytes()),
        ("a file more than a deck may have", "too-many-files", false, crowd.bytes()),
        ("more entries than are read", "too-many-files", false, flood.bytes()),
        ("a list too large", "file-too-large", false, listed(&format!("# {}\n", "x".repeat(1024 * 1024)))),
    ]
}

fn names() -> Vec<Case> {
    let long = format!("{}.txt", "a/".repeat(99) + "abc");
    let bytes = |name: &[u8], flags: u16| {
        more(Item::stored("deck/x", b"x").both(|header| (header.name, header.flags) = (name.to_vec(), flags)))
    };
    vec![
        ("a name that is not UTF-8", "name-not-utf8", false, bytes(b"deck/\xFF.txt", 0x0800)),
        ("a name that is not said to be UTF-8", "name-not-utf8", false, bytes("deck/ä.txt".as_bytes(), 0)),
        ("a way out of the deck", "path-outside", false, named("../../profile.sqlite")),
        ("a way out in the middle", "path-outside", false, named("cards/../../x")),
        ("a way out beside the deck", "path-outside", false, more(Item::stored("../x", b"x"))),
        ("the top of the disk", "path-absolute", false, more(Item::stored("/etc/cron.d/x", b"x"))),
        ("the top of the disk below the deck", "path-absolute", false, named("/etc/x")),
        ("a drive", "path-drive", false, more(Item::stored("C:/x", b"x"))),
        ("a drive below the deck", "path-drive", false, named("c:x")),
        ("a backslash", "path-backslash", false, more(Item::stored("deck/..\\..\\x", b"x"))),
        ("a share", "path-backslash", false, more(Item::stored("\\\\ship\\share", b"x"))),
        ("a stream of a file", "path-sign", false, named("a.toml:hidden")),
        ("a line end", "path-sign", false, more(Item::stored("deck/a\nb", b"x"))),
        ("a null", "path-sign", false, more(Item::stored("deck/a\0b", b"x"))),
        ("a turned direction", "path-sign", false, named("a\u{202e}lmot.b")),
        ("a star", "path-sign", false, named("*.toml")),
        ("an empty name", "path-empty", false, named("cards//a.toml")),
        ("a hidden file", "path-edge", false, named(".profile")),
        ("a folder that hides", "path-edge", false, named(".git/config")),
        ("a dot at the end", "path-edge", false, named("a.toml.")),
        ("a space at the end", "path-edge", false, named("a.toml ")),
        ("here", "path-edge", false, named("./a.toml")),
        ("a device of Windows", "path-device", false, named("NUL")),
        ("a device with an ending", "path-device", false, named("pictures/com1.svg")),
        ("a device in other letters", "path-device", false, named("ｃｏｎ.toml")),
        ("a path too long", "path-long", false, named(&long)),
        ("a file beside the deck", "stranger", false, more(Item::stored("autorun.inf", b"x"))),
        ("one name twice", "double-name", false, zip(|zip| zip.items.push(zip.items[1].clone()))),
        ("one name in capitals", "double-name-folded", false, named("CARDS.toml")),
        ("one name in other letters", "double-name-folded", false, named("ｃards.toml")),
        ("one folder in capitals", "double-name-folded", false, sound().and("p/a", b"x").and("P/b", b"x").bytes()),
        ("a file that is a folder", "file-and-folder", false, named("cards.toml/a")),
        ("two lists", "double-name", false, more(Item::stored("seal.toml", b"format = 1"))),
    ]
}

fn lists() -> Vec<Case> {
    let good = sound().list();
    let mut unlisted = sound().and("notes.txt", b"x");
    unlisted.unlisted = vec!["notes.txt".to_owned()];
    let and = |text: String| listed(&(good.clone() + &text));
    vec![
        ("no list", "no-seal", true, zip(|zip| drop(zip.items.remove(0)))),
        ("a list that is not UTF-8", "seal-unreadable", true, sound().zip_with(b"format = 1 \xFF").bytes()),
        ("a list that is not TOML", "seal-unreadable", true, listed("format = ")),
        ("brackets without end", "seal-unreadable", true, listed(&format!("a = {}", "[".repeat(100_000)))),
        ("keys in keys without end", "seal-unreadable", true, listed(&format!("{}a = 1", "a.".repeat(300_000)))),
        ("tables in tables without end", "seal-unreadable", true, listed(&format!("[{}a]", "a.".repeat(300_000)))),
        ("braces without end", "seal-unreadable", true, listed(&format!("a = {}", "{ a = ".repeat(100_000)))),
        ("no time", "seal-unreadable", true, head("made", Some("\"yesterday\""))),
        ("no id", "seal-unreadable", true, head("deck", None)),
        ("no file", "seal-unreadable", true, listed(good.split("\n[[").next().expect("a head"))),
        ("an id in capitals", "seal-value", false, head("deck", Some("\"Marram\""))),
        ("an id that leads out", "seal-value", false, head("deck", Some("\"../x\""))),
        ("an edition that is a text", "seal-unreadable", true, head("edition", Some("\"2\""))),
        ("edition 0", "seal-value", false, head("edition", Some("0"))),
        ("an edition beyond all", "seal-value", false, head("edition", Some("99999999999"))),
        ("a time without a place", "seal-value", false, head("made", Some("\"2026-11-25T08:00:00\""))),
        ("a time of elsewhere", "seal-value", false, head("made", Some("\"2026-11-25T08:00:00+02:00\""))),
        ("a key of its own", "seal-key", false, head("home", Some("\"/\""))),
        ("a key of a file's own", "seal-key", false, and("mode = 511\n".to_owned())),
        ("a format to come", "seal-format", false, head("format", Some("2"))),
        ("a digest in capitals", "seal-value", false, and(line("x", 1, &sha256(b"x").to_uppercase()))),
        ("a size below nothing", "seal-value", false, listed(&good.replacen("size = ", "size = -", 1))),
        ("a file listed twice", "double-name-folded", false, and(line("cards.toml", 1, &sha256(b"x")))),
        ("a way out in the list", "path-outside", false, and(line("../x", 1, &sha256(b"x")))),
        ("a file that is not listed", "not-listed", false, unlisted.bytes()),
        ("a file that is not there", "not-there", false, and(line("notes.txt", 1, &sha256(b"x")))),
        ("a file of another size", "other-size", false, listed(&good.replacen("size = ", "size = 1", 1))),
        ("a file of other contents", "other-digest", false, {
            let mut other = sound();
            let list = other.list();
            let at = other.files[0].1.iter().position(|byte| *byte == b'?').expect("a question");
            other.files[0].1[at] = b'!';
            other.zip_with(list.as_bytes()).bytes()
        }),
    ]
}

fn decks() -> Vec<Case> {
    let broken =
        card("air-starts", CARDS[0].1, "starting air").replace("topic = \"A-III/1.1.4\"", "topic = \"A-III/9\"");
    let mut headless = sound();
    headless.files.retain(|(path, _)| path != "deck.toml");
    vec![
        ("no deck.toml", "deck-errors", false, headless.bytes()),
        ("a card with an error", "deck-errors", false, Parcel::of(2, &broken).bytes()),
        ("a picture that is not there", "deck-errors", false, {
            let cards =
                card("air-starts", CARDS[0].1, "air").replace("seconds", "picture = \"pictures/a.png\"\nseconds");
            Parcel::of(2, &cards).bytes()
        }),
        ("another id in the deck", "seal-differs", false, head("deck", Some("\"marram-oil\""))),
        ("another title in the deck", "seal-differs", false, head("title", Some("\"Another\""))),
        ("another edition in the deck", "seal-differs", false, head("edition", Some("3"))),
        ("another publisher in the deck", "seal-differs", false, head("publisher", Some("\"R. Halloran\""))),
    ]
}

fn signatures() -> Vec<Case> {
    let pair = new_pair(None).expect("a pair");
    let key = SecretKey::open(&pair.secret_file, None).expect("a key");
    let other = SecretKey::open(&new_pair(None).expect("a pair").secret_file, None).expect("a key");
    let keyed = sound().with("key", Some(&format!("\"{}\"", pair.public.line())));
    let signature = sign(keyed.list().as_bytes(), &key, "a remark");
    let with = |parcel: &Parcel, signature: &str| {
        let mut parcel = parcel.clone();
        parcel.signature = Some(signature.as_bytes().to_vec());
        parcel
    };
    let good = with(&keyed, &signature);
    let mut number: Vec<&str> = signature.lines().collect();
    let forged = sign(keyed.list().as_bytes(), &other, "a remark");
    number[1] = forged.lines().nth(1).expect("a line");
    vec![
        ("a list changed after it was signed", "bad-signature", false, {
            good.clone().with("made", Some("\"2026-11-26T08:00:00Z\"")).bytes()
        }),
        ("signed by another key than it says", "bad-signature", false, with(&keyed, &forged).bytes()),
        ("one line by another key", "bad-signature", false, with(&keyed, &(number.join("\n") + "\n")).bytes()),
        ("another remark than was signed", "bad-signature", false, {
            with(&keyed, &signature.replace("a remark", "b remark")).bytes()
        }),
        ("a signature of something else", "bad-signature", false, with(&keyed, &sign(b"x", &key, "x")).bytes()),
        ("a text for a signature", "bad-signature", false, with(&keyed, "signed, E. Dunmore").bytes()),
        ("nothing for a signature", "bad-signature", false, with(&keyed, "").bytes()),
        ("no signature where one is said", "signature-missing", false, keyed.bytes()),
        ("a signature where none is said", "key-missing", false, with(&sound(), &signature).bytes()),
        ("a key that is none", "bad-key", false, with(&sound().with("key", Some("\"RWQ\"")), &signature).bytes()),
        ("a signature without end", "file-too-large", false, with(&keyed, &"x".repeat(9_000)).bytes()),
    ]
}

fn all() -> Vec<Case> {
    [not_zips(), places(), headers(), contents(), names(), lists(), decks(), signatures()].concat()
}

#[test]
fn each_hostile_file_is_refused_by_its_rule_and_nothing_is_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let (empty, home) = (folder.path().join("no-home"), folder.path().join("home"));
    let first = take_in(&home, &Parcel::sound(1).bytes(), ALL, &mut |_| {});
    assert_eq!((first.refused, first.done), (None, Done::TakenIn));
    let before = snapshot(&home);
    let mut wrong = Vec::new();
    let cases = all();
    for (what, code, is_unreadable, bytes) in &cases {
        let refusals = [&empty, &home].map(|home| take_in(home, bytes, ALL, &mut |_| {}));
        for News { refused, done, .. } in refusals {
            let found = refused.as_ref().map(|refusal| (refusal.code, refusal.is_unreadable));
            if found != Some((code, *is_unreadable)) || done != Done::Nothing {
                wrong.push(format!("{what}: {code} was expected, and it came to {refused:?}"));
            }
            let hidden = |c: char| c.is_control() || c == '\u{202e}';
            assert!(
                !refused.is_some_and(|refusal| refusal.text.contains(hidden)),
                "{what}: signs that a terminal obeys"
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(!empty.exists(), "a home was made");
    assert_eq!(snapshot(&home), before, "the home was touched");
    let names: BTreeSet<&str> = cases.iter().map(|(what, ..)| *what).collect();
    assert_eq!(names.len(), cases.len(), "each file is one of its own");
    assert!(cases.len() >= 120, "{} files", cases.len());
    let codes: BTreeSet<&str> = cases.iter().map(|(_, code, ..)| *code).collect();
    assert!(codes.len() >= 45, "{} rules: {codes:?}", codes.len());
}

#[test]
fn a_file_cut_or_turned_anywhere_is_never_taken_in_otherwise() {
    let folder = tempfile::tempdir().expect("a folder");
    let home = folder.path().join("home");
    let whole = Parcel::sound(1).bytes();
    for length in 0..whole.len() {
        let news = take_in(&home, &whole[..length], ALL, &mut |_| {});
        assert!(news.refused.is_some(), "the first {length} bytes were taken in");
    }
    for at in 0..whole.len() {
        let mut turned = whole.clone();
        turned[at] ^= 0x10;
        let news = bedplate::deck::sealed::open(&turned);
        // What is not looked at says nothing: the versions and the times of the entries, and rights.
        if let Ok(sealed) = news {
            assert_eq!(sealed.files, bedplate::deck::sealed::open(&whole).expect("sound").files, "byte {at}");
        }
    }
    assert!(!home.exists());
}

#[test]
fn fields_that_say_nothing_are_no_harm() {
    let folder = tempfile::tempdir().expect("a folder");
    let bytes = item(|item| {
        // A time as Info-ZIP writes it.
        item.listed.extra = [&[0x55, 0x54, 5, 0, 1][..], &[0; 4]].concat();
        item.local.extra = [&[0x55, 0x54, 9, 0, 3][..], &[0; 8]].concat();
        item.attributes = 0;
    });
    let news = take_in(folder.path(), &bytes, ALL, &mut |_| {});
    assert_eq!((news.refused, news.done), (None, Done::TakenIn));
    assert!(deflated(b"x").len() > 1);
}
