//! The plan to the oral: the chance and the load day by day, and the two things one can turn.

use eframe::egui::{Rect, Sense, Ui, UiBuilder, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::command::{Command, PlanCommand};
use crate::app::program::route::Route;
use crate::domain::english;
use crate::present::competence::{CostRow, NOT_YET};
use crate::present::plan::{PlanState, PlanView, ReadyPlan};
use crate::present::words;
use crate::ui::keys;
use crate::ui::kit::{self, Act, Chart, Mark, Room, Sheet, heading, label, label_in, lines, mark, paint};
use crate::ui::screens::profile::first_run::{DayDraft, minutes_ui, oral_day_ui};
use crate::ui::theme::measure::{
    CHART_HIGH, CHART_LEAST, CHART_TINY, LINE, LIST_ROW, PLAN_ASIDE, READING, S4, S8, S12, S16, S24, S40,
};
use crate::ui::theme::{self, Cut, Size};

/// The day under the cursor, and drafts of minutes and date.
#[derive(Default)]
pub struct PlanLocal {
    cursor: Option<u32>,
    /// Whether the day was moved in this frame.
    moved: bool,
    minutes: Option<u32>,
    date: DayDraft,
}

/// Draws the plan.
pub fn plan_ui(ui: &mut Ui, view: &PlanView, local: &mut PlanLocal) -> Option<Command> {
    let acts = acts(view);
    if let PlanState::Ready(plan) = &view.state {
        let last = plan.days;
        local.moved = false;
        if keys::take_repeated(ui, keys::RIGHT) {
            local.moved = true;
            local.cursor = Some(local.cursor.map_or(0, |at| (at + 1).min(last)));
        }
        if keys::take_repeated(ui, keys::TO_LEFT) {
            local.moved = true;
            local.cursor = Some(local.cursor.map_or(last, |at| at.saturating_sub(1)));
        }
    }
    let by_key = minute_keys(ui, view);
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: "plan" };
    let (inner, act) = sheet.show(ui, &acts, |ui| content_ui(ui, view, local));
    act.or(by_key).or(inner)
}

fn acts(view: &PlanView) -> Vec<Act<Command>> {
    match &view.state {
        PlanState::Over(_) => vec![
            Act::primary("I passed", keys::letter('P'), Command::Plan(PlanCommand::RecordOralResult(Some(true)))),
            Act::other("Not this time", keys::letter('N'), Command::Plan(PlanCommand::RecordOralResult(Some(false)))),
            Act::other("It was put off", keys::letter('O'), Command::Plan(PlanCommand::RecordOralResult(None))),
        ],
        PlanState::Upkeep { .. } => vec![Act::primary("To the watch", keys::ENTER, Command::Go(Route::Watch))],
        PlanState::Working(_) => vec![Act::other("Stop", keys::letter('S'), Command::Plan(PlanCommand::Stop))],
        PlanState::Stopped => {
            vec![Act::primary("Work it out", keys::ENTER, Command::Plan(PlanCommand::TryMinutes(view.minutes)))]
        }
        PlanState::Ready(plan) if plan.kept => {
            vec![Act::primary("To the watch", keys::ENTER, Command::Go(Route::Watch))]
        }
        PlanState::Ready(_) => vec![Act::primary("Keep this plan", keys::ENTER, Command::Plan(PlanCommand::Keep))],
    }
}

fn minute_keys(ui: &Ui, view: &PlanView) -> Option<Command> {
    let more = keys::take_repeated(ui, keys::PLUS);
    let less = keys::take_repeated(ui, keys::MINUS);
    let minutes = match (more, less) {
        (true, _) => (view.minutes + 5).min(120),
        (_, true) => view.minutes.saturating_sub(5).max(5),
        _ => return None,
    };
    (minutes != view.minutes).then_some(Command::Plan(PlanCommand::TryMinutes(minutes)))
}

fn content_ui(ui: &mut Ui, view: &PlanView, local: &mut PlanLocal) -> Option<Command> {
    let room = kit::room(ui.ctx());
    if room == Room::Tiny {
        let command = main_ui(ui, view, local);
        ui.add_space(S16);
        return aside_ui(ui, view, local).or(command);
    }
    let whole = ui.max_rect();
    let top = ui.cursor().top();
    let wide = whole.width() - PLAN_ASIDE - S40;
    let place = |x: f32, width: f32| Rect::from_min_size(pos2(whole.left() + x, top), vec2(width, f32::INFINITY));
    let mut main = ui.new_child(UiBuilder::new().id_salt("main").max_rect(place(0.0, wide)));
    let command = main_ui(&mut main, view, local);
    let mut aside = ui.new_child(UiBuilder::new().id_salt("aside").max_rect(place(wide + S40, PLAN_ASIDE)));
    let turned = aside_ui(&mut aside, view, local);
    let bottom = main.min_rect().bottom().max(aside.min_rect().bottom());
    let x = ui.painter().round_to_pixel_center(whole.left() + wide + S40 / 2.0);
    ui.painter().vline(x, top..=bottom, theme::hairline(ui));
    ui.allocate_space(vec2(whole.width(), bottom - top));
    command.or(turned)
}

