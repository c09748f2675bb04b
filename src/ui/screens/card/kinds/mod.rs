//! The kinds of card on the sheet: one file or folder for a kind, each with its [`CardFace`].

use crate::domain::kinds::each_kind;
use crate::present::WatchCardView;
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::stage::Stage;
use crate::ui::screens::card::face::CardFace;
use crate::ui::screens::card::remedy::RemedyFace;
use crate::ui::screens::card::typed::Typed;

pub(crate) use working::givens_ui;

/// Declares the kinds' files, keeps the `Local` of each, and finds the face of a card by `asked` and `marked`.
macro_rules! faces {
    ($($(#[$doc:meta])* $name:ident($held:ty): $file:ident;)+) => {
        $(pub(crate) mod $file;)+

        /// Drafts of every kind: what is typed, placed, set.
        #[derive(Default)]
        pub(crate) struct Drafts {
            /// A typed answer: of a recall, of a figure.
            pub(crate) typed: Typed,
            $($file: $file::Local,)+
        }

        fn asked<'a>(view: &'a AskedView, drafts: &'a mut Drafts) -> Box<dyn CardFace + 'a> {
            match view {
                $(AskedView::$name(view) => $file::asked(view, &mut drafts.typed, &mut drafts.$file),)+
            }
        }

        fn marked<'a>(view: &'a MarkedView, drafts: &'a mut Drafts) -> Box<dyn CardFace + 'a> {
            match view {
                $(MarkedView::$name(view) => $file::marked(view, &mut drafts.$file),)+
            }
        }
    };
}

each_kind!(faces);

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
            Box::new(RemedyFace { view, part: card.shown.as_ref(), drawing })
        }
    }
}
