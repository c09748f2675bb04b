//! The store on disk.

pub mod backup;
pub mod basics;
pub mod damage;
pub mod full;
pub mod journal;
pub mod migrate;
pub mod place;
pub mod profiles;
pub mod props;
pub mod search;
pub mod sittings;
pub mod stick;
pub mod unread;
pub mod voids;
