//! The screens: each is given a view and its own drafts, draws them, and returns a command or nothing.

mod card;
mod class;
mod keys_sheet;
mod library;
mod oral;
mod profile;
mod progress;
mod watch;
mod worksheet;
mod writing;

pub use card::{CardLocal, watch_card_ui};
pub use class::class_ui;
pub use keys_sheet::{key_lines, keys_sheet_ui};
pub use library::{CardPageLocal, DeckLocal, LibraryLocal, card_page_ui, deck_ui, edition_ui, library_ui};
pub use library::{TakeInLocal, leave_take_in, take_in_ui};
pub use oral::{BlueprintLocal, DebriefLocal, OralFrontLocal, OralLocal};
pub use oral::{blueprint_ui, debrief_ui, oral_front_ui, oral_ui};
pub use profile::{BringOverLocal, FirstRunLocal, ProfilesLocal, SettingsLocal};
pub use profile::{about_ui, bring_over_ui, clock_ui, first_run_ui, opening_ui, profiles_ui, settings_ui, trouble_ui};
pub use progress::{CompetenceLocal, PlanLocal, competence_ui, knowing_ui, plan_ui};
pub use watch::{watch_end_ui, watch_front_ui};
pub use worksheet::{WorksheetPageLocal, worksheet_page_ui};
pub use writing::{DeskLocal, FormLocal, FrontLocal};
pub use writing::{write_desk_ui, write_form_ui, write_front_ui, write_told_ui};

use crate::app::program::command::{Command, LibraryCommand, OralCommand, WatchCommand, WritingCommand};
use crate::app::program::route::{Route, WritePage};
use crate::present::View;

/// Where Escape leads from a page, and what that is called; `None` where there is no way back. A card leads back
/// to where it was opened, which is `before` where that was not its deck; so does the worksheet.
pub fn leave(view: &View, before: Option<&Route>) -> Option<(&'static str, Command)> {
    match (view, before) {
        (View::WatchCard(_), _) => Some(("Leave the watch", Command::Watch(WatchCommand::Leave))),
        (View::Oral(_), _) => Some(("Leave the sitting", Command::Oral(OralCommand::Leave))),
        (View::Debrief(_) | View::Blueprint(_), _) => Some(("Back to Oral", Command::Go(Route::OralFront))),
        (View::BringOver(_), _) => Some(("Back to Settings", Command::Go(Route::Settings))),
        (View::Deck(_), _) => Some(("Back to the library", Command::Go(Route::Library))),
        (View::Edition(v), _) if v.fresh => Some(("Put it away", Command::Library(LibraryCommand::EditionSeen))),
        (View::Edition(v), _) => Some(("Put it away", Command::Go(Route::Deck(v.deck.clone())))),
        (View::TakeIn(v), _) => Some(leave_take_in(v)),
        (View::Card(_), Some(Route::Library)) => Some(("Back to the library", Command::Go(Route::Library))),
        (View::Card(_), Some(Route::Watch)) => Some(("Back to the watch", Command::Go(Route::Watch))),
        (View::Card(v), _) => Some(("Back to the deck", Command::Go(Route::Deck(v.key.deck.clone())))),
        (View::WriteFront(_), _) => Some(("Back to the library", Command::Go(Route::Library))),
        (View::WriteDesk(_), _) => Some(("Leave the deck", Command::Go(Route::Library))),
        (View::WriteTold(_), _) => Some(("Back to the card", Command::Writing(WritingCommand::BackToCard))),
        (View::WriteCard(_) | View::WriteForm(_), _) => {
            Some(("Back to the deck", Command::Go(Route::Write(WritePage::Desk))))
        }
        (View::Worksheet(_), before) => {
            let route = before.cloned().unwrap_or_default();
            let name = if route == Route::Watch { "Back to the watch" } else { "Back" };
            Some((name, Command::Go(route)))
        }
        _ => None,
    }
}
