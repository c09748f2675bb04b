//! The front page of the mock oral: begin a sitting, and those before.

use eframe::egui::{Align2, Sense, Ui, WidgetInfo, WidgetType, vec2};

use crate::app::program::command::{Command, OralCommand, SettingsCommand};
use crate::app::program::route::Route;
use crate::domain::oral::{Draw, Length, Manner, OralChoice, Way};
use crate::present::OralFrontView;
use crate::present::oral::SittingRow;
use crate::ui::keys;
use crate::ui::kit::{
    self, Act, Cell, Column, Mark, Room, Sheet, head_row, heading, label_in, option, row, ruler, toggle,
};
use crate::ui::theme::measure::{LIST_ROW, READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// What is chosen for the next sitting.
pub struct OralFrontLocal {
    draw: Draw,
    manner: Manner,
    way: Way,
    questions: Option<u32>,
}

impl Default for OralFrontLocal {
    fn default() -> Self {
        Self { draw: Draw::Mock, manner: Manner::Steady, way: Way::Write, questions: None }
    }
}

/// Draws the front page.
pub fn oral_front_ui(ui: &mut Ui, view: &OralFrontView, local: &mut OralFrontLocal) -> Option<Command> {
    let questions = local.questions.unwrap_or(view.questions as u32).clamp(1, 20);
    let choice = OralChoice {
        draw: local.draw,
        manner: local.manner,
        length: Length::Questions(questions as usize),
        way: local.way,
    };
    let mut acts = Vec::new();
    if view.standing.is_some() {
        acts.push(Act::primary("Go on with the sitting", keys::ENTER, Command::Oral(OralCommand::GoOn(local.way))));
        acts.push(
            Act::other("Begin a new one", keys::letter('N'), Command::Oral(OralCommand::Begin(choice)))
                .when(!view.no_cards),
        );
    } else {
        acts.push(
            Act::primary("Begin the oral", keys::ENTER, Command::Oral(OralCommand::Begin(choice))).when(!view.no_cards),
        );
    }
    if let Some(sitting) = &view.take_up {
        let again = Command::Oral(OralCommand::Resume(sitting.id.clone(), local.way));
        acts.push(Act::outlined("Take it up again", keys::letter('T'), again));
    }
    acts.push(Act::other("Blueprint", keys::letter('B'), Command::Go(Route::Blueprint)));
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: "oral-front" };
    let (opened, act) = sheet.show(ui, &acts, |ui| content_ui(ui, view, local, questions));
    act.or(opened)
}

fn content_ui(ui: &mut Ui, view: &OralFrontView, local: &mut OralFrontLocal, questions: u32) -> Option<Command> {
    let p = theme::palette(ui);
    ui.add_space(S8);
    let headline = match &view.standing {
        Some(standing) => standing.as_str(),
        None if view.no_cards => "No deck has cards for this certificate",
        None => "Sit a mock oral",
    };
    heading(ui, headline, if kit::room(ui.ctx()) == Room::Full { Size::Big } else { Size::Prompt }, Cut::Semi);
    ui.add_space(S4);
    if let Some(sitting) = &view.take_up {
        let words = format!("{}. Today it can be taken up again.", sitting.words);
        label_in(ui, READING + S40, &words, Size::Body, Cut::Regular, p.ink);
    }
    label_in(ui, READING + S40, &view.certificate, Size::Body, Cut::Regular, p.ink_second);
    let width = ui.available_width();
    label_in(ui, width, &view.rules, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S16);
    let width = ui.available_width();
    if kit::room(ui.ctx()) == Room::Tiny {
        choices_ui(ui, local, questions);
        ui.add_space(S16);
        let sound = sound_ui(ui, view);
        return sittings_ui(ui, view).or(sound);
    }
    ui.horizontal_top(|ui| {
        let left = (width * 0.38).min(352.0);
        ui.vertical(|ui| {
            ui.set_width(left);
            choices_ui(ui, local, questions);
        });
        ui.add_space(S40);
        ui.vertical(|ui| {
            ui.set_width(width - left - S40);
            let sound = sound_ui(ui, view);
            sittings_ui(ui, view).or(sound)
        })
        .inner
    })
    .inner
}

