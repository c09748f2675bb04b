//! A point card in a watch: drawn off the frame, answered, kept; its page in the library; told in the terminal by how
//! its parts look, or passed over there.

use std::fs;
use std::path::Path;
use std::process::Command as Process;

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::{Given, Pointed};
use bedplate::domain::day::Instant;
use bedplate::domain::ids::CardKey;
use bedplate::present::View;
use bedplate::present::drawing::{DrawingPlace, DrawingState, DrawingView, Tint};
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::library::AnswerView;
use bedplate::present::stage::Marked;
use bedplate::present::stage::Stage;

use crate::support::decks;
use crate::support::home;
use crate::support::terminal::Dialogue;
use crate::support::time::MORNING;
use crate::support::window::FUEL_LINE;

fn write(folder: &Path, id: &str, cards: &str) {
    decks::write_into(folder, id, 999, cards);
    fs::create_dir_all(folder.join("pictures")).expect("a folder");
    fs::write(folder.join("pictures/fuel-line.svg"), FUEL_LINE).expect("written");
    fs::write(folder.join("pictures/bare.svg"), bare()).expect("written");
}

/// The drawing with nothing said of how its parts look.
fn bare() -> String {
    let mut bare = FUEL_LINE.to_owned();
    while let (Some(from), Some(to)) = (bare.find("<desc>"), bare.find("</desc>")) {
        bare.replace_range(from..to + "</desc>".len(), "");
    }
    bare
}

fn point(id: &str, drawing: &str) -> String {
    format!(
        "[[point]]\nid = \"{id}\"\ntopic = \"A-III/1.1.5\"\nask = \"Point to the valve that is {id}.\"\n\
         drawing = \"pictures/{drawing}\"\npart = \"quick-closing-valve\"\nbecause = \"It is shut from outside.\"\n\
         sources = [\"practice\"]\nseconds = 8\n\n"
    )
}

/// A home in which these cards are all there is to study: the decks of the program are all but empty.
fn home(cards: &str) -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a folder");
    let bundled = fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("decks")).expect("the decks");
    for entry in bundled.flatten().filter(|entry| entry.path().is_dir()) {
        let id = entry.file_name().to_string_lossy().into_owned();
        let figure = format!(
            "[[figure]]\nid = \"one\"\ntopic = \"A-III/1.4.1\"\nask = \"How many decks are called {id}?\"\n\
             value = \"1\"\nsources = [\"practice\"]\n"
        );
        write(&home.path().join("decks").join(&id), &id, &figure);
    }
    write(&home.path().join("decks/ours"), "ours", cards);
    home
}

fn start(home: &Path) -> App {
    let mut app = home::settled(home::setup(home, "e-dunmore", Some("E. Dunmore"), home::stopped(Instant(MORNING))));
    app.command(home::first_run(30, true));
    app.settle();
    app
}

/// Answers cards until a point stands on the sheet.
fn to_the_point(app: &mut App) {
    for _ in 0..40 {
        let View::WatchCard(card) = &app.view().view.clone() else { panic!("the watch has ended") };
        match &card.stage {
            Stage::Asked(AskedView::Point(_)) => return,
            Stage::Asked(AskedView::Figure(_)) => {
                app.command(Command::Card(CardCommand::Submit(Given::Text("1".into()))))
            }
            _ => app.command(Command::Card(CardCommand::Accept)),
        }
        app.settle();
    }
    panic!("no point came");
}

fn stage(app: &mut App) -> Stage {
    match &app.view().view {
        View::WatchCard(card) => card.stage.clone(),
        other => panic!("no card: {other:?}"),
    }
}

fn drawing(app: &mut App) -> DrawingView {
    match stage(app) {
        Stage::Asked(AskedView::Point(view)) => view.drawing,
        Stage::Marked(Marked { view: MarkedView::Point(view), .. }) => view.drawing,
        other => panic!("no point: {other:?}"),
    }
}

const PLACE: DrawingPlace = DrawingPlace { width: 400, height: 180, rim: 2.0, tint: None };

