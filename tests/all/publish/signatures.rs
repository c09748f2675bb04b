//! Signatures: the public tool's and ours. What the tool made is stored in `tests/reference/minisign`; the tests that run
//! it are `--ignored` and wanted by `.ci/run`.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use bedplate::deck::sealed::{Entry, PublicKey, SealHead, SecretKey, Signed, new_pair, open, seal, sign, verify};

use super::zip::{Item, Zip};

fn reference(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/minisign").join(name)
}

fn read(name: &str) -> Vec<u8> {
    fs::read(reference(name)).expect("stored")
}

fn text(name: &str) -> String {
    String::from_utf8(read(name)).expect("UTF-8")
}

/// The files of the deck that the stored list is of.
fn sound_files() -> Vec<Entry> {
    let base = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks/sound");
    ["cards.toml", "cards/more.toml", "deck.toml", "notes.txt", "pictures/pump.svg"]
        .map(|name| Entry { name: name.to_owned(), bytes: fs::read(base.join(name)).expect("there") })
        .to_vec()
}

fn parcel(signature: &[u8]) -> Vec<u8> {
    let mut items = vec![Item::stored("seal.toml", &read("seal.toml")), Item::stored("seal.toml.minisig", signature)];
    items.extend(sound_files().iter().map(|file| Item::deflated(&format!("deck/{}", file.name), &file.bytes)));
    Zip { items, ..Zip::default() }.bytes()
}

#[test]
fn a_deck_that_the_tool_signed_is_good() {
    let sealed = open(&parcel(&read("seal.toml.minisig"))).expect("a sealed deck");
    let key = PublicKey::from_file(&text("tool.pub")).expect("a key");
    assert_eq!(key.number(), "59BDC79A6371FBD9");
    assert_eq!(sealed.signed, Signed::By(key));
}

#[test]
fn the_tools_signature_without_a_digest_is_refused() {
    let sealed = open(&parcel(&read("legacy.minisig"))).expect("a sealed deck");
    assert!(
        matches!(&sealed.signed, Signed::Badly(refusal) if refusal.code == "legacy-signature"),
        "{:?}",
        sealed.signed
    );
}

#[test]
fn the_tools_secret_key_signs_here_and_always_the_same() {
    let key = SecretKey::open(&text("tool.key"), None).expect("a key");
    assert_eq!(key.public(), &PublicKey::from_file(&text("tool.pub")).expect("a key"));
    let ours = sign(b"what is signed", &key, "a remark");
    assert_eq!(sign(b"what is signed", &key, "a remark"), ours);
    assert_eq!(verify(b"what is signed", ours.as_bytes(), key.public()), Ok(()));
    // With line ends of Windows as well.
    assert_eq!(verify(b"what is signed", ours.replace('\n', "\r\n").as_bytes(), key.public()), Ok(()));
}

#[test]
fn one_turned_bit_anywhere_spoils_a_signature() {
    let key = SecretKey::open(&text("tool.key"), None).expect("a key");
    let signature = sign(b"what is signed", &key, "a remark").into_bytes();
    let is_good = |signed: &[u8], signature: &[u8]| verify(signed, signature, key.public()).is_ok();
    for at in 0..14 {
        let mut signed = b"what is signed".to_vec();
        signed[at] ^= 1;
        assert!(!is_good(&signed, &signature), "byte {at} of what is signed");
    }
    // All but the first line, which is said not to be trusted.
    let from = signature.iter().position(|byte| *byte == b'\n').expect("a line") + 1;
    for at in from..signature.len() {
        let mut turned = signature.clone();
        turned[at] ^= 4;
        // Of the last sign of a base64 text only some bits count, which a strict reader refuses too.
        assert!(
            !is_good(b"what is signed", &turned),
            "byte {at} of the signature: {}",
            String::from_utf8_lossy(&turned)
        );
    }
}

