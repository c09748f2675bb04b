//! Files that are not what they say: each is refused by name, and nothing of it is kept.

use std::fs;
use std::path::Path;

use bedplate::domain::outcome::Outcome;
use bedplate::store::StoreError;
use bedplate::store::bring::look;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use super::computer::Computer;

/// The lines with a digest that fits them.
fn signed(lines: &[String]) -> Vec<u8> {
    let mut text: String = lines.iter().map(|line| format!("{line}\n")).collect();
    let digest: String = Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect();
    text += &format!("{{\"sha256\":\"{digest}\"}}\n");
    text.into_bytes()
}

/// A learner's computer, another one of the same learner, and the lines of a file of the first, without the digest.
fn a_file() -> (Computer, Computer, Vec<String>) {
    let mut a = Computer::new(0, 0);
    a.change(|s| s.learner = "R. Halloran".to_owned());
    a.answer("drain", Outcome::Missed);
    a.answer("purifier", Outcome::Fluent);
    a.take_back(0);
    a.report("wrong");
    let sitting = a.begin_sitting();
    a.answer_turn(&sitting);
    a.answer_turn(&sitting);
    let b = Computer::new(0, 0);
    b.bring(&a.write());
    let file = a.write();
    let text = fs::read_to_string(&file.file).unwrap();
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    lines.pop();
    assert_eq!(signed(&lines), text.as_bytes(), "the tests sign as the program does");
    (a, b, lines)
}

fn refused(on: &Computer, bytes: &[u8]) -> String {
    let file = on.file("from-elsewhere");
    fs::write(&file, bytes).unwrap();
    on.refused(&file)
}

#[test]
fn one_turned_byte_is_refused() {
    let (_a, b, lines) = a_file();
    let good = signed(&lines);
    let file = b.file("turned");
    for at in 0..good.len() {
        let mut bytes = good.clone();
        bytes[at] ^= 1 << (at % 8);
        fs::write(&file, &bytes).unwrap();
        let told = look(&file);
        assert!(
            matches!(&told, Err(StoreError::FileRefused { file: named, .. }) if *named == file),
            "byte {at}: {told:?}"
        );
    }
    let capital = String::from_utf8(good.clone()).unwrap();
    let at = capital.rfind("\"sha256\":\"").unwrap() + 10;
    let capital = format!("{}{}", &capital[..at], capital[at..].to_uppercase());
    assert!(refused(&b, capital.as_bytes()).contains("digest"), "capitals are other bytes");
    for cut in [0, 1, 40, good.len() / 2, good.len() - 80, good.len() - 1] {
        assert!(!refused(&b, &good[..cut]).is_empty());
    }
    let longer = [good.as_slice(), b"{\"answer\":{}}\n"].concat();
    assert!(refused(&b, &longer).contains("digest"));
    let twice = [good.as_slice(), good.as_slice()].concat();
    assert!(refused(&b, &twice).contains("digest"));
}

/// The line of a sort, as JSON to be changed.
fn line_of(lines: &[String], sort: &str) -> (usize, Value) {
    let at = lines.iter().position(|line| line.starts_with(&format!("{{\"{sort}\""))).expect("there is such a line");
    (at, serde_json::from_str(&lines[at]).unwrap())
}

