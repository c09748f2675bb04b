//! Checks: what may be wrong with the past that a card takes over from what it was called before.

use super::table::short;
use crate::deck::check::{Found, Site};

checks! {
    BAD_WAS {
        code: "bad-was",
        severity: Error,
        says: "a `was` that is no id of a card",
        why: "The answers that the card takes over are looked for under this id. No card can ever have had such a one.",
        example: &["[[recall]]", r#"was = ["Priming Pump"]"#],
        mend: "write the id as the card had it, or deck-id/card-id where it stood in another deck",
    }
    OWN_WAS {
        code: "own-was",
        severity: Error,
        says: "a `was` that names the card itself",
        why: "A card keeps its own answers without being told to. Probably its former id is meant.",
        example: &["[[recall]]", r#"id = "trips""#, r#"was = ["trips"]"#],
        mend: "write the id that the card had before, or take it out",
    }
    SHARED_WAS {
        code: "shared-was",
        severity: Error,
        says: "one past that is claimed twice",
        why: "The answers that learners gave under an id can go on with one card only. Two cards cannot have one past.",
        example: &[
            "[[recall]]",
            r#"id = "trips-at-once""#,
            r#"was = ["trips"]"#,
            "[[recall]]",
            r#"id = "trips-after-a-delay""#,
            r#"was = ["trips"]"#,
        ],
        mend: "leave it with the card that asks most nearly what was asked, and take it out of the other",
    }
    STANDING_WAS {
        code: "standing-was",
        severity: Error,
        says: "a `was` that names a card which stands in the deck",
        why: "That card is still asked and keeps its answers. They cannot belong to another card as well.",
        example: &[
            "[[recall]]",
            r#"id = "trips""#,
            "[[recall]]",
            r#"id = "trips-at-once""#,
            r#"was = ["trips"]"#,
        ],
        mend: "take the old card out of the deck, or take its id out of `was`",
    }
}

pub(crate) fn bad_was(site: Site, text: &str) -> Found {
    BAD_WAS.at(site, format!("`{}` is no id of a card", short(text, 60)), BAD_WAS.mend)
}

pub(crate) fn own_was(site: Site, text: &str) -> Found {
    OWN_WAS.at(site, format!("`{}` is this card's own id", short(text, 60)), OWN_WAS.mend)
}

/// `first` says where it is claimed first: file and line.
pub(crate) fn shared_was(site: Site, text: &str, first: &str) -> Found {
    let message = format!("the past of `{}` is claimed already, in {first}", short(text, 60));
    SHARED_WAS.at(site, message, SHARED_WAS.mend)
}

/// `standing` says where the card stands: file and line.
pub(crate) fn standing_was(site: Site, text: &str, standing: &str) -> Found {
    let message = format!("the card `{}` stands in this deck, in {standing}", short(text, 60));
    STANDING_WAS.at(site, message, STANDING_WAS.mend)
}
