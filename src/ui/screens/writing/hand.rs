//! The card in hand: as learners see it, with its answer, and what can be proved of it.

use std::sync::Arc;

use eframe::egui::{Align2, Rect, Ui, UiBuilder, Vec2, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::command::Command;
use crate::present::kinds::lineup::SchematicView;
use crate::present::writing::{CardInHand, Worked, WriteDeskView};
use crate::ui::kit::{self, Mark, label_in, mark, paint, paint_in, rich};
use crate::ui::schematic::{Layout, Model, Paint, Sight, laid_out};
use crate::ui::screens::card::outcome::reason_ui;
use crate::ui::screens::card::prompt::{caution_in, picture_ui};
use crate::ui::screens::library::{answer_ui, sources_ui};
use crate::ui::screens::writing::heads::{kind_word, part_head};
use crate::ui::theme::measure::{DRAWING_HIGH, LINE, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// What is kept of the card in hand.
#[derive(Default)]
pub(super) struct HandLocal {
    picture: kit::PictureLocal,
    drawing: kit::DrawingLocal,
    laid: Option<Laid>,
}

/// A line-up that has been laid out for a place.
struct Laid {
    view: Arc<SchematicView>,
    place: Vec2,
    model: Model,
    layout: Layout,
}

impl HandLocal {
    pub(super) fn put_picture_away(&mut self) {
        self.picture.clear();
        self.drawing.clear();
    }
}

/// Where the card in hand stands: its file and its line.
pub(super) fn place(view: &WriteDeskView) -> Option<(String, usize)> {
    let (file, line) = view.card.as_ref()?.written.split_once(", line ")?;
    Some((file.to_owned(), line.parse().ok()?))
}

/// Draws the card in hand.
pub(super) fn hand_ui(ui: &mut Ui, view: &WriteDeskView, local: &mut HandLocal) -> Option<Command> {
    let p = theme::palette(ui);
    if !view.broken.is_empty() {
        marked_ui(ui, Mark::WedgeDown, &view.broken);
        ui.add_space(S12);
    }
    let Some(card) = &view.card else {
        let words = match (view.reading, view.cards.is_empty()) {
            (true, _) => "The deck is being read …",
            (_, true) => {
                "The deck has no card yet. Begin one with N, or write it in the editor: it shows here within a second."
            }
            _ => "This card cannot be read yet. Its problems stand beside it.",
        };
        label_in(ui, ui.available_width(), words, Size::Body, Cut::Regular, p.ink_second);
        return None;
    };
    if card.stale {
        marked_ui(ui, Mark::WedgeDown, "As it was last read well; its text cannot be read as it stands now.");
        ui.add_space(S12);
    }
    let command = card_ui(ui, card, view.proof.as_ref(), local);
    ui.add_space(S16);
    command
}

/// An amber mark with a sentence.
pub(super) fn marked_ui(ui: &mut Ui, shape: Mark, words: &str) {
    let p = theme::palette(ui);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Label)));
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), shape, p.amber);
        ui.vertical(|ui| label_in(ui, ui.available_width(), words, Size::Label, Cut::Regular, p.ink));
    });
}

fn card_ui(
    ui: &mut Ui,
    card: &CardInHand,
    proof: Option<&Worked<Vec<String>>>,
    local: &mut HandLocal,
) -> Option<Command> {
    let p = theme::palette(ui);
    let (_, row) = ui.allocate_space(vec2(ui.available_width(), theme::line_height(Size::Label)));
    let word = paint(
        ui.painter(),
        row.left_center(),
        Align2::LEFT_CENTER,
        &kind_word(card.kind),
        Size::Label,
        Cut::Semi,
        p.ink,
    );
    let written = paint(
        ui.painter(),
        row.right_center(),
        Align2::RIGHT_CENTER,
        &card.written,
        Size::Small,
        Cut::Regular,
        p.ink_second,
    );
    let rest = Rect::from_min_max(pos2(word.right() + S12, row.top()), pos2(written.left() - S8, row.bottom()));
    if rest.width() > S24 {
        paint_in(ui, rest, Align2::LEFT_CENTER, &card.place, Size::Label, Cut::Regular, p.ink_second);
    }
    kit::list_rule(ui);
    ui.add_space(S8);
    rich(ui, &card.ask, ui.available_width(), Size::Body, p.ink);
    if let Some(caution) = &card.caution {
        ui.add_space(S12);
        caution_in(ui, caution, ui.available_width());
    }
    if card.picture.is_some() {
        ui.add_space(S12);
    }
    picture_ui(ui, card.picture.as_ref(), &mut local.picture, 0.36);
    if let Some(view) = &card.schematic {
        ui.add_space(S12);
        schematic_ui(ui, view, local);
    }
    let mut command = None;
    if let Some(shown) = &card.shown {
        ui.add_space(S12);
        command = kit::part_shown(ui, shown, &mut local.drawing);
    }
    if let Some(proof) = proof {
        ui.add_space(S16);
        proof_ui(ui, proof);
    }
    ui.add_space(S16);
    // Wedges hang in the margin.
    ui.horizontal_top(|ui| {
        ui.add_space(S16);
        ui.vertical(|ui| {
            answer_ui(ui, &card.answer);
            reason_ui(ui, card.because.as_deref());
            sources_ui(ui, &card.sources);
        });
    });
    command
}

fn proof_ui(ui: &mut Ui, proof: &Worked<Vec<String>>) {
    let p = theme::palette(ui);
    part_head(ui, "What can be proved", "");
    ui.add_space(S4);
    match proof {
        Worked::Pending => {
            label_in(ui, ui.available_width(), "It is being proved …", Size::Label, Cut::Regular, p.ink_second);
        }
        Worked::Failed(why) => {
            label_in(ui, ui.available_width(), why, Size::Label, Cut::Regular, p.red_lead);
        }
        Worked::Done(lines) => {
            for line in lines {
                label_in(ui, ui.available_width(), line, Size::Label, Cut::Regular, p.ink);
                ui.add_space(S4);
            }
        }
    }
}

/// The drawing of a line-up as it is found, to be looked at.
fn schematic_ui(ui: &mut Ui, view: &Arc<SchematicView>, local: &mut HandLocal) {
    let width = ui.available_width();
    let size = vec2(width, DRAWING_HIGH);
    let (id, place) = ui.allocate_space(size);
    let same = |laid: &Laid| laid.place == size && (Arc::ptr_eq(&laid.view, view) || laid.view == *view);
    if !local.laid.as_ref().is_some_and(same) {
        let (model, layout) = laid_out(ui, view, size);
        local.laid = Some(Laid { view: Arc::clone(view), place: size, model, layout });
    }
    let Some(laid) = &local.laid else { return };
    // All of it: whoever wants to read its smallest words answers the card.
    let of = laid.layout.size;
    let scale = (place.width() / of.x).min(place.height() / of.y).min(1.0);
    let origin = place.center() - of * scale / 2.0;
    let sight = Sight { scale, origin, place, partial: false };
    let mut child = ui.new_child(UiBuilder::new().id_salt("line-up as found").max_rect(place));
    child.shrink_clip_rect(place.expand(LINE).intersect(ui.clip_rect()));
    let painter = child.painter().clone();
    let paint =
        Paint { view, model: &laid.model, layout: &laid.layout, sight, set: &view.found, flooded: &[], steps: 0.0 };
    paint.show(&child, &painter);
    let response = ui.interact(place, id, eframe::egui::Sense::hover());
    let said = format!(
        "Drawing of the line-up as it is found, {}",
        crate::present::words::count(view.network.nodes.len(), "part")
    );
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, &said));
}
