//! Expressions: a line of a worksheet as it is typed, set as one writes it by hand, with raised powers and the dot of
//! multiplication; and the field in which it is typed, which marks the place of an error.

use std::ops::Range;
use std::sync::Arc;

use eframe::egui::text::{CCursor, CCursorRange, LayoutJob, TextFormat, TextWrapping};
use eframe::egui::text_edit::TextEditState;
use eframe::egui::{
    Align, Color32, Context, Frame, Galley, Id, Margin, Rangef, Rect, Response, Stroke, TextBuffer, TextEdit, Ui,
    UiBuilder, Vec2, WidgetText, vec2,
};

use crate::ui::keys::{self, Held};
use crate::ui::theme::measure::{FOCUS, S4, S8};
use crate::ui::theme::{self, Cut, Size};

/// The longest expression that can be typed, in characters.
pub const LONGEST: usize = 400;

/// A field for one expression.
pub struct Expression<'a> {
    /// Id of the field, so that a screen can give it the focus.
    pub id: Id,
    /// Accessible name of the field.
    pub name: &'a str,
    /// What stands in it while it is empty.
    pub hint: &'a str,
    /// The characters to be marked as wrong; an empty range marks the place where something is missing.
    pub wrong: Option<Range<usize>>,
}

/// Draws the field at a place, without a frame.
pub fn expression_field(ui: &mut Ui, rect: Rect, spec: &Expression<'_>, text: &mut String) -> Response {
    let p = theme::palette(ui);
    let font = theme::font(Size::Body, Cut::Mono);
    let row = ui.fonts_mut(|f| f.row_height(&font)).max(theme::line_height(Size::Body));
    let inner =
        Rect::from_min_size(rect.min + vec2(0.0, ((rect.height() - row) / 2.0).round()), vec2(rect.width(), row));
    let editing = ui.memory(|m| m.has_focus(spec.id));
    let mut layouter = |ui: &Ui, text: &dyn TextBuffer, _: f32| -> Arc<Galley> {
        let mut job = expression_job(text.as_str(), Size::Body, p.ink, editing);
        if !editing {
            job.wrap = TextWrapping::truncate_at_width(inner.width());
        }
        ui.fonts_mut(|f| f.layout_job(job))
    };
    let edit = TextEdit::singleline(text)
        .id(spec.id)
        .frame(Frame::NONE)
        .margin(Margin::ZERO)
        .font(font)
        .hint_text(WidgetText::from(spec.hint).color(p.ink_second))
        .char_limit(LONGEST)
        .desired_width(inner.width())
        .min_size(Vec2::new(inner.width(), row))
        .layouter(&mut layouter);
    let mut child = ui.new_child(UiBuilder::new().id_salt(spec.id).max_rect(inner));
    let out = edit.show(&mut child);
    if let Some(wrong) = &spec.wrong {
        underline(ui, &out.galley, out.galley_pos.to_vec2(), out.text_clip_rect, wrong);
    }
    let response = out.response.response;
    if response.has_focus() {
        keys::note(ui.ctx(), spec.id, Held::Line);
    }
    let name = spec.name.to_owned();
    ui.ctx().accesskit_node_builder(spec.id, |node| node.set_label(name));
    response
}

/// Marks characters of a galley from below; a place with nothing in it gets a short mark of its own.
fn underline(ui: &Ui, galley: &Galley, at: Vec2, clip: Rect, wrong: &Range<usize>) {
    let place = |index: usize| galley.pos_from_cursor(CCursor::new(index)).translate(at);
    let (from, to) = (place(wrong.start), place(wrong.end.max(wrong.start)));
    let right = to.left().max(from.left() + if wrong.is_empty() { S8 } else { S4 });
    let x = Rangef::new(from.left(), right);
    let y = ui.painter().round_to_pixel_center(from.bottom().max(to.bottom()));
    let color = theme::palette(ui).red_lead;
    ui.painter_at(clip.expand2(vec2(S8, S4))).hline(x, y, Stroke::new(FOCUS, color));
}

/// Puts the cursor at the end of a field, so that typing goes on there.
pub fn cursor_to_end(ctx: &Context, id: Id, text: &str) {
    let mut state = TextEditState::load(ctx, id).unwrap_or_default();
    state.cursor.set_char_range(Some(CCursorRange::one(CCursor::new(text.chars().count()))));
    state.store(ctx, id);
}

