//! A deck being written: its cards at the left, the card in hand in the middle, its problems and samples at the right.

use std::path::PathBuf;

use eframe::egui::{Id, Rect, ScrollArea, Ui, UiBuilder, pos2, vec2};

use crate::app::program::command::{Command, WritingCommand};
use crate::domain::kinds::Kind;
use crate::present::writing::WriteDeskView;
use crate::ui::keys;
use crate::ui::kit::{Act, Field, Room, Sheet, field, room};
use crate::ui::screens::writing::{hand, list, side};
use crate::ui::theme;
use crate::ui::theme::measure::{READING, S8, S16, S24, WRITE_LIST, WRITE_SIDE, WRITE_SIDE_FOLDED};

/// What is kept of a desk between frames.
#[derive(Default)]
pub struct DeskLocal {
    folder: String,
    /// The kind of a new card is asked for.
    choosing: bool,
    /// A file of reports is asked for: its path as typed.
    file: Option<String>,
    /// The card that was in hand in the last frame: another one's row is brought into sight.
    was: Option<usize>,
    hand: hand::HandLocal,
}

#[derive(Clone, PartialEq)]
enum DeskAct {
    Answer,
    Change,
    New,
    Kind(Kind),
    Reports,
    TakeReports,
    Open,
    Cancel,
}

/// Keys of the kinds that may be begun, in the order in which they are listed.
const KIND_KEYS: [char; 7] = ['R', 'F', 'W', 'S', 'L', 'K', 'P'];

/// What a new card of a kind is called, in the order of [`Kind::ALL`].
const NEW: [&str; Kind::COUNT] = ["Recall", "Figure", "Why", "Sequence", "Line-up", "Working", "Point"];

impl DeskLocal {
    /// Escape leaves the choice of a kind first.
    pub fn takes_escape(&self) -> bool {
        self.choosing || self.file.is_some()
    }

    /// On another page the picture is not drawn any more.
    pub fn put_picture_away(&mut self) {
        self.hand.put_picture_away();
    }
}

/// Draws the desk.
pub fn write_desk_ui(ui: &mut Ui, view: &WriteDeskView, local: &mut DeskLocal) -> Option<Command> {
    if local.folder != view.folder {
        *local = DeskLocal { folder: view.folder.clone(), ..DeskLocal::default() };
    }
    let mut command = by_arrows(ui, view);
    let acts = acts(view, local);
    let pages = (keys::take_repeated(ui, keys::PAGE_UP), keys::take_repeated(ui, keys::PAGE_DOWN));
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "write-desk" };
    let (inside, act) = sheet.show(ui, &acts, |ui| columns_ui(ui, view, local, pages));
    command = command.or(inside);
    let writing = |command| Some(Command::Writing(command));
    match act {
        Some(DeskAct::Answer) => writing(WritingCommand::Try),
        Some(DeskAct::Change) => writing(WritingCommand::Edit),
        Some(DeskAct::Open) => {
            hand::place(view).and_then(|(file, line)| writing(WritingCommand::OpenAt { file, line }))
        }
        Some(DeskAct::New) => {
            local.choosing = true;
            None
        }
        Some(DeskAct::Kind(kind)) => {
            local.choosing = false;
            writing(WritingCommand::New(kind))
        }
        Some(DeskAct::Reports) => {
            local.file = Some(String::new());
            None
        }
        Some(DeskAct::TakeReports) => {
            let file = local.file.take()?;
            writing(WritingCommand::TakeReports(PathBuf::from(file.trim())))
        }
        Some(DeskAct::Cancel) => {
            (local.choosing, local.file) = (false, None);
            None
        }
        None => command,
    }
}

fn acts(view: &WriteDeskView, local: &DeskLocal) -> Vec<Act<DeskAct>> {
    if local.choosing {
        let kind = |(at, kind): (usize, &Kind)| {
            let hot = keys::letter(KIND_KEYS[kind.place().min(KIND_KEYS.len() - 1)]);
            let name = NEW[kind.place().min(NEW.len() - 1)];
            if at == 0 {
                Act::outlined(name, hot, DeskAct::Kind(*kind))
            } else {
                Act::other(name, hot, DeskAct::Kind(*kind))
            }
        };
        let cancel = Act::other("Cancel", keys::ESC, DeskAct::Cancel);
        return view.kinds.iter().enumerate().map(kind).chain([cancel]).collect();
    }
    if let Some(file) = &local.file {
        return vec![
            Act::primary("Take the reports in", keys::ENTER, DeskAct::TakeReports).when(!file.trim().is_empty()),
            Act::other("Cancel", keys::ESC, DeskAct::Cancel),
        ];
    }
    let has_card = view.card.is_some();
    let mut acts = vec![Act::primary("Answer it here", keys::ENTER, DeskAct::Answer).when(has_card)];
    if view.has_form {
        acts.push(Act::other("Change it", keys::letter('E'), DeskAct::Change));
    }
    acts.push(Act::other("New card", keys::letter('N'), DeskAct::New));
    if has_card {
        acts.push(Act::other("Open its file", keys::letter('O'), DeskAct::Open));
    }
    acts.push(Act::other("Learners’ reports", keys::letter('L'), DeskAct::Reports));
    acts
}

