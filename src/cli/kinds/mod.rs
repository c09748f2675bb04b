//! How each kind of card is asked, answered and told in the terminal: one file for a kind.

mod kind;

pub(super) use kind::{Asked, Chosen, Marked};

use crate::domain::kinds::each_kind;
use crate::present::kinds::{AskedView, MarkedView};

/// Declares the kinds' files, and finds how a card is asked and told.
macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident($held:ty): $file:ident;)+) => {
        $(mod $file;)+

        /// A card that is asked, by its kind.
        pub(super) fn asked(view: &AskedView) -> &dyn Asked {
            match view {
                $(AskedView::$name(view) => view,)+
            }
        }

        /// A card whose answer is marked, by its kind.
        pub(super) fn marked(view: &MarkedView) -> &dyn Marked {
            match view {
                $(MarkedView::$name(view) => view,)+
            }
        }
    };
}

each_kind!(kinds);
