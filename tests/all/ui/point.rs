//! The point card in the window: answered by the pointer and by keys alone, right and wrong; nothing is named before
//! the answer; and it fits.

use bedplate::app::program::command::{CardCommand, Command, LibraryCommand, SettingsCommand, WatchCommand};
use bedplate::domain::answer::{Given, Pointed};
use bedplate::domain::outcome::Notch;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::kinds::AskedView;
use bedplate::present::stage::Stage;
use bedplate::ui::theme::{NIGHT, Palette, SHEET, night_tint};
use eframe::egui::accesskit::Role;
use eframe::egui::{Color32, Event, Key, Modifiers, PointerButton, Pos2, Rect, Vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::window::{Manned, Ship};
use crate::ui::look::{contrast, fits};
use crate::ui::support::{Bench, SIZES};

const CARD: &str = "find-it";

/// What is said where the drawing is not the one that its deck was read with.
const FAILED: &str =
    "The drawing pictures/fuel-line.svg has changed since its deck was read; have the decks read again in the library.";

fn laid(card: &str) -> Ship {
    let ship = Ship::new();
    ship.lay(card);
    ship
}

fn asked() -> Manned {
    laid(CARD).manned()
}

/// A card with this part given, after six seconds.
fn after(card: &str, given: &str) -> Ship {
    let ship = laid(card);
    ship.give(6, pointed_at(given));
    ship
}

/// A card whose drawing was changed after its deck was read.
fn failed() -> Ship {
    let ship = Ship::new();
    spoil(&ship);
    ship.lay(CARD);
    ship
}

fn spoil(ship: &Ship) {
    let file = ship.home.path().join("decks/marram-light/pictures/fuel-line.svg");
    let drawing = std::fs::read_to_string(&file).expect("the drawing");
    std::fs::write(file, drawing.replace("M200 220H700", "M200 221H700")).expect("changed");
}

fn pointed_at(part: &str) -> Given {
    Given::Pointed(Pointed::Part(part.to_owned()))
}

/// The commands given, less those that say where the drawing goes.
fn commands(bench: &Bench) -> Vec<Command> {
    bench.commands().into_iter().filter(|command| !matches!(command, Command::Card(CardCommand::DrawFor(_)))).collect()
}

/// Where the drawing stands.
fn place(bench: &Bench) -> Rect {
    bench.harness.get_by_role_and_label(Role::Image, "Drawing: pictures/fuel-line.svg").rect()
}

/// A point of the drawing, in its units, as a point of the window.
fn window(bench: &Bench, x: f32, y: f32) -> Pos2 {
    let place = place(bench);
    place.min + Vec2::new(x / 800.0, y / 360.0) * place.size()
}

fn click(bench: &mut Bench, at: Pos2) {
    bench.harness.event(Event::PointerMoved(at));
    bench.harness.run();
    for pressed in [true, false] {
        let modifiers = Modifiers::NONE;
        bench.harness.event(Event::PointerButton { pos: at, button: PointerButton::Primary, pressed, modifiers });
        bench.harness.run();
    }
}

/// Everything that is said on the page, painted or to assistive technology.
fn said(bench: &Bench) -> String {
    let nodes = bench.harness.query_all_by(|_| true);
    let texts = nodes.flat_map(|n| {
        let node = n.accesskit_node();
        [node.label(), node.value(), node.description()]
    });
    let painted = bench.painted().into_iter().map(|(_, _, text)| text);
    texts.flatten().chain(painted).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_part_is_found_by_a_click_on_it() {
    let mut bench = asked();
    // In the left triangle of the valve.
    let at = window(&bench, 247.0, 220.0);
    click(&mut bench, at);
    let commands = commands(&bench);
    let [Command::Card(CardCommand::Submit(Given::Pointed(Pointed::At([x, y]))))] = commands.as_slice() else {
        panic!("{commands:?}")
    };
    assert!((x - 247.0).abs() < 1.0 && (y - 220.0).abs() < 1.0, "{x} {y}");
    for words in ["Found", "You pointed to the quick-closing valve.", "A burning space is left at once"] {
        assert!(said(&bench).contains(words), "{words}");
    }
    bench.harness.get_by_role_and_label(Role::Button, "Part 4 of 9: quick-closing valve, the right one");
    bench.key(Key::Space);
    assert_eq!(super::point::commands(&bench), [Command::Card(CardCommand::Accept)]);
}

#[test]
fn a_wrong_part_is_named_and_the_right_one_shown() {
    let mut bench = asked();
    let at = window(&bench, 120.0, 279.0);
    click(&mut bench, at);
    assert!(matches!(commands(&bench)[..], [Command::Card(CardCommand::Submit(_))]));
    for words in [
        "Not found",
        "You pointed to the drain cock, not to the quick-closing valve.",
        "Drain cock: not this",
        "Quick-closing valve: this one",
    ] {
        assert!(said(&bench).contains(words), "{words}");
    }
    bench.key(Key::Plus);
    assert_eq!(commands(&bench), [Command::Card(CardCommand::SetNotch(Notch::Up))]);
    bench.key(Key::A).key(Key::G);
    assert!(
        matches!(commands(&bench)[..], [Command::Library(LibraryCommand::SetAside { .. })]),
        "set aside as on other cards"
    );
}

#[test]
fn a_click_beside_every_part_is_no_answer() {
    let mut bench = asked();
    for (x, y) in [(500.0, 60.0), (20.0, 340.0), (735.0, 200.0)] {
        let at = window(&bench, x, y);
        click(&mut bench, at);
    }
    assert_eq!(commands(&bench), []);
    bench.key(Key::Enter);
    assert_eq!(commands(&bench), [], "and Enter with nothing chosen is none");
}

#[test]
fn the_parts_are_stepped_through_by_keys_and_not_named_before_the_answer() {
    let mut bench = asked();
    let Stage::Asked(AskedView::Point(view)) = bench.ship.card().stage else { panic!("asked") };
    let names: Vec<String> = view.drawing.drawing.parts.iter().map(|part| part.name.clone()).collect();
    assert_eq!(names.len(), 9);
    let named = |bench: &Bench| names.iter().find(|name| said(bench).contains(name.as_str())).cloned();
    assert_eq!(named(&bench), None);
    for n in 1..=9 {
        bench.key(Key::ArrowRight);
        let label = format!("Part {n} of 9");
        let node = bench.harness.get_by_role_and_label(Role::Button, &label);
        assert!(node.accesskit_node().is_focused(), "part {n} has the focus");
        assert_eq!(node.accesskit_node().is_selected(), Some(true));
        assert!(bench.shows(&format!("Part {n} of 9")));
        assert_eq!(named(&bench), None, "part {n}");
    }
    bench.key(Key::ArrowRight).key(Key::ArrowRight).key(Key::ArrowLeft).key(Key::ArrowLeft).key(Key::ArrowUp);
    bench.harness.get_by_role_and_label(Role::Button, "Part 8 of 9");
    assert!(bench.shows("Part 8 of 9"), "round, and back");
    bench.key(Key::ArrowDown).key(Key::Enter);
    assert_eq!(commands(&bench), [Command::Card(CardCommand::Submit(pointed_at("drain-cock")))]);
    assert!(said(&bench).contains("Drain cock: not this"));
    // Now they may be learnt.
    bench.key(Key::ArrowRight).key(Key::ArrowRight);
    assert!(bench.shows("Part 2 of 9: vent head.") && bench.shows("Vent head"));
    bench.key(Key::Enter);
    assert_eq!(commands(&bench), [], "Enter, which marked, does not accept");
    bench.key(Key::Space);
    assert_eq!(commands(&bench), [Command::Card(CardCommand::Accept)], "Space does, with a part in focus too");
}

#[test]
fn tab_leads_to_the_parts_too_and_their_looks_are_told() {
    let mut bench = asked();
    let mut seen = Vec::new();
    for _ in 0..40 {
        bench.key(Key::Tab);
        let nodes = bench.harness.query_all_by(|n| n.is_focused());
        let focused: Vec<(String, Option<String>)> = nodes
            .filter_map(|n| Some((n.accesskit_node().label()?, n.accesskit_node().description())))
            .filter(|(label, _)| label.starts_with("Part "))
            .collect();
        seen.extend(focused);
        if seen.len() == 4 {
            break;
        }
    }
    let labels: Vec<&str> = seen.iter().map(|(label, _)| label.as_str()).collect();
    assert_eq!(labels, ["Part 1 of 9", "Part 2 of 9", "Part 3 of 9", "Part 4 of 9"]);
    assert_eq!(seen[3].1.as_deref(), Some("two triangles close to the large box, with a broken line going up"));
    bench.key(Key::Enter);
    assert_eq!(commands(&bench), [Command::Card(CardCommand::Submit(pointed_at("quick-closing-valve")))]);
}

#[test]
fn a_screen_reader_can_choose_a_part() {
    let mut bench = asked();
    bench.harness.get_by_role_and_label(Role::Button, "Part 3 of 9").click_accesskit();
    bench.harness.run();
    assert!(bench.shows("Part 3 of 9"));
    bench.key(Key::Enter);
    assert_eq!(commands(&bench), [Command::Card(CardCommand::Submit(pointed_at("supply-pipe")))]);
}

#[test]
fn escape_lets_go_of_the_part_and_then_leaves_the_watch() {
    let mut bench = asked();
    bench.key(Key::ArrowRight).key(Key::Escape);
    assert_eq!(commands(&bench), []);
    assert!(!bench.shows("Part 1 of 9"));
    bench.key(Key::Enter);
    assert_eq!(commands(&bench), []);
    bench.key(Key::Escape);
    assert_eq!(commands(&bench), [Command::Watch(WatchCommand::Leave)]);
}

#[test]
fn a_piece_of_the_part_is_right_and_the_whole_around_it_is_not() {
    let piece = after("find-the-filter", "left-chamber").manned();
    assert!(said(&piece).contains("You pointed to the left filter chamber, a piece of the duplex filter."));
    assert!(said(&piece).contains("Left filter chamber, a piece of it"));
    let whole = after("find-the-chamber", "duplex-filter").manned();
    assert!(said(&whole).contains("You pointed to the duplex filter, not to the left filter chamber."));
}

#[test]
fn what_the_pointer_is_over_lights_up_without_a_name() {
    let mut bench = asked();
    let meshes = |bench: &Bench| {
        let shapes = &bench.harness.output().shapes;
        shapes.iter().filter(|s| matches!(&s.shape, eframe::egui::Shape::Mesh(_))).count()
    };
    let before = meshes(&bench);
    let at = window(&bench, 580.0, 220.0);
    bench.harness.event(Event::PointerMoved(at));
    bench.harness.run();
    assert_eq!(meshes(&bench), before + 2, "a rim and a veil");
    assert!(!said(&bench).contains("supply pump"));
    let beside = window(&bench, 500.0, 60.0);
    bench.harness.event(Event::PointerMoved(beside));
    bench.harness.run();
    assert_eq!(meshes(&bench), before);
}

#[test]
fn it_is_drawn_for_its_place_once_and_again_when_the_window_or_the_theme_is_another() {
    let places = |bench: &Bench| {
        let all = bench.commands().into_iter();
        all.filter_map(|c| if let Command::Card(CardCommand::DrawFor(place)) = c { Some(place) } else { None })
            .collect::<Vec<_>>()
    };
    let mut bench = asked();
    // The very first frame is drawn before the theme is known.
    let first = *places(&bench).last().expect("once");
    let on_sheet = place(&bench).size();
    assert_eq!([first.width as f32, first.height as f32], [on_sheet.x, on_sheet.y], "dot for dot");
    assert_eq!(first.tint, None);
    bench.key(Key::ArrowRight).key(Key::Enter);
    assert_eq!(places(&bench), [], "marked, it stands as it stood");
    assert_eq!(place(&bench).size(), on_sheet);
    bench.harness.set_size(SIZES[1]);
    bench.harness.run();
    let [second] = places(&bench)[..] else { panic!("once more") };
    assert!(second.width < first.width);
    let of = |command: Command| {
        let ship = laid(CARD);
        ship.run(command);
        ship.manned()
    };
    let night = of(Command::Settings(SettingsCommand::SetTheme(ThemeChoice::Night)));
    assert_eq!(places(&night).last().and_then(|place| place.tint), Some(night_tint()));
    let large = of(Command::Settings(SettingsCommand::SetScale(200)));
    let place_of_large = *places(&large).last().expect("once");
    let on_sheet = place(&large).size() * 2.0;
    assert_eq!([place_of_large.width as f32, place_of_large.height as f32], [on_sheet.x, on_sheet.y]);
}

#[test]
fn a_drawing_that_cannot_be_shown_says_so_and_the_card_can_be_set_aside() {
    let mut bench = failed().manned();
    bench.harness.get_by_label(FAILED);
    bench.key(Key::A).key(Key::Enter);
    assert!(matches!(commands(&bench)[..], [Command::Library(LibraryCommand::SetAside { .. })]));
}

#[test]
fn at_every_size_and_stage_it_fits() {
    let ship = Ship::new();
    let give = |card: &str, part: &str| {
        ship.lay(card).give(6, pointed_at(part));
    };
    type Bring<'a> = &'a dyn Fn();
    let stages: [(&str, Bring); 7] = [
        ("point asked", &|| {
            ship.lay(CARD);
        }),
        ("point right", &|| give(CARD, "quick-closing-valve")),
        ("point wrong", &|| give(CARD, "drain-cock")),
        ("point near", &|| give("find-the-chamber", "right-chamber")),
        ("point piece", &|| give("find-the-filter", "left-chamber")),
        ("point remedy", &|| {
            ship.remedy(CARD);
        }),
        // The last one: the drawing stays spoilt until the decks are read again.
        ("point failed", &|| {
            spoil(&ship);
            ship.lay(CARD);
        }),
    ];
    for (name, bring) in stages {
        bring();
        for theme in [ThemeChoice::Sheet, ThemeChoice::Night] {
            ship.run(Command::Settings(SettingsCommand::SetTheme(theme)));
            for size in SIZES {
                fits(&ship.window(size), name, size);
            }
        }
    }
}

#[test]
fn the_outcome_stays_in_sight_whatever_the_size() {
    let ship = after(CARD, "drain-cock");
    for size in SIZES {
        let bench = ship.window(size);
        let seen = bench
            .painted()
            .iter()
            .any(|(rect, clip, text)| text.starts_with("Missed") && clip.contains_rect(rect.shrink(2.0)));
        assert!(seen, "{size:?}");
    }
}

#[test]
#[allow(clippy::disallowed_methods, reason = "the tests of colours name colours")]
fn at_night_a_drawing_is_turned_into_the_nights_colours() {
    let turned = |color: Color32| {
        let [r, g, b] = night_tint().of([color.r(), color.g(), color.b()].map(f32::from));
        Color32::from_rgb(r.round() as u8, g.round() as u8, b.round() as u8)
    };
    assert_eq!((turned(SHEET.ink), turned(SHEET.sheet)), (NIGHT.ink, NIGHT.sheet), "exactly");
    type Role = fn(&Palette) -> Color32;
    let roles: [(&str, Role, f64); 6] = [
        ("second ink", |p| p.ink_second, 4.5),
        ("line", |p| p.line, 3.0),
        ("bronze", |p| p.bronze, 4.5),
        ("sea", |p| p.sea, 4.5),
        ("amber", |p| p.amber, 4.5),
        ("red lead", |p| p.red_lead, 4.5),
    ];
    for (name, role, least) in roles {
        let ratio = contrast(turned(role(&SHEET)), NIGHT.sheet);
        assert!(ratio >= least, "{name} becomes {:?}, {ratio:.2}", turned(role(&SHEET)));
        // Its hue is kept: the channel that is most stays most, and the one that is least stays least.
        let order = |c: Color32| {
            let mut channels = [(c.r(), 0), (c.g(), 1), (c.b(), 2)];
            channels.sort();
            channels.map(|(_, n)| n)
        };
        if ["bronze", "sea", "red lead"].contains(&name) {
            assert_eq!(order(turned(role(&SHEET))), order(role(&SHEET)), "{name}");
        }
    }
    // The brown of fuel pipes (ISO 14726, as LOOK gives it).
    assert!(contrast(turned(Color32::from_rgb(0x7A, 0x4B, 0x22)), NIGHT.sheet) >= 3.0);
    // What is half see-through is turned as what it is made of: over the night's sheet it is half way.
    let mut dots = [SHEET.ink, SHEET.ink.gamma_multiply(0.5), Color32::TRANSPARENT].map(|c| c.to_array()).concat();
    night_tint().apply(&mut dots);
    assert_eq!(&dots[..4], &NIGHT.ink.to_array());
    for n in 0..3 {
        let half = f32::from(NIGHT.ink.to_array()[n]) * f32::from(dots[7]) / 255.0;
        assert!((f32::from(dots[4 + n]) - half).abs() <= 1.5, "{dots:?}");
    }
    assert_eq!(&dots[8..], &[0; 4]);
}
