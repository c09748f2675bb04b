//! Pictures of cards in the program without a face: drawn as they are, and refused in a sentence where they are bad.

use std::fs;
use std::io::Cursor;
use std::path::PathBuf;
use std::sync::Arc;

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, LibraryCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::day::Instant;
use bedplate::domain::ids::{CardKey, DeckId};
use bedplate::present::{Image, PictureState, PictureView, View};
use image::{DynamicImage, ImageFormat, Rgb, RgbImage, Rgba, RgbaImage};

use crate::support::bundled::{set_aside_in, share_in};
use crate::support::decks;
use crate::support::home;
use crate::support::time::MORNING;

/// A program with one deck of one card, whose picture has this name and these bytes.
struct Bench {
    app: App,
    file: PathBuf,
    home: tempfile::TempDir,
}

impl Bench {
    fn new(name: &str, bytes: &[u8]) -> Self {
        Self::at(tempfile::tempdir().expect("a temporary folder"), name, bytes)
    }

    /// The same where nothing else is to study.
    fn alone(name: &str, bytes: &[u8]) -> Self {
        let home = tempfile::tempdir().expect("a temporary folder");
        set_aside_in(&home.path().join("profiles/e-dunmore"), Instant(MORNING));
        Self::at(home, name, bytes)
    }

    fn at(home: tempfile::TempDir, name: &str, bytes: &[u8]) -> Self {
        let card = format!(
            "[[recall]]\nid = \"line\"\ntopic = \"A-III/1.1.4\"\nask = \"What does the drawing show?\"\n\
             points = [{{ say = \"A pipe\", accept = [\"pipe\"] }}]\nbecause = \"It is one.\"\nsources = [\"practice\"]\n\
             seconds = 10\npicture = \"pictures/{name}\"\n"
        );
        let deck = decks::write(home.path(), "drawings", &card);
        fs::create_dir_all(deck.join("pictures")).expect("a folder");
        let file = deck.join("pictures").join(name);
        fs::write(&file, bytes).expect("written");
        share_in(home.path());
        let mut app =
            home::settled(home::setup(home.path(), "e-dunmore", Some("E. Dunmore"), home::stopped(Instant(MORNING))));
        app.command(home::first_run(10, false));
        Self { app, file, home }
    }

    fn card() -> CardKey {
        CardKey { deck: DeckId("drawings".into()), card: "line".into() }
    }

    /// What the card's page shows before its picture has come, and after.
    fn open(&mut self) -> [PictureView; 2] {
        self.app.command(Command::Go(Route::Card(Self::card())));
        let before = self.shown();
        self.app.settle();
        [before, self.shown()]
    }

    fn shown(&mut self) -> PictureView {
        match &self.app.view().view {
            View::Card(page) => page.picture.clone().expect("a picture"),
            View::WatchCard(card) => card.picture.clone().expect("a picture"),
            other => panic!("no card: {other:?}"),
        }
    }
}

fn image(name: &str, bytes: &[u8]) -> Arc<Image> {
    let [before, after] = Bench::new(name, bytes).open();
    assert_eq!(before.words(), format!("Picture: pictures/{name}"));
    assert!(matches!(before.state, PictureState::Loading), "never read on the frame: {before:?}");
    match after.state {
        PictureState::Ready(image) => {
            assert_eq!(image.rgba.len(), 4 * image.width as usize * image.height as usize);
            image
        }
        other => panic!("{name}: {other:?}"),
    }
}

fn refused(name: &str, bytes: &[u8]) -> String {
    match Bench::new(name, bytes).open()[1].state.clone() {
        PictureState::Failed(sentence) => {
            assert!(sentence.starts_with(&format!("The picture pictures/{name} ")), "{sentence}");
            assert!(sentence.ends_with('.'), "{sentence}");
            sentence
        }
        other => panic!("{name}: {other:?}"),
    }
}

fn dot(image: &Image, x: u32, y: u32) -> [u8; 4] {
    let at = 4 * (y * image.width + x) as usize;
    image.rgba[at..at + 4].try_into().expect("four bytes")
}

