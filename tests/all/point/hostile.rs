//! Drawings that mean harm, or are no drawings: the check of their deck refuses them in words, within its limits, and
//! the window refuses them for the same reason.

use std::fs;
use std::path::Path;
use std::sync::Arc;
use std::thread;
use std::time::Duration;

use bedplate::app::profile::shelf::{Shelf, Shelved};
use bedplate::deck::{Reading, Severity, read_deck, read_deck_within};
use bedplate::domain::drawing::Drawing;
use bedplate::svg::{self, Fault, Outlined};
use proptest::prelude::*;

use crate::support::decks;

const TANK: &str = "<rect id='tank' width='9' height='9'><title>tank</title></rect>\
                    <rect id='valve' x='20' width='9' height='9'><title>valve</title></rect>";

fn card(n: usize, drawing: &str) -> String {
    format!(
        "[[point]]\nid = \"c{n}\"\ntopic = \"A-III/1.1.4\"\nask = \"Where is number {n} of {drawing}?\"\n\
         drawing = \"{drawing}\"\npart = \"tank\"\nbecause = \"So.\"\nsources = [\"practice\"]\nseconds = 5\n\n"
    )
}

/// Writes a deck with one card that points at a drawing of these bytes.
fn deck(folder: &Path, bytes: &[u8]) {
    fs::create_dir_all(folder.join("pictures")).expect("a folder");
    decks::write_into(folder, "marram-light", 1, &card(0, "pictures/a.svg"));
    fs::write(folder.join("pictures/a.svg"), bytes).expect("written");
}

/// The errors that a drawing of these bytes gives, and whether its card is in the deck.
fn checked(bytes: &[u8]) -> (Vec<String>, bool) {
    let folder = tempfile::tempdir().expect("a folder");
    deck(folder.path(), bytes);
    let reading = read_deck(folder.path());
    let errors = reading.problems.iter().filter(|p| p.severity == Severity::Error);
    let told = errors.map(|p| {
        assert_eq!((p.file.as_str(), p.line), ("cards.toml", if p.code == "unseen-part" { 6 } else { 5 }), "{p:?}");
        format!("{}: {}; {}", p.code, p.message, p.mend)
    });
    (told.collect(), reading.deck.is_some_and(|deck| !deck.cards.is_empty()))
}

/// On a thread with room for the engine.
fn with_room<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    thread::scope(|scope| {
        let thread = thread::Builder::new().stack_size(svg::STACK).spawn_scoped(scope, work).expect("a thread");
        thread.join().expect("no panic")
    })
}

fn outlined(bytes: &[u8]) -> Result<Outlined, Fault> {
    with_room(|| svg::outline(bytes, None))
}

/// What the window says of it.
fn drawn(bytes: &[u8]) -> Result<(), Fault> {
    with_room(|| {
        let drawing = Drawing { size: [1.0, 1.0], ..Drawing::default() };
        svg::draw_with_marks(bytes, &drawing, (64, 64), 2.0).map(|_| ())
    })
}

fn svg(inside: &str) -> String {
    format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 100'>{inside}</svg>")
}

/// Refused by the check with these words, and by the window with the same.
fn refused(bytes: &[u8], words: &str) {
    let (errors, is_asked) = checked(bytes);
    let start = String::from_utf8_lossy(&bytes[..bytes.len().min(200)]).into_owned();
    assert!(!is_asked, "{start}");
    let [error] = errors.as_slice() else { panic!("{start}: {errors:?}") };
    assert!(error.starts_with("bad-drawing: the drawing `pictures/a.svg` "), "{error}");
    assert!(error.contains(words), "{start}: {error}");
    assert!(!error.contains("PNG"), "a point's drawing cannot be one: {error}");
    let fault = drawn(bytes).expect_err(&start);
    assert!(error.contains(&fault.what), "{start}: {error} / {}", fault.what);
}

#[test]
fn a_sound_drawing_is_none_of_these() {
    assert_eq!(checked(svg(TANK).as_bytes()), (vec![], true));
}