/// Whether the cursor of a field stands before its first character, with nothing chosen.
pub fn cursor_at_start(ctx: &Context, id: Id) -> bool {
    let range = TextEditState::load(ctx, id).and_then(|state| state.cursor.char_range());
    range.is_some_and(|r| r.is_empty() && r.primary.index == CCursor::new(0).index)
}

/// An expression as one writes it by hand. While it is edited every character keeps its place.
pub fn expression_job(text: &str, size: Size, color: Color32, editing: bool) -> LayoutJob {
    let plain = theme::format(size, Cut::Mono, color);
    let raised = TextFormat {
        valign: Align::TOP,
        line_height: plain.line_height,
        ..theme::format(Size::Small, Cut::Mono, color)
    };
    let mut job = LayoutJob { break_on_newline: false, keep_trailing_whitespace: true, ..LayoutJob::default() };
    for (run, power) in runs(text) {
        let signs = if editing { run.chars().map(sign).collect() } else { written(run, power) };
        job.append(&signs, 0.0, if power { raised.clone() } else { plain.clone() });
    }
    job
}

/// A typed sign as it is written.
fn sign(c: char) -> char {
    match c {
        '*' => '·',
        '-' => '−',
        _ => c,
    }
}

/// A run of an expression that is not being edited: without the sign of a power, and with the letter for pi.
fn written(run: &str, power: bool) -> String {
    let run = if power { run.strip_prefix('^').unwrap_or(run) } else { run };
    let is_word = |c: char| c.is_alphanumeric() || c == '_';
    let mut out = String::new();
    let mut word = String::new();
    let flush = |word: &mut String, out: &mut String| {
        out.push_str(if word == "pi" { "π" } else { word });
        word.clear();
    };
    for c in run.chars() {
        if is_word(c) {
            word.push(c);
        } else {
            flush(&mut word, &mut out);
            out.push(sign(c));
        }
    }
    flush(&mut word, &mut out);
    out
}

/// Cuts an expression into what stands on the line and powers, each with its `^`.
fn runs(text: &str) -> Vec<(&str, bool)> {
    let mut out = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let at = rest.find('^').unwrap_or(rest.len());
        if at > 0 {
            out.push((&rest[..at], false));
        }
        rest = &rest[at..];
        if !rest.is_empty() {
            let end = power_end(rest);
            out.push((&rest[..end], true));
            rest = &rest[end..];
        }
    }
    out
}

/// Where the power that begins a text ends: after a bracket or after one number or name with its sign.
fn power_end(text: &str) -> usize {
    let mut depth = 0_usize;
    let mut begun = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            '(' if !begun || depth > 0 => depth += 1,
            ')' if depth > 0 => {
                depth -= 1;
                if depth == 0 {
                    return at + c.len_utf8();
                }
            }
            _ if depth > 0 => {}
            '-' | '−' | '+' if !begun => {}
            _ if c.is_alphanumeric() || c == '.' || c == '_' => {}
            _ => return at,
        }
        begun = true;
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn powers_are_found() {
        let powers = |text| runs(text).into_iter().filter(|r| r.1).map(|r| r.0.to_owned()).collect::<Vec<_>>();
        assert_eq!(powers("pi/4 * D^2"), ["^2"]);
        assert_eq!(powers("(p2/p1)^((n-1)/n) * T"), ["^((n-1)/n)"]);
        assert_eq!(powers("x^-0.5 + y^a_1*2"), ["^-0.5", "^a_1"]);
        assert_eq!(powers("2^"), ["^"]);
        assert_eq!(powers("2^(3"), ["^(3"]);
        assert_eq!(powers("no power"), Vec::<String>::new());
    }

    #[test]
    fn it_is_written_as_by_hand_and_keeps_its_places_while_edited() {
        let whole = |text: &str, editing| expression_job(text, Size::Body, Color32::PLACEHOLDER, editing).text;
        assert_eq!(whole("A = pi/4 * D^2", false), "A = π/4 · D2");
        assert_eq!(whole("pipe - spi", false), "pipe − spi");
        for text in ["A = pi/4 * D^2", "x^-0.5", "−°µ"] {
            assert_eq!(whole(text, true).chars().count(), text.chars().count(), "{text}");
        }
    }
}