fn written(image: impl Into<DynamicImage>, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    image.into().write_to(&mut bytes, format).expect("written");
    bytes.into_inner()
}

fn svg(inside: &str) -> Vec<u8> {
    format!("<svg xmlns='http://www.w3.org/2000/svg' width='144' height='64'>{inside}</svg>").into_bytes()
}

#[test]
fn a_png_is_shown_dot_for_dot() {
    let mut dots = RgbaImage::from_pixel(3, 2, Rgba([10, 20, 30, 255]));
    dots.put_pixel(2, 1, Rgba([255, 255, 255, 128]));
    dots.put_pixel(0, 0, Rgba([255, 0, 0, 0]));
    let shown = image("pump.png", &written(dots, ImageFormat::Png));
    assert_eq!((shown.width, shown.height), (3, 2));
    assert_eq!(dot(&shown, 1, 0), [10, 20, 30, 255]);
    assert_eq!(dot(&shown, 2, 1), [128, 128, 128, 128], "multiplied by alpha");
    assert_eq!(dot(&shown, 0, 0), [0, 0, 0, 0]);
}

#[test]
fn a_jpeg_is_shown_and_one_too_large_is_made_to_fit() {
    let shown = image("pump.jpg", &written(RgbImage::from_pixel(40, 30, Rgb([0, 0, 255])), ImageFormat::Jpeg));
    assert_eq!((shown.width, shown.height), (40, 30));
    let [r, g, b, a] = dot(&shown, 20, 15);
    assert!(r < 8 && g < 8 && b > 247 && a == 255, "blue, as JPEG keeps it");
    let wide = RgbImage::from_fn(2_000, 100, |x, _| if x < 1_000 { Rgb([255, 0, 0]) } else { Rgb([0, 255, 0]) });
    // A picture is what its bytes are, whatever its ending.
    let shown = image("wide.jpeg", &written(wide, ImageFormat::Png));
    assert_eq!((shown.width, shown.height), (1_440, 72));
    assert_eq!((dot(&shown, 10, 36), dot(&shown, 1_430, 36)), ([255, 0, 0, 255], [0, 255, 0, 255]));
}

#[test]
fn a_drawing_is_drawn_as_large_as_it_may_be_with_text_in_our_own_faces() {
    let shown = image("pump.svg", &svg("<rect x='72' width='72' height='64' fill='#008000'/>"));
    assert_eq!((shown.width, shown.height), (1_440, 640));
    assert_eq!((dot(&shown, 100, 300), dot(&shown, 1_000, 300)), ([0, 0, 0, 0], [0, 128, 0, 255]));
    for family in ["", "font-family='Arial'", "font-family='monospace'", "font-weight='bold'"] {
        let shown = image("text.svg", &svg(&format!("<text x='4' y='40' {family}>BILGE</text>")));
        assert!(shown.rgba.contains(&255), "text with {family:?} is drawn");
    }
    let old = "<?xml version='1.0'?><!DOCTYPE svg PUBLIC '-//W3C//DTD SVG 1.1//EN' \
               'http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd'>\
               <svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 10'><path d='M0 0h10v10h-10z'/></svg>";
    assert_eq!(dot(&image("old.svg", old.as_bytes()), 5, 5), [0, 0, 0, 255], "a document type is passed over");
}

#[test]
fn a_script_in_a_drawing_does_nothing() {
    let script = "<script>document.documentElement.remove()</script><script href='https://example.org/x.js'/>\
                  <rect width='144' height='64' onload='alert(1)'/><a href='https://example.org/'><circle r='1'/></a>";
    assert_eq!(dot(&image("script.svg", &svg(script)), 700, 300), [0, 0, 0, 255]);
}

