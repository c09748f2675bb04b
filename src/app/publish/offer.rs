//! A sealed deck held against what is at hand: whose it is, what it brings, and whether it may come in. Nothing is
//! written.

use std::path::Path;

use crate::app::publish::at_hand::{self, AtHand};
use crate::app::publish::keys;
use crate::app::publish::news::{Done, News, Signature};
use crate::deck::sealed::{PublicKey, Refusal, SealedDeck, Signed, open};
use crate::deck::{Reading, Severity, read_sealed_to_ask};
use crate::domain::deck::Deck;
use crate::domain::editions::{Edition, compare};
use crate::domain::taking_in::{Held, Offer, Rule, Standing, Verdict, Wishes, judge};
use crate::store::taken_in::{self, TakenIn};

/// A sealed deck that was read and looked into.
pub struct Offered {
    /// The file.
    pub sealed: SealedDeck,
    /// What is known of the deck as taken in.
    pub state: TakenIn,
    /// The edition in use.
    pub at_hand: Option<AtHand>,
    /// What is to be done with it.
    pub verdict: Verdict,
}

/// What looking into a file came to: what there is to say of it, and the deck where it is one that may be taken in.
pub struct LookedInto {
    /// What is known.
    pub news: News,
    /// The deck; none where it is refused.
    pub offered: Option<Offered>,
    /// What the rules were asked; none where it did not come to that.
    pub judged: Option<Judged>,
}

/// What the rules of taking in are asked.
#[derive(Debug, Clone)]
pub struct Judged {
    /// What is offered.
    pub offer: Offer,
    /// How its key stands.
    pub standing: Standing,
    /// What is there.
    pub held: Held,
}

impl LookedInto {
    fn refused(news: News, refusal: Refusal) -> Self {
        Self { news: News { refused: Some(refusal), ..news }, offered: None, judged: None }
    }
}

/// Looks into the bytes of a file.
pub fn look_into(home: &Path, bytes: &[u8], wishes: Wishes) -> LookedInto {
    let sealed = match open(bytes) {
        Ok(sealed) => sealed,
        Err(refusal) => return LookedInto::refused(News::unknown(), refusal),
    };
    let key = match &sealed.signed {
        Signed::By(key) => Some(key.clone()),
        _ => None,
    };
    let mut news = known_of(&sealed);
    if let Signed::Badly(refusal) = &sealed.signed {
        let refusal = refusal.clone();
        return LookedInto::refused(news, refusal);
    }
    let reading = read_sealed_to_ask(&sealed.files);
    let deck = match sound(&sealed, &reading) {
        Ok(deck) => deck,
        Err(refusal) => return LookedInto::refused(news, refusal),
    };
    let (state, standing) = match known_here(home, &sealed.head.deck, key.as_ref()) {
        Ok(known) => known,
        Err(refusal) => return LookedInto::refused(news, refusal),
    };
    let at_hand = at_hand::find(home, &sealed.head.deck, &state);
    news.was_edition = at_hand.as_ref().map(|at_hand| at_hand.edition);
    let old = at_hand.as_ref().and_then(|at_hand| at_hand.read().deck);
    news.update = Some(compare(old.as_ref().map(Edition::of).as_ref(), &Edition::of(deck)));
    if state.key.as_ref().is_some_and(|bound| key.as_ref().is_some_and(|key| key.line() != bound)) {
        news.signature = Some(Signature::OtherKey);
    }
    let offer = Offer {
        edition: sealed.head.edition,
        contents: sealed.contents(),
        key: key.as_ref().map(|key| key.line().to_owned()),
    };
    let held = Held {
        bound: state.key.clone(),
        was_taken_in: state != TakenIn::default(),
        in_use: at_hand.as_ref().map(AtHand::in_use),
    };
    let verdict = judge(&offer, standing, &held, wishes);
    match verdict {
        Verdict::Refused(rule) => {
            let text = why(rule, &sealed, &held, &news);
            let judged = Some(Judged { offer, standing, held });
            LookedInto { judged, ..LookedInto::refused(news, Refusal::rule(rule.code(), text)) }
        }
        Verdict::TakeIn | Verdict::AlreadyThere => {
            let offered = Some(Offered { sealed, state, at_hand, verdict });
            LookedInto { news, offered, judged: Some(Judged { offer, standing, held }) }
        }
    }
}