#[test]
fn nothing_is_taken_in_from_outside() {
    let x = "xmlns:xlink='http://www.w3.org/1999/xlink'";
    for inside in [
        "<image href='data:image/png;base64,AA' width='9' height='9'/>".to_owned(),
        "<image href='../../secret.png' width='9' height='9'/>".to_owned(),
        "<use href='other.svg#a'/>".to_owned(),
        format!("<use {x} xlink:href='http://example.org/a.svg#a'/>"),
        "<a href='https://example.org/'><circle r='1'/></a>".to_owned(),
        "<a href='javascript:alert(1)'><circle r='1'/></a>".to_owned(),
        "<style>@import 'https://example.org/a.css';</style>".to_owned(),
        "<style>rect { fill: url(https://example.org/a.svg#p) }</style>".to_owned(),
        "<style><![CDATA[ rect { fill: URL( \"file:///etc/passwd\" ) } ]]></style>".to_owned(),
        "<rect style='fill:url(other.svg#p)' width='9' height='9'/>".to_owned(),
        "<rect fill='url(http://example.org/#p)' width='9' height='9'/>".to_owned(),
        "<g xml:base='http://example.org/'/>".to_owned(),
        "<filter id='f'><feImage href='a.png'/></filter>".to_owned(),
    ] {
        refused(svg(&format!("{TANK}\n{inside}")).as_bytes(), "on line 2; a drawing in a deck holds lines");
    }
    let hatch = "<pattern id='p' width='8' height='8' patternUnits='userSpaceOnUse'><path d='M0 0L8 8'/></pattern>\
                 <rect x='50' width='30' height='30' fill=\"url( '#p' )\"/><use href='#valve' y='40'/>";
    assert_eq!(checked(svg(&format!("{TANK}{hatch}")).as_bytes()), (vec![], true), "its own it may use");
}

#[test]
fn nothing_in_it_runs_or_moves() {
    let runs = [
        "<script>alert(1)</script>",
        "<SCRIPT xmlns='http://www.w3.org/2000/svg' href='#a'/>",
        "<rect width='9' height='9' onclick='alert(1)'/>",
        "<g ONLOAD='go()'/>",
        "<?xml-stylesheet href='https://example.org/a.css'?>",
    ];
    for inside in runs {
        refused(svg(&format!("{TANK}\n{inside}")).as_bytes(), "on line 2; take it out");
    }
    let shows = [
        "<foreignObject width='9' height='9'><p xmlns='http://www.w3.org/1999/xhtml'>x</p></foreignObject>",
        "<rect width='9' height='9'><animate attributeName='x' to='9' dur='1s'/></rect>",
        "<set attributeName='x' to='9'/>",
    ];
    for inside in shows {
        refused(svg(&format!("{TANK}\n{inside}")).as_bytes(), "on line 2, which cannot be shown");
    }
}

#[test]
fn it_has_no_document_type_and_no_entities() {
    let mut laughs = "<!DOCTYPE svg [<!ENTITY l0 'ha'>".to_owned();
    for n in 1..10 {
        laughs += &format!("<!ENTITY l{n} '{}'>", format!("&l{};", n - 1).repeat(10));
    }
    laughs += &format!("]>\n{}", svg(&format!("{TANK}<text>&l9;</text>")));
    refused(laughs.as_bytes(), "uses entities (<!ENTITY>) on line 1");
    let system = format!("<!DOCTYPE svg SYSTEM 'file:///etc/passwd'>{}", svg(TANK));
    refused(system.as_bytes(), "has a document type");
}

