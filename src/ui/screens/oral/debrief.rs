//! What a sitting came to: marks by function, what to study next, missed points; or question by question.

use eframe::egui::{Align2, CornerRadius, Rect, Sense, Stroke, Ui, UiBuilder, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::command::{Command, OralCommand, ReportAs, ReportCommand, WatchCommand};
use crate::present::debrief::{MarkRow, MissedRow, missed_words};
use crate::present::{DebriefView, Tone, words};
use crate::ui::keys;
use crate::ui::kit::{self, Act, Mark, Room, Sheet, heading, label, label_in, lines, mark, paint, rich};
use crate::ui::screens::oral::replay::replay_ui;
use crate::ui::theme::measure::{LINE, LIST_ROW, READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Questions with missed points that are shown before all are asked for.
const FIRST: usize = 3;

/// What is shown of a debrief.
#[derive(Default)]
pub struct DebriefLocal {
    of: String,
    all: bool,
    /// The question that is looked at, from 0.
    turn: Option<usize>,
}

impl DebriefLocal {
    /// Escape leads back from the questions first.
    pub fn takes_escape(&self) -> bool {
        self.turn.is_some()
    }
}

/// What can be done.
#[derive(Clone)]
enum DebriefAct {
    Run(Command),
    All,
    Replay,
    Step(isize),
    Back,
}

/// Draws the debrief.
pub fn debrief_ui(ui: &mut Ui, view: &DebriefView, local: &mut DebriefLocal) -> Option<Command> {
    if local.of != view.id {
        *local = DebriefLocal { of: view.id.clone(), ..DebriefLocal::default() };
    }
    if local.turn.is_some() && keys::take(ui, keys::ESC) {
        local.turn = None;
    }
    let acts = acts(view, local);
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: "debrief" };
    let turn = local.turn.and_then(|at| Some((at, view.turns.get(at)?)));
    let all = local.all;
    let ((), act) = sheet.show(ui, &acts, |ui| match turn {
        Some((at, turn)) => replay_ui(ui, (at + 1, view.turns.len()), turn),
        None => content_ui(ui, view, all),
    });
    match act? {
        DebriefAct::Run(command) => return Some(command),
        DebriefAct::All => local.all = !local.all,
        DebriefAct::Replay => local.turn = Some(0),
        DebriefAct::Back => local.turn = None,
        DebriefAct::Step(by) => {
            let last = view.turns.len().saturating_sub(1);
            local.turn = local.turn.map(|at| at.saturating_add_signed(by).min(last));
        }
    }
    None
}

fn acts(view: &DebriefView, local: &DebriefLocal) -> Vec<Act<DebriefAct>> {
    if let Some(at) = local.turn {
        let mut acts = vec![
            Act::primary("Next question", keys::RIGHT, DebriefAct::Step(1)).when(at + 1 < view.turns.len()),
            Act::other("The one before", keys::TO_LEFT, DebriefAct::Step(-1)).when(at > 0),
            Act::other("Back to the marks", keys::letter('R'), DebriefAct::Back),
        ];
        if view.turns.get(at).is_some_and(|turn| turn.recorded) {
            acts.push(Act::other(
                "Hear the answer",
                keys::letter('H'),
                DebriefAct::Run(Command::Oral(OralCommand::HearTurn(at))),
            ));
        }
        return acts;
    }
    let study = DebriefAct::Run(Command::Watch(WatchCommand::StudyCards(view.study_cards.clone())));
    let write = |form| DebriefAct::Run(Command::Report(ReportCommand::WriteSitting(form)));
    let mut acts = vec![Act::primary("Study these now", keys::ENTER, study).when(!view.study_cards.is_empty())];
    if view.missed.len() > FIRST {
        acts.push(Act::other(
            if local.all { "Fewer questions" } else { "All that was missed" },
            keys::letter('A'),
            DebriefAct::All,
        ));
    }
    acts.push(Act::other("Question by question", keys::letter('R'), DebriefAct::Replay).when(!view.turns.is_empty()));
    acts.push(Act::other("PDF, to print", keys::letter('P'), write(ReportAs::Pdf)));
    acts.push(Act::other("Markdown", keys::letter('M'), write(ReportAs::Markdown)));
    acts.push(Act::other("CSV", keys::letter('V'), write(ReportAs::Csv)));
    acts
}

fn content_ui(ui: &mut Ui, view: &DebriefView, all: bool) {
    let p = theme::palette(ui);
    let full = kit::room(ui.ctx()) == Room::Full;
    let whole = ui.max_rect();
    let top = ui.cursor().top();
    let aside = if kit::room(ui.ctx()) == Room::Tiny {
        0.0
    } else if full {
        192.0
    } else {
        168.0
    };
    let wide = whole.width() - if aside > 0.0 { aside + S40 } else { 0.0 };
    let place = Rect::from_min_size(pos2(whole.left(), top), vec2(wide, f32::INFINITY));
    let mut main = ui.new_child(UiBuilder::new().id_salt("marks").max_rect(place));
    // The verdict and why come first, before anything else is read.
    let tone = theme::tone(&main, view.tone);
    main.horizontal_top(|ui| {
        let shape = match view.tone {
            Tone::Good => Mark::Tick,
            Tone::Bad => Mark::WedgeRight,
            _ => Mark::WedgeDown,
        };
        let (_, at) = ui.allocate_space(vec2(S24, theme::line_height(Size::Prompt)));
        mark(ui.painter(), pos2(at.left() + S8, at.center().y), shape, tone);
        ui.vertical(|ui| heading(ui, &view.headline, if full { Size::Prompt } else { Size::Head }, Cut::Semi));
    });
    main.add_space(S4);
    label_in(&mut main, READING + S40, &view.sentence, Size::Body, Cut::Regular, p.ink);
    label(&mut main, &view.about, Size::Label, Cut::Regular, p.ink_second);
    main.add_space(S24);
    marks_ui(&mut main, &view.functions);
    let mut bottom = main.min_rect().bottom();
    if aside > 0.0 {
        let left = whole.left() + wide + S40 / 2.0;
        let place = Rect::from_min_size(pos2(left + S16, top), vec2(aside, f32::INFINITY));
        let mut child = ui.new_child(UiBuilder::new().id_salt("study").max_rect(place));
        study_ui(&mut child, view);
        bottom = bottom.max(child.min_rect().bottom());
        let x = ui.painter().round_to_pixel_center(left);
        ui.painter().vline(x, top..=bottom, theme::hairline(ui));
    }
    ui.allocate_space(vec2(whole.width(), bottom - top));
    ui.add_space(S16);
    let y = ui.painter().round_to_pixel_center(ui.cursor().top());
    ui.painter().hline(whole.x_range(), y, theme::line(ui));
    ui.add_space(S12);
    missed_ui(ui, &view.missed, all);
    if aside == 0.0 {
        ui.add_space(S16);
        study_ui(ui, view);
    }
    if !view.well.is_empty() {
        ui.add_space(S24);
        heading(ui, "What went well", Size::Label, Cut::Semi);
        for line in &view.well {
            ui.horizontal_top(|ui| {
                let (_, at) = ui.allocate_space(vec2(S24, theme::line_height(Size::Label)));
                mark(ui.painter(), pos2(at.left() + S8, at.center().y), Mark::Tick, p.sea);
                let width = ui.available_width();
                label_in(ui, width, line, Size::Label, Cut::Regular, p.ink);
            });
        }
    }
    ui.add_space(S16);
    for fact in &view.facts {
        label(ui, &format!("{}: {}", fact.label, fact.words), Size::Small, Cut::Regular, p.ink_second);
    }
}

fn study_ui(ui: &mut Ui, view: &DebriefView) {
    let p = theme::palette(ui);
    heading(ui, "Study next", Size::Label, Cut::Semi);
    ui.add_space(S8);
    if view.study.is_empty() {
        label(ui, "Nothing was weak.", Size::Label, Cut::Regular, p.ink_second);
    }
    for row in view.study.iter().take(4) {
        let y = ui.painter().round_to_pixel_center(ui.cursor().top());
        ui.painter().hline(ui.max_rect().x_range(), y, theme::hairline(ui));
        ui.add_space(S8);
        label(ui, &row.name, Size::Label, Cut::Regular, p.ink);
        label(ui, &row.detail, Size::Small, Cut::Regular, p.ink_second);
        ui.add_space(S8);
    }
    if view.study.len() > 4 {
        let more = format!("and {} more", view.study.len() - 4);
        label(ui, &more, Size::Small, Cut::Regular, p.ink_second);
    }
}

/// Marks as bars against their lines, with figure and word.
fn marks_ui(ui: &mut Ui, rows: &[MarkRow]) {
    let p = theme::palette(ui);
    heading(ui, "Marks by function", Size::Label, Cut::Semi);
    ui.add_space(S4);
    let width = ui.available_width();
    let (names, right) = (width * 0.36, 112.0);
    for row in rows {
        let (id, rect) = ui.allocate_space(vec2(width, LIST_ROW));
        let response = ui.interact(rect, id, Sense::hover());
        let word = if row.passes { "passed" } else { "below" };
        let against = if row.passes { "passed" } else { "below the pass mark" };
        let said =
            format!("{}: {:.0} per cent, {against}; pass mark {:.0}", row.name, row.share * 100.0, row.line * 100.0);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
        let name = lines(ui, &row.name, names - S12, 1, Size::Label, Cut::Regular, p.ink);
        ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(name.size(), rect).min, name, p.ink);
        let axis = Rect::from_min_max(pos2(rect.left() + names, rect.top()), pos2(rect.right() - right, rect.bottom()));
        let y = rect.center().y;
        for part in 0..=5u8 {
            let x = ui.painter().round_to_pixel_center(axis.left() + axis.width() * f32::from(part) / 5.0);
            ui.painter().vline(x, rect.y_range(), theme::hairline(ui));
        }
        let color = if row.passes { p.sea } else { p.amber };
        let end = axis.left() + axis.width() * (row.share.clamp(0.0, 1.0) as f32);
        let bar = Rect::from_min_max(pos2(axis.left(), y - S4 - 2.0), pos2(end, y + S4 + 2.0));
        ui.painter().rect_filled(bar, CornerRadius::ZERO, color);
        let x = ui.painter().round_to_pixel_center(axis.left() + axis.width() * row.line as f32);
        ui.painter().vline(x, rect.y_range(), Stroke::new(2.0 * LINE, p.ink));
        let at = pos2(axis.right() + S40, y);
        let figure = format!("{:.0}", row.share * 100.0);
        paint(ui.painter(), at, Align2::RIGHT_CENTER, &figure, Size::Label, Cut::Mono, p.ink);
        let shape = if row.passes { Mark::Tick } else { Mark::WedgeDown };
        mark(ui.painter(), pos2(at.x + S12, y), shape, color);
        paint(ui.painter(), pos2(at.x + S24, y), Align2::LEFT_CENTER, word, Size::Label, Cut::Regular, color);
    }
    let said: Vec<String> = rows.iter().map(|row| format!("{:.0}", row.line * 100.0)).collect();
    let each = said.first().cloned().unwrap_or_default();
    let note = format!(
        "Per cent. The upright line is the pass mark: {each} in each function, {} all together.",
        said.last().cloned().unwrap_or_default()
    );
    ui.add_space(S4);
    label(ui, &note, Size::Small, Cut::Regular, p.ink_second);
}

