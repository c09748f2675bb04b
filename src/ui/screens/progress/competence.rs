//! The STCW table: functions as bands, competences as rows, the weakest first. A row opens to its headings.

use eframe::egui::{
    Align2, CornerRadius, CursorIcon, Rect, Sense, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, pos2, vec2,
};

use crate::app::program::command::{Command, ReportAs, ReportCommand, WatchCommand};
use crate::app::program::route::Route;
use crate::present::competence::{
    CompetenceRow, CostRow, HeadingRow, NOT_YET, OftenMissed, WeakCard, asked_words, figure,
};
use crate::present::{CompetenceView, Tone};
use crate::ui::keys::{self, Held};
use crate::ui::kit::{self, Act, Mark, Room, Sheet, heading, label_in, lines, mark, paint, paint_in, ring_focus};
use crate::ui::theme::measure::{LINE, LIST_ROW, READING, S4, S8, S12, S16, S24, S40, TREND, TREND_FROM};
use crate::ui::theme::{self, Cut, Size};

/// The row that is chosen, and whether it is open.
#[derive(Default)]
pub struct CompetenceLocal {
    at: Option<usize>,
    open: bool,
}

/// Draws the table.
pub fn competence_ui(ui: &mut Ui, view: &CompetenceView, local: &mut CompetenceLocal) -> Option<Command> {
    let rows: Vec<&CompetenceRow> = view.bands.iter().flat_map(|band| &band.rows).collect();
    if rows.is_empty() {
        return None;
    }
    if keys::take_repeated(ui, keys::DOWN) {
        local.at = Some(local.at.map_or(0, |at| (at + 1).min(rows.len() - 1)));
    }
    if keys::take_repeated(ui, keys::UP) {
        local.at = Some(local.at.map_or(0, |at| at.saturating_sub(1)));
    }
    let at = local.at.filter(|at| *at < rows.len());
    if at.is_some() && keys::take(ui, keys::SPACE) {
        local.open = !local.open;
    }
    let study = at.map(|at| Command::Watch(WatchCommand::StudyCompetence(rows[at].key.clone())));
    let mut acts = match study {
        Some(study) => vec![Act::primary("Study this", keys::ENTER, study)],
        None => Vec::new(),
    };
    acts.push(Act::other("How well does this program know you?", keys::letter('W'), Command::Go(Route::Knowing)));
    acts.push(Act::other(
        "Report as PDF",
        keys::letter('P'),
        Command::Report(ReportCommand::WriteProgress(ReportAs::Pdf)),
    ));
    if kit::room(ui.ctx()) == Room::Full {
        acts.push(Act::other(
            "Markdown",
            keys::letter('M'),
            Command::Report(ReportCommand::WriteProgress(ReportAs::Markdown)),
        ));
        acts.push(Act::other("CSV", keys::letter('V'), Command::Report(ReportCommand::WriteProgress(ReportAs::Csv))));
    }
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "competence" };
    let ((), act) = sheet.show(ui, &acts, |ui| content_ui(ui, view, local));
    act
}

/// Where the columns stand, from the right: cards met, three figures.
struct Columns {
    met: f32,
    figures: [f32; 3],
    width: f32,
    /// Left and right of the trend; none where there is no room.
    trend: Option<(f32, f32)>,
}

impl Columns {
    fn of(rect: Rect, tiny: bool) -> (Self, f32) {
        let step = if tiny { 48.0 } else { 88.0 };
        let right = rect.right() - S8;
        let figures = [right - 2.0 * step, right - step, right];
        let met = if tiny { 64.0 } else { 176.0 };
        let trend = (!tiny && rect.width() > TREND_FROM).then(|| (figures[0] - step - TREND, figures[0] - step));
        let left = trend.map_or(figures[0] - step, |(left, _)| left - S24) - met;
        (Self { met: left, figures, width: met, trend }, left - S16)
    }
}

