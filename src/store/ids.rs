//! New ids. An attempt's id is a UUID of version 7 (RFC 9562, section 5.7): 48 bits of UTC milliseconds, then
//! 74 bits that are random but always grow within one run of the program, so that ids sort as they were made.

use std::sync::{Mutex, PoisonError};

use uuid::{Builder, Uuid};

use crate::domain::day::Instant;
use crate::domain::ids::AttemptId;

/// The bits after the milliseconds: 12 before the variant, 62 after it.
const TAIL_BITS: u32 = 74;
const LAST_TAIL: u128 = (1 << TAIL_BITS) - 1;
const LAST_MS: u64 = (1 << 48) - 1;

/// The id given out last: milliseconds and tail.
static LAST: Mutex<Option<(u64, u128)>> = Mutex::new(None);

/// A new attempt's id for an attempt accepted at `now`. Each is greater than all before it in this run, also
/// within one millisecond and when the clock is put back; instants before 1970 count as 1970.
pub fn new_attempt_id(now: Instant) -> AttemptId {
    let ms = u64::try_from(now.0).unwrap_or(0).min(LAST_MS);
    let random = random_bits();
    let mut last = LAST.lock().unwrap_or_else(PoisonError::into_inner);
    let next = match *last {
        Some(before) if before.0 >= ms => after(before, random),
        // The top bit stays clear, so that there is room to count up within the millisecond.
        _ => (ms, random & (LAST_TAIL >> 1)),
    };
    *last = Some(next);
    AttemptId(text(next))
}

/// A new name for this computer in a new profile.
pub(super) fn new_device() -> String {
    format!("device-{:015x}", random_bits() & ((1 << 60) - 1))
}

/// A new id for a learner.
pub(super) fn new_learner() -> String {
    format!("learner-{:015x}", random_bits() & ((1 << 60) - 1))
}

/// A little after `before`: a random step, so that ids cannot be guessed from one another.
fn after((ms, tail): (u64, u128), random: u128) -> (u64, u128) {
    let step = 1 + (random & u128::from(u32::MAX));
    match tail + step {
        tail if tail <= LAST_TAIL => (ms, tail),
        _ => (ms.saturating_add(1).min(LAST_MS), random & (LAST_TAIL >> 1)),
    }
}

fn text((ms, tail): (u64, u128)) -> String {
    let [.., a, b] = ((tail >> 62) as u16).to_be_bytes();
    let after_variant = ((tail & ((1 << 62) - 1)) as u64).to_be_bytes();
    let mut bytes = [a, b, 0, 0, 0, 0, 0, 0, 0, 0];
    bytes[2..].copy_from_slice(&after_variant);
    Builder::from_unix_timestamp_millis(ms, &bytes).into_uuid().to_string()
}

/// 74 random bits from the system, by way of a random UUID: its low 62 bits and 12 of its high ones are free of
/// the fixed fields. (Where a system gives no random bytes at all, not even the standard library's maps work.)
fn random_bits() -> u128 {
    let random = Uuid::new_v4().as_u128();
    ((random >> 80) & 0xfff) << 62 | random & ((1 << 62) - 1)
}
