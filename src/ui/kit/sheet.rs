//! The sheet: frame, centring ticks, title block, the scrolled content and the row of actions that is always
//! in reach.

use eframe::egui::{
    Align2, Context, CornerRadius, Rect, ScrollArea, Stroke, StrokeKind, Ui, UiBuilder, Vec2, pos2, vec2,
};

use crate::present::TitleBlock;
use crate::ui::keys;
use crate::ui::kit::act::Act;
use crate::ui::kit::block::{self, Laid};
use crate::ui::theme;
use crate::ui::theme::measure::{
    FOLD_HEIGHT, FOLD_WIDTH, FRAME_INSET, ITEM, LINE, S4, S8, S12, S16, S24, S40, TICK, TINY_HEIGHT, TINY_WIDTH,
    VERY_LOW,
};

/// How much room the window has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Room {
    /// A very small window, or a large scale: the title block ends the text, margins are least.
    Tiny,
    /// The title block is folded to one row.
    Folded,
    /// As the drawings show it.
    Full,
}

/// How much room the window has.
pub fn room(ctx: &Context) -> Room {
    let size = ctx.content_rect().size();
    if size.x < TINY_WIDTH || size.y < TINY_HEIGHT {
        Room::Tiny
    } else if size.x < FOLD_WIDTH || size.y < FOLD_HEIGHT {
        Room::Folded
    } else {
        Room::Full
    }
}

/// So low a window that every line counts.
pub fn is_low(ctx: &Context) -> bool {
    ctx.content_rect().height() < VERY_LOW
}

/// How much a sheet leaves free above its content.
fn head(room: Room, framed: bool) -> f32 {
    if room == Room::Full && framed { S24 } else { S8 }
}

/// How much of what scrolls on a framed sheet is used by margins, above and below the content.
pub fn margins(ctx: &Context) -> f32 {
    head(room(ctx), true) + S8
}

/// A sheet to be shown.
pub struct Sheet<'a> {
    /// With a frame and centring ticks; without them for tables.
    pub framed: bool,
    /// Title block of the sheet.
    pub block: Option<&'a TitleBlock>,
    /// The block in one row below, whatever the room: for content that needs the height.
    pub folded: bool,
    /// Keeps the scroll of one content apart from another's.
    pub scroll: &'a str,
}

/// What stands beside the strip, over the title block, has at least this height or stands elsewhere.
const BESIDE_LEAST: f32 = S40;

/// What a sheet came to.
pub struct Shown<R, T> {
    /// What the content returned.
    pub inner: R,
    /// The action that was chosen.
    pub act: Option<T>,
    /// The strip that was kept free above the actions.
    pub strip: Rect,
    /// Beside that strip, over the title block, where that stands at the right.
    pub beside: Option<Rect>,
    /// The height of the content.
    pub content: f32,
    /// The height there would be for the content without a strip.
    pub free: f32,
}

