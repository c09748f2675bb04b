//! Pure view data.