#[test]
fn it_is_drawn_for_the_place_that_is_said_and_again_for_another() {
    let home = home(&point("quick", "fuel-line.svg"));
    let mut app = start(home.path());
    to_the_point(&mut app);
    app.settle();
    assert!(matches!(drawing(&mut app).state, DrawingState::Loading), "nobody has said where it goes");
    app.command(Command::Card(CardCommand::DrawFor(PLACE)));
    assert!(matches!(drawing(&mut app).state, DrawingState::Loading), "never on the frame");
    app.settle();
    let DrawingState::Ready(first) = drawing(&mut app).state else { panic!("drawn") };
    assert_eq!((first.image.width, first.image.height, first.place), (400, 180, PLACE));
    assert_eq!(first.marks.len(), 9);
    // The tank (40..200 by 40..260 of 800 by 360) covers 80 by 110 dots, and its mark has room for its rim.
    let tank = first.marks[0].as_ref().expect("it is on the drawing");
    assert!(tank.place[0] < 20.0 && tank.place[0] > 14.0 && tank.place[2] > 84.0 && tank.place[2] < 94.0, "{tank:?}");
    let middle = (tank.height / 2 * tank.width + tank.width / 2) as usize;
    assert_eq!((tank.inside[middle], tank.rim[middle]), (255, 0));
    assert!(tank.rim.contains(&255), "and a rim");
    // At another place, in other colours: the old one stands until the new one has come.
    let dark = Tint([[0.0, 0.0, 0.0, 200.0]; 3]);
    let other = DrawingPlace { width: 800, height: 360, tint: Some(dark), ..PLACE };
    app.command(Command::Card(CardCommand::DrawFor(other)));
    assert_eq!(drawing(&mut app).state, DrawingState::Ready(first));
    app.settle();
    let DrawingState::Ready(second) = drawing(&mut app).state else { panic!("drawn") };
    let dot = |x: usize, y: usize| &second.image.rgba[4 * (800 * y + x)..][..4];
    assert_eq!(dot(100, 100), [200, 200, 200, 255], "tinted");
    assert_eq!(dot(500, 30), [0; 4], "on nothing");
}

#[test]
fn it_is_answered_and_kept_with_where_one_pointed() {
    let home = home(&point("quick", "fuel-line.svg"));
    let mut app = start(home.path());
    to_the_point(&mut app);
    app.command(Command::Card(CardCommand::DrawFor(PLACE)));
    app.command(Command::Card(CardCommand::Submit(Given::Pointed(Pointed::At([120.0, 279.0])))));
    let Stage::Marked(Marked { view: MarkedView::Point(marked), .. }) = stage(&mut app) else { panic!("marked") };
    assert_eq!((marked.hit, marked.target, marked.pointed), (false, 3, Some(8)));
    assert_eq!(marked.reason, "You pointed to the drain cock, not to the quick-closing valve.");
    app.command(Command::Card(CardCommand::Accept));
    app.settle();
    let key = CardKey::new("ours", "quick");
    app.command(Command::Go(Route::Card(key)));
    app.settle();
    let View::Card(page) = &app.view().view.clone() else { panic!("its page") };
    assert_eq!(page.history.len(), 1, "one attempt");
    let shown = page.shown.clone().expect("the page shows the part");
    assert_eq!(shown.part, 3);
    let detail = "Two triangles close to the large box, with a broken line going up.".to_owned();
    assert_eq!(page.answer, AnswerView::Part { name: "Quick-closing valve".to_owned(), detail });
    assert!(matches!(shown.drawing.state, DrawingState::Ready(_)));
    drop(app);
    let files = fs::read_dir(home.path().join("profiles/e-dunmore")).expect("the profile").flatten();
    let texts = files.filter_map(|file| fs::read(file.path()).ok());
    let kept = |bytes: &Vec<u8>| String::from_utf8_lossy(bytes).contains("\"at\":[120.0,279.0]");
    assert!(texts.into_iter().any(|bytes| kept(&bytes)), "the evidence holds the point");
}

#[test]
fn a_drawing_that_has_changed_since_the_deck_was_read_is_not_shown() {
    let home = home(&point("quick", "fuel-line.svg"));
    let mut app = start(home.path());
    to_the_point(&mut app);
    let file = home.path().join("decks/ours/pictures/fuel-line.svg");
    fs::write(&file, FUEL_LINE.replace("translate(260 220)", "translate(300 220)")).expect("written");
    app.command(Command::Card(CardCommand::DrawFor(PLACE)));
    app.settle();
    let DrawingState::Failed(sentence) = drawing(&mut app).state else { panic!("its parts lie elsewhere now") };
    assert!(sentence.contains("has changed since its deck was read"), "{sentence}");
    fs::remove_file(&file).expect("removed");
    app.command(Command::Card(CardCommand::DrawFor(DrawingPlace { width: 200, ..PLACE })));
    app.settle();
    let DrawingState::Failed(sentence) = drawing(&mut app).state else { panic!("it has gone") };
    assert!(sentence.contains("is no longer in the deck's folder"), "{sentence}");
}

