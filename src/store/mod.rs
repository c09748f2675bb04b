//! The store: one SQLite file per profile.
