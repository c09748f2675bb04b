//! A sealed deck, shown.

use serde_json::json;

use super::shown::Shown;
use crate::app::publish::news::Signature;
use crate::app::publish::offer::known_of;
use crate::deck::read_sealed_to_ask;
use crate::deck::sealed::{Signed, is_sealed, open};
use crate::present::words;

/// Whether these bytes mean to be a sealed deck.
pub(super) fn is(bytes: &[u8]) -> bool {
    // Whatever is a zip and no other kind of file: it is told what it lacks of a sealed deck.
    is_sealed(bytes) || bytes.starts_with(b"PK\x03\x04")
}

/// What a sealed deck holds.
pub(super) fn show(bytes: &[u8]) -> Shown {
    let sealed = match open(bytes) {
        Ok(sealed) => sealed,
        Err(refusal) => {
            let json = json!({ "kind": "deck", "refused": { "code": refusal.code, "text": refusal.text } });
            return Shown { rows: Vec::new(), json, refused: Some(refusal) };
        }
    };
    let news = known_of(&sealed);
    let reading = read_sealed_to_ask(&sealed.files);
    let cards: usize = reading.counts.values().sum();
    let kinds: Vec<String> = reading.counts.iter().map(|(kind, count)| format!("{count} {kind}")).collect();
    let size: usize = sealed.files.values().map(Vec::len).sum();
    let head = &sealed.head;
    let refused = match &sealed.signed {
        Signed::Badly(refusal) => Some(refusal.clone()),
        _ => None,
    };
    let signature = news.signature.unwrap_or(Signature::None);
    let signed = match (&refused, &news.key_number, &head.key) {
        (Some(_), _, _) => "does not hold".to_owned(),
        (None, Some(number), Some(key)) => format!("good, by the key number {number}, {key}"),
        _ => "none: anybody could have made it".to_owned(),
    };
    let by_kind = if kinds.is_empty() { String::new() } else { format!(" ({})", kinds.join(", ")) };
    let rows = vec![
        ("Deck", head.deck.clone()),
        ("Title", head.title.clone()),
        ("Edition", head.edition.to_string()),
        ("Publisher", head.publisher.clone()),
        ("Made", head.made.clone()),
        ("Signature", signed),
        ("Cards", format!("{cards}{by_kind}")),
        ("Files", format!("{}, {} bytes", words::count(sealed.files.len(), "file"), words::number(size))),
    ];
    let json = json!({
        "kind": "deck",
        "deck": head.deck,
        "title": head.title,
        "edition": head.edition,
        "publisher": head.publisher,
        "made": head.made,
        "signature": signature.word(),
        "key": head.key,
        "cards": cards,
        "by_kind": reading.counts,
        "files": sealed.files.len(),
        "bytes": size,
        "refused": refused.as_ref().map(|refusal| json!({ "code": refusal.code, "text": refusal.text })),
    });
    Shown { rows, json, refused }
}