#[test]
fn what_a_file_says_is_checked_though_its_digest_fits() {
    let (_a, b, lines) = a_file();
    let evidence = line_of(&lines, "answer").1["answer"]["evidence"].clone();
    let long = format!("{{\"text\":\"{}\",\"edition\":1}}", "a".repeat(1 << 20));
    let deep = "[".repeat(100_000);
    // A line of this sort, what in it, becomes this, and what is then told.
    let changes: Vec<(&str, &[&str], Value, &str)> = vec![
        ("bedplate", &["form"], json!(2), "later version"),
        ("bedplate", &["form"], json!(0), "another form"),
        ("bedplate", &["ids"], json!([]), "id"),
        ("bedplate", &["ids"], json!(["learner-of-mine"]), "id"),
        ("bedplate", &["ids"], json!(["learner-00000000000000b", "learner-00000000000000a"]), "order"),
        ("bedplate", &["made"], json!(i64::MAX), "years"),
        ("bedplate", &["learner"], json!("a".repeat(500)), "name"),
        ("bedplate", &["more"], json!(1), "unknown field"),
        ("settings", &["settings", "json"], json!("{\"minutes\":true}"), "settings"),
        ("settings", &["settings", "at"], json!(i64::MIN), "years"),
        ("answer", &["answer", "at"], json!(i64::MIN), "years"),
        ("answer", &["answer", "id"], json!(""), "id"),
        ("answer", &["answer", "id"], json!("../../etc"), "id"),
        ("answer", &["answer", "card"], json!("no key"), "card"),
        ("answer", &["answer", "ship"], json!(9_000), "ship"),
        ("answer", &["answer", "device"], json!("d".repeat(65)), "computer"),
        ("answer", &["answer", "outcome"], json!(5), "outcome"),
        ("answer", &["answer", "notch"], json!(7), "notch"),
        ("answer", &["answer", "seconds"], json!("NaN"), "seconds"),
        ("answer", &["answer", "seconds"], json!("-1.0"), "seconds"),
        ("answer", &["answer", "seconds"], json!("1e999"), "seconds"),
        ("answer", &["answer", "evidence"], json!("{}"), "evidence"),
        ("answer", &["answer", "evidence"], json!(long), "1 MB"),
        ("answer", &["answer", "evidence"], json!(deep), "evidence"),
        ("answer", &["answer", "extra"], json!(1), "unknown field"),
        // An id that is kept here for another answer.
        ("answer", &["answer", "outcome"], json!(4), "another than the one"),
        ("sitting", &["sitting", "setup"], json!("{}"), "setup"),
        ("sitting", &["sitting", "device"], json!("elsewhere"), "another than the one"),
        ("turn", &["turn", "n"], json!(1), "order"),
        ("turn", &["turn", "n"], json!(4_000_000_000u32), "turns"),
        ("turn", &["turn", "sitting"], json!("no-such"), "order"),
        ("turn", &["turn", "turn"], json!("{}"), "turn"),
        ("fault", &["fault", "card"], json!("a/b/c"), "card"),
        ("event", &["event", "kind"], json!("voided!"), "kind"),
        ("event", &["event", "json"], json!("no JSON"), "event"),
        ("event", &["event", "json"], json!("{\"attempt\":\"\"}"), "id"),
    ];
    for (sort, path, value, told) in changes {
        let (at, mut line) = line_of(&lines, sort);
        let (last, above) = path.split_last().unwrap();
        let mut place = &mut line;
        for step in above {
            place = &mut place[*step];
        }
        place[*last] = value.clone();
        let mut changed = lines.clone();
        changed[at] = if sort == "bedplate" { head(&line) } else { line.to_string() };
        let why = refused(&b, &signed(&changed));
        let shown: String = value.to_string().chars().take(60).collect();
        assert!(why.contains(told), "{sort} {path:?} {shown}: {why}");
    }
    let with = |line: Value| {
        let mut more = lines.clone();
        more.push(line.to_string());
        refused(&b, &signed(&more))
    };
    let settings = line_of(&lines, "settings").1;
    assert!(with(settings).contains("settings twice"));
    assert!(with(json!({"set-aside": {"card": "a/b", "at": 1, "until": "day", "day": null}})).contains("until when"));
    assert!(with(json!({"set-aside": {"card": "a/b", "at": 1, "until": "never", "day": null}})).contains("until when"));
    assert!(
        with(json!({"event": {"at": 1, "kind": "sitting-turns", "json": "{\"sitting\":\"s\",\"turns\":[\"1\"]}"}}))
            .contains("turn")
    );
    assert!(with(json!({"attempt": evidence})).contains("unknown variant"));
    assert!(with(json!(7)).contains("makes no sense"));
    assert!(refused(&b, &signed(&lines[1..])).contains("no profile’s file"));
    assert!(refused(&b, &signed(&[lines[0].clone(), lines[0].clone()])).contains("makes no sense"));
    assert!(refused(&b, &signed(&[])).contains("no profile’s file"));
}

/// The first line with its keys in the order in which the program writes them.
fn head(line: &Value) -> String {
    let mut text = String::from("{");
    for key in ["bedplate", "form", "program", "made", "learner", "ids", "more"] {
        if let Some(value) = line.get(key) {
            text += &format!("{}\"{key}\":{value}", if text.len() > 1 { "," } else { "" });
        }
    }
    text + "}"
}

#[test]
fn what_is_no_such_file_is_refused() {
    let (a, b, _) = a_file();
    for (name, bytes) in [
        ("empty", Vec::new()),
        ("words", b"what I must not forget\n".to_vec()),
        ("no text", vec![0xff; 4096]),
        ("one endless line", vec![b'a'; 17 << 20]),
    ] {
        let why = refused(&b, &bytes);
        assert!(["cut short", "no profile’s", "too long"].iter().any(|told| why.contains(told)), "{name}: {why}");
    }
    let profile = a.folder.path().join("profile/profile.sqlite");
    assert!(!b.refused(&profile).is_empty());
    assert!(b.refused(b.folder.path()).contains("no ordinary file"));
    if cfg!(unix) {
        assert!(b.refused(Path::new("/dev/zero")).contains("no ordinary file"));
    }
    let missing = look(&b.file("not-there"));
    assert!(matches!(missing, Err(StoreError::Io { .. })), "{missing:?}");
}

/// A file that is another one when it is brought in than when it was looked at is refused.
#[test]
fn a_file_that_changes_after_the_look_is_refused() {
    let (mut a, b, _) = a_file();
    let looked = a.write();
    a.answer("drain", Outcome::Fluent);
    let other = a.write();
    fs::copy(&other.file, &looked.file).unwrap();
    let before = b.state();
    let told = b.store().bring(looked, false, bedplate::domain::day::Instant(b.clock)).wait();
    assert!(matches!(&told, Err(StoreError::FileRefused { why, .. }) if why.contains("changed")), "{told:?}");
    assert_eq!(b.state(), before);
}
