//! `bedplate keys`: pairs in minisign's own files, never written over, the secret one its owner's alone.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use bedplate::deck::sealed::{PublicKey, SecretKey};

fn run(home: &Path, arguments: &[&str], input: &str) -> (i32, String, String) {
    let output = Command::cargo_bin("bedplate")
        .expect("built")
        .arg("keys")
        .args(arguments)
        .env("BEDPLATE_HOME", home)
        .write_stdin(input)
        .output()
        .expect("it runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code().expect("an exit code"), text(&output.stdout), text(&output.stderr))
}

#[test]
fn a_new_pair_is_two_files_and_never_written_over() {
    let home = tempfile::tempdir().expect("a folder");
    let at = home.path();
    assert_eq!(run(at, &["new", "bridge", "--no-passphrase"], "").0, 0);
    let read = |name: &str| fs::read_to_string(at.join("keys").join(name)).expect("there");
    let (public, secret) = (read("bridge.pub"), read("bridge.key"));
    let key = SecretKey::open(&secret, None).expect("a key");
    assert_eq!(key.public(), &PublicKey::from_file(&public).expect("a key"));
    assert_eq!(
        public.lines().next(),
        Some(format!("untrusted comment: minisign public key {}", key.public().number()).as_str())
    );
    let (code, _, told) = run(at, &["new", "bridge", "--no-passphrase"], "");
    assert_eq!(code, 1, "{told}");
    assert!(told.contains("never written over"), "{told}");
    assert_eq!((read("bridge.pub"), read("bridge.key")), (public, secret));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = |name: &str| fs::metadata(at.join("keys").join(name)).expect("there").permissions().mode() & 0o777;
        assert_eq!((mode("bridge.key"), mode("bridge.pub") & 0o400), (0o600, 0o400));
    }
    for name in ["", "../x", "a.b", "a b", "Trusted", &"a".repeat(61)] {
        assert_eq!(run(at, &["new", name, "--no-passphrase"], "").0, 2, "{name}");
    }
    assert_eq!(fs::read_dir(at.join("keys")).expect("a folder").count(), 2);
}

#[test]
fn a_passphrase_is_a_line_on_a_pipe_and_is_not_left_out_unsaid() {
    let home = tempfile::tempdir().expect("a folder");
    let at = home.path();
    assert_eq!(run(at, &["new", "bridge"], "").0, 2);
    assert!(!at.join("keys").exists());
    assert_eq!(run(at, &["new", "bridge"], "seven bells\n").0, 0);
    let secret = fs::read_to_string(at.join("keys/bridge.key")).expect("there");
    assert!(SecretKey::open(&secret, None).is_err());
    assert!(SecretKey::open(&secret, Some("seven bells")).is_ok());
}

#[test]
fn keys_are_shown_by_name_number_and_key_and_trusted_from_a_file() {
    let home = tempfile::tempdir().expect("a folder");
    let at = home.path();
    assert_eq!(run(at, &["new", "bridge", "--no-passphrase"], "").0, 0);
    let own = PublicKey::from_file(&fs::read_to_string(at.join("keys/bridge.pub")).expect("there")).expect("a key");
    let tool = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/minisign/tool.pub");
    let path = tool.to_str().expect("a path");
    for _ in 0..2 {
        let (code, _, told) = run(at, &["trust", path], "");
        assert_eq!(code, 0, "{told}");
    }
    let (code, shown, _) = run(at, &["show"], "");
    assert_eq!(code, 0);
    let lines: Vec<&str> = shown.lines().collect();
    let trusted = "trusted  tool  59BDC79A6371FBD9  RWTZ+3Fjmse9WR0/Nl/yaHbN0RHyoGsfN+1X6BeelKvULHBJiUcXQPog";
    assert_eq!(lines, [format!("own  bridge  {}  {}", own.number(), own.line()).as_str(), trusted]);
    // Another key in a file of the same name is not taken for it.
    let other = at.join("tool.pub");
    fs::write(&other, own.file()).expect("written");
    assert_eq!(run(at, &["trust", other.to_str().expect("a path")], "").0, 1);
    fs::write(&other, "no key").expect("written");
    assert_eq!(run(at, &["trust", other.to_str().expect("a path")], "").0, 2);
    assert_eq!(run(at, &["show"], "").1, shown);
}