#[test]
fn a_drawing_that_takes_in_something_from_elsewhere_is_refused() {
    let dot = written(RgbImage::new(1, 1), ImageFormat::Png);
    let beside = tempfile::NamedTempFile::new().expect("a file");
    fs::write(beside.path(), dot).expect("written");
    for href in [
        beside.path().display().to_string(),
        "../../secret.png".into(),
        "http://example.org/a.png".into(),
        "data:image/png;base64,AA".into(),
    ] {
        let sentence = refused("out.svg", &svg(&format!("<image href='{href}' width='9' height='9'/>")));
        assert!(sentence.contains("takes in another file or a picture (<image>)"), "{sentence}");
    }
    let linked = "<use xmlns:xlink='http://www.w3.org/1999/xlink' xlink:href='other.svg#a'/>";
    assert!(refused("use.svg", &svg(linked)).contains("(<use> with an href)"));
    let entity = "<!DOCTYPE svg [<!ENTITY a SYSTEM 'file:///etc/passwd'>]>\
                  <svg xmlns='http://www.w3.org/2000/svg'><text>&a;</text></svg>";
    assert!(refused("entity.svg", entity.as_bytes()).contains("entities"));
}

#[test]
fn a_drawing_too_large_deep_or_entangled_is_refused() {
    let deep = |n| svg(&format!("{}<rect/>{}", "<g>".repeat(n), "</g>".repeat(n)));
    let tile = "<pattern id='p' width='1' height='1'><rect width='1' height='1'/></pattern>\
                <rect width='2000' height='64' fill='url(#p)'/>";
    let layers = format!("{}<rect width='9' height='9'/>{}", "<g opacity='.5'>".repeat(7), "</g>".repeat(7));
    // Each of twelve groups uses the one before it four times: 16 million shapes.
    let mut doubling = "<defs><rect id='g0' width='1' height='1'/>".to_owned();
    for n in 1..=12 {
        let uses = format!("<use href='#g{}'/>", n - 1).repeat(4);
        doubling += &format!("<g id='g{n}'>{uses}</g>");
    }
    doubling += "</defs><use href='#g12'/>";
    for (name, bytes) in [
        ("deep.svg", deep(200)),
        ("deeper.svg", deep(20_000)),
        ("nodes.svg", svg(&"<g/>".repeat(60_000))),
        ("tile.svg", svg(tile)),
        ("layers.svg", svg(&layers)),
        ("doubling.svg", svg(&doubling)),
        ("long.svg", svg(&" ".repeat(2 * 1024 * 1024))),
    ] {
        let sentence = refused(name, &bytes);
        assert!(sentence.contains("too complicated"), "{sentence}");
    }
    let blur =
        "<filter id='f'><feGaussianBlur stdDeviation='9'/></filter><rect width='9' height='9' filter='url(#f)'/>";
    assert!(refused("blur.svg", &svg(blur)).contains("uses filters"));
    let hatch = "<pattern id='p' width='8' height='8' patternUnits='userSpaceOnUse'><path d='M0 0L8 8' stroke='black'/>\
                 </pattern><rect width='144' height='64' fill='url(#p)'/>";
    assert!(image("hatch.svg", &svg(hatch)).rgba.iter().any(|b| *b > 200), "plain hatching is drawn");
}