/// What the file says of itself.
pub fn known_of(sealed: &SealedDeck) -> News {
    let head = &sealed.head;
    let signature = match &sealed.signed {
        Signed::No => Signature::None,
        Signed::By(_) => Signature::Good,
        Signed::Badly(refusal) if refusal.code == "signature-missing" => Signature::None,
        Signed::Badly(_) => Signature::Bad,
    };
    let claimed = head.key.as_deref();
    let number = claimed.and_then(|line| PublicKey::from_line(line).ok()).map(|key| key.number());
    News {
        deck: Some(head.deck.clone()),
        title: Some(head.title.clone()),
        edition: Some(head.edition),
        publisher: Some(head.publisher.clone()),
        made: Some(head.made.clone()),
        signature: Some(signature),
        key: head.key.clone(),
        key_number: number,
        done: Done::Nothing,
        ..News::unknown()
    }
}

/// The deck of a sealed deck, where it can be asked as it stands and is the one that the seal names.
fn sound<'a>(sealed: &SealedDeck, reading: &'a Reading) -> Result<&'a Deck, Refusal> {
    let errors = reading.problems.iter().filter(|problem| problem.severity == Severity::Error);
    if let Some(first) = errors.clone().next() {
        let (file, line, message) = (&first.file, first.line, &first.message);
        let count = errors.count();
        let text = format!("the deck has errors ({count}); the first stands in `{file}`, line {line}: {message}");
        return Err(Refusal::rule("deck-errors", text));
    }
    let deck = reading.deck.as_ref();
    let deck = deck.ok_or_else(|| Refusal::rule("deck-errors", "`deck/deck.toml` has no deck that can be read"))?;
    let head = &sealed.head;
    for (what, sealed, written) in [
        ("id", &head.deck, &deck.id.0),
        ("title", &head.title, &deck.title),
        ("edition", &head.edition.to_string(), &deck.edition.to_string()),
        ("publisher", &head.publisher, &deck.publisher),
    ] {
        if sealed != written {
            let text = format!("the {what} is `{sealed}` in `seal.toml` and `{written}` in `deck/deck.toml`");
            return Err(Refusal::rule("seal-differs", text));
        }
    }
    Ok(deck)
}

fn known_here(home: &Path, deck: &str, key: Option<&PublicKey>) -> Result<(TakenIn, Standing), Refusal> {
    let unreadable = |why: String| Refusal::unreadable("home-unreadable", why);
    let state = taken_in::state(home, deck).map_err(|error| unreadable(error.to_string()))?;
    let standing = keys::standing(home, key).map_err(|error| unreadable(error.to_string()))?;
    Ok((state, standing))
}

/// Why a rule keeps it out, and what would let it in.
fn why(rule: Rule, sealed: &SealedDeck, held: &Held, news: &News) -> String {
    let deck = &sealed.head.deck;
    let (edition, was) = (sealed.head.edition, held.in_use.as_ref().map_or(0, |in_use| in_use.edition));
    let by = match (news.publisher.as_deref(), news.key.as_deref()) {
        (publisher, Some(key)) => format!("{} with the key {key}", named(publisher)),
        (publisher, None) => format!("{}, who did not sign it", named(publisher)),
    };
    match rule {
        Rule::OtherKey => {
            let bound = held.bound.as_deref().unwrap_or_default();
            format!("`{deck}` is taken in only with the key {bound}; this edition is signed with another")
        }
        Rule::Unsigned => {
            let bound = held.bound.as_deref().unwrap_or_default();
            format!("`{deck}` is taken in only with the key {bound}; this edition is not signed")
        }
        Rule::Bundled => format!(
            "`{deck}` came with the program, and this edition did not come from its makers; --replace-bundled takes it \
             in all the same"
        ),
        Rule::Untrusted => format!(
            "`{deck}` says that it is by {by}; nobody has said here that this is trusted. See that it is right, then take \
             it in with --trust"
        ),
        Rule::OlderEdition => {
            format!(
                "`{deck}` is here in edition {was}, and this is edition {edition}; --older takes it in all the same"
            )
        }
        Rule::SameEdition => format!(
            "`{deck}` is here in edition {was} with other contents; two different decks cannot be the same edition"
        ),
    }
}

fn named(publisher: Option<&str>) -> &str {
    publisher.filter(|name| !name.is_empty()).unwrap_or("somebody without a name")
}
