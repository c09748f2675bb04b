//! A card's picture on its mount: light in both themes, so that black lines can be read.

use std::sync::Arc;

use eframe::egui::emath::GuiRounding;
use eframe::egui::{
    Align2, ColorImage, CornerRadius, Rect, Sense, StrokeKind, TextureFilter, TextureHandle, TextureOptions, Ui, Vec2,
    WidgetInfo, WidgetType, pos2, vec2,
};

use crate::present::{Image, PictureState, PictureView};
use crate::ui::kit::{Mark, label_in, mark, paint_in};
use crate::ui::theme::measure::{ITEM, PICTURE_HIGH, PROMPT, READING, S8, S12, S24};
use crate::ui::theme::{self, Cut, Size};

/// A picture made ready for drawing: made once, and given back when it is dropped.
#[derive(Default)]
pub struct PictureLocal(Option<(Arc<Image>, TextureHandle)>);

impl PictureLocal {
    /// Nothing is drawn any more.
    pub fn clear(&mut self) {
        self.0 = None;
    }

    fn texture(&mut self, ui: &Ui, name: &str, image: &Arc<Image>) -> &TextureHandle {
        if self.0.as_ref().is_some_and(|(drawn, _)| !Arc::ptr_eq(drawn, image)) {
            self.0 = None;
        }
        let (_, texture) = self.0.get_or_insert_with(|| {
            let size = [image.width as usize, image.height as usize];
            let dots = ColorImage::from_rgba_premultiplied(size, &image.rgba);
            let options = TextureOptions { mipmap_mode: Some(TextureFilter::Linear), ..TextureOptions::LINEAR };
            (Arc::clone(image), ui.ctx().load_texture(name, dots, options))
        });
        texture
    }
}

/// Draws a picture, or says how it stands. `share` is the most of the window's height that it may take.
pub fn picture(ui: &mut Ui, view: &PictureView, local: &mut PictureLocal, share: f32) {
    match &view.state {
        PictureState::Ready(image) => ready_ui(ui, view, image, local, share),
        PictureState::Loading => {
            local.clear();
            loading_ui(ui, view);
        }
        PictureState::Failed(sentence) => {
            local.clear();
            failed_ui(ui, sentence);
        }
    }
}

fn ready_ui(ui: &mut Ui, view: &PictureView, image: &Arc<Image>, local: &mut PictureLocal, share: f32) {
    let p = theme::palette(ui);
    let most =
        vec2(PROMPT.min(ui.available_width()), PICTURE_HIGH.min((ui.ctx().content_rect().height() * share).round()));
    let inside = (most - Vec2::splat(2.0 * S8)).max(Vec2::splat(1.0));
    let whole = vec2(image.width as f32, image.height as f32);
    let scale = (inside.x / whole.x).min(inside.y / whole.y).min(1.0);
    let size = (whole * scale).max(Vec2::splat(1.0));
    let (id, place) = ui.allocate_space(size + Vec2::splat(2.0 * S8));
    let mount = place.round_to_pixels(ui.pixels_per_point());
    let response = ui.interact(mount, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, view.words()));
    ui.painter().rect_filled(mount, CornerRadius::ZERO, p.mount);
    let at = Rect::from_center_size(mount.center(), size).round_to_pixels(ui.pixels_per_point());
    let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    // The mount's colour tints the picture too, so that white paper in it is no brighter than the mount.
    ui.painter().image(local.texture(ui, &view.name, image).id(), at, uv, p.mount);
    ui.painter().rect_stroke(mount, CornerRadius::ZERO, theme::hairline(ui), StrokeKind::Inside);
}

fn loading_ui(ui: &mut Ui, view: &PictureView) {
    let p = theme::palette(ui);
    let (_, place) = ui.allocate_space(vec2(PROMPT.min(ui.available_width()), ITEM));
    ui.painter().rect_stroke(place, CornerRadius::ZERO, theme::hairline(ui), StrokeKind::Inside);
    let words = format!("The picture {} is being read.", view.name);
    paint_in(ui, place.shrink2(vec2(S12, 0.0)), Align2::LEFT_CENTER, &words, Size::Label, Cut::Regular, p.ink_second);
}

pub(super) fn failed_ui(ui: &mut Ui, sentence: &str) {
    let p = theme::palette(ui);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Label)));
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::WedgeDown, p.amber);
        ui.vertical(|ui| {
            label_in(ui, READING, sentence, Size::Label, Cut::Regular, p.ink);
        });
    });
}
