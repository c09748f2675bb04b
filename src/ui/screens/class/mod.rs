//! A lecturer's class: its document, drawn as a page.

use eframe::egui::Ui;

use crate::app::program::command::{Command, ReportCommand};
use crate::app::program::route::Route;
use crate::present::class_page::{ClassPageView, ClassState};
use crate::present::document::{Block, Document, Level, Sign, Table};
use crate::ui::keys;
use crate::ui::kit::{self, Act, Cell, Column, Mark, Sheet, head_row, heading, label_in, mark, row};
use crate::ui::theme::measure::{READING, S4, S8, S12, S16, S24, S40, TABLE_ROW};
use crate::ui::theme::{self, Cut, Size};

/// A column of figures is so wide.
const FIGURE: f32 = S40 * 2.0 + S16;

/// Draws the page.
pub fn class_ui(ui: &mut Ui, view: &ClassPageView) -> Option<Command> {
    let mut acts = Vec::new();
    if matches!(view.state, ClassState::Ready(_)) {
        let report = Command::Report(ReportCommand::WriteClass);
        acts.push(Act::primary("Report as PDF", keys::letter('P'), report));
    }
    if view.classes.len() > 1 {
        let next = (view.at + 1) % view.classes.len();
        acts.push(Act::other("The next class", keys::letter('N'), Command::Go(Route::Class(next))));
    }
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "class" };
    let ((), act) = sheet.show(ui, &acts, |ui| content_ui(ui, view));
    act
}

fn content_ui(ui: &mut Ui, view: &ClassPageView) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    let words = match &view.state {
        ClassState::NoClass(how) => how.as_str(),
        ClassState::Working => "Reading the class …",
        ClassState::Failed(why) => why.as_str(),
        ClassState::Ready(document) => return document_ui(ui, document),
    };
    label_in(ui, READING + S40 * 3.0, words, Size::Body, Cut::Regular, p.ink);
}

fn document_ui(ui: &mut Ui, document: &Document) {
    let p = theme::palette(ui);
    let wide = READING + S40 * 4.0;
    for block in &document.blocks {
        match block {
            Block::Heading(Level::Part, words) => {
                ui.add_space(S24);
                heading(ui, words, Size::Head, Cut::Semi);
                ui.add_space(S4);
            }
            Block::Heading(Level::Small, words) => {
                ui.add_space(S12);
                heading(ui, words, Size::Body, Cut::Semi);
                ui.add_space(S4);
            }
            Block::Text(words) => {
                label_in(ui, wide, words, Size::Label, Cut::Regular, p.ink_second);
            }
            Block::Lead { lead, words } => {
                heading(ui, lead, Size::Prompt, Cut::Semi);
                if !words.is_empty() {
                    label_in(ui, wide, words, Size::Body, Cut::Regular, p.ink_second);
                }
                ui.add_space(S8);
            }
            Block::Facts(facts) => {
                for fact in facts {
                    let words = format!("{}: {}", fact.label, fact.words);
                    label_in(ui, wide, &words, Size::Label, Cut::Regular, p.ink);
                }
            }
            Block::List(lines) => {
                for line in lines {
                    line_ui(ui, line.sign, &line.words, wide);
                }
            }
            Block::Table(table) => table_ui(ui, table),
            // A class's document has neither.
            Block::Bars(_) | Block::Entry(_) => {}
        }
    }
    ui.add_space(S24);
}

fn line_ui(ui: &mut Ui, sign: Sign, words: &str, wide: f32) {
    let p = theme::palette(ui);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(eframe::egui::vec2(S16, theme::line_height(Size::Label)));
        let (shape, ink) = match sign {
            Sign::Dot => (Mark::Dot, p.ink_second),
            Sign::Tick => (Mark::Tick, p.sea),
            Sign::Half => (Mark::WedgeDown, p.amber),
            Sign::Cross => (Mark::Ring, p.ink_second),
        };
        mark(ui.painter(), place.center(), shape, ink);
        label_in(ui, wide.min(ui.available_width()), words, Size::Label, Cut::Regular, p.ink);
    });
}

fn table_ui(ui: &mut Ui, table: &Table) {
    let narrow = kit::room(ui.ctx()) == kit::Room::Tiny;
    let columns: Vec<Column> = table
        .columns
        .iter()
        .map(|column| match column.figure {
            true if narrow => Column::Figure(S40 + S12),
            true => Column::Figure(FIGURE),
            false => Column::Share(column.share),
        })
        .collect();
    let names: Vec<&str> = table.columns.iter().map(|column| column.head.as_str()).collect();
    ui.add_space(S4);
    head_row(ui, &columns, &names);
    for cells in &table.rows {
        let said = said(&names, cells);
        let cells: Vec<Cell> = table
            .columns
            .iter()
            .zip(cells)
            .map(|(column, text)| if column.figure { Cell::figure(text) } else { Cell::text(text) })
            .collect();
        row(ui, &columns, &cells, TABLE_ROW, (false, false), &said);
    }
    ui.add_space(S8);
}

/// A row in words: the first cell, then each figure with its column's name.
fn said(names: &[&str], cells: &[String]) -> String {
    let named = names.iter().zip(cells).enumerate().filter(|(_, (_, cell))| !cell.is_empty());
    let parts = named.map(|(at, (name, cell))| match at {
        0 => cell.clone(),
        _ if name.is_empty() => cell.clone(),
        _ => format!("{name} {cell}"),
    });
    parts.collect::<Vec<_>>().join(", ")
}
