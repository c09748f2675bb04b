//! Whether an edition of a deck is taken in: by whose key it is signed, and what of the deck is there already.

/// An edition that is offered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// Publication number.
    pub edition: u32,
    /// The digest of its files.
    pub contents: String,
    /// The key that it is signed by; none where it is not signed.
    pub key: Option<String>,
}

/// What is there of the deck.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Held {
    /// The one key that the deck is taken in by since a signed edition of it was.
    pub bound: Option<String>,
    /// An edition of it has been taken in before.
    pub was_taken_in: bool,
    /// The edition that is in use.
    pub in_use: Option<InUse>,
}

/// The edition of a deck that is in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InUse {
    /// Publication number.
    pub edition: u32,
    /// The digest of its files.
    pub contents: String,
    /// It came with the program.
    pub is_bundled: bool,
}

/// Whether the key of an offer is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Nobody has said that it is trusted, or there is none.
    Unknown,
    /// The person trusts it.
    Trusted,
    /// It is the program's own.
    Programs,
}

/// What the person has said yes to beforehand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Wishes {
    /// Whoever signed it, or nobody, is trusted.
    pub trust: bool,
    /// A lower edition may take the place of a higher one.
    pub older: bool,
    /// A deck that came with the program may be replaced.
    pub replace_bundled: bool,
}

/// What is done with an offer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// It is taken in.
    TakeIn,
    /// It is there already; where it is signed and the deck is bound to no key yet, it is bound now.
    AlreadyThere,
    /// It is not taken in.
    Refused(Rule),
}

/// Why an edition is not taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Rule {
    /// The deck is bound to another key.
    OtherKey,
    /// The deck is bound to a key, and this edition is not signed.
    Unsigned,
    /// The deck came with the program, and this is not by the program's key.
    Bundled,
    /// Nobody has said that whoever made it is trusted.
    Untrusted,
    /// A higher edition is in use.
    OlderEdition,
    /// The edition in use has the same number and other contents.
    SameEdition,
}

impl Rule {
    /// All of them.
    pub const ALL: [Rule; 6] =
        [Rule::OtherKey, Rule::Unsigned, Rule::Bundled, Rule::Untrusted, Rule::OlderEdition, Rule::SameEdition];

    /// Its public name.
    pub fn code(self) -> &'static str {
        match self {
            Rule::OtherKey => "other-key",
            Rule::Unsigned => "unsigned",
            Rule::Bundled => "bundled",
            Rule::Untrusted => "untrusted",
            Rule::OlderEdition => "older-edition",
            Rule::SameEdition => "same-edition",
        }
    }
}

