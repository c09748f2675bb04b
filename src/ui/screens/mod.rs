//! The screens: each is given a view and its own drafts, draws them, and returns a command or nothing.

mod about;
mod blueprint;
mod card_page;
mod clock;
mod competence;
mod debrief;
mod debrief_replay;
mod deck;
mod figure;
mod first_run;
mod keys_sheet;
mod knowing;
mod library;
mod lineup;
mod lineup_board;
mod lineup_demands;
mod lineup_foot;
mod opening;
mod oral;
mod oral_front;
mod oral_middle;
mod oral_parts;
mod parts;
mod plan;
mod point;
mod profiles;
mod recall;
mod remedy;
mod sequence;
mod sequence_draft;
mod sequence_facts;
mod sequence_run;
mod sequence_sheet;
mod settings;
mod trouble;
mod watch_card;
mod watch_end;
mod watch_front;
mod why;
mod working;
mod working_givens;
mod working_marked;
mod worksheet;
mod worksheet_page;
mod worksheet_rows;

pub use about::about_ui;
pub use blueprint::{BlueprintLocal, blueprint_ui};
pub use card_page::{CardPageLocal, card_page_ui};
pub use clock::clock_ui;
pub use competence::{CompetenceLocal, competence_ui};
pub use debrief::{DebriefLocal, debrief_ui};
pub use deck::{DeckLocal, deck_ui};
pub use first_run::{FirstRunLocal, first_run_ui};
pub use keys_sheet::{KeyLine, key_lines, keys_sheet_ui};
pub use knowing::knowing_ui;
pub use library::{LibraryLocal, library_ui};
pub use opening::opening_ui;
pub use oral::{OralLocal, oral_ui};
pub use oral_front::{OralFrontLocal, oral_front_ui};
pub use plan::{PlanLocal, plan_ui};
pub use profiles::{ProfilesLocal, profiles_ui};
pub use settings::{SettingsLocal, settings_ui};
pub use trouble::trouble_ui;
pub use watch_card::{CardLocal, watch_card_ui};
pub use watch_end::watch_end_ui;
pub use watch_front::watch_front_ui;
pub use worksheet_page::{WorksheetPageLocal, worksheet_page_ui};

use crate::app::command::Command;
use crate::app::route::Route;
use crate::present::View;

/// Where Escape leads from a page, and what that is called; `None` where there is no way back. A card leads back
/// to where it was opened, which is `before` where that was not its deck; so does the worksheet.
pub fn leave(view: &View, before: Option<&Route>) -> Option<(&'static str, Command)> {
    match (view, before) {
        (View::WatchCard(_), _) => Some(("Leave the watch", Command::LeaveWatch)),
        (View::Oral(_), _) => Some(("Leave the sitting", Command::LeaveOral)),
        (View::Debrief(_) | View::Blueprint(_), _) => Some(("Back to Oral", Command::Go(Route::OralFront))),
        (View::Deck(_), _) => Some(("Back to the library", Command::Go(Route::Library))),
        (View::Card(_), Some(Route::Library)) => Some(("Back to the library", Command::Go(Route::Library))),
        (View::Card(_), Some(Route::Watch)) => Some(("Back to the watch", Command::Go(Route::Watch))),
        (View::Card(v), _) => Some(("Back to the deck", Command::Go(Route::Deck(v.key.deck.clone())))),
        (View::Worksheet(_), before) => {
            let route = before.cloned().unwrap_or_default();
            let name = if route == Route::Watch { "Back to the watch" } else { "Back" };
            Some((name, Command::Go(route)))
        }
        _ => None,
    }
}
