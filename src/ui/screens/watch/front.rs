//! The front page of today's watch.

use eframe::egui::{Align2, Rect, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::profile::only::Only;
use crate::app::program::command::{Command, LibraryCommand, WatchCommand};
use crate::app::program::route::Route;
use crate::domain::english;
use crate::present::WatchFrontView;
use crate::present::competence::asked_words;
use crate::present::watch::{FrontState, WeakArea, assigned_words};
use crate::ui::keys;
use crate::ui::kit::{
    Act, Column, Mark, Room, Sheet, columns_of, dimensioned_bar, head_row, heading, label, label_in, mark, paint,
    recall_bar, room,
};
use crate::ui::theme::measure::{READING, S4, S8, S12, S16, S24, S40, TABLE_ROW};
use crate::ui::theme::{self, Cut, Size};

/// Draws the front page.
pub fn watch_front_ui(ui: &mut Ui, view: &WatchFrontView) -> Option<Command> {
    let mut acts = acts(view.state);
    if let Some(assignment) = view.assignments.first().filter(|of| of.cards > 0 && view.state != FrontState::GoOn) {
        let only = Only::Assignment(assignment.id.clone());
        acts.push(Act::other("The assignment alone", keys::letter('A'), Command::Watch(WatchCommand::StandOnly(only))));
    }
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: "watch-front" };
    let ((), command) = sheet.show(ui, &acts, |ui| content_ui(ui, view));
    command
}

fn acts(state: FrontState) -> Vec<Act<Command>> {
    let stand = |shorter| Command::Watch(WatchCommand::Stand { shorter });
    let library = Command::Go(Route::Library);
    let s = keys::letter('S');
    let l = keys::letter('L');
    match state {
        FrontState::Ready => {
            vec![
                Act::primary("Start the watch", keys::ENTER, stand(false)),
                Act::other("Shorter watch", s, stand(true)),
            ]
        }
        FrontState::GoOn => vec![Act::primary("Go on with the watch", keys::ENTER, stand(false))],
        FrontState::NothingDue | FrontState::Done => {
            vec![Act::primary("Look into the library", keys::ENTER, library)]
        }
        FrontState::NoDecks => vec![
            Act::primary("Read the deck folders again", keys::ENTER, Command::Library(LibraryCommand::RereadDecks)),
            Act::other("Library", l, library),
        ],
    }
}

fn content_ui(ui: &mut Ui, view: &WatchFrontView) {
    let p = theme::palette(ui);
    let roomy = room(ui.ctx()) == Room::Full;
    ui.add_space(if roomy { S12 } else { S4 });
    label(ui, &view.date, Size::Label, Cut::Regular, p.ink_second);
    heading(ui, &view.headline, if room(ui.ctx()) == Room::Tiny { Size::Prompt } else { Size::Big }, Cut::Semi);
    ui.add_space(S12);
    label_in(ui, READING + S40, &view.sentence, Size::Body, Cut::Regular, p.ink_second);
    if let Some(bar) = &view.bar {
        ui.add_space(if roomy { S40 } else { S8 });
        dimensioned_bar(ui, bar);
    }
    for assignment in &view.assignments {
        ui.add_space(if roomy { S16 } else { S4 });
        label_in(ui, READING + S40, &assigned_words(assignment), Size::Body, Cut::Regular, p.ink);
    }
    if !view.weak.is_empty() {
        ui.add_space(if roomy { S24 } else { S8 });
        weak_ui(ui, view);
    }
}

const COLUMNS: [Column; 5] =
    [Column::Share(1.0), Column::Text(200.0), Column::Figure(76.0), Column::Figure(96.0), Column::Figure(112.0)];
const MIDDLE: [Column; 5] =
    [Column::Share(1.0), Column::Text(168.0), Column::Figure(64.0), Column::Figure(64.0), Column::Figure(80.0)];
const NARROW: [Column; 3] = [Column::Share(1.0), Column::Figure(64.0), Column::Figure(76.0)];

fn weak_ui(ui: &mut Ui, view: &WatchFrontView) {
    let title = match view.weak.len() {
        1 => "Weakest area".to_owned(),
        n => format!("{} weakest areas", english::capital(&crate::present::words::number(n))),
    };
    heading(ui, &title, Size::Head, Cut::Semi);
    let target = view.target_percent;
    let bar_head = format!("Recall today, and the target at {target} %");
    ui.add_space(S4);
    let narrow = room(ui.ctx()) == Room::Tiny;
    match room(ui.ctx()) {
        Room::Tiny => head_row(ui, &NARROW, &["Area", "Recall", "In watch"]),
        Room::Folded => {
            let bar_head = format!("Today, target {target} %");
            head_row(ui, &MIDDLE, &["Area", &bar_head, "Recall", "Forgotten", "In this watch"]);
        }
        Room::Full => head_row(ui, &COLUMNS, &["Area", &bar_head, "Recall", "Forgotten", "In this watch"]),
    }
    for area in &view.weak {
        area_ui(ui, area, target, narrow);
    }
}

fn area_ui(ui: &mut Ui, area: &WeakArea, target: u32, narrow: bool) {
    let p = theme::palette(ui);
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), TABLE_ROW));
    let percent = (area.recall.clamp(0.0, 1.0) * 100.0).round();
    let said = format!(
        "{}: recall {percent} %, {}, target {target} %, {} forgotten, {} in this watch",
        area.name,
        asked_words(area.asked, area.cards),
        area.slipped,
        area.in_watch
    );
    let response = ui.interact(rect, id, eframe::egui::Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    let columns: &[Column] = match room(ui.ctx()) {
        Room::Tiny => &NARROW,
        Room::Folded => &MIDDLE,
        Room::Full => &COLUMNS,
    };
    let cells: Vec<Rect> = columns_of(columns, rect.width())
        .into_iter()
        .map(|(x, w)| Rect::from_min_size(pos2(rect.left() + x, rect.top()), vec2(w, rect.height())))
        .collect();
    mark(ui.painter(), pos2(rect.left() + S4, rect.center().y), Mark::WedgeDown, p.amber);
    let name = Rect::from_min_max(pos2(rect.left() + S16 + S4, rect.top()), cells[0].max);
    // A recall over a few cards of many says so beside it.
    let asked = asked_words(area.asked, area.cards);
    let ink = p.ink_second;
    let noted = paint(ui.painter(), name.right_center(), Align2::RIGHT_CENTER, &asked, Size::Small, Cut::Regular, ink);
    let name = name.with_max_x(noted.left() - S8);
    crate::ui::kit::paint_in(ui, name, Align2::LEFT_CENTER, &area.name, Size::Body, Cut::Regular, p.ink);
    let figure = |cell: Rect, text: &str| {
        paint(ui.painter(), cell.right_center(), Align2::RIGHT_CENTER, text, Size::Body, Cut::Mono, p.ink);
    };
    let recall = |cell: Rect| {
        let sign = paint(
            ui.painter(),
            cell.right_center(),
            Align2::RIGHT_CENTER,
            " %",
            Size::Label,
            Cut::Regular,
            p.ink_second,
        );
        let at = pos2(sign.left(), cell.center().y);
        paint(ui.painter(), at, Align2::RIGHT_CENTER, &percent.to_string(), Size::Body, Cut::Mono, p.ink);
    };
    if narrow {
        recall(cells[1]);
        figure(cells[2], &area.in_watch.to_string());
    } else {
        recall_bar(ui, cells[1], area.recall as f32, target as f32 / 100.0, true);
        recall(cells[2]);
        figure(cells[3], &area.slipped.to_string());
        figure(cells[4], &area.in_watch.to_string());
    }
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
}
