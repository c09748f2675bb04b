//! A map that is applied again and again until it changes nothing: how reflexes come to rest, or never do.

/// A map is applied this often before it is held never to rest.
pub(super) const MOST_PASSES: u32 = 4_096;

/// The reflexes never come to rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct NeverRests<T> {
    /// A state that comes again and again (or the last one looked at).
    pub(super) again: T,
}

/// Applies `pass` to `state` until it says that nothing changed. A state that comes twice means that it never will
/// (Brent's method of finding a cycle without keeping every state).
pub(super) fn settle<T: Copy + PartialEq>(
    mut state: T,
    mut pass: impl FnMut(&mut T) -> bool,
) -> Result<T, NeverRests<T>> {
    let (mut kept, mut since, mut power) = (state, 0_u32, 1_u32);
    for _ in 0..MOST_PASSES {
        if !pass(&mut state) {
            return Ok(state);
        }
        if state == kept {
            return Err(NeverRests { again: state });
        }
        since += 1;
        if since == power {
            (kept, since, power) = (state, 0, power.saturating_mul(2));
        }
    }
    Err(NeverRests { again: state })
}

#[cfg(test)]
mod tests {
    use super::settle;

    fn goes(next: fn(u32) -> u32) -> Option<u32> {
        let pass = |state: &mut u32| {
            let after = next(*state);
            std::mem::replace(state, after) != after
        };
        settle(0, pass).ok()
    }

    #[test]
    fn what_rests_rests_and_what_turns_is_found() {
        assert_eq!(goes(|n| (n + 1).min(7)), Some(7));
        assert_eq!(goes(|n| if n < 40 { n + 1 } else { 38 }), None, "a tail and then a cycle of three");
        assert_eq!(goes(|n| n + 1), None, "longer than anyone waits");
    }
}
