//! The learner's profile: the first run, opening, settings, learners on this computer, trouble with the store, the clock.

mod about;
mod bring_over;
mod clock;
pub(crate) mod first_run;
mod opening;
mod profiles;
mod settings;
mod store_trouble;

pub use about::about_ui;
pub use bring_over::{BringOverLocal, bring_over_ui};
pub use clock::clock_ui;
pub use first_run::{FirstRunLocal, first_run_ui};
pub use opening::opening_ui;
pub use profiles::{ProfilesLocal, profiles_ui};
pub use settings::{SettingsLocal, settings_ui};
pub use store_trouble::trouble_ui;