fn content_ui(ui: &mut Ui, view: &CompetenceView, local: &mut CompetenceLocal) {
    let p = theme::palette(ui);
    let tiny = kit::room(ui.ctx()) == Room::Tiny;
    if view.is_new {
        ui.add_space(S8);
        let words = "Nothing has been asked yet. Every watch and every mock oral fills this table.";
        label_in(ui, READING + S40 * 3.0, words, Size::Body, Cut::Regular, p.ink);
        ui.add_space(S8);
    }
    chance_ui(ui, view, tiny);
    let (_, head) = ui.allocate_space(vec2(ui.available_width(), S40));
    let (columns, names) = Columns::of(head, tiny);
    let small =
        |place: Rect, anchor, text: &str| paint_in(ui, place, anchor, text, Size::Small, Cut::Regular, p.ink_second);
    small(head.with_max_x(names), Align2::LEFT_CENTER, "Competence");
    let met = Rect::from_min_max(pos2(columns.met, head.top()), pos2(columns.met + columns.width, head.bottom()));
    small(met, Align2::LEFT_CENTER, if tiny { "Asked" } else { "Cards asked, of all" });
    if let Some((left, right)) = columns.trend {
        let place = Rect::from_min_max(pos2(left, head.top()), pos2(right, head.bottom()));
        small(place, Align2::LEFT_CENTER, "Trend, 8 weeks");
    }
    let day = format!("Recall {}", view.day.as_deref().unwrap_or("on the day"));
    let names = if tiny { ["Today", "Day", "Oral"] } else { ["Recall today", day.as_str(), "Last oral mark"] };
    let wide = if tiny { S40 } else { S40 * 2.0 };
    for (x, text) in columns.figures.iter().zip(names) {
        let place = Rect::from_min_max(pos2(x - wide, head.top()), pos2(*x, head.bottom()));
        let galley = lines(ui, text, place.width(), 2, Size::Small, Cut::Regular, p.ink_second);
        let at = Align2::RIGHT_CENTER.align_size_within_rect(galley.size(), place).min;
        ui.painter().galley(at, galley, p.ink_second);
    }
    let mut at = 0;
    for band in &view.bands {
        let (_, rect) = ui.allocate_space(vec2(ui.available_width(), LIST_ROW));
        ui.painter().rect_filled(rect.expand2(vec2(S8, 0.0)), CornerRadius::ZERO, p.raised);
        let y = ui.painter().round_to_pixel_center(rect.top());
        ui.painter().hline(rect.expand2(vec2(S8, 0.0)).x_range(), y, theme::line(ui));
        let mut child =
            ui.new_child(eframe::egui::UiBuilder::new().id_salt(&band.title).max_rect(rect.shrink2(vec2(0.0, S4))));
        heading(&mut child, &band.title, Size::Label, Cut::Semi);
        for row in &band.rows {
            row_ui(ui, (at, row), view.weak_recall, local, tiny);
            if local.open && local.at == Some(at) {
                opened_ui(ui, row, view.weak_recall);
            }
            at += 1;
        }
    }
    ui.add_space(S12);
    ui.horizontal(|ui| {
        let (_, place) = ui.allocate_space(vec2(S16, theme::line_height(Size::Small)));
        mark(ui.painter(), place.center(), Mark::WedgeDown, p.amber);
        let words = format!(
            "recall below {:.0}, or a mark below the pass mark of {:.0}. Recall is over the cards asked before. Recall and marks in per cent; the weakest first in each function.",
            view.weak_recall * 100.0,
            view.pass_line * 100.0
        );
        let width = ui.available_width();
        label_in(ui, width, &words, Size::Small, Cut::Regular, p.ink_second);
    });
    ui.add_space(S16);
}