fn missed_ui(ui: &mut Ui, rows: &[MissedRow], all: bool) {
    let p = theme::palette(ui);
    let shown = if all { rows.len() } else { rows.len().min(FIRST) };
    let title = match rows.len() {
        0 => "No point was missed".to_owned(),
        n if shown < n => format!("What was missed: {shown} of {n} questions"),
        n => format!("What was missed: {}", words::count(n, "question")),
    };
    heading(ui, &title, Size::Label, Cut::Semi);
    ui.add_space(S4);
    for row in &rows[..shown] {
        missed_row_ui(ui, row);
        let y = ui.painter().round_to_pixel_center(ui.cursor().top());
        ui.painter().hline(ui.max_rect().x_range(), y, theme::hairline(ui));
        ui.add_space(LINE);
    }
    if rows.is_empty() {
        label(ui, "All that was asked for was there.", Size::Label, Cut::Regular, p.ink_second);
    }
}

/// A question at the left with where it is from, what its answer did not say at the right.
fn missed_row_ui(ui: &mut Ui, row: &MissedRow) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    let width = ui.available_width();
    let (number, left) = (S40, width * 0.38);
    let top = ui.cursor().top();
    let begin = ui.cursor().left();
    let column = |ui: &mut Ui, at: f32, wide: f32, name: &str| {
        let place = Rect::from_min_size(pos2(begin + at, top), vec2(wide, f32::INFINITY));
        ui.new_child(UiBuilder::new().id_salt((name, &row.number)).max_rect(place))
    };
    let mut asked = column(ui, 0.0, number, "number");
    label(&mut asked, &row.number, Size::Label, Cut::Mono, p.ink_second);
    let mut asked = column(ui, number, left - number - S16, "asked");
    let wide = asked.available_width();
    label_in(&mut asked, wide, &row.asked, Size::Label, Cut::Regular, p.ink);
    label_in(&mut asked, wide, &format!("Source: {}", row.source), Size::Small, Cut::Regular, p.ink_second);
    let mut missed = column(ui, left, width - left, "missed");
    let wide = missed.available_width();
    for point in &row.points {
        missed.horizontal_top(|ui| {
            let (shape, color) = match (point.is_fatal(), point.prompted) {
                (true, _) => (Mark::WedgeRight, p.red_lead),
                (_, true) => (Mark::WedgeDown, p.amber),
                _ => (Mark::Cross, p.ink_second),
            };
            let (_, at) = ui.allocate_space(vec2(S24, theme::line_height(Size::Label)));
            mark(ui.painter(), pos2(at.left() + S8, at.center().y), shape, color);
            label_in(ui, wide - S24, &missed_words(point), Size::Label, Cut::Regular, p.ink);
        });
    }
    if let Some(because) = &row.because {
        missed.add_space(S4);
        rich(&mut missed, &format!("Because: {because}"), wide, Size::Label, p.ink_second);
    }
    let bottom = asked.min_rect().bottom().max(missed.min_rect().bottom()) + S8;
    ui.allocate_space(vec2(width, bottom - top));
}