#[test]
fn in_the_terminal_a_part_is_chosen_by_its_look_and_a_card_without_looks_is_passed_over() {
    let home = home(&(point("quick", "fuel-line.svg") + &point("bare", "bare.svg")));
    let mut dialogue = Dialogue::in_home(home);
    let first = dialogue.read();
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat(&first).contains("One card is passed over, since one must point at a drawing"), "{first}");
    let mut asked = first;
    while !asked.ends_with("part: ") {
        assert!(!asked.is_empty(), "the point is asked before the watch ends");
        asked = dialogue.say(if asked.ends_with("> ") { "1" } else { "" });
    }
    assert!(asked.contains("The drawing cannot be shown here.") && !asked.contains("that is bare"), "{asked}");
    assert!(!asked.contains("quick-closing valve") && !asked.contains("drain cock"), "nothing is named: {asked}");
    let numbered = |look: &str| {
        let line = asked.lines().find(|line| line.contains(look)).unwrap_or_else(|| panic!("{look}: {asked}"));
        line.split_whitespace().next().expect("a number").to_owned()
    };
    assert!(dialogue.say("ten").contains("Type one number from 1 to 9."));
    let told = flat(&dialogue.say(&numbered("under the large box")));
    assert!(told.contains("You pointed to the drain cock, not to the quick-closing valve."), "{told}");
    assert!(told.contains("Quick-closing valve: two triangles close to the large box"), "{told}");
    let rest = dialogue.say("");
    assert!(rest.contains("Kept."), "{rest}");
}

#[test]
fn bedplate_try_marks_points_and_parts() {
    let home = home(&point("quick", "fuel-line.svg"));
    let call = |answer: &str| {
        let out = Process::new(env!("CARGO_BIN_EXE_bedplate"))
            .arg("try")
            .arg(home.path().join("decks/ours"))
            .args(["quick", "--answer", answer])
            .output()
            .expect("it runs");
        let text = if out.status.success() { out.stdout } else { out.stderr };
        (out.status.code(), String::from_utf8(text).expect("UTF-8"))
    };
    for (answer, outcome, hit, part, reason) in [
        (
            r#"{"at": [247, 220]}"#,
            "answered",
            true,
            "\"quick-closing-valve\"",
            "You pointed to the quick-closing valve.",
        ),
        (r#"{"at": [247, 220], "seconds": 8}"#, "fluent", true, "\"quick-closing-valve\"", "You pointed to"),
        (r#"{"at": [600.5, 2.2e2]}"#, "missed", false, "\"supply-pump\"", "You pointed to the supply pump, not"),
        (r#"{"at": [500, 60]}"#, "missed", false, "null", "There is no part there; look for the quick-closing valve."),
        (r#"{"at": [-1, 1e300]}"#, "missed", false, "null", "That lies outside the drawing."),
        (
            r#"{"part": "quick-closing-valve", "seconds": 9}"#,
            "answered",
            true,
            "\"quick-closing-valve\"",
            "You pointed to",
        ),
        (
            r#"{"part": "vent"}"#,
            "missed",
            false,
            "\"vent\"",
            "You pointed to the vent head, not to the quick-closing valve.",
        ),
    ] {
        let (code, text) = call(answer);
        assert_eq!(code, Some(0), "{answer}: {text}");
        for words in [
            "\"kind\": \"point\"".to_owned(),
            format!("\"outcome\": \"{outcome}\""),
            format!("\"hit\": {hit}"),
            format!("\"part\": {part}"),
            format!("\"reason\": \"{reason}"),
        ] {
            assert!(text.contains(&words), "{answer}: no {words} in {text}");
        }
    }
    for (answer, words) in [
        (r#"{"part": "qcv"}"#, "the drawing has no part `qcv`; its parts are `service-tank`"),
        (r#"{"at": [1]}"#, "`at` must be two numbers"),
        (r#"{"at": [1, null]}"#, "`at` must be two numbers"),
        (r#"{"at": "1, 2"}"#, "`at` must be two numbers"),
        (r#"{"part": 3}"#, "`part` must be the id of a part"),
        (r#"{"at": [1, 2], "part": "vent"}"#, "at once"),
        (r#"{"text": "the valve"}"#, "a point card is answered with `at` or `part`"),
    ] {
        let (code, text) = call(answer);
        assert_eq!(code, Some(2), "{answer}: {text}");
        assert!(text.contains(words), "{answer}: {text}");
    }
}