#[test]
fn large_deep_and_entangled_ones_are_refused_in_time() {
    let deep = |n: usize| svg(&format!("{TANK}{}<rect/>{}", "<g>".repeat(n), "</g>".repeat(n)));
    let mut doubling = format!("{TANK}<defs><rect id='g0' width='1' height='1'/>");
    for n in 1..=12 {
        doubling += &format!("<g id='g{n}'>{}</g>", format!("<use href='#g{}'/>", n - 1).repeat(4));
    }
    doubling += "</defs><use href='#g12'/>";
    let round = format!("{TANK}<g id='a'><use href='#b'/></g><g id='b'><use href='#a'/></g>");
    let clips: String = (1..=300).map(|n| format!("<clipPath id='c{n}' clip-path='url(#c{})'/>", n - 1)).collect();
    for text in [
        deep(200),
        deep(20_000),
        svg(&(TANK.to_owned() + &"<g/>".repeat(60_000))),
        svg(&round),
        svg(&format!("{TANK}{clips}")),
        svg(&(TANK.to_owned() + &" ".repeat(2 * 1024 * 1024))),
    ] {
        refused(text.as_bytes(), "is too complicated to draw; save it simpler");
    }
    refused(
        svg(&doubling).as_bytes(),
        "(more than 50,000 elements, each counted as often as it is used); save it simpler",
    );
    // More than can be pointed at.
    let long = format!("{TANK}<path id='p' d='M0 0{}' stroke='black'><title>p</title></path>", "L1 1".repeat(130_000));
    let many: String =
        (0..201).map(|n| format!("<rect id='r{n}' width='1' height='1'><title>{n}</title></rect>")).collect();
    for (text, words) in [(svg(&long), "too many corners"), (svg(&many), "more than 200 parts")] {
        let (errors, is_asked) = checked(text.as_bytes());
        assert!(!is_asked && errors.len() == 1 && errors[0].contains(words), "{errors:?}");
    }
}

/// What the engine makes of a drawing grows with its letters, with what it uses again, and with what is painted over and
/// over: each has a limit, and what keeps to them is drawn.
#[test]
fn letters_and_what_is_used_again_have_limits() {
    let text = |letters: usize| format!("<text y='9' font-size='1'>{}</text>", "x".repeat(letters));
    let used =
        |times: usize, inside: &str| format!("<defs><g id='u'>{inside}</g></defs>{}", "<use href='#u'/>".repeat(times));
    let line = |corners: usize| format!("<path d='M0 0{}'/>", "L1 1".repeat(corners));
    let cover = |times: usize| "<rect width='100' height='100'/>".repeat(times);
    let marked = |corners: usize| {
        let dots = "<rect width='1' height='1'/>".repeat(40);
        format!("<marker id='m'>{dots}</marker><path marker-mid='url(#m)' d='M0 0{}'/>", "L1 1".repeat(corners))
    };
    for (beyond, words) in [
        (text(20_001), "more than 20,000 letters of text"),
        (text(2_000_000), "more than 20,000 letters of text"),
        (format!("<g>{}</g>", text(90).repeat(250)), "more than 20,000 letters of text"),
        (used(21, &text(1_000)), "more than 20,000 letters of text"),
        (used(60, &"<g/>".repeat(1_000)), "more than 50,000 elements"),
        (used(20, &line(100_000)), "outlines of more than 4 MB"),
        (marked(30_000), "markers on lines with too many corners"),
        (cover(1_001), "its shapes cover one another too often"),
    ] {
        refused(svg(&format!("{TANK}{beyond}")).as_bytes(), words);
    }
    for within in [text(5_000), used(9, &text(1_000)), cover(200), marked(100)] {
        let bytes = svg(&format!("{TANK}{within}"));
        assert_eq!(drawn(bytes.as_bytes()), Ok(()), "{within:.80}");
        assert_eq!(checked(bytes.as_bytes()).0, Vec::<String>::new(), "{within:.80}");
    }
}

/// Eight cards with drawings of two megabytes of text, by the program itself in two gigabytes of address space: without a
/// limit for letters each of them alone takes more than one.
#[cfg(target_os = "linux")]
#[test]
fn eight_drawings_full_of_text_are_met_within_bounded_memory() {
    let folder = tempfile::tempdir().expect("a folder");
    deck(folder.path(), b"");
    let text = svg(&format!("{TANK}<text y='9' font-size='1'>{}</text>", "steam ".repeat(340_000)));
    let cards: String = (0..8).map(|n| card(n, &format!("pictures/d{n}.svg"))).collect();
    fs::write(folder.path().join("cards.toml"), cards).expect("written");
    for n in 0..8 {
        fs::write(folder.path().join(format!("pictures/d{n}.svg")), &text).expect("written");
    }
    let output = std::process::Command::new("sh")
        .arg("-c")
        .arg("ulimit -v 2097152 && exec \"$0\" check \"$1\" --json")
        .arg(assert_cmd::cargo::cargo_bin("bedplate"))
        .arg(folder.path())
        .output()
        .expect("a shell");
    let (said, error) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    assert_eq!(output.status.code(), Some(1), "{error}");
    assert_eq!(said.matches("more than 20,000 letters").count(), 8, "{said:.2000}");
}

