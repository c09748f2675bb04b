//! PNG and JPEG files looked over without making dots of them: are they what they say, whole, and not too large to be
//! shown. Layouts from the PNG specification (ISO/IEC 15948) and from ITU-T T.81, annex B.

/// Most dots on a side, and in all: as the window shows them.
const MOST_SIDE: u32 = 8_000;
const MOST_DOTS: u64 = 40_000_000;

/// What is wrong with a picture: what, and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct RasterFault {
    pub(crate) what: &'static str,
    pub(crate) mend: &'static str,
}

const NEITHER: RasterFault =
    RasterFault { what: "is neither a PNG nor a JPEG file", mend: "save it as PNG or JPEG under that name" };
const CUT_SHORT: RasterFault =
    RasterFault { what: "is cut short", mend: "copy the whole file again, or save it again" };
const DAMAGED: RasterFault = RasterFault { what: "is damaged inside", mend: "copy the file again, or save it again" };
const TOO_LARGE: RasterFault = RasterFault {
    what: "has more dots than can be shown",
    mend: "save it with at most 8,000 dots on a side and 40 million in all",
};

const PNG: &[u8; 8] = b"\x89PNG\r\n\x1a\n";

/// Looks over a picture's bytes; what it is, is read from them and not from its name.
///
/// # Errors
/// Where it cannot be shown.
pub(crate) fn look_over(bytes: &[u8]) -> Result<(), RasterFault> {
    if let Some(chunks) = bytes.strip_prefix(PNG) {
        png(chunks)
    } else if bytes.starts_with(&[0xff, 0xd8]) {
        jpeg(bytes)
    } else {
        Err(NEITHER)
    }
}

fn number(bytes: &[u8]) -> u32 {
    bytes.iter().fold(0, |number, byte| number << 8 | u32::from(*byte))
}

fn size(width: u32, height: u32) -> Result<(), RasterFault> {
    match (width, height) {
        (0, _) | (_, 0) => Err(DAMAGED),
        _ if width.max(height) > MOST_SIDE || u64::from(width) * u64::from(height) > MOST_DOTS => Err(TOO_LARGE),
        _ => Ok(()),
    }
}

/// Chunks of a length, a name, data and a check sum, from `IHDR` to `IEND`.
fn png(mut rest: &[u8]) -> Result<(), RasterFault> {
    let mut has_data = false;
    let mut is_first = true;
    loop {
        let (length, name) = (rest.get(..4).ok_or(CUT_SHORT)?, rest.get(4..8).ok_or(CUT_SHORT)?);
        let end = 8 + number(length) as usize;
        let (body, sum) = (rest.get(4..end).ok_or(CUT_SHORT)?, rest.get(end..end + 4).ok_or(CUT_SHORT)?);
        // Small letters mark what a reader may pass over.
        if name[0].is_ascii_uppercase() && check_sum(body) != number(sum) {
            return Err(DAMAGED);
        }
        match name {
            b"IHDR" if is_first && body.len() == 17 => size(number(&body[4..8]), number(&body[8..12]))?,
            _ if is_first => return Err(DAMAGED),
            b"IDAT" => has_data = true,
            b"IEND" => return if has_data { Ok(()) } else { Err(DAMAGED) },
            _ => {}
        }
        is_first = false;
        rest = &rest[end + 4..];
    }
}

/// The check sum of a PNG's chunk (its annex D).
fn check_sum(bytes: &[u8]) -> u32 {
    const TABLE: [u32; 256] = {
        let mut table = [0; 256];
        let mut n = 0;
        while n < 256 {
            let mut sum = n as u32;
            let mut bit = 0;
            while bit < 8 {
                sum = if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 };
                bit += 1;
            }
            table[n] = sum;
            n += 1;
        }
        table
    };
    !bytes.iter().fold(u32::MAX, |sum, byte| TABLE[((sum ^ u32::from(*byte)) & 0xff) as usize] ^ (sum >> 8))
}

/// Segments up to the scan, one of them the frame with its size; then data up to the end's mark.
fn jpeg(bytes: &[u8]) -> Result<(), RasterFault> {
    let mut at = 2;
    let mut has_frame = false;
    loop {
        while bytes.get(at) == Some(&0xff) && bytes.get(at + 1) == Some(&0xff) {
            at += 1;
        }
        let (sign, mark) = (bytes.get(at).ok_or(CUT_SHORT)?, *bytes.get(at + 1).ok_or(CUT_SHORT)?);
        if *sign != 0xff || mark == 0 {
            return Err(DAMAGED);
        }
        // Marks without a length.
        if matches!(mark, 0x01 | 0xd0..=0xd8) {
            at += 2;
            continue;
        }
        if mark == 0xd9 {
            return Err(CUT_SHORT);
        }
        let length = number(bytes.get(at + 2..at + 4).ok_or(CUT_SHORT)?) as usize;
        if length < 2 {
            return Err(DAMAGED);
        }
        let body = bytes.get(at + 4..at + 2 + length).ok_or(CUT_SHORT)?;
        if matches!(mark, 0xc0..=0xcf) && !matches!(mark, 0xc4 | 0xc8 | 0xcc) {
            let sides = body.get(1..5).ok_or(DAMAGED)?;
            size(number(&sides[2..]), number(&sides[..2]))?;
            has_frame = true;
        }
        at += 2 + length;
        if mark == 0xda {
            break;
        }
    }
    match (has_frame, bytes[at..].windows(2).any(|two| two == [0xff, 0xd9])) {
        (false, _) => Err(DAMAGED),
        (true, false) => Err(CUT_SHORT),
        (true, true) => Ok(()),
    }
}