fn main_ui(ui: &mut Ui, view: &PlanView, local: &mut PlanLocal) -> Option<Command> {
    let p = theme::palette(ui);
    let size = if kit::room(ui.ctx()) == Room::Full { Size::Big } else { Size::Prompt };
    match &view.state {
        PlanState::Over(day) => {
            ui.add_space(S16);
            heading(ui, &format!("Your oral was on {day}"), size, Cut::Semi);
            ui.add_space(S8);
            let words = "What came of it? It is asked once, and stays on this computer.";
            label_in(ui, READING, words, Size::Body, Cut::Regular, p.ink_second);
        }
        PlanState::Upkeep { sentence, results } => {
            ui.add_space(S16);
            heading(ui, "Steady upkeep", size, Cut::Semi);
            ui.add_space(S8);
            label_in(ui, READING, sentence, Size::Body, Cut::Regular, p.ink_second);
            if !results.is_empty() {
                ui.add_space(S16);
                heading(ui, "Orals so far", Size::Label, Cut::Semi);
                for line in results {
                    label(ui, line, Size::Label, Cut::Regular, p.ink);
                }
            }
        }
        PlanState::Working(share) => {
            ui.add_space(S16);
            heading(ui, "Working out the plan", size, Cut::Semi);
            ui.add_space(S8);
            let words = "Many courses of study up to the oral are played through, and the best is taken.";
            label_in(ui, READING, words, Size::Body, Cut::Regular, p.ink_second);
            ui.add_space(S16);
            let (id, rect) = ui.allocate_space(vec2(ui.available_width().min(READING), S24));
            let response = ui.interact(rect, id, Sense::hover());
            let said = format!("{:.0} per cent worked out", share * 100.0);
            response.widget_info(|| WidgetInfo::labeled(WidgetType::ProgressIndicator, true, &said));
            kit::time_bar(ui, rect, *share as f32);
            label(ui, &said, Size::Label, Cut::Regular, p.ink_second);
        }
        PlanState::Stopped => {
            ui.add_space(S16);
            heading(ui, "The plan was not worked out", size, Cut::Semi);
            ui.add_space(S8);
            let words = "Watches go on by the plain rule: every card is asked in the first third of the time, and once more before the oral.";
            label_in(ui, READING, words, Size::Body, Cut::Regular, p.ink_second);
        }
        PlanState::Ready(plan) => chart_ui(ui, view, plan, local),
    }
    None
}

fn chart_ui(ui: &mut Ui, view: &PlanView, plan: &ReadyPlan, local: &mut PlanLocal) {
    let p = theme::palette(ui);
    let tiny = kit::room(ui.ctx()) == Room::Tiny;
    ui.horizontal(|ui| {
        heading(ui, "From today to the oral", Size::Label, Cut::Semi);
        ui.add_space(S8);
        label(ui, &words::count(plan.days as usize, "day"), Size::Label, Cut::Regular, p.ink_second);
    });
    ui.add_space(S8);
    let high = (ui.ctx().content_rect().height() * 0.5).clamp(CHART_LEAST, CHART_HIGH);
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), if tiny { CHART_TINY } else { high }));
    local.cursor = local.cursor.map(|at| at.min(plan.days));
    let chart = Chart {
        days: plan.days,
        band: &plan.chance,
        bars: &plan.load,
        level: f64::from(plan.given),
        ticks: &plan.ticks,
        names: [if plan.range.is_some() { "Chance of passing, per cent" } else { "" }, "Minutes a day", &plan.oral],
        cursor: local.cursor,
    };
    kit::chart(ui, rect, &chart);
    let response = ui.interact(rect, id, Sense::click());
    if let Some(pointer) = response.interact_pointer_pos() {
        let share = ((pointer.x - rect.left() - S40) / (rect.width() - S40)).clamp(0.0, 1.0);
        local.cursor = Some((share * plan.days as f32).floor() as u32);
    }
    let told = local.cursor.map(|day| told(&chart, view, plan, day));
    let chance = match (&plan.range, &plan.today) {
        (Some(range), Some(today)) => format!("{today}; {range} {}", plan.when),
        (Some(range), None) => format!("{range} {}", plan.when),
        (None, _) => "Minutes of each day up to the oral; the chance of passing is not drawn yet".to_owned(),
    };
    let said = format!("{chance}. {}", told.as_deref().unwrap_or_default());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    ui.add_space(S4);
    let words = told.unwrap_or_else(|| {
        let today = plan.today.as_ref().map(|today| format!("{}. ", english::capital(today))).unwrap_or_default();
        let band = if plan.range.is_some() { "Band: where the chance lies nine times in ten. " } else { "" };
        format!("{today}{band}← and → tell each day.")
    });
    let width = ui.available_width();
    let values = label_in(ui, width, &words, Size::Small, Cut::Regular, p.ink_second);
    if local.moved {
        values.scroll_to_me(None);
    }
    label_in(ui, width, &plan.made, Size::Small, Cut::Regular, p.ink_second);
    if let Some(short) = &plan.short {
        ui.add_space(S8);
        ui.horizontal_top(|ui| {
            let (_, place) = ui.allocate_space(vec2(S16, theme::line_height(Size::Label)));
            mark(ui.painter(), place.center(), Mark::WedgeDown, p.amber);
            let width = ui.available_width();
            label_in(ui, width, short, Size::Label, Cut::Regular, p.ink);
        });
    }
}