impl Sheet<'_> {
    /// Draws the sheet over all the room there is, its content and its actions. Returns what the content
    /// returned, and the action that was chosen, by key or by mouse.
    pub fn show<T: Clone, R>(self, ui: &mut Ui, acts: &[Act<T>], content: impl FnOnce(&mut Ui) -> R) -> (R, Option<T>) {
        let shown = self.show_with_strip(ui, acts, 0.0, content);
        (shown.inner, shown.act)
    }

    /// Draws the sheet, keeping a strip of this height free above the actions, for what must stay in sight.
    pub fn show_with_strip<T: Clone, R>(
        self,
        ui: &mut Ui,
        acts: &[Act<T>],
        strip: f32,
        content: impl FnOnce(&mut Ui) -> R,
    ) -> Shown<R, T> {
        let room = if self.folded { room(ui.ctx()).min(Room::Folded) } else { room(ui.ctx()) };
        for act in acts {
            if let Some(hot) = act.hot {
                keys::offer(ui.ctx(), hot, act.name);
            }
        }
        let by_key = acts.iter().find(|a| a.enabled && a.hot.is_some_and(|h| keys::take_for(ui, h, a.name)));
        let by_key = by_key.map(|a| a.value.clone());
        let sheet = ui.available_rect_before_wrap();
        let frame = self.frame(ui, sheet, room);
        let pad = match room {
            Room::Full if self.framed => S40,
            Room::Tiny => S16 + S4,
            _ => S24,
        };
        let laid = self.block.map(|b| match room {
            Room::Full => block::at_own_width(ui, b),
            Room::Folded => block::folded(ui, b, frame.width()),
            Room::Tiny => block::in_rows(ui, b, frame.width() - 2.0 * pad),
        });
        let bottom = self.paint_block(ui, frame, room, laid.as_ref());
        let free = match (&laid, room) {
            (Some(l), Room::Full) => frame.width() - l.width - pad - S24,
            _ => frame.width() - 2.0 * pad,
        };
        let (rows, acts_height) = break_rows(ui, acts, free);
        let foot = match room {
            // A second row of actions stands in the foot, so that what is above keeps its place.
            Room::Full if self.block.is_some() => (S40 + ITEM - acts_height).max(0.0),
            Room::Tiny => S4,
            _ => S12,
        };
        let acts_top = bottom.acts - foot - acts_height;
        let left = frame.left() + pad;
        let pressed = self.acts_ui(ui, acts, &rows, pos2(left, acts_top));
        let gap = if room == Room::Tiny { S4 } else { S8 };
        let strip_rect = Rect::from_min_size(pos2(left, acts_top - gap - strip), vec2(free, strip));
        let lowest = |strip: f32| {
            let bottom = if acts.is_empty() { bottom.text - S12 } else { bottom.text.min(acts_top - gap - strip) };
            bottom.max(frame.top() + ITEM)
        };
        let head = head(room, self.framed);
        let area = Rect::from_min_max(
            pos2(frame.left() + LINE, frame.top() + LINE),
            pos2(frame.right() - LINE, lowest(strip)),
        );
        let (inner, height) = self.content_ui(ui, area, pad, head, |ui| {
            let inner = content(ui);
            if let (Some(laid), Room::Tiny) = (&laid, room) {
                block_in_text(ui, laid);
            }
            inner
        });
        if height > area.height() + LINE {
            // Where the text goes on below, a hairline says that it is cut, and not by mistake.
            let across = (left - S4)..=(frame.right() - pad + S4);
            let y = ui.painter().round_to_pixel_center(area.bottom());
            ui.painter().hline(across, y, Stroke::new(LINE, theme::palette(ui).hairline));
        }
        let free_height = area.height() + lowest(0.0) - lowest(strip);
        let beside = (laid.is_some() && room == Room::Full).then(|| {
            let left = pos2(strip_rect.right() + S24 + S12, strip_rect.top());
            Rect::from_min_max(left, pos2(frame.right() - pad, bottom.text))
        });
        // A block with many lines of source leaves too little over it.
        let beside = beside.filter(|place| place.height() >= BESIDE_LEAST);
        Shown { inner, act: by_key.or(pressed), strip: strip_rect, beside, content: height, free: free_height }
    }

    fn frame(&self, ui: &Ui, sheet: Rect, room: Room) -> Rect {
        let p = theme::palette(ui);
        ui.painter().rect(sheet, CornerRadius::ZERO, p.sheet, Stroke::new(LINE, p.hairline), StrokeKind::Inside);
        if !self.framed {
            return sheet;
        }
        let inset = if room == Room::Tiny { S4 } else { FRAME_INSET };
        let frame =
            Rect::from_min_max((sheet.min + Vec2::splat(inset)).round(), (sheet.max - Vec2::splat(inset)).round());
        let line = theme::line(ui);
        ui.painter().rect_stroke(frame, CornerRadius::ZERO, line, StrokeKind::Inside);
        if room != Room::Tiny {
            self.ticks(ui, frame, room);
        }
        frame
    }

    /// Centring ticks: two thirds outside of the frame, a third inside, where a folded block leaves room for it.
    fn ticks(&self, ui: &Ui, frame: Rect, room: Room) {
        let line = theme::line(ui);
        let (out, within) = (TICK * 2.0 / 3.0, TICK / 3.0);
        let center = frame.center();
        let (x, y) = (ui.painter().round_to_pixel_center(center.x), ui.painter().round_to_pixel_center(center.y));
        let below = if room == Room::Folded && self.block.is_some() { 0.0 } else { within };
        ui.painter().vline(x, (frame.top() - out)..=(frame.top() + within), line);
        ui.painter().vline(x, (frame.bottom() - below)..=(frame.bottom() + out), line);
        ui.painter().hline((frame.left() - out)..=(frame.left() + within), y, line);
        ui.painter().hline((frame.right() - within)..=(frame.right() + out), y, line);
    }

    /// Paints the block where it belongs; says how far down text and actions may reach.
    fn paint_block(&self, ui: &Ui, frame: Rect, room: Room, laid: Option<&Laid>) -> Bottom {
        match (laid, room) {
            (Some(laid), Room::Full) => {
                let at = pos2(frame.right() - laid.width, frame.bottom() - laid.height);
                block::paint(ui, laid, at);
                Bottom { text: at.y - S8, acts: frame.bottom() }
            }
            (Some(laid), Room::Folded) => {
                let at = pos2(frame.left(), frame.bottom() - laid.height);
                block::paint(ui, laid, at);
                Bottom { text: at.y - S8, acts: at.y }
            }
            _ => Bottom { text: frame.bottom() - S4, acts: frame.bottom() - S4 },
        }
    }

    fn acts_ui<T: Clone>(
        &self,
        ui: &Ui,
        acts: &[Act<T>],
        rows: &[Vec<(usize, f32)>],
        at: eframe::egui::Pos2,
    ) -> Option<T> {
        let mut pressed = None;
        for (r, row) in rows.iter().enumerate() {
            let mut x = at.x;
            for (index, width) in row {
                let rect = Align2::LEFT_TOP.anchor_size(pos2(x, at.y + r as f32 * ITEM), vec2(*width, ITEM));
                if acts[*index].show(ui, rect) {
                    pressed = Some(acts[*index].value.clone());
                }
                x += width + S24;
            }
        }
        pressed
    }

    fn content_ui<R>(
        &self,
        ui: &mut Ui,
        area: Rect,
        pad: f32,
        head: f32,
        content: impl FnOnce(&mut Ui) -> R,
    ) -> (R, f32) {
        let mut child = ui.new_child(UiBuilder::new().id_salt(self.scroll).max_rect(area));
        child.shrink_clip_rect(area);
        let (up, down) = (keys::take_repeated(ui, keys::PAGE_UP), keys::take_repeated(ui, keys::PAGE_DOWN));
        let page = area.height() - S40;
        let out = ScrollArea::vertical().id_salt(self.scroll).auto_shrink(false).max_height(area.height()).show(
            &mut child,
            |ui| {
                if up || down {
                    ui.scroll_with_delta(vec2(0.0, if up { page } else { -page }));
                }
                ui.add_space(head);
                let width = area.width() - 2.0 * pad + 2.0 * LINE;
                ui.horizontal_top(|ui| {
                    ui.add_space(pad - LINE);
                    ui.vertical(|ui| {
                        ui.set_width(width);
                        content(ui)
                    })
                    .inner
                })
                .inner
            },
        );
        (out.inner, out.content_size.y)
    }
}

/// The title block as the end of the text.
fn block_in_text(ui: &mut Ui, laid: &Laid) {
    ui.add_space(S24);
    let (_, rect) = ui.allocate_space(vec2(laid.width, laid.height + S8));
    block::paint(ui, laid, rect.min);
    let whole = Rect::from_min_size(rect.min, vec2(laid.width, laid.height));
    ui.painter().rect_stroke(whole, CornerRadius::ZERO, theme::line(ui), StrokeKind::Inside);
}

struct Bottom {
    text: f32,
    acts: f32,
}

/// Breaks actions into rows of at most this width.
fn break_rows<T>(ui: &Ui, acts: &[Act<T>], width: f32) -> (Vec<Vec<(usize, f32)>>, f32) {
    let mut rows: Vec<Vec<(usize, f32)>> = Vec::new();
    let mut used = f32::INFINITY;
    for (index, act) in acts.iter().enumerate() {
        let w = act.width(ui);
        if used + S24 + w > width {
            rows.push(Vec::new());
            used = -S24;
        }
        used += S24 + w;
        if let Some(row) = rows.last_mut() {
            row.push((index, w));
        }
    }
    let height = rows.len() as f32 * ITEM;
    (rows, height)
}