/// The chance of passing as a range, with the dearest competences beside it.
fn chance_ui(ui: &mut Ui, view: &CompetenceView, tiny: bool) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    let Some(chance) = &view.chance else {
        label_in(ui, READING, "Working out the chance of passing …", Size::Label, Cut::Regular, p.ink_second);
        ui.add_space(S8);
        return;
    };
    let width = ui.available_width();
    let left = if tiny { width } else { width * 0.5 };
    let words = |ui: &mut Ui| {
        label_in(ui, left, "Chance of passing", Size::Label, Cut::Semi, p.ink);
        match &chance.range {
            Some(range) => label_in(ui, left, range, if tiny { Size::Head } else { Size::Big }, Cut::Mono, p.ink),
            None => label_in(ui, left, NOT_YET, Size::Head, Cut::Semi, p.ink),
        };
        label_in(ui, left, &chance.when, Size::Label, Cut::Regular, p.ink_second);
        label_in(ui, left, &chance.behind, Size::Small, Cut::Regular, p.ink_second);
    };
    let costs = |ui: &mut Ui| {
        if chance.costs.is_empty() {
            return;
        }
        heading(ui, "Weak areas that lower your chance most", Size::Label, Cut::Semi);
        for CostRow { area, cost } in &chance.costs {
            let (id, rect) = ui.allocate_space(vec2(ui.available_width(), S24 + S4));
            let response = ui.interact(rect, id, Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, format!("{area} {cost}")));
            mark(ui.painter(), pos2(rect.left() + S4, rect.center().y), Mark::WedgeDown, p.amber);
            let right =
                paint(ui.painter(), rect.right_center(), Align2::RIGHT_CENTER, cost, Size::Label, Cut::Mono, p.ink);
            let place = Rect::from_min_max(pos2(rect.left() + S16, rect.top()), pos2(right.left() - S8, rect.bottom()));
            let galley = lines(ui, area, place.width(), 1, Size::Label, Cut::Regular, p.ink);
            ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), place).min, galley, p.ink);
            let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
            ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
        }
    };
    if tiny {
        words(ui);
        costs(ui);
    } else {
        ui.horizontal_top(|ui| {
            ui.vertical(|ui| {
                ui.set_width(left);
                words(ui);
            });
            ui.add_space(S24);
            ui.vertical(|ui| {
                ui.set_width(width - left - S40);
                costs(ui);
            });
        });
    }
    ui.add_space(S12);
}

fn row_ui(ui: &mut Ui, (n, row): (usize, &CompetenceRow), weak_below: f64, local: &mut CompetenceLocal, tiny: bool) {
    let p = theme::palette(ui);
    let current = local.at == Some(n);
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), LIST_ROW));
    let response = ui.interact(rect, id, Sense::click());
    let weak = if row.weak { ", weak" } else { "" };
    let said = format!(
        "{}{weak}: {}, recall of these today {}, on the day {}, last oral mark {}, {}",
        row.title,
        asked_words(row.met, row.required),
        figure(row.today),
        figure(row.on_day),
        figure(row.mark),
        row.trend_words()
    );
    response.widget_info(|| WidgetInfo::selected(WidgetType::SelectableLabel, true, current, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Choice);
        local.at = Some(n);
    }
    if response.clicked() {
        (local.at, local.open) = (Some(n), !(current && local.open));
    }
    if current {
        ui.painter().rect_filled(rect.expand2(vec2(S8, 0.0)), 0, p.raised);
        if !ui.clip_rect().contains_rect(rect) {
            ui.scroll_to_rect(rect, None);
        }
    }
    let (columns, names) = Columns::of(rect, tiny);
    let middle = rect.center().y;
    if row.weak {
        mark(ui.painter(), pos2(rect.left() + S4, middle), Mark::WedgeDown, p.amber);
    }
    let place = Rect::from_min_max(pos2(rect.left() + S24, rect.top()), pos2(names, rect.bottom()));
    let cut = if current { Cut::Semi } else { Cut::Regular };
    let galley = lines(ui, &row.title, place.width(), 1, Size::Label, cut, p.ink);
    ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), place).min, galley, p.ink);
    let left = columns.met;
    let count = format!("{}/{}", row.met, row.required);
    if !tiny {
        let bar = Rect::from_center_size(pos2(left + S40 + S4, middle), vec2(S40 * 2.0 + S8, S8));
        ui.painter().rect_stroke(bar, CornerRadius::ZERO, Stroke::new(LINE, p.line), StrokeKind::Inside);
        let share = row.met as f32 / row.required.max(1) as f32;
        let done = Rect::from_min_size(bar.min, vec2(bar.width() * share, bar.height()));
        ui.painter().rect_filled(done, CornerRadius::ZERO, p.ink_second);
    }
    let end = pos2(left + columns.width, middle);
    paint(ui.painter(), end, Align2::RIGHT_CENTER, &count, Size::Label, Cut::Mono, p.ink_second);
    for ((x, share), tone) in columns.figures.iter().zip([row.today, row.on_day, row.mark]).zip([
        weak_tone(row.today, weak_below),
        Tone::Plain,
        Tone::Plain,
    ]) {
        let color = theme::tone(ui, tone);
        paint(ui.painter(), pos2(*x, middle), Align2::RIGHT_CENTER, &figure(share), Size::Label, Cut::Mono, color);
    }
    if let Some((left, right)) = columns.trend {
        let place = Rect::from_min_max(pos2(left, rect.top() + S8), pos2(right, rect.bottom() - S8));
        kit::trend(ui, place, &row.trend);
    }
    let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
    ui.painter().hline((rect.left() + S24)..=rect.right(), y, theme::hairline(ui));
    ring_focus(ui, &response, rect);
    response.on_hover_cursor(CursorIcon::PointingHand);
}

