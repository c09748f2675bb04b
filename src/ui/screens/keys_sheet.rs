//! The keys of a screen, on a sheet in the place of the screen.

use eframe::egui::{Align2, Rect, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::present::View;
use crate::present::watch::{FrontState, Stage};
use crate::ui::keys;
use crate::ui::kit::{self, Act, Sheet, heading, lines};
use crate::ui::screens::{clock, lineup, point, sequence, working, worksheet_page};
use crate::ui::theme::measure::{LIST_ROW, S4, S12, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// A key and what it does.
pub type KeyLine = (&'static str, &'static str);

/// Draws the keys; true when they are to be put away.
pub fn keys_sheet_ui(ui: &mut Ui, lines_: &[KeyLine]) -> bool {
    let acts = [Act::primary("Back to the page", keys::ENTER, ())];
    let escape = keys::take(ui, keys::ESC);
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "keys" };
    let ((), act) = sheet.show(ui, &acts, |ui| {
        ui.add_space(S12);
        heading(ui, "Keys of this page", Size::Head, Cut::Semi);
        ui.add_space(S12);
        for line in lines_ {
            line_ui(ui, line);
        }
    });
    act.is_some() || escape
}

fn line_ui(ui: &mut Ui, (key, does): &KeyLine) {
    let p = theme::palette(ui);
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), LIST_ROW));
    let response = ui.interact(rect, id, Sense::hover());
    let said = format!("{key}: {does}");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    let mut x = rect.left();
    for face in key.split(", ") {
        x = kit::key_box(ui, pos2(x, rect.center().y), face.trim(), p.ink, p.line).right() + S4;
    }
    let left = (rect.left() + S40 * 4.0 + S24).max(x + S12);
    let place = Rect::from_min_max(pos2(left, rect.top()), rect.max);
    let galley = lines(ui, does, place.width(), 1, Size::Label, Cut::Regular, p.ink);
    ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), place).min, galley, p.ink);
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
}

