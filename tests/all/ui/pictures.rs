//! Pictures in the window: found by role and name, fitted, made once, given back; and the two states without one.

use std::sync::Arc;

use bedplate::app::command::Command;
use bedplate::app::route::Route;
use bedplate::domain::answer::Given;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::{Image, PictureState, PictureView};
use bedplate::ui::theme::{NIGHT, SHEET};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Rect, Shape, TextureId, Vec2};
use egui_kittest::kittest::Queryable;

use crate::ui::sample::{SampleProgram, key};
use crate::ui::support::{Bench, SIZES};

const NAME: &str = "Picture: pictures/priming pump.svg";
/// A picture that cannot be shown, in its sentence.
pub const FAILED: &str = "The picture pictures/priming pump.svg is no longer in the deck's folder; put it there again.";

/// The program with a picture in this state on its cards.
pub fn with(mut program: SampleProgram, state: PictureState) -> SampleProgram {
    program.sample.picture = Some(PictureView { name: "pictures/priming pump.svg".to_owned(), state });
    program
}

/// The program with a picture of the largest size on its cards.
pub fn pictured(program: SampleProgram) -> SampleProgram {
    with(program, PictureState::Ready(image(1_440, 640)))
}

fn image(width: u32, height: u32) -> Arc<Image> {
    let rgba = [0, 0, 0, 255].repeat((width * height) as usize);
    Arc::new(Image { width, height, rgba })
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
    let mut marked = SampleProgram::on(0);
    marked.on_card.given = Some(Given::Said(vec![]));
    for program in [SampleProgram::on(0), marked, SampleProgram::at(Route::Card(key("sea-suctions")))] {
        let bench = Bench::of(pictured(program));
        bench.harness.get_by_role_and_label(Role::Image, NAME);
        assert_eq!(painted(&bench).len(), 1);
    }
    let bench = Bench::of(SampleProgram::on(0));
    assert!(bench.harness.query_by_role(Role::Image).is_none(), "a card without one has none");
}

#[test]
fn it_is_fitted_without_being_stretched_and_small_ones_stay_small() {
    for size in SIZES {
        for (width, height) in [(1_440, 640), (300, 640), (1_440, 20), (40, 30), (1, 1)] {
            let program = with(SampleProgram::on(0), PictureState::Ready(image(width, height)));
            let bench = Bench::sized(program, size);
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
    let bench = Bench::of(pictured(SampleProgram::on(0)));
    assert!(painted(&bench)[0].1.size().x > 680.0, "as wide as the column allows: {:?}", painted(&bench)[0].1);
}

#[test]
fn its_mount_is_light_in_both_themes_and_tints_it() {
    for (theme, palette) in [(ThemeChoice::Sheet, &SHEET), (ThemeChoice::Night, &NIGHT)] {
        let mut program = pictured(SampleProgram::on(0));
        program.sample.settings.theme = theme;
        let bench = Bench::of(program);
        assert_eq!(painted(&bench)[0].2, palette.mount);
        let [r, g, b, _] = palette.mount.to_array();
        assert!(r.min(g).min(b) > 200, "black lines can be read on it");
    }
}

#[test]
fn its_texture_is_made_once_and_given_back_when_the_card_leaves() {
    let mut bench = Bench::of(pictured(SampleProgram::on(0)));
    let live = |bench: &Bench| bench.harness.ctx.tex_manager().read().num_allocated();
    let first = painted(&bench)[0].0;
    let with_one = live(&bench);
    bench.key(Key::Space);
    assert_eq!(painted(&bench)[0].0, first, "marked, with the same texture");
    assert_eq!(live(&bench), with_one);
    bench.harness.run_steps(5);
    assert_eq!(live(&bench), with_one);
    bench.key(Key::Escape);
    assert!(bench.commands().contains(&Command::LeaveWatch));
    bench.harness.run_steps(2);
    assert!(painted(&bench).is_empty());
    assert_eq!(live(&bench), with_one - 1, "given back");
}

#[test]
fn while_it_is_read_and_where_it_cannot_be_shown_a_sentence_stands_there() {
    let bench = Bench::of(with(SampleProgram::on(0), PictureState::Loading));
    bench.harness.get_by_label("The picture pictures/priming pump.svg is being read.");
    assert!(painted(&bench).is_empty());
    for size in [SIZES[0], Vec2::new(512.0, 320.0)] {
        let bench = Bench::sized(with(SampleProgram::on(0), PictureState::Failed(FAILED.to_owned())), size);
        bench.harness.get_by_label(FAILED);
        assert!(painted(&bench).is_empty());
    }
}
