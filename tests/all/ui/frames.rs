//! What is painted of the main pages, shape by shape, to be compared with another version of the program:
//!
//!     FRAMES=/tmp/new cargo test --test all -- --ignored ui::frames::
//!
//! writes a file for each page, size and theme; `diff -r /tmp/old /tmp/new` then says what has changed.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use bedplate::app::program::command::{Command, SettingsCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::ids::{CardKey, DeckId};
use bedplate::domain::settings::ThemeChoice;
use eframe::egui::{Key, Shape, Vec2, epaint::ClippedShape};

use crate::app::demo::copied_now;
use crate::support::window::on;
use crate::ui::support::{Bench, SIZES};

/// What is done before a page is written down.
type Doing = fn(&mut Bench);

/// Cards that are laid on the sheet, asked and then answered.
const CARDS: [(&str, &str, Doing); 7] = [
    ("recall", "air-fuel-lubrication/compressor-before-start", |bench| {
        bench.text("oil level checked and cooling water on").key(Key::Enter);
    }),
    ("figure", "air-fuel-lubrication/delivery-air-temperature", |bench| {
        bench.text("104 degC").key(Key::Enter);
    }),
    ("why", "air-fuel-lubrication/delivery-pipe-fire", |bench| {
        bench.key(Key::Enter).key(Key::Enter).key(Key::Enter);
    }),
    ("sequence", "air-fuel-lubrication/charge-a-receiver", |bench| {
        bench.key(Key::Enter).key(Key::ArrowDown).key(Key::Enter).key(Key::F5);
    }),
    ("lineup", "air-fuel-lubrication/storage-to-settling", |bench| {
        bench.key(Key::ArrowRight).key(Key::Space).key(Key::Enter);
    }),
    ("working", "calculations/air-mass-in-receiver", |bench| {
        bench.text("12 kg").key(Key::Enter);
    }),
    ("point", "air-fuel-lubrication/compressor-second-suction", |bench| {
        bench.key(Key::ArrowRight).key(Key::Enter);
    }),
];

fn described(shapes: &[ClippedShape]) -> String {
    let mut out = String::new();
    for clipped in shapes {
        describe(&clipped.shape, &format!("{:.1?}", clipped.clip_rect), &mut out);
    }
    out
}

fn describe(shape: &Shape, clip: &str, out: &mut String) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| describe(shape, clip, out)),
        Shape::Text(text) => {
            let colours: Vec<_> =
                text.galley.job.sections.iter().map(|s| (s.format.color, &s.format.font_id)).collect();
            let (at, words) = (text.galley.rect.translate(text.pos.to_vec2()), text.galley.text());
            writeln!(out, "{clip} text {at:.1?} {words:?} {colours:?} {:?}", text.override_text_color).unwrap();
        }
        Shape::Rect(rect) => writeln!(out, "{clip} rect {:.1?} {:?} {:?}", rect.rect, rect.fill, rect.stroke).unwrap(),
        Shape::Mesh(mesh) => writeln!(out, "{clip} mesh {} {:.1?}", mesh.indices.len(), mesh.calc_bounds()).unwrap(),
        other => writeln!(out, "{clip} {other:.1?}").unwrap(),
    }
}

fn keep(bench: &Bench, home: &Path, folder: &Path, name: &str) {
    let painted = described(&bench.harness.output().shapes).replace(&*home.to_string_lossy(), "HOME");
    std::fs::write(folder.join(format!("{name}.txt")), painted).unwrap();
}

fn pages(folder: &Path, size: Vec2, theme: ThemeChoice, suffix: &str) {
    let key = |text: &str| text.split_once('/').map(|(deck, card)| CardKey::new(deck, card)).unwrap();
    let (home, app) = copied_now();
    let (mut bench, app) = on(app, size);
    let show = |bench: &mut Bench, command: Command, name: &str| {
        app.borrow_mut().handle(command);
        app.borrow_mut().settle();
        bench.harness.run();
        keep(bench, home.path(), folder, &format!("{name}-{suffix}"));
    };
    show(&mut bench, Command::Settings(SettingsCommand::SetTheme(theme)), "front");
    for (name, card, answer) in CARDS {
        show(&mut bench, Command::Watch(WatchCommand::StudyCards(vec![key(card)])), &format!("{name}-asked"));
        answer(&mut bench);
        keep(&bench, home.path(), folder, &format!("{name}-marked-{suffix}"));
        bench.key(Key::Questionmark);
        keep(&bench, home.path(), folder, &format!("{name}-keys-{suffix}"));
        bench.key(Key::Escape);
        show(&mut bench, Command::Watch(WatchCommand::Leave), &format!("{name}-left"));
    }
    for (name, route) in [
        ("competence", Route::Competence),
        ("knowing", Route::Knowing),
        ("plan", Route::Plan),
        ("library", Route::Library),
        ("deck", Route::Deck(DeckId("air-fuel-lubrication".to_owned()))),
        ("card", Route::Card(key(CARDS[2].1))),
        ("settings", Route::Settings),
        ("profiles", Route::Profiles),
        ("blueprint", Route::Blueprint),
        ("oral-front", Route::OralFront),
    ] {
        show(&mut bench, Command::Go(route), name);
    }
    bench.key(Key::Enter).key(Key::F7);
    keep(&bench, home.path(), folder, &format!("oral-turn-{suffix}"));
}

#[test]
#[ignore = "writes what is painted to the folder that FRAMES names, to be compared with another version's"]
fn the_main_pages_are_written_down() {
    let folder = PathBuf::from(std::env::var_os("FRAMES").expect("FRAMES names a folder"));
    std::fs::create_dir_all(&folder).unwrap();
    pages(&folder, SIZES[0], ThemeChoice::Sheet, "day");
    pages(&folder, SIZES[0], ThemeChoice::Night, "night");
    pages(&folder, SIZES[2], ThemeChoice::Sheet, "least");
}
