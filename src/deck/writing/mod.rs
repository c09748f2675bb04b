//! Texts of decks changed as their writer wants it, key by key: comments, order and all that is not meant stay byte for
//! byte. From text to text; no file is written here.

mod begin;
mod card;
mod lists;
mod network;
mod plant;
mod sample;
mod sight;
mod unwritable;
mod values;

pub use begin::{begun, usual_topic};
pub use card::{Place, blank_form, form_of, has_form, with_card, with_new_card};
pub use sample::{SampleForm, with_sample};
pub use sight::in_sight;
pub use unwritable::Unwritable;