/// The keys of a page.
pub fn key_lines(view: &View) -> Vec<KeyLine> {
    match view {
        View::FirstRun(_) => vec![
            ("ENTER", "Start the first watch"),
            ("L", "Look round first"),
            ("↑, ↓", "Choose the certificate"),
            ("TAB", "Type your name, which may stay empty"),
            ("D", "Type a date"),
            ("N", "No date yet"),
            ("←, →", "Fewer or more minutes a day"),
        ],
        View::WatchFront(v) => match v.state {
            FrontState::Ready => vec![("ENTER", "Start the watch"), ("S", "A shorter watch")],
            FrontState::GoOn => vec![("ENTER", "Go on with the watch")],
            FrontState::NothingDue | FrontState::Done => vec![("ENTER", "Look into the library")],
            FrontState::NoDecks => vec![("ENTER", "Read the deck folders again"), ("L", "Library")],
        },
        View::WatchCard(v) => {
            let mut lines = stage_lines(&v.stage);
            if v.can_take_back && v.stage.is_asked() {
                lines.push(("CTRL B", "Take back the last answer: its card comes back as it was marked"));
            }
            lines.push(("ESC", "Leave the watch; nothing accepted is lost"));
            lines
        }
        View::WatchEnd(v) => {
            let mut lines = vec![("ENTER", "To the front page"), ("L", "Library")];
            if v.can_take_back {
                lines.push(("CTRL B", "Take back the last answer"));
            }
            lines
        }
        View::OralFront(v) => {
            let enter = if v.standing.is_some() { "Go on with the sitting" } else { "Begin the oral" };
            vec![
                ("ENTER", enter),
                ("N", "Begin a new one, where one is not over"),
                ("B", "How questions are shared, and what passes"),
                ("SPACE", "Choose what has the focus"),
                ("←, →", "Fewer or more questions, with the focus on the ruler"),
            ]
        }
        View::Oral(_) => vec![
            ("ENTER", "Finish the answer, or hand it in; CTRL ENTER from inside a text"),
            ("SPACE", "Keep the marked answer and go on"),
            ("F5, F6, F7", "Speak, type, a second person marks"),
            ("1, …, 9", "Tick a point"),
            ("−, +", "Adjust the result"),
            ("K", "I don’t know, or nothing more"),
            ("W", "A note of the second person"),
            ("P", "Pause"),
            ("E", "End the sitting; you are asked first"),
            ("PAGE UP, PAGE DOWN", "Read the conversation so far"),
            ("ESC", "Leave the field; once more: leave the sitting, nothing kept is lost"),
        ],
        View::Blueprint(_) => vec![
            ("↑, ↓", "Choose a competence or a rule"),
            ("←, →", "Less, more"),
            ("ENTER", "Keep it"),
            ("O", "Back to ours"),
            ("ESC", "Back to Oral"),
        ],
        View::Debrief(_) => vec![
            ("ENTER", "Study these now"),
            ("A", "All missed points"),
            ("R", "The sitting question by question; ← and → step"),
            ("P", "As PDF, to print"),
            ("M, V", "As Markdown, as CSV"),
            ("H", "Hear a recorded answer"),
            ("ESC", "Back to Oral"),
        ],
        View::Competence(_) => {
            vec![
                ("↑, ↓", "Choose a competence"),
                ("SPACE", "Open it, shut it"),
                ("ENTER", "Study it"),
                ("W", "How well does this program know you?"),
                ("P, M, V", "Report as PDF, Markdown, CSV"),
            ]
        }
        View::Knowing(_) => vec![
            ("L", "Learn my memory from my answers"),
            ("S", "Stop"),
            ("O", "The published memory again"),
            ("ESC", "Back to Competence"),
        ],
        View::Plan(_) => vec![
            ("←, →", "The values of each day"),
            ("−, +", "Fewer minutes a day, more"),
            ("ENTER", "Keep this plan"),
            ("S", "Stop working it out"),
        ],
        View::Library(_) => vec![
            ("/", "Search every deck"),
            ("↑, ↓", "Choose a row"),
            ("ENTER", "Open it"),
            ("ESC", "Leave the search field; once more: put the search away"),
            ("R", "Read the folders again"),
        ],
        View::Deck(_) => vec![
            ("↑, ↓", "Choose a card"),
            ("ENTER", "Open it"),
            ("R", "Read the deck again"),
            ("ESC", "Back to the library"),
        ],
        View::Card(_) => vec![
            ("A", "Set aside"),
            ("B", "Bring back, where it is set aside"),
            ("F", "Report a fault"),
            ("ESC", "Back to where it was opened"),
        ],
        View::Profiles(_) => vec![("↑, ↓", "Choose a learner"), ("ENTER", "Open"), ("N", "New learner")],
        View::Settings(_) => vec![
            ("D", "Type the day of the oral"),
            ("N", "No date yet"),
            ("TAB", "To the next setting"),
            ("SPACE", "Choose what has the focus"),
            ("←, →", "Less or more of what has the focus"),
        ],
        View::Worksheet(_) => worksheet_page::key_lines(),
        View::Opening | View::About(_) => vec![],
        View::Clock(v) => clock::key_lines(v.state),
        View::StoreTrouble(_) => vec![("ENTER", "The first action shown"), ("R, E, O", "The others, as shown")],
    }
}

fn stage_lines(stage: &Stage) -> Vec<KeyLine> {
    let accept =
        [("SPACE", "Accept"), ("−, +", "Adjust the result by one"), ("A", "Set aside"), ("F", "Report a fault")];
    match stage {
        Stage::RecallAsked => {
            vec![("ENTER", "Show the key points"), ("T", "Type the answer"), ("CTRL ENTER", "Mark what is typed")]
        }
        Stage::RecallShown { .. } => {
            [("1, …, 9", "Tick a point as said, or take the tick away")].into_iter().chain(accept).collect()
        }
        Stage::FigureAsked { .. } => vec![("ENTER", "Mark the figure")],
        Stage::FigureMarked { .. } | Stage::WhyMarked { .. } => accept.into_iter().collect(),
        Stage::WhyAsked { .. } => vec![
            ("↑, ↓", "Choose a link, ashore or on the sheet"),
            ("ENTER, →", "Put it on the sheet"),
            ("←", "Lift it out again, or the last one (Backspace too)"),
            ("SHIFT ↑, SHIFT ↓", "Move it on the sheet"),
            ("CTRL ENTER", "Mark the order"),
        ],
        Stage::SequenceAsked(_) | Stage::SequenceRun(_) => sequence::key_lines(stage),
        Stage::LineupAsked(_) | Stage::LineupChecked(_) => lineup::key_lines(stage),
        Stage::WorkingAsked(_) | Stage::WorkingMarked(_) => working::key_lines(stage),
        Stage::PointAsked(_) | Stage::PointMarked(_) => point::key_lines(stage),
        Stage::Remedy { .. } => vec![("SPACE", "Next part")],
    }
}