fn by_arrows(ui: &Ui, view: &WriteDeskView) -> Option<Command> {
    let (up, down) = (keys::take_repeated(ui, keys::UP), keys::take_repeated(ui, keys::DOWN));
    let last = view.cards.len().saturating_sub(1);
    let to = if up { view.chosen.saturating_sub(1) } else { (view.chosen + usize::from(down)).min(last) };
    (to != view.chosen).then_some(Command::Writing(WritingCommand::Choose(to)))
}

fn columns_ui(ui: &mut Ui, view: &WriteDeskView, local: &mut DeskLocal, (up, down): (bool, bool)) -> Option<Command> {
    let room = room(ui.ctx());
    if room == Room::Tiny {
        return stacked_ui(ui, view, local, (up, down));
    }
    if local.file.is_some() {
        file_ui(ui, local);
    }
    let place = ui.available_rect_before_wrap();
    let height = (ui.clip_rect().bottom() - place.top() - S8).max(0.0);
    let whole = Rect::from_min_size(place.min, vec2(place.width(), height));
    ui.allocate_rect(whole, eframe::egui::Sense::hover());
    let side_width = if room == Room::Full { WRITE_SIDE } else { WRITE_SIDE_FOLDED };
    let left = whole.with_max_x(whole.left() + WRITE_LIST);
    let right = whole.with_min_x(whole.right() - side_width);
    let middle = Rect::from_min_max(pos2(left.right() + S24, whole.top()), pos2(right.left() - S24, whole.bottom()));
    for x in [left.right() + S24 / 2.0, right.left() - S24 / 2.0] {
        ui.painter().vline(ui.painter().round_to_pixel_center(x), whole.y_range(), theme::line(ui));
    }
    let moved = local.was.replace(view.chosen).is_some_and(|was| was != view.chosen);
    let chosen = column(ui, "cards", left, 0.0, |ui| list::list_ui(ui, view, moved));
    let page = middle.height() - S24;
    let by = if up {
        page
    } else if down {
        -page
    } else {
        0.0
    };
    let of_hand = column(ui, "hand", middle, by, |ui| hand::hand_ui(ui, view, &mut local.hand));
    let of_side = column(ui, "side", right, 0.0, |ui| side::side_ui(ui, view));
    chosen.or(of_hand).or(of_side)
}

/// The field for a file of reports, over the columns.
fn file_ui(ui: &mut Ui, local: &mut DeskLocal) {
    let Some(file) = &mut local.file else { return };
    let id = Id::new("reports-file");
    let fresh = file.is_empty() && !ui.memory(|m| m.has_focus(id));
    let name = "File of reports, as bedplate export faults --json writes it";
    let response = field(ui, &Field { hint: name, ..Field::line(id, name, READING) }, file);
    if fresh {
        response.request_focus();
    }
    ui.add_space(S8);
}

/// In a tiny window one stands below the other, the card in hand first.
fn stacked_ui(ui: &mut Ui, view: &WriteDeskView, local: &mut DeskLocal, (up, down): (bool, bool)) -> Option<Command> {
    if local.file.is_some() {
        file_ui(ui, local);
    }
    let page = ui.clip_rect().height() - S24;
    if up || down {
        ui.scroll_with_delta(vec2(0.0, if up { page } else { -page }));
    }
    let chosen = list::one_line_ui(ui, view);
    ui.add_space(S8);
    let of_hand = hand::hand_ui(ui, view, &mut local.hand);
    ui.add_space(S16);
    let of_side = side::side_ui(ui, view);
    ui.add_space(S16);
    chosen.or(of_hand).or(of_side).or(list::list_ui(ui, view, false))
}

/// A column that scrolls by itself, moved by so much.
fn column<R>(ui: &mut Ui, name: &str, rect: Rect, by: f32, content: impl FnOnce(&mut Ui) -> R) -> R {
    let mut child = ui.new_child(UiBuilder::new().id_salt(("write", name)).max_rect(rect));
    child.shrink_clip_rect(rect.expand2(vec2(S8, 0.0)));
    ScrollArea::vertical()
        .id_salt(("write", name))
        .auto_shrink(false)
        .max_height(rect.height())
        .show(&mut child, |ui| {
            if by != 0.0 {
                ui.scroll_with_delta(vec2(0.0, by));
            }
            ui.set_width(rect.width());
            content(ui)
        })
        .inner
}
