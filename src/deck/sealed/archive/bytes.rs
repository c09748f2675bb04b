//! Numbers in bytes, as zip files write them: the least byte first.

/// Two bytes at a place; none where there are not so many.
pub(super) fn two(bytes: &[u8], at: usize) -> Option<u16> {
    let part = bytes.get(at..at.checked_add(2)?)?;
    Some(u16::from_le_bytes([part[0], part[1]]))
}

/// Four bytes at a place; none where there are not so many.
pub(super) fn four(bytes: &[u8], at: usize) -> Option<u32> {
    let part = bytes.get(at..at.checked_add(4)?)?;
    Some(u32::from_le_bytes([part[0], part[1], part[2], part[3]]))
}

/// Bytes from a place on; none where there are not so many.
pub(super) fn many(bytes: &[u8], at: usize, count: usize) -> Option<&[u8]> {
    bytes.get(at..at.checked_add(count)?)
}