/// The values of one day, in words.
fn told(chart: &Chart<'_>, view: &PlanView, plan: &ReadyPlan, day: u32) -> String {
    let date = words::day(view.today.plus(day));
    let chance = chart.on(day).map_or_else(String::new, |on| {
        format!("; chance {}", crate::present::competence::range_words(on.low, on.high))
    });
    match plan.load.get(day as usize) {
        Some(minutes) => format!("{date}: {minutes:.0} minutes{chance}."),
        None => format!("{date}: the oral{chance}."),
    }
}

fn aside_ui(ui: &mut Ui, view: &PlanView, local: &mut PlanLocal) -> Option<Command> {
    let p = theme::palette(ui);
    let mut command = None;
    if let PlanState::Ready(plan) = &view.state {
        heading(ui, "Chance of passing", Size::Label, Cut::Semi);
        match &plan.range {
            Some(range) => label(ui, range, Size::Big, Cut::Mono, p.ink),
            None => label(ui, NOT_YET, Size::Head, Cut::Semi, p.ink),
        };
        let width = ui.available_width();
        label_in(ui, width, &plan.when, Size::Label, Cut::Regular, p.ink_second);
        rule(ui);
        if plan.range.is_some() {
            costs_ui(ui, &plan.costs);
            rule(ui);
        }
    }
    if matches!(view.state, PlanState::Over(_)) {
        return None;
    }
    heading(ui, "Minutes a day", Size::Label, Cut::Semi);
    let minutes = local.minutes.unwrap_or(view.minutes);
    ui.horizontal(|ui| {
        label(ui, &minutes.to_string(), Size::Head, Cut::Mono, p.ink);
        ui.add_space(S16);
        let (_, rect) = ui.allocate_space(vec2(S40 + S24, S24));
        let first = kit::key_box(ui, pos2(rect.left(), rect.center().y), keys::MINUS.face, p.ink_second, p.line);
        kit::key_box(ui, pos2(first.right() + S4, rect.center().y), keys::PLUS.face, p.ink_second, p.line);
    });
    let (_, chosen) = minutes_ui(ui, view.minutes, &mut local.minutes);
    command = chosen.map(|it| Command::Plan(PlanCommand::TryMinutes(it))).or(command);
    if let PlanState::Ready(plan) = &view.state {
        let width = ui.available_width();
        label_in(ui, width, &plan.more, Size::Label, Cut::Regular, p.ink_second);
    }
    rule(ui);
    heading(ui, "Day of the oral", Size::Label, Cut::Semi);
    ui.add_space(S4);
    oral_day_ui(ui, (view.oral, view.today), &mut local.date).or(command)
}

fn rule(ui: &mut Ui) {
    ui.add_space(S12);
    let y = ui.painter().round_to_pixel_center(ui.cursor().top());
    ui.painter().hline(ui.max_rect().x_range(), y, theme::hairline(ui));
    ui.add_space(S12);
}

fn costs_ui(ui: &mut Ui, costs: &[CostRow]) {
    let p = theme::palette(ui);
    heading(ui, "Weak areas that lower your chance most", Size::Label, Cut::Semi);
    if costs.is_empty() {
        label(ui, "Nothing stands out.", Size::Label, Cut::Regular, p.ink_second);
    }
    for CostRow { area, cost } in costs {
        let (id, rect) = ui.allocate_space(vec2(ui.available_width(), LIST_ROW));
        let response = ui.interact(rect, id, Sense::hover());
        let said = format!("{area}: {cost} points");
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
        mark(ui.painter(), pos2(rect.left() + S8, rect.center().y), Mark::WedgeDown, p.amber);
        let right = pos2(rect.right(), rect.center().y);
        let figure =
            paint(ui.painter(), right, eframe::egui::Align2::RIGHT_CENTER, cost, Size::Label, Cut::Mono, p.ink);
        let galley = lines(ui, area, figure.left() - rect.left() - S24 - S8, 1, Size::Label, Cut::Regular, p.ink);
        ui.painter().galley(pos2(rect.left() + S24, rect.center().y - galley.size().y / 2.0), galley, p.ink);
        let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
        ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
    }
}