fn weak_tone(recall: Option<f64>, weak_below: f64) -> Tone {
    if recall.is_some_and(|recall| recall < weak_below) { Tone::Weak } else { Tone::Plain }
}

/// An open row: its headings with recall and how much of them was asked, and its weakest cards.
fn opened_ui(ui: &mut Ui, row: &CompetenceRow, weak_below: f64) {
    let p = theme::palette(ui);
    ui.add_space(S4);
    let frame = eframe::egui::Frame::NONE.stroke(Stroke::new(LINE, p.bronze)).inner_margin(S16);
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        let two = ui.available_width() > READING;
        let columns = if two { 2 } else { 1 };
        let width = ui.available_width() / columns as f32 - S24;
        for pair in row.headings.chunks(columns) {
            ui.horizontal(|ui| {
                for HeadingRow { name, recall, asked, cards } in pair {
                    let (id, rect) = ui.allocate_space(vec2(width, S24));
                    let asked = asked_words(*asked, *cards);
                    let said = format!("{name}: recall {}, {asked}", figure(*recall));
                    let response = ui.interact(rect, id, Sense::hover());
                    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
                    let right = rect.right();
                    let shown = paint(
                        ui.painter(),
                        pos2(right, rect.center().y),
                        Align2::RIGHT_CENTER,
                        &figure(*recall),
                        Size::Label,
                        Cut::Mono,
                        theme::tone(ui, weak_tone(*recall, weak_below)),
                    );
                    let noted = paint(
                        ui.painter(),
                        pos2(right - S40, rect.center().y),
                        Align2::RIGHT_CENTER,
                        &asked,
                        Size::Small,
                        Cut::Regular,
                        p.ink_second,
                    );
                    let place = rect.with_max_x(noted.left().min(shown.left()) - S8);
                    let galley = lines(ui, name, place.width(), 1, Size::Label, Cut::Regular, p.ink);
                    let at = Align2::LEFT_CENTER.align_size_within_rect(galley.size(), place).min;
                    ui.painter().galley(at, galley, p.ink);
                    ui.add_space(S16);
                }
            });
        }
        if !row.missed.is_empty() {
            ui.add_space(S12);
            heading(ui, "Points missed most", Size::Label, Cut::Semi);
            for OftenMissed { say, ask, times } in &row.missed {
                let words = format!("{times} times  {say} [{ask}]");
                let width = ui.available_width();
                label_in(ui, width, &words, Size::Label, Cut::Regular, p.ink_second);
            }
        }
        if !row.weakest.is_empty() {
            ui.add_space(S12);
            heading(ui, "Weakest cards", Size::Label, Cut::Semi);
            for WeakCard { ask, recall } in &row.weakest {
                let words = format!("{:.0} %  {ask}", recall * 100.0);
                let width = ui.available_width();
                label_in(ui, width, &words, Size::Label, Cut::Regular, p.ink_second);
            }
        }
    });
    ui.add_space(S8);
}
