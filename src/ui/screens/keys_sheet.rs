//! The keys of a screen, on a sheet in the place of the screen.

use eframe::egui::{Align2, Rect, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::route::Route;
use crate::present::View;
use crate::ui::keys::{self, KeyLine};
use crate::ui::kit::{self, Act, Sheet, heading, lines};
use crate::ui::screens::{CardLocal, OralLocal, card, leave, oral, worksheet};
use crate::ui::theme::measure::{LIST_ROW, S4, S12, S24, S40};
use crate::ui::theme::{self, Cut, Size};

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

fn line_ui(ui: &mut Ui, KeyLine { face: key, does }: &KeyLine) {
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

/// The keys of a page: what it has just offered with a key beside it, then its cursors, then the way out.
pub fn key_lines(
    view: &View,
    offered: Vec<KeyLine>,
    (card, oral): (&mut CardLocal, &mut OralLocal),
    before: Option<&Route>,
) -> Vec<KeyLine> {
    let mut lines = offered;
    let cursors = match view {
        View::WatchCard(v) | View::WriteCard(v) => card::key_lines(v, card),
        View::Oral(v) => oral::key_lines(v, oral),
        View::Worksheet(_) => worksheet::key_lines(),
        _ => cursor_keys(view).iter().map(|(face, does)| KeyLine::of(face, does)).collect(),
    };
    // What is offered with its name beside the key says enough.
    lines.extend(
        cursors.into_iter().filter(|cursor| lines.iter().all(|line| line.face != cursor.face)).collect::<Vec<_>>(),
    );
    let out = leave(view, before).map(|(name, _)| KeyLine::of("ESC", name));
    lines.extend(out.filter(|out| lines.iter().all(|line| line.face != out.face)));
    lines
}

/// The keys of a page that no action shows: cursors, and what is done with the focus.
fn cursor_keys(view: &View) -> &'static [(&'static str, &'static str)] {
    match view {
        View::FirstRun(_) => &[
            ("↑, ↓", "Choose the certificate"),
            ("TAB", "Type your name, which may stay empty"),
            ("←, →", "Fewer or more minutes a day"),
        ],
        View::OralFront(_) => {
            &[("SPACE", "Choose what has the focus"), ("←, →", "Fewer or more questions, with the focus on the ruler")]
        }
        View::Blueprint(_) => &[("↑, ↓", "Choose a competence or a rule"), ("←, →", "Less, more")],
        View::Competence(_) => &[("↑, ↓", "Choose a competence"), ("SPACE", "Open it, shut it")],
        View::Knowing(_) => &[("ESC", "Back to Competence")],
        View::Plan(_) => &[("←, →", "The values of each day"), ("−, +", "Fewer minutes a day, more")],
        View::Library(_) => &[
            ("/", "Search every deck"),
            ("↑, ↓", "Choose a row"),
            ("ESC", "Leave the search field; once more: put the search away"),
        ],
        View::Deck(_) => &[("↑, ↓", "Choose a card")],
        View::WriteFront(_) => &[("↑, ↓", "Choose a deck")],
        View::WriteDesk(_) => &[("↑, ↓", "Take another card into the hand")],
        View::WriteForm(_) => &[
            ("TAB", "To the next field; with Shift to the one before"),
            ("CTRL ↑, CTRL ↓", "Move the key point that is being typed"),
        ],
        View::Profiles(_) => &[("↑, ↓", "Choose a learner")],
        View::Settings(_) => &[
            ("TAB", "To the next setting"),
            ("SPACE", "Choose what has the focus"),
            ("←, →", "Less or more of what has the focus"),
        ],
        View::Opening
        | View::Class(_)
        | View::WatchFront(_)
        | View::WatchCard(_)
        | View::WriteCard(_)
        | View::WriteTold(_)
        | View::WatchEnd(_)
        | View::Oral(_)
        | View::Debrief(_)
        | View::Edition(_)
        | View::TakeIn(_)
        | View::Card(_)
        | View::Worksheet(_)
        | View::BringOver(_)
        | View::About(_)
        | View::Clock(_)
        | View::StoreTrouble(_) => &[],
    }
}