/// Before the first page is shown drawings have so much time and no more; what is left is read afterwards.
#[test]
fn drawings_for_which_there_is_no_time_are_put_off_and_then_read_whole() {
    let folder = tempfile::tempdir().expect("a folder");
    deck(folder.path(), svg(TANK).as_bytes());
    fs::write(folder.path().join("pictures/b.svg"), svg("<rect id='tank'/>")).expect("written");
    let recall = "[[recall]]\nid = \"r\"\ntopic = \"A-III/1.1.4\"\nask = \"What stands by the tank?\"\n\
                  points = [{ say = \"A valve\" }]\nbecause = \"So.\"\nsources = [\"practice\"]\nseconds = 5\n\n";
    let cards = format!("{recall}{}{}", card(0, "pictures/a.svg"), card(1, "pictures/b.svg"));
    fs::write(folder.path().join("cards.toml"), cards).expect("written");
    let mut none = Duration::ZERO;
    let reading = read_deck_within(folder.path(), &mut none);
    let cards = |reading: &Reading| reading.deck.as_ref().map_or(0, |deck| deck.cards.len());
    assert_eq!((reading.put_off, cards(&reading)), (2, 1), "the card without a drawing can be asked at once");
    assert!(reading.problems.iter().all(|p| p.severity != Severity::Error), "{:?}", reading.problems);
    let mut shelf = Shelf::of(vec![Shelved {
        folder: folder.path().into(),
        bundled: false,
        taken_in: None,
        reading: Arc::new(reading),
        shadowed: false,
    }]);
    assert_eq!((shelf.rest(), shelf.cards().count()), (vec![folder.path().to_owned()], 1));
    let whole = read_deck(folder.path());
    assert_eq!(whole.problems.iter().filter(|p| p.severity == Severity::Error).count(), 1, "{:?}", whole.problems);
    shelf.complete(folder.path(), whole);
    assert_eq!((shelf.rest(), shelf.cards().count()), (vec![], 2));
    // The time is one for all decks together.
    let mut time = Duration::from_secs(50);
    let reading = read_deck_within(folder.path(), &mut time);
    assert_eq!((reading.put_off, cards(&reading)), (0, 2));
    assert!(time < Duration::from_secs(50));
}

#[test]
fn what_is_no_number_is_no_point() {
    for (inside, is_part) in [
        ("<rect id='n' x='1e39' width='9' height='9'><title>n</title></rect>", false),
        ("<path id='n' d='M0 0L3e38 3e38L-3e38 9Z' stroke='black' stroke-width='1e30'><title>n</title></path>", false),
        ("<g transform='scale(1e38)'><path id='n' d='M1 1L1e30 2L3 4Z'><title>n</title></path></g>", false),
        ("<path id='n' d='M NaN NaN L 1 2Z'><title>n</title></path>", false),
        ("<rect id='n' width='NaN' height='inf'><title>n</title></rect>", false),
        // What moves it cannot be read and is passed over; the part itself is sound.
        ("<g transform='matrix(NaN 0 0 1 0 0)'><rect id='n' width='1' height='1'><title>n</title></rect></g>", true),
    ] {
        // No outline has a point that is no number, and the rest can be hit.
        let outlined = outlined(svg(&format!("{TANK}{inside}")).as_bytes()).unwrap_or_else(|e| panic!("{inside}: {e}"));
        let rings = outlined.drawing.shapes.iter().flat_map(|s| &s.outlines.rings);
        assert!(rings.flatten().flatten().all(|n| n.is_finite()), "{inside}");
        assert_eq!(outlined.drawing.part("n").is_some(), is_part, "{inside}");
        let valve = outlined.drawing.part("valve");
        assert!(valve.is_some() && outlined.drawing.part_at([25.0, 5.0]) == valve, "{inside}");
    }
    for root in ["viewBox='0 0 0 10'", "viewBox='0 0 NaN 10'", "viewBox='a b'", "width='0' height='9'"] {
        let text = format!("<svg xmlns='http://www.w3.org/2000/svg' {root}>{TANK}</svg>");
        let (errors, is_asked) = checked(text.as_bytes());
        assert!(!is_asked && errors.len() == 1 && errors[0].contains("is not a sound SVG file"), "{root}: {errors:?}");
    }
}

