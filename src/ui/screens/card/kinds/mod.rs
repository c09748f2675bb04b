//! The kinds of card on the sheet: one file or folder for a kind, each with its [`CardFace`], and the one list of them.

pub(crate) mod figure;
mod lineup;
mod point;
pub(crate) mod recall;
mod sequence;
mod why;
mod working;

use crate::present::WatchCardView;
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::stage::Stage;
use crate::ui::screens::card::face::CardFace;
use crate::ui::screens::card::remedy::RemedyFace;
use crate::ui::screens::card::typed::Typed;

pub(crate) use working::givens_ui;

/// Drafts of every kind: what is typed, placed, set.
#[derive(Default)]
pub(crate) struct Drafts {
    /// A typed answer: of a recall, of a figure.
    pub(crate) typed: Typed,
    why: why::WhyLocal,
    sequence: sequence::SequenceLocal,
    lineup: lineup::LineupLocal,
    working: working::WorkingLocal,
    point: point::PointLocal,
}

impl Drafts {
    /// No drafts, and the field for an answer about to have the focus.
    pub(crate) fn fresh() -> Self {
        Self { typed: Typed::fresh(), ..Self::default() }
    }

    /// On another page a drawing is not drawn any more.
    pub(crate) fn put_drawing_away(&mut self) {
        self.point.drawing.clear();
    }
}

/// The face of a card at its stage.
pub(super) fn face<'a>(card: &'a WatchCardView, drafts: &'a mut Drafts) -> Box<dyn CardFace + 'a> {
    match &card.stage {
        Stage::Asked(view) => asked(view, drafts),
        Stage::Marked(it) => marked(&it.view, drafts),
        Stage::Remedy(view) => {
            let drawing = &mut drafts.point.drawing;
            Box::new(RemedyFace { kind: card.kind, view, part: card.shown.as_ref(), drawing })
        }
    }
}

fn asked<'a>(view: &'a AskedView, drafts: &'a mut Drafts) -> Box<dyn CardFace + 'a> {
    match view {
        AskedView::Recall(_) => Box::new(recall::Asked { typed: &mut drafts.typed }),
        AskedView::Figure(view) => Box::new(figure::Asked { view, typed: &mut drafts.typed }),
        AskedView::Why(view) => Box::new(why::Asked { view, local: &mut drafts.why }),
        AskedView::Sequence(view) => Box::new(sequence::Asked { view, local: &mut drafts.sequence }),
        AskedView::Lineup(view) => Box::new(lineup::Lineup::asked(view, &mut drafts.lineup)),
        AskedView::Working(view) => Box::new(working::Asked { view, local: &mut drafts.working }),
        AskedView::Point(view) => Box::new(point::Asked { view, local: &mut drafts.point }),
    }
}

fn marked<'a>(view: &'a MarkedView, drafts: &'a mut Drafts) -> Box<dyn CardFace + 'a> {
    match view {
        MarkedView::Recall(view) => Box::new(recall::Marked { view }),
        MarkedView::Figure(view) => Box::new(figure::Marked { view }),
        MarkedView::Why(view) => Box::new(why::Marked { view }),
        MarkedView::Sequence(run) => Box::new(sequence::Ran { run, local: &mut drafts.sequence }),
        MarkedView::Lineup(view) => Box::new(lineup::Lineup::checked(view, &mut drafts.lineup)),
        MarkedView::Working(view) => Box::new(working::Marked { view, local: &mut drafts.working }),
        MarkedView::Point(view) => Box::new(point::Marked { view, local: &mut drafts.point }),
    }
}