#[test]
fn a_key_by_another_public_half_is_none() {
    use ct_codecs::{Base64, Decoder, Encoder};
    let mut lines: Vec<String> = text("tool.key").lines().map(str::to_owned).collect();
    let mut bytes = Base64::decode_to_vec(&lines[1], None).expect("base64");
    bytes[54 + 8 + 40] ^= 1;
    lines[1] = Base64::encode_to_string(&bytes).expect("text");
    assert!(SecretKey::open(&lines.join("\n"), None).is_err());
    for wrong in ["", "untrusted comment: x\n", "untrusted comment: x\nRWQ=\n", "one\ntwo\nthree"] {
        assert!(SecretKey::open(wrong, None).is_err(), "{wrong}");
        assert!(PublicKey::from_file(wrong).is_err(), "{wrong}");
    }
}

#[test]
fn a_passphrase_opens_and_no_other() {
    let pair = new_pair(Some("seven bells")).expect("a pair");
    assert!(SecretKey::open(&pair.secret_file, Some("seven bell")).is_err());
    assert!(SecretKey::open(&pair.secret_file, None).is_err());
    let key = SecretKey::open(&pair.secret_file, Some("seven bells")).expect("opened");
    assert_eq!(key.public(), &pair.public);
    assert_eq!(PublicKey::from_file(&pair.public.file()).expect("a key"), pair.public);
}

/// Runs a program of the system; it must be there and end well, or the other way where `is_well` says so.
fn run(program: &str, arguments: &[&str], at: &Path, is_well: bool) {
    let output = Command::new(program).args(arguments).current_dir(at).output();
    let output = output.unwrap_or_else(|error| panic!("{program} must be installed for this test: {error}"));
    let said = format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    assert_eq!(output.status.success(), is_well, "{program} {arguments:?}: {said}");
}

#[test]
#[ignore = "needs the tool minisign"]
fn the_tool_verifies_ours_and_signs_with_our_key() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let pair = new_pair(None).expect("a pair");
    let key = SecretKey::open(&pair.secret_file, None).expect("a key");
    for (name, text) in [
        ("our.pub", pair.public.file()),
        ("our.key", pair.secret_file.clone()),
        ("signed", "what is signed".to_owned()),
        ("signed.minisig", sign(b"what is signed", &key, "a remark")),
        ("other", "what was not signed".to_owned()),
    ] {
        fs::write(at.join(name), text).expect("written");
    }
    run("minisign", &["-V", "-p", "our.pub", "-m", "signed"], at, true);
    run("minisign", &["-V", "-P", pair.public.line(), "-m", "signed"], at, true);
    run("minisign", &["-V", "-p", "our.pub", "-m", "other", "-x", "signed.minisig"], at, false);
    run("minisign", &["-S", "-s", "our.key", "-m", "other", "-x", "other.minisig"], at, true);
    let by_tool = fs::read(at.join("other.minisig")).expect("written");
    assert_eq!(verify(b"what was not signed", &by_tool, &pair.public), Ok(()));
}

#[test]
#[ignore = "needs the tools unzip and python3"]
fn other_programs_read_a_sealed_deck() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let head = SealHead {
        deck: "marram-light".to_owned(),
        title: "Marram Light: standing orders".to_owned(),
        edition: 1,
        publisher: "The engineers of the Marram Light".to_owned(),
        made: "2026-11-25T08:00:00Z".to_owned(),
        key: None,
    };
    let mut files = sound_files();
    files.push(Entry { name: "pictures/kühlwasser.txt".to_owned(), bytes: b"x".repeat(70_000) });
    fs::write(at.join("a.bedplate"), seal(&head, &files, None).expect("sealed")).expect("written");
    run("unzip", &["-t", "a.bedplate"], at, true);
    run("python3", &["-m", "zipfile", "-t", "a.bedplate"], at, true);
    run("python3", &["-m", "zipfile", "-e", "a.bedplate", "out"], at, true);
    let read: BTreeMap<String, Vec<u8>> = files.iter().map(|f| (f.name.clone(), f.bytes.clone())).collect();
    for (name, bytes) in read {
        assert_eq!(fs::read(at.join("out/deck").join(&name)).expect("there"), bytes, "{name}");
    }
}