fn choices_ui(ui: &mut Ui, local: &mut OralFrontLocal, questions: u32) {
    heading(ui, "The next sitting", Size::Label, Cut::Semi);
    ui.add_space(S8);
    for (draw, name, note) in
        [(Draw::Mock, "Mock: as on the day", "mark counts"), (Draw::Coaching, "Coaching: where I am weak", "")]
    {
        if option(ui, local.draw == draw, name, note).clicked() {
            local.draw = draw;
        }
    }
    ui.add_space(S8);
    for (manner, name, note) in
        [(Manner::Steady, "A steady examiner", ""), (Manner::Pressing, "A pressing examiner", "less time")]
    {
        if option(ui, local.manner == manner, name, note).clicked() {
            local.manner = manner;
        }
    }
    ui.add_space(S8);
    for (way, name) in [
        (Way::Write, "I type or set my answers"),
        (Way::Speak, "I speak, and tick the points"),
        (Way::Second, "A second person marks me"),
    ] {
        if option(ui, local.way == way, name, "").clicked() {
            local.way = way;
        }
    }
    ui.add_space(S8);
    let mut wished = questions;
    kit::label(ui, &format!("{wished} lead questions"), Size::Label, Cut::Regular, theme::palette(ui).ink);
    ruler(ui, "Lead questions", &mut wished, 1, 20, 1);
    if wished != questions {
        local.questions = Some(wished);
    }
}

/// Voice and recording, for this and later sittings.
fn sound_ui(ui: &mut Ui, view: &OralFrontView) -> Option<Command> {
    heading(ui, "Voice and recording", Size::Label, Cut::Semi);
    let mut command = None;
    ui.horizontal_wrapped(|ui| {
        if toggle(ui, view.read_aloud, "Read the questions aloud").clicked() {
            command = Some(Command::Settings(SettingsCommand::SetReadAloud(!view.read_aloud)));
        }
        ui.add_space(S24);
        if toggle(ui, view.record, "Record what I say").clicked() {
            command = Some(Command::Settings(SettingsCommand::SetRecord(!view.record)));
        }
    });
    ui.add_space(S16);
    command
}

fn sittings_ui(ui: &mut Ui, view: &OralFrontView) -> Option<Command> {
    let p = theme::palette(ui);
    heading(ui, "Sittings so far", Size::Label, Cut::Semi);
    ui.add_space(S8);
    if view.rows.is_empty() {
        let words = "None yet. The first one says where you stand; its mark is yours alone.";
        label_in(ui, READING, words, Size::Body, Cut::Regular, p.ink_second);
        return None;
    }
    if view.trend.len() > 1 {
        let (id, rect) = ui.allocate_space(vec2(ui.available_width().min(READING), S40 + S12));
        let said: Vec<String> = view.trend.iter().map(|share| format!("{:.0}", share * 100.0)).collect();
        let said = format!("Marks of the sittings, oldest first: {}; {:.0} passes", said.join(", "), view.line * 100.0);
        let response = ui.interact(rect, id, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
        let inner = rect.shrink2(vec2(S4, S4));
        kit::marks(ui, inner.with_max_x(inner.right() - S40 * 2.0), &view.trend, view.line);
        let word = format!("pass {:.0}", view.line * 100.0);
        let y = inner.bottom() - inner.height() * view.line as f32;
        let at = eframe::egui::pos2(inner.right() - S40 * 2.0 + S8, y);
        kit::paint(ui.painter(), at, Align2::LEFT_CENTER, &word, Size::Small, Cut::Regular, p.ink_second);
        ui.add_space(S12);
    }
    let columns = match kit::room(ui.ctx()) {
        Room::Tiny => {
            [Column::Figure(24.0), Column::Share(1.0), Column::Text(0.0), Column::Figure(32.0), Column::Text(96.0)]
        }
        _ => [Column::Figure(24.0), Column::Text(120.0), Column::Share(1.0), Column::Figure(32.0), Column::Text(136.0)],
    };
    head_row(ui, &columns, &["", "Date", "What", "Mark", ""]);
    let mut command = None;
    for sitting in &view.rows {
        command = row_ui(ui, &columns, sitting).or(command);
    }
    command
}

fn row_ui(ui: &mut Ui, columns: &[Column], sitting: &SittingRow) -> Option<Command> {
    use crate::present::Tone;
    let mark = match sitting.tone {
        Tone::Good => Some(Mark::Tick),
        Tone::Weak => Some(Mark::WedgeDown),
        Tone::Bad => Some(Mark::WedgeRight),
        _ => None,
    };
    let cells = [
        Cell::figure(sitting.number.to_string()),
        Cell::text(sitting.date.clone()),
        Cell::quiet(sitting.what.clone()),
        Cell::figure(sitting.mark.clone()),
        Cell::text(sitting.word.clone()).toned(sitting.tone).marked(mark),
    ];
    let said = format!(
        "Sitting {}, {}, {}: {} per cent, {}",
        sitting.number, sitting.date, sitting.what, sitting.mark, sitting.word
    );
    let response = row(ui, columns, &cells, LIST_ROW, (sitting.over, false), &said);
    (sitting.over && response.clicked()).then(|| Command::Go(Route::Debrief(sitting.id.clone())))
}
