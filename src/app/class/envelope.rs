//! The form of a hand-in and of an assignment as a file.
//!
//! The first line says what it is, as `bedplate hand-in 1`; the second is `sha256 ` and the digest, in lower-case hex, of
//! every byte after it; the third is JSON on one line. In an assignment the sealed decks follow, one after the other, of
//! the sizes that the JSON gives. So one turned byte anywhere is noticed. The digest is no signature: it tells damage, not
//! who made the file.

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::domain::day::Instant;
use crate::domain::ids::DeckId;
use crate::domain::roster::{AssignedCard, Assignment, HandIn};

/// The version of the form that this program writes and reads.
const VERSION: u32 = 1;
/// The most bytes of a hand-in, and of an assignment with its decks.
pub const MOST_HAND_IN: usize = 256 << 20;
/// The most bytes of an assignment with its decks.
pub const MOST_ASSIGNMENT: usize = 512 << 20;
/// The longest name of a learner or a class, in characters.
pub const LONGEST_NAME: usize = 200;
/// No key point has a higher number.
const MOST_POINTS: usize = 1_000;
/// 31 December 9999: no file is from later.
const LAST_MS: i64 = 253_402_300_799_999;

/// What a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// From a learner.
    HandIn,
    /// From a lecturer.
    Assignment,
}

/// Why a file is not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FileFault {
    /// Something else.
    #[error("it is not {0}")]
    NotOne(&'static str),
    /// Of a later form.
    #[error("it was made by a later version of the program; install that version first")]
    Newer,
    /// Not as it was made.
    #[error("it is damaged: its digest is not that of its bytes; have it sent again")]
    Damaged,
    /// Whole, and yet not to be used.
    #[error("it cannot be used: {0}")]
    Senseless(String),
}

/// A sealed deck in an assignment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attached {
    /// Which deck.
    pub deck: DeckId,
    /// The sealed file's bytes.
    pub bytes: Vec<u8>,
}

/// The JSON of an assignment.
#[derive(Serialize, Deserialize)]
struct Head {
    assignment: Assignment,
    attached: Vec<AttachedHead>,
}

#[derive(Serialize, Deserialize)]
struct AttachedHead {
    deck: DeckId,
    size: usize,
}

impl Sort {
    fn words(self) -> &'static str {
        match self {
            Sort::HandIn => "bedplate hand-in ",
            Sort::Assignment => "bedplate assignment ",
        }
    }

    fn name(self) -> &'static str {
        match self {
            Sort::HandIn => "a hand-in",
            Sort::Assignment => "an assignment",
        }
    }
}

/// What a file says of itself by its first bytes; none where it is neither.
pub fn sort_of(bytes: &[u8]) -> Option<Sort> {
    [Sort::HandIn, Sort::Assignment].into_iter().find(|sort| bytes.starts_with(sort.words().as_bytes()))
}

/// A hand-in as the bytes of its file.
///
/// # Errors
/// Where a number in it is none.
pub fn write_hand_in(hand_in: &HandIn) -> Result<Vec<u8>, FileFault> {
    Ok(sealed(Sort::HandIn, line(hand_in)?))
}

/// An assignment with its sealed decks as the bytes of its file.
///
/// # Errors
/// Where a number in it is none.
pub fn write_assignment(assignment: &Assignment, decks: &[Attached]) -> Result<Vec<u8>, FileFault> {
    let attached = decks.iter().map(|deck| AttachedHead { deck: deck.deck.clone(), size: deck.bytes.len() }).collect();
    let mut body = line(&Head { assignment: assignment.without_words(), attached })?;
    decks.iter().for_each(|deck| body.extend(&deck.bytes));
    Ok(sealed(Sort::Assignment, body))
}

/// Reads a hand-in.
///
/// # Errors
/// See [`FileFault`].
pub fn read_hand_in(bytes: &[u8]) -> Result<HandIn, FileFault> {
    let body = opened(Sort::HandIn, bytes)?;
    let (json, rest) = first_line(body);
    if !rest.is_empty() {
        return senseless("something stands behind it");
    }
    let hand_in: HandIn = parsed(json)?;
    check_assignment(&hand_in.assignment)?;
    check_hand_in(&hand_in)?;
    Ok(hand_in)
}

/// Reads an assignment with its sealed decks, which are not looked into.
///
/// # Errors
/// See [`FileFault`].
pub fn read_assignment(bytes: &[u8]) -> Result<(Assignment, Vec<Attached>), FileFault> {
    let body = opened(Sort::Assignment, bytes)?;
    let (json, mut rest) = first_line(body);
    let head: Head = parsed(json)?;
    check_assignment(&head.assignment)?;
    let mut decks = Vec::new();
    for AttachedHead { deck, size } in head.attached {
        let Some((bytes, after)) = rest.split_at_checked(size) else {
            return senseless("a deck in it is shorter than it says");
        };
        decks.push(Attached { deck, bytes: bytes.to_vec() });
        rest = after;
    }
    if !rest.is_empty() {
        return senseless("something stands behind its decks");
    }
    Ok((head.assignment, decks))
}