#[test]
fn what_is_no_drawing_is_said_to_be_none() {
    for bytes in [
        &b""[..],
        b"<svg",
        b"<html/>",
        b"\xFF\xFE<\0s\0v\0g\0",
        b"\x1F\x8B\x08\0gzip",
        b"\x89PNG\r\n\x1a\n",
        b"<svg xmlns='http://www.w3.org/2000/svg'><g></svg>",
    ] {
        let (errors, is_asked) = checked(bytes);
        assert!(!is_asked && errors.len() == 1, "{errors:?}");
        assert!(errors[0].contains("is not a sound SVG file"), "{errors:?}");
    }
    let (errors, _) = checked(format!("<svg viewBox='0 0 100 100'>{TANK}</svg>").as_bytes());
    assert!(errors[0].contains("is not marked as SVG; write <svg xmlns="), "{errors:?}");
    let crooked = svg(&format!("{TANK}\n\n<g"));
    assert!(checked(crooked.as_bytes()).0[0].contains("3:"), "the place in the file is told");
}

#[test]
fn parts_that_cannot_be_told_apart_are_refused() {
    let (errors, _) = checked(svg(&format!("{TANK}\n<rect id='tank' width='1' height='1'/>")).as_bytes());
    assert!(errors[0].contains("has the id `tank` 2 times, the first on line 1"), "{errors:?}");
    let hidden = svg(&TANK.replace(">valve<", ">val\u{202E}ve<"));
    assert!(checked(hidden.as_bytes()).0[0].contains("has a hidden sign (U+202E) in the texts of `valve`"));
    let long = svg(&TANK.replace(">valve<", &format!(">{}<", "v".repeat(121))));
    assert!(checked(long.as_bytes()).0[0].contains("has a <title> of more than 120 letters on line 1"));
}

#[test]
fn a_deck_has_at_most_200_drawings() {
    let folder = tempfile::tempdir().expect("a folder");
    deck(folder.path(), svg(TANK).as_bytes());
    let mut cards = String::new();
    for n in 0..201 {
        fs::write(folder.path().join(format!("pictures/d{n}.svg")), svg(TANK)).expect("written");
        cards += &card(n, &format!("pictures/d{n}.svg"));
    }
    fs::write(folder.path().join("cards.toml"), cards).expect("written");
    let reading = read_deck(folder.path());
    let errors: Vec<&str> = reading.problems.iter().filter(|p| p.severity == Severity::Error).map(|p| p.code).collect();
    assert_eq!(errors, ["too-many"]);
    assert_eq!(reading.deck.map(|deck| deck.cards.len()), Some(200));
}

#[cfg(unix)]
#[test]
fn a_link_is_not_followed() {
    let folder = tempfile::tempdir().expect("a folder");
    deck(folder.path(), b"");
    let file = folder.path().join("pictures/a.svg");
    fs::remove_file(&file).expect("removed");
    fs::write(folder.path().join("b.svg"), svg(TANK)).expect("written");
    std::os::unix::fs::symlink(folder.path().join("b.svg"), file).expect("linked");
    let codes: Vec<&str> = read_deck(folder.path()).problems.iter().map(|p| p.code).collect();
    assert!(codes.contains(&"symbolic-link"), "{codes:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn a_damaged_drawing_is_read_or_refused(
        cuts in prop::collection::vec((0.0..1.0_f64, 0..12_usize, prop::collection::vec(any::<u8>(), 0..4)), 1..6),
    ) {
        let mut bytes = crate::support::window::FUEL_LINE.as_bytes().to_vec();
        for (at, length, put) in cuts {
            let at = (at * bytes.len() as f64) as usize;
            let end = (at + length).min(bytes.len());
            bytes.splice(at..end, put);
        }
        if let Ok(outlined) = outlined(&bytes) {
            let rings = outlined.drawing.shapes.iter().flat_map(|s| &s.outlines.rings);
            prop_assert!(rings.flatten().flatten().all(|n| n.is_finite()));
            with_room(|| svg::draw_with_marks(&bytes, &outlined.drawing, (80, 36), 2.0)).expect("what is read is drawn");
        }
    }
}
