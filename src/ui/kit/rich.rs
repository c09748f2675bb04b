//! A small part of Markdown for questions and reasons: paragraphs, lists, **strong**, *stressed*, `figures`.
//! Anything else stands as it was typed.

use eframe::egui::text::LayoutJob;
use eframe::egui::{Color32, Label, Ui};

use crate::ui::theme::measure::{S4, S8, S16};
use crate::ui::theme::{self, Cut, Size};

/// Draws Markdown in the flow, in at most this width.
pub fn rich(ui: &mut Ui, markdown: &str, width: f32, size: Size, color: Color32) {
    let width = width.min(ui.available_width());
    for (i, block) in blocks(markdown).iter().enumerate() {
        if i > 0 {
            ui.add_space(if block.bullet.is_some() { S4 } else { S8 });
        }
        ui.horizontal_top(|ui| {
            let mut left = 0.0;
            if let Some(bullet) = &block.bullet {
                left = if size == Size::Prompt { S16 + S8 } else { S16 + S4 };
                let at = ui.cursor().min;
                ui.add_space(left);
                let mut job = LayoutJob::default();
                job.append(bullet, 0.0, theme::format(size, Cut::Regular, color));
                let galley = ui.painter().layout_job(job);
                ui.painter().galley(at, galley, color);
            }
            ui.set_max_width(width - left);
            ui.add(Label::new(job(&block.text, size, color)).wrap());
        });
    }
}

/// The height that [`rich`] needs for Markdown in this width.
pub fn rich_height(ui: &Ui, markdown: &str, width: f32, size: Size) -> f32 {
    let mut height = 0.0;
    for (i, block) in blocks(markdown).iter().enumerate() {
        if i > 0 {
            height += if block.bullet.is_some() { S4 } else { S8 };
        }
        let left = block.bullet.as_ref().map_or(0.0, |_| if size == Size::Prompt { S16 + S8 } else { S16 + S4 });
        let mut job = job(&block.text, size, Color32::PLACEHOLDER);
        job.wrap.max_width = (width - left).max(1.0);
        height += ui.painter().layout_job(job).size().y;
    }
    height
}

struct Block {
    bullet: Option<String>,
    text: String,
}

fn blocks(markdown: &str) -> Vec<Block> {
    let mut out: Vec<Block> = Vec::new();
    let mut fresh = true;
    for line in markdown.lines() {
        let line = line.trim();
        if line.is_empty() {
            fresh = true;
        } else if let Some((bullet, rest)) = item(line) {
            out.push(Block { bullet: Some(bullet), text: rest.to_owned() });
            fresh = false;
        } else {
            match out.last_mut() {
                Some(last) if !fresh => {
                    last.text.push(' ');
                    last.text.push_str(line);
                }
                _ => out.push(Block { bullet: None, text: line.trim_start_matches('#').trim().to_owned() }),
            }
            fresh = false;
        }
    }
    out
}

fn item(line: &str) -> Option<(String, &str)> {
    if let Some(rest) = line.strip_prefix("- ").or_else(|| line.strip_prefix("* ")) {
        return Some(("–".to_owned(), rest));
    }
    let (number, rest) = line.split_once(". ")?;
    (number.len() <= 2 && number.parse::<u8>().is_ok()).then(|| (format!("{number}."), rest))
}

fn job(text: &str, size: Size, color: Color32) -> LayoutJob {
    let mut job = LayoutJob::default();
    for (run, cut) in runs(text) {
        job.append(&run, 0.0, theme::format(size, cut, color));
    }
    job
}

/// Splits a paragraph into runs. A mark without its partner stands as typed.
fn runs(text: &str) -> Vec<(String, Cut)> {
    let mut out: Vec<(String, Cut)> = Vec::new();
    let mut plain = String::new();
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let hit = [("**", Cut::Semi), ("*", Cut::Italic), ("_", Cut::Italic), ("`", Cut::Mono)].into_iter().find_map(
            |(mark, cut)| {
                let inner = rest.strip_prefix(mark)?;
                let opens = mark == "`" || plain.chars().last().is_none_or(|c| !c.is_alphanumeric());
                let end = inner.find(mark)?;
                let good = opens && end > 0 && !inner.starts_with(' ') && !inner[..end].ends_with(' ');
                good.then(|| (inner[..end].to_owned(), cut, &inner[end + mark.len()..]))
            },
        );
        if let Some((run, cut, after)) = hit {
            if !plain.is_empty() {
                out.push((std::mem::take(&mut plain), Cut::Regular));
            }
            out.push((run, cut));
            rest = after;
        } else {
            plain.push(c);
            rest = &rest[c.len_utf8()..];
        }
    }
    if !plain.is_empty() {
        out.push((plain, Cut::Regular));
    }
    out
}

/// Markdown without its marks, in one line: for rows and accessible names.
pub fn plain_text(markdown: &str) -> String {
    let line = |b: &Block| -> String {
        let words: String = runs(&b.text).into_iter().map(|(run, _)| run).collect();
        b.bullet.as_ref().map_or_else(|| words.clone(), |bullet| format!("{bullet} {words}"))
    };
    blocks(markdown).iter().map(line).collect::<Vec<_>>().join(" ")
}
