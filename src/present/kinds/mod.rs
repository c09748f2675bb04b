//! What each kind of card shows, one file for a kind; and the one list of them.

use crate::domain::kinds::each_kind;

/// Declares the kinds' files, and makes what is shown of a card from the `Asked` and the `Marked` of each.
macro_rules! views {
    ($($(#[$doc:meta])* $name:ident($held:ty): $file:ident;)+) => {
        $(pub mod $file;)+

        /// A card that is asked, by its kind.
        #[derive(Debug, Clone, PartialEq)]
        pub enum AskedView {
            $($(#[$doc])* $name($file::Asked),)+
        }

        /// A card whose answer is marked, by its kind.
        #[derive(Debug, Clone, PartialEq)]
        pub enum MarkedView {
            $($(#[$doc])* $name($file::Marked),)+
        }
    };
}

each_kind!(views);
