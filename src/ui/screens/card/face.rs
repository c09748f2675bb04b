//! What a kind of card is to the sheet on which it lies: its actions, its keys, its place, its drawing.

use eframe::egui::{Rect, Ui};

use crate::app::program::command::Command;
use crate::present::result::ResultView;
use crate::ui::keys::KeyLine;
use crate::ui::kit::{self, Act};
use crate::ui::screens::card::act::{CardAct, Moment, Own};
use crate::ui::screens::card::outcome::ResultAt;
use crate::ui::screens::card::prompt::Prompt;

/// A card of a kind at a stage, with its drafts.
pub(crate) trait CardFace {
    /// Before anything of the frame is drawn: what is playing goes on, and keys that come before all others are taken.
    fn follow(&mut self, _ui: &Ui) {}

    /// How it wants the sheet.
    fn layout(&self, ui: &Ui) -> Layout {
        Layout::plain(ui)
    }

    /// What may be done now, the primary action first.
    fn acts(&self, moment: Moment) -> Vec<Act<CardAct>>;

    /// The keys that are no action's: cursors, and what is taken inside a field.
    fn keys(&self) -> Vec<KeyLine> {
        Vec::new()
    }

    /// Whether Escape means something on the card before it leads away from it.
    fn takes_escape(&self) -> bool {
        false
    }

    /// Whether the outcome may be seen: nothing is playing, and nothing is being mended.
    fn is_settled(&self) -> bool {
        true
    }

    /// Draws it below its question, or with it where the layout says so. Returns what was asked for by mouse or by its keys.
    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command>;

    /// Draws its foot, where the layout keeps one.
    fn foot_ui(&mut self, _ui: &mut Ui, _foot: &Foot<'_>) -> Option<Command> {
        None
    }

    /// Carries out an action of its own.
    fn run(&mut self, _ui: &Ui, _act: Own) -> Option<Command> {
        None
    }
}

/// How a card wants the sheet.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Layout {
    /// Keeps its scroll apart from others'.
    pub(crate) scroll: &'static str,
    /// The title block is folded: the card needs the height.
    pub(crate) folded: bool,
    /// The card is as high as the sheet: its outcome stands in the strip above the actions, and nothing stands under it.
    pub(crate) is_board: bool,
    /// The outcome stands in the strip above the actions, wherever there would be room.
    pub(crate) in_strip: bool,
    /// An outcome in the strip takes one line.
    pub(crate) one_line: bool,
    /// The card draws its question itself.
    pub(crate) own_question: bool,
    /// Height of a foot in which the card draws its outcome itself.
    pub(crate) foot: Option<f32>,
}

impl Layout {
    /// A question with its answer below it, and the outcome under that.
    pub(crate) fn plain(ui: &Ui) -> Self {
        Self {
            scroll: "card",
            folded: false,
            is_board: false,
            in_strip: false,
            one_line: kit::is_low(ui.ctx()),
            own_question: false,
            foot: None,
        }
    }
}

/// What a card is drawn with.
pub(crate) struct Canvas<'a> {
    /// What stands over the answer.
    pub(crate) prompt: Prompt<'a>,
    /// The answer that was typed is being read: nothing is typed meanwhile.
    pub(crate) reading: bool,
    /// What is kept of its picture.
    pub(crate) picture: &'a mut kit::PictureLocal,
    /// What the answer comes to, once it is marked.
    pub(crate) result: Option<&'a ResultView>,
    /// Where that stands.
    pub(crate) at: ResultAt,
    /// Where the content of the sheet begins.
    pub(crate) top: f32,
}

impl Canvas<'_> {
    /// How high what stands above the answer is.
    pub(crate) fn used(&self, ui: &Ui) -> f32 {
        ui.cursor().top() - self.top
    }
}

/// Where a card's foot stands.
pub(crate) struct Foot<'a> {
    /// Above the actions.
    pub(crate) strip: Rect,
    /// Beside that, over the title block, where that stands at the right.
    pub(crate) beside: Option<Rect>,
    /// What the answer comes to, once it is marked.
    pub(crate) result: Option<&'a ResultView>,
    /// Sources that are too long for the title block.
    pub(crate) source: Option<&'a str>,
}
