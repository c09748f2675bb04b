//! Pictures in the window: found by role and name, fitted, made once, given back; and the two states without one.

use std::fs;
use std::path::PathBuf;

use bedplate::app::program::command::{CardCommand, Command, LibraryCommand, SettingsCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::{PictureState, ShellView, View};
use bedplate::ui::theme::{NIGHT, SHEET};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Rect, Shape, TextureId};
use egui_kittest::kittest::Queryable;
use image::{Rgba, RgbaImage};

use crate::support::window::{Ship, drawn, key};
use crate::ui::support::{Bench, SIZES};

const NAME: &str = "Picture: pictures/priming pump.png";
/// What is said of a picture that was there when its deck was read.
const FAILED: &str = "The picture pictures/priming pump.png is no longer in the deck's folder; put it there again.";
/// A recall card with a picture as large as one may be.
pub const PICTURED: &str = "sea-suctions";

/// The file of the ship's picture.
fn file(ship: &Ship) -> PathBuf {
    ship.home.path().join("decks/marram-light/pictures/priming pump.png")
}

/// Takes the picture out of its deck's folder.
pub fn take_away(ship: &Ship) {
    fs::remove_file(file(ship)).expect("it is there");
}

/// The card on the sheet as it stands until its picture has been read.
pub fn loading(ship: &Ship) -> ShellView {
    let mut card = ship.card();
    card.picture.as_mut().expect("a picture").state = PictureState::Loading;
    // A view by itself has no clock that would move on.
    card.clock_runs = false;
    ShellView { view: View::WatchCard(Box::new(card)), ..(*ship.view()).clone() }
}

fn pictured() -> Ship {
    let ship = Ship::new();
    ship.lay(PICTURED);
    ship
}

/// Where pictures are painted: their textures, places and tints; the faces' own texture is none of them.
fn painted(bench: &Bench) -> Vec<(TextureId, Rect, eframe::egui::Color32)> {
    let mut found = Vec::new();
    for clipped in &bench.harness.output().shapes {
        if let Shape::Mesh(mesh) = &clipped.shape
            && mesh.texture_id != TextureId::default()
        {
            found.push((mesh.texture_id, mesh.calc_bounds(), mesh.vertices[0].color));
        }
    }
    found
}

#[test]
fn a_picture_has_its_role_and_name_asked_marked_and_in_the_library() {
    let ship = Ship::new();
    type Bring<'a> = &'a dyn Fn();
    let places: [Bring; 3] = [
        &|| {
            ship.lay(PICTURED);
        },
        &|| {
            ship.run(Command::Card(CardCommand::ShowPoints));
        },
        &|| {
            ship.go(Route::Card(key(PICTURED)));
        },
    ];
    for bring in places {
        bring();
        let bench = ship.window(SIZES[0]);
        bench.harness.get_by_role_and_label(Role::Image, NAME);
        assert_eq!(painted(&bench).len(), 1);
    }
    ship.lay("priming-pump");
    assert!(ship.window(SIZES[0]).harness.query_by_role(Role::Image).is_none(), "a card without one has none");
}

#[test]
fn it_is_fitted_without_being_stretched_and_small_ones_stay_small() {
    let ship = Ship::new();
    for (width, height) in [(300, 640), (1_440, 20), (40, 30), (1, 1), (1_440, 640)] {
        RgbaImage::from_pixel(width, height, Rgba([0, 0, 0, 255])).save(file(&ship)).expect("written");
        ship.run(Command::Library(LibraryCommand::RereadDecks)).lay(PICTURED);
        for size in SIZES {
            let bench = ship.window(size);
            let place = painted(&bench)[0].1;
            let mount = bench.harness.get_by_role_and_label(Role::Image, NAME).rect();
            assert!(mount.contains_rect(place), "{place:?} on {mount:?}");
            assert!(mount.width() <= 720.0 && mount.height() <= 336.0 && mount.height() <= size.y * 0.45, "{mount:?}");
            assert!(place.width() <= width as f32 && place.height() <= height as f32, "never larger than its dots");
            let same = place.width() * height as f32 - place.height() * width as f32;
            // To the dot of the screen, on either side.
            assert!(same.abs() <= (width + height) as f32, "{width} x {height} became {place:?}");
        }
    }
    let bench = ship.window(SIZES[0]);
    assert!(painted(&bench)[0].1.size().x > 680.0, "as wide as the column allows: {:?}", painted(&bench)[0].1);
}

#[test]
fn its_mount_is_light_in_both_themes_and_tints_it() {
    let ship = pictured();
    for (theme, palette) in [(ThemeChoice::Sheet, &SHEET), (ThemeChoice::Night, &NIGHT)] {
        ship.run(Command::Settings(SettingsCommand::SetTheme(theme)));
        let bench = ship.window(SIZES[0]);
        assert_eq!(painted(&bench)[0].2, palette.mount);
        let [r, g, b, _] = palette.mount.to_array();
        assert!(r.min(g).min(b) > 200, "black lines can be read on it");
    }
}

#[test]
fn its_texture_is_made_once_and_given_back_when_the_card_leaves() {
    let mut bench = pictured().manned();
    let live = |bench: &Bench| bench.harness.ctx.tex_manager().read().num_allocated();
    let first = painted(&bench)[0].0;
    let with_one = live(&bench);
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::ShowPoints)]);
    assert_eq!(painted(&bench)[0].0, first, "marked, with the same texture");
    assert_eq!(live(&bench), with_one);
    bench.harness.run_steps(5);
    assert_eq!(live(&bench), with_one);
    bench.key(Key::Escape);
    assert!(bench.commands().contains(&Command::Watch(WatchCommand::Leave)));
    bench.harness.run_steps(2);
    assert!(painted(&bench).is_empty());
    assert_eq!(live(&bench), with_one - 1, "given back");
}

#[test]
fn while_it_is_read_and_where_it_cannot_be_shown_a_sentence_stands_there() {
    let ship = pictured();
    let bench = drawn(loading(&ship), SIZES[0]);
    bench.harness.get_by_label("The picture pictures/priming pump.png is being read.");
    assert!(painted(&bench).is_empty());
    take_away(&ship);
    ship.run(Command::Watch(WatchCommand::Leave)).lay(PICTURED);
    for size in [SIZES[0], SIZES[2]] {
        let bench = ship.window(size);
        bench.harness.get_by_label(FAILED);
        assert!(painted(&bench).is_empty());
    }
}
