//! The store: one SQLite file per profile, and the only user of rusqlite.
//!
//! [`Store::open`] takes a profile's folder, looks whether its file is sound, brings it up to date and hands
//! back a [`Store`]: a handle that may be cloned and sent anywhere. The connection itself lives on a thread of
//! its own; every request is answered through a [`Ticket`]. What is kept once a ticket says so survives a
//! killed program and a power cut. The store holds no rule about learning: it keeps attempts and gives them
//! back, and keeps what others worked out from them as a cache that may be thrown away.

mod again;
mod attempts;
pub mod backup;
mod backup_info;
pub mod bring;
mod chains;
mod class;
mod connect;
mod copy;
mod db;
mod editions;
mod error;
mod events;
mod files;
mod fresh;
mod handle;
mod health;
mod held;
pub mod home;
pub mod ids;
mod index;
mod journal;
mod kept;
pub mod keys;
mod learner_id;
mod lock;
mod memory;
mod mounts;
mod notice;
mod open;
mod place;
pub mod profiles;
mod reading;
mod recover;
mod reports;
mod results;
pub mod rights;
mod salvage;
mod schema;
mod search;
mod sittings;
mod stamp;
mod take_back;
pub mod taken_in;
mod thread;
mod ticket;
mod voids;
mod wake;

pub use attempts::ListedAttempt;
pub use backup_info::BackupInfo;
pub use class::{ClassError, ClassFile, ClassInfo, Taken, list_classes};
pub use error::{OpenError, StoreError};
pub use events::KeptEvent;
pub use handle::Store;
pub use kept::FaultReport;
pub use notice::Notice;
pub use open::{OpenOptions, Opened};
pub use recover::Recovered;
pub use reports::{reports_from_json, reports_to_json};
pub use search::{Hit, Marked, SearchCard, SearchDoc};
pub use sittings::KeptSitting;
pub use ticket::Ticket;
pub use wake::Wake;