#[test]
fn a_long_chain_of_references_ends_in_a_sentence_or_a_picture() {
    let chain = |n: usize, link: fn(usize) -> String| {
        let links: String = (1..=n).map(link).collect();
        svg(&format!(
            "<rect id='u0' width='9' height='9'/>{links}<rect width='9' height='9' mask='url(#m{n})'/>\
                      <rect width='9' height='9' clip-path='url(#c{n})' fill='url(#p{n})'/><use href='#u{n}'/>"
        ))
    };
    let links: [fn(usize) -> String; 6] = [
        |n| format!("<g id='u{n}'><use href='#u{}'/></g>", n - 1),
        |n| format!("<mask id='m{n}' mask='url(#m{})'><rect width='9' height='9'/></mask>", n - 1),
        |n| format!("<mask id='m{n}'><rect width='9' height='9' mask='url(#m{})'/></mask>", n - 1),
        |n| format!("<clipPath id='c{n}' clip-path='url(#c{})'><rect width='9' height='9'/></clipPath>", n - 1),
        |n| {
            format!(
                "<pattern id='p{n}' width='1' height='1'><rect width='9' height='9' fill='url(#p{})'/></pattern>",
                n - 1
            )
        },
        |n| format!("<linearGradient id='p{n}' href='#p{}'/>", n - 1),
    ];
    for link in links {
        for n in [5, 250, 24_000] {
            let [_, after] = Bench::new("chain.svg", &chain(n, link)).open();
            match after.state {
                PictureState::Ready(_) => {}
                PictureState::Failed(sentence) => {
                    assert!(n > 5 || link(1).contains("url(#"), "{}: {sentence}", link(1))
                }
                PictureState::Loading => panic!("{n} times {} stopped the thread", link(1)),
            }
        }
    }
    // The deepest that is let through to the engine: masks in a chain, each with groups inside one another.
    let groups =
        |n| format!("{}<rect width='9' height='9' mask='url(#m{n})'/>{}", "<g>".repeat(120), "</g>".repeat(120));
    let masks: String = (1..=256).map(|n| format!("<mask id='m{n}'>{}</mask>", groups(n - 1))).collect();
    assert!(refused("deepest.svg", &svg(&format!("{masks}{}", groups(256)))).contains("too complicated"));
    // Of two elements with one id the first is used, and of two references the one without a prefix.
    let groups = format!("<g id='a'>{}{}</g><g id='a'/>", "<g>".repeat(100), "</g>".repeat(100));
    for href in ["href='#a'", "href='#a' x:href='#b'", "x:href='#b' href='#a'"] {
        let used = format!("{}<use xmlns:x='http://www.w3.org/1999/xlink' {href}/>", "<g>".repeat(100));
        let sentence = refused("twice.svg", &svg(&format!("{groups}{used}{}", "</g>".repeat(100))));
        assert!(sentence.contains("too complicated"), "{sentence}");
    }
    let round = "<g id='a'><use href='#b'/></g><g id='b'><use href='#a'/></g>";
    assert!(refused("round.svg", &svg(round)).contains("too complicated"));
}

#[test]
fn a_broken_picture_is_refused_in_a_sentence() {
    let whole = written(RgbImage::from_pixel(50, 50, Rgb([1, 2, 3])), ImageFormat::Png);
    let mut flipped = whole.clone();
    flipped[30] ^= 0xFF;
    for bytes in [&whole[..whole.len() / 2], &flipped[..], b"", b"no picture", b"GIF89a\x01\x00\x01\x00", &whole[..20]]
    {
        let sentence = refused("pump.png", bytes);
        assert!(sentence.contains("is not a sound PNG or JPEG file"), "{sentence}");
    }
    for bytes in [&b"<svg"[..], b"", b"<html/>", b"\xFF\xFE<", b"<svg xmlns='http://www.w3.org/2000/svg' width='0'/>"] {
        let sentence = refused("pump.svg", bytes);
        assert!(sentence.contains("is not a sound SVG file"), "{sentence}");
    }
}

#[test]
fn a_png_of_twenty_thousand_dots_a_side_is_refused_before_it_is_decoded() {
    // A PNG's header: length, IHDR, width, height, depth 8, colour type 2 (RGB), then the CRC of the chunk (PNG
    // Specification, third edition, 11.2.1), so that the header is sound and only its size is wrong.
    let mut chunk = b"IHDR".to_vec();
    chunk.extend(20_000_u32.to_be_bytes());
    chunk.extend(20_000_u32.to_be_bytes());
    chunk.extend([8, 2, 0, 0, 0]);
    let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\x0d".to_vec();
    bytes.extend(&chunk);
    bytes.extend(crc(&chunk).to_be_bytes());
    bytes.extend(b"\0\0\0\0IDAT\x35\xaf\x06\x1e");
    assert!(refused("huge.png", &bytes).contains("more dots than can be shown"));
    // Within the limit for a side, and beyond that for all: 7,900 x 7,900.
    chunk[4..8].copy_from_slice(&7_900_u32.to_be_bytes());
    chunk[8..12].copy_from_slice(&7_900_u32.to_be_bytes());
    bytes[12..29].copy_from_slice(&chunk);
    bytes[29..33].copy_from_slice(&crc(&chunk).to_be_bytes());
    assert!(refused("large.png", &bytes).contains("more dots than can be shown"));
}