/// Judges an offer. Whose it is comes before which edition it is: nobody learns by refusals what is there.
pub fn judge(offer: &Offer, standing: Standing, held: &Held, wishes: Wishes) -> Verdict {
    match (&held.bound, &offer.key) {
        (Some(bound), Some(key)) if bound != key => return Verdict::Refused(Rule::OtherKey),
        (Some(_), None) => return Verdict::Refused(Rule::Unsigned),
        _ => {}
    }
    let is_bundled = held.in_use.as_ref().is_some_and(|in_use| in_use.is_bundled);
    if is_bundled && standing != Standing::Programs && !wishes.replace_bundled {
        return Verdict::Refused(Rule::Bundled);
    }
    let is_known = match offer.key {
        Some(_) => held.bound.is_some() || standing != Standing::Unknown,
        None => held.was_taken_in,
    };
    if !is_known && !wishes.trust {
        return Verdict::Refused(Rule::Untrusted);
    }
    match &held.in_use {
        Some(in_use) if offer.edition < in_use.edition && !wishes.older => Verdict::Refused(Rule::OlderEdition),
        Some(in_use) if offer.edition == in_use.edition && offer.contents == in_use.contents => Verdict::AlreadyThere,
        Some(in_use) if offer.edition == in_use.edition => Verdict::Refused(Rule::SameEdition),
        _ => Verdict::TakeIn,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NO: Wishes = Wishes { trust: false, older: false, replace_bundled: false };
    const TRUST: Wishes = Wishes { trust: true, ..NO };

    fn offer(edition: u32, contents: &str, key: Option<&str>) -> Offer {
        Offer { edition, contents: contents.to_owned(), key: key.map(str::to_owned) }
    }

    fn held(bound: Option<&str>, edition: u32, contents: &str, is_bundled: bool) -> Held {
        let in_use = Some(InUse { edition, contents: contents.to_owned(), is_bundled });
        Held { bound: bound.map(str::to_owned), was_taken_in: !is_bundled, in_use }
    }

    #[test]
    fn the_first_deck_of_a_key_wants_a_yes() {
        let (new, none) = (offer(1, "a", Some("k")), Held::default());
        assert_eq!(judge(&new, Standing::Unknown, &none, NO), Verdict::Refused(Rule::Untrusted));
        assert_eq!(judge(&new, Standing::Unknown, &none, TRUST), Verdict::TakeIn);
        assert_eq!(judge(&new, Standing::Trusted, &none, NO), Verdict::TakeIn);
        assert_eq!(judge(&new, Standing::Programs, &none, NO), Verdict::TakeIn);
    }

    #[test]
    fn a_bound_deck_takes_its_key_alone_whatever_is_wished() {
        let there = held(Some("k"), 1, "a", false);
        let all = Wishes { trust: true, older: true, replace_bundled: true };
        for standing in [Standing::Unknown, Standing::Trusted, Standing::Programs] {
            let other = judge(&offer(2, "b", Some("l")), standing, &there, all);
            assert_eq!(other, Verdict::Refused(Rule::OtherKey), "{standing:?}");
        }
        assert_eq!(judge(&offer(2, "b", None), Standing::Unknown, &there, all), Verdict::Refused(Rule::Unsigned));
        assert_eq!(judge(&offer(2, "b", Some("k")), Standing::Unknown, &there, NO), Verdict::TakeIn);
    }

    #[test]
    fn an_unsigned_deck_wants_a_yes_once_and_stays_unbound() {
        let unsigned = offer(2, "b", None);
        assert_eq!(judge(&unsigned, Standing::Unknown, &Held::default(), NO), Verdict::Refused(Rule::Untrusted));
        let there = held(None, 1, "a", false);
        assert_eq!(judge(&unsigned, Standing::Unknown, &there, NO), Verdict::TakeIn);
        let signed = offer(2, "b", Some("k"));
        assert_eq!(judge(&signed, Standing::Unknown, &there, NO), Verdict::Refused(Rule::Untrusted));
        assert_eq!(judge(&signed, Standing::Unknown, &there, TRUST), Verdict::TakeIn);
        // A deck that lies there without having been taken in says nothing of who made the file.
        let by_hand = Held { was_taken_in: false, ..there };
        assert_eq!(judge(&unsigned, Standing::Unknown, &by_hand, NO), Verdict::Refused(Rule::Untrusted));
    }

    #[test]
    fn what_came_with_the_program_is_replaced_by_its_key_or_by_a_plain_wish() {
        let there = held(None, 3, "a", true);
        let wish = Wishes { replace_bundled: true, ..TRUST };
        let foreign = offer(4, "b", Some("k"));
        assert_eq!(judge(&foreign, Standing::Trusted, &there, TRUST), Verdict::Refused(Rule::Bundled));
        assert_eq!(judge(&foreign, Standing::Trusted, &there, wish), Verdict::TakeIn);
        assert_eq!(judge(&foreign, Standing::Programs, &there, NO), Verdict::TakeIn);
        let unsigned = offer(4, "b", None);
        assert_eq!(judge(&unsigned, Standing::Unknown, &there, TRUST), Verdict::Refused(Rule::Bundled));
        assert_eq!(judge(&unsigned, Standing::Unknown, &there, wish), Verdict::TakeIn);
        // Nor by the program's own where that is no higher edition.
        assert_eq!(
            judge(&offer(3, "b", Some("k")), Standing::Programs, &there, NO),
            Verdict::Refused(Rule::SameEdition)
        );
        assert_eq!(
            judge(&offer(2, "b", Some("k")), Standing::Programs, &there, NO),
            Verdict::Refused(Rule::OlderEdition)
        );
    }

    #[test]
    fn editions_go_up_unless_it_is_wished_otherwise() {
        let there = held(Some("k"), 3, "a", false);
        let older = Wishes { older: true, ..NO };
        assert_eq!(
            judge(&offer(2, "b", Some("k")), Standing::Trusted, &there, NO),
            Verdict::Refused(Rule::OlderEdition)
        );
        assert_eq!(judge(&offer(2, "b", Some("k")), Standing::Trusted, &there, older), Verdict::TakeIn);
        assert_eq!(
            judge(&offer(3, "b", Some("k")), Standing::Trusted, &there, older),
            Verdict::Refused(Rule::SameEdition)
        );
        assert_eq!(judge(&offer(3, "a", Some("k")), Standing::Trusted, &there, NO), Verdict::AlreadyThere);
    }
}
