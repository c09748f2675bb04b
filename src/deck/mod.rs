//! Decks as text: reading with places, checks, and what they report.
