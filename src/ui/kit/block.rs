//! The title block: deck, topic, source; how often, which edition.

use std::sync::Arc;

use eframe::egui::{Galley, Pos2, Rect, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::present::TitleBlock;
use crate::ui::kit::text;
use crate::ui::theme::measure::{BLOCK_NARROW, BLOCK_ROW, BLOCK_WIDE, S4, S12};
use crate::ui::theme::{self, Cut, Size};

/// A title block laid out for a width: whether it stands in rows or is folded into one.
pub(super) struct Laid {
    cells: Vec<Cell>,
    pub(super) width: f32,
    pub(super) height: f32,
}

struct Cell {
    rect: Rect,
    label: String,
    value: String,
    galley: Arc<Galley>,
}

/// Lays out in two columns, a row below the other, `width` wide.
pub(super) fn in_rows(ui: &Ui, block: &TitleBlock, width: f32) -> Laid {
    let narrow = BLOCK_NARROW.min(width / 3.0);
    let mut cells = Vec::new();
    let mut top = 0.0;
    for row in &block.rows {
        let wide = cell(ui, &row.label, &row.value, pos2(0.0, top), width - narrow, false);
        let side = cell(ui, &row.side_label, &row.side_value, pos2(width - narrow, top), narrow, true);
        let height = wide.rect.height().max(side.rect.height());
        for mut c in [wide, side] {
            c.rect.set_height(height);
            cells.push(c);
        }
        top += height;
    }
    Laid { cells, width, height: top }
}

/// Lays out at its own width.
pub(super) fn at_own_width(ui: &Ui, block: &TitleBlock) -> Laid {
    in_rows(ui, block, BLOCK_WIDE + BLOCK_NARROW)
}

/// Lays out in one row, `width` wide: every cell as wide as its text where all fit, in fixed shares otherwise.
pub(super) fn folded(ui: &Ui, block: &TitleBlock, width: f32) -> Laid {
    let mut texts = Vec::new();
    for row in &block.rows {
        texts.push((row.label.as_str(), row.value.as_str(), false));
        texts.push((row.side_label.as_str(), row.side_value.as_str(), true));
    }
    let natural = |(label, value, mono): &(&str, &str, bool)| {
        let cut = if *mono { Cut::Mono } else { Cut::Regular };
        let words =
            text::width_of(ui, value, Size::Label, cut).max(text::width_of(ui, label, Size::Small, Cut::Regular));
        words.ceil() + 2.0 * S12 + 1.0
    };
    let natural: Vec<f32> = texts.iter().map(natural).collect();
    let spare = width - natural.iter().sum::<f32>();
    let share = width / (3 * block.rows.len().max(1)) as f32;
    let mut cells = Vec::new();
    let mut left = 0.0;
    for ((label, value, mono), natural) in texts.iter().zip(&natural) {
        let shared = if *mono { share } else { 2.0 * share };
        let wide = if spare >= 0.0 { natural + spare / texts.len() as f32 } else { shared };
        cells.push(cell(ui, label, value, pos2(left, 0.0), wide, *mono));
        left += wide;
    }
    let height = cells.iter().map(|c| c.rect.height()).fold(0.0, f32::max);
    cells.iter_mut().for_each(|c| c.rect.set_height(height));
    Laid { cells, width, height }
}

fn cell(ui: &Ui, label: &str, value: &str, at: Pos2, width: f32, mono: bool) -> Cell {
    let ink = theme::palette(ui).ink;
    let pad = S12.min(width / 8.0);
    let cut = if mono { Cut::Mono } else { Cut::Regular };
    let galley = text::lines(ui, value, width - 2.0 * pad, 3, Size::Label, cut, ink);
    let height = BLOCK_ROW - theme::line_height(Size::Label) + galley.size().y.max(theme::line_height(Size::Label));
    let rect = Rect::from_min_size(at, vec2(width, height));
    Cell { rect, label: label.to_owned(), value: value.to_owned(), galley }
}

/// Paints a block with its top left corner at a place.
pub(super) fn paint(ui: &Ui, laid: &Laid, at: Pos2) {
    let p = theme::palette(ui);
    let line = theme::line(ui);
    let painter = ui.painter();
    let whole = Rect::from_min_size(at, vec2(laid.width, laid.height));
    for cell in &laid.cells {
        let rect = cell.rect.translate(at.to_vec2());
        let pad = S12.min(rect.width() / 8.0);
        let top = pos2(rect.left() + pad, rect.top() + S4 - 1.0);
        text::paint(painter, top, eframe::egui::Align2::LEFT_TOP, &cell.label, Size::Small, Cut::Regular, p.ink_second);
        let value = pos2(top.x, rect.top() + BLOCK_ROW - theme::line_height(Size::Label) - S4 + 1.0);
        painter.galley(value, Arc::clone(&cell.galley), p.ink);
        if cell.rect.left() > 0.0 {
            painter.vline(painter.round_to_pixel_center(rect.left()), rect.y_range(), line);
        }
        if !cell.label.is_empty() {
            let id = ui.id().with(("title-block", &cell.label));
            let response = ui.interact(rect, id, Sense::hover());
            let said = format!("{}: {}", cell.label, cell.value);
            response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
            if cell.galley.elided {
                response.on_hover_text(&cell.value);
            }
        }
        painter.hline(rect.x_range(), painter.round_to_pixel_center(rect.top()), line);
    }
    painter.vline(painter.round_to_pixel_center(whole.left()), whole.y_range(), line);
}