/// CRC-32 as the PNG Specification (annex D) gives it.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |c, _| if c & 1 == 1 { 0xEDB8_8320 ^ (c >> 1) } else { c >> 1 })
    })
}

#[test]
fn what_has_changed_since_the_deck_was_read_is_said() {
    let sentence = |change: fn(&PathBuf)| {
        let mut bench = Bench::new("pump.png", &written(RgbImage::new(2, 2), ImageFormat::Png));
        change(&bench.file);
        match bench.open()[1].state.clone() {
            PictureState::Failed(sentence) => sentence,
            other => panic!("{other:?}"),
        }
    };
    assert!(sentence(|file| fs::remove_file(file).expect("removed")).contains("is no longer in the deck's folder"));
    assert!(
        sentence(|file| fs::write(file, vec![0; 8 * 1024 * 1024 + 1]).expect("written")).contains("more than 8 MB")
    );
    #[cfg(unix)]
    assert!(
        sentence(|file| {
            fs::remove_file(file).expect("removed");
            std::os::unix::fs::symlink("/etc/passwd", file).expect("a link");
        })
        .contains("is not a file of the deck itself")
    );
}

#[test]
fn a_mended_picture_is_read_again_with_the_decks() {
    let mut bench = Bench::new("pump.png", b"broken");
    assert!(matches!(bench.open()[1].state, PictureState::Failed(_)));
    fs::write(&bench.file, written(RgbImage::new(2, 2), ImageFormat::Png)).expect("written");
    bench.app.command(Command::Library(LibraryCommand::RereadDecks));
    bench.app.settle();
    assert!(matches!(bench.shown().state, PictureState::Ready(_)));
}

#[test]
fn the_watch_shows_the_picture_asked_and_marked_and_reads_it_once() {
    let mut bench = Bench::alone("pump.png", &written(RgbImage::new(2, 2), ImageFormat::Png));
    bench.app.command(Command::Go(Route::Watch));
    bench.app.command(Command::Watch(WatchCommand::Stand { shorter: false }));
    bench.app.settle();
    let PictureState::Ready(asked) = bench.shown().state else { panic!("asked without its picture") };
    bench.app.command(Command::Card(CardCommand::ShowPoints));
    let PictureState::Ready(marked) = bench.shown().state else { panic!("marked without its picture") };
    assert!(Arc::ptr_eq(&asked, &marked), "the same picture, not read again");
}

#[test]
fn a_face_that_cannot_draw_has_the_picture_named() {
    let mut bench = Bench::new("pump.png", b"broken");
    bench.app.leave_pictures_unread();
    let [_, after] = bench.open();
    assert_eq!(after.words(), "Picture: pictures/pump.png");
    assert!(matches!(after.state, PictureState::Loading), "it is not read at all");
}

#[test]
fn a_watch_in_the_terminal_says_that_there_is_a_picture() {
    let mut bench = Bench::alone("pump.png", b"broken");
    bench.app.settle();
    let Bench { app, home, .. } = bench;
    drop(app);
    let mut program = assert_cmd::Command::cargo_bin("bedplate").expect("the program is built");
    program.env("BEDPLATE_HOME", home.path()).args(["watch", "--now", "2026-11-25T08:00:00Z", "--profile"]);
    let output = program.arg(home.path().join("profiles/e-dunmore")).write_stdin("stop\n").output().expect("it runs");
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(said.contains("What does the drawing show?\nPicture: pictures/pump.png\n"), "{said}");
}