/// A digest in lower-case hex.
pub fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

fn line(of: &impl Serialize) -> Result<Vec<u8>, FileFault> {
    let mut json = serde_json::to_vec(of).map_err(|why| FileFault::Senseless(why.to_string()))?;
    json.push(b'\n');
    Ok(json)
}

fn sealed(sort: Sort, body: Vec<u8>) -> Vec<u8> {
    let mut bytes = format!("{}{VERSION}\nsha256 {}\n", sort.words(), digest(&body)).into_bytes();
    bytes.extend(body);
    bytes
}

fn first_line(bytes: &[u8]) -> (&[u8], &[u8]) {
    let end = bytes.iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |at| at + 1);
    bytes.split_at(end)
}

/// What stands behind the digest, where it is that of the digest.
fn opened(sort: Sort, bytes: &[u8]) -> Result<&[u8], FileFault> {
    let (head, rest) = first_line(bytes);
    let number = head.strip_prefix(sort.words().as_bytes()).ok_or(FileFault::NotOne(sort.name()))?;
    let number = std::str::from_utf8(number).ok().and_then(|text| text.strip_suffix('\n'));
    match number.and_then(|text| text.parse::<u32>().ok().filter(|n| n.to_string() == text)) {
        Some(VERSION) => {}
        Some(later) if later > VERSION => return Err(FileFault::Newer),
        _ => return Err(FileFault::NotOne(sort.name())),
    }
    let (said, body) = first_line(rest);
    if said != format!("sha256 {}\n", digest(body)).as_bytes() {
        return Err(FileFault::Damaged);
    }
    Ok(body)
}

fn parsed<'a, T: Deserialize<'a>>(json: &'a [u8]) -> Result<T, FileFault> {
    serde_json::from_slice(json).map_err(|why| FileFault::Senseless(why.to_string()))
}

fn senseless<T>(why: &str) -> Result<T, FileFault> {
    Err(FileFault::Senseless(why.to_owned()))
}

fn is_plain_id(id: &str) -> bool {
    (1..=64).contains(&id.len()) && id.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
}

/// Whether a name of a learner or a class can be shown on one line.
pub fn is_name(name: &str) -> bool {
    !name.trim().is_empty() && name.chars().count() <= LONGEST_NAME && !name.chars().any(char::is_control)
}

fn check_assignment(assignment: &Assignment) -> Result<(), FileFault> {
    let cards_are_sound = |card: &AssignedCard| (1..=3).contains(&card.weight) && !card.topic.is_empty();
    if !is_plain_id(&assignment.id) || !is_plain_id(&assignment.class.id) || !is_name(&assignment.class.name) {
        return senseless("its id or its class is none");
    }
    if !assignment.cards.iter().all(cards_are_sound) {
        return senseless("a card in it has no topic, or no weight from 1 to 3");
    }
    match assignment.blueprint.clone().map(crate::domain::oral::Blueprint::checked) {
        Some(Err(why)) => senseless(&why.message),
        _ => Ok(()),
    }
}

fn check_hand_in(hand_in: &HandIn) -> Result<(), FileFault> {
    let is_time = |at: Instant| (0..=LAST_MS).contains(&at.0);
    if !is_plain_id(&hand_in.learner) || !is_name(&hand_in.name) || !is_time(hand_in.made) {
        return senseless("its learner, name or time is none");
    }
    for attempt in &hand_in.attempts {
        let ship = crate::domain::day::ShipOffset::from_minutes(attempt.ship.minutes());
        let points = [&attempt.said, &attempt.missed, &attempt.denied];
        let is_sound = (1..=64).contains(&attempt.id.0.chars().count())
            && is_time(attempt.at)
            && ship.is_some()
            && attempt.seconds.is_finite()
            && attempt.seconds >= 0.0
            && points.iter().all(|list| list.iter().all(|point| (1..=MOST_POINTS).contains(point)));
        if !is_sound {
            return senseless("an attempt in it has numbers that cannot be");
        }
    }
    let is_share = |share: f64| (0.0..=1.0).contains(&share);
    let mut orals = hand_in.orals.iter().flatten();
    let orals_are_sound = orals.all(|oral| {
        (1..=64).contains(&oral.id.chars().count())
            && is_time(oral.at)
            && is_share(oral.share)
            && oral.functions.iter().all(|of| is_share(of.share))
    });
    if !orals_are_sound || !hand_in.faults.iter().all(|fault| is_time(fault.at)) {
        return senseless("an oral or a fault in it has numbers that cannot be");
    }
    Ok(())
}
