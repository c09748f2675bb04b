//! Signatures in minisign's own form, over the BLAKE2b digest of what is signed ("prehashed"). They are made without
//! chance, so that the same list under the same key is signed by the same bytes.

use std::io::Cursor;

use blake2::{Blake2b512, Digest};
use ct_codecs::{Base64, Decoder, Encoder};
use minisign::SignatureBox;

use super::keys::{PublicKey, SecretKey};
use super::refusal::Refusal;

/// What the signature is called in a sealed deck.
pub const NAME: &str = "seal.toml.minisig";
const PREHASHED: &[u8] = b"ED";
const LEGACY: &[u8] = b"Ed";

/// Signs `signed`; `comment` is signed with it.
pub fn sign(signed: &[u8], key: &SecretKey, comment: &str) -> String {
    // Whatever ends a line would end the comment.
    let comment: String = comment.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let comment = comment.trim();
    let signature = key.sign(&Blake2b512::digest(signed));
    let mut whole = PREHASHED.to_vec();
    whole.extend(key.number());
    whole.extend(signature);
    let mut with_comment = signature.to_vec();
    with_comment.extend(comment.as_bytes());
    let (signature, of_comment) = (encoded(&whole), encoded(&key.sign(&with_comment)));
    let number = key.public().number();
    format!(
        "untrusted comment: signature by minisign key {number}\n{signature}\ntrusted comment: {comment}\n{of_comment}\n"
    )
}

/// A few dozen bytes always have a text.
fn encoded(bytes: &[u8]) -> String {
    Base64::encode_to_string(bytes).unwrap_or_default()
}

/// Verifies the signature of `signed` by this key.
///
/// # Errors
/// Where it is no signature, one of the old sort (not prehashed), one by another key, or one of other bytes.
pub fn verify(signed: &[u8], signature: &[u8], key: &PublicKey) -> Result<(), Refusal> {
    let bad = |why: &str| Refusal::rule("bad-signature", format!("`{NAME}` {why}"));
    let no_signature = || bad("is no signature as minisign writes it");
    let text = str::from_utf8(signature).map_err(|_| no_signature())?;
    let lines: Vec<&str> = text.lines().collect();
    let [comment, line, trusted, of_comment] = lines[..] else { return Err(no_signature()) };
    let whole = Base64::decode_to_vec(line.trim(), None).map_err(|_| no_signature())?;
    let of_comment = Base64::decode_to_vec(of_comment.trim(), None).map_err(|_| no_signature())?;
    let is_whole = comment.starts_with("untrusted comment: ")
        && trusted.starts_with("trusted comment: ")
        && whole.len() == 74
        && of_comment.len() == 64;
    if !is_whole {
        return Err(no_signature());
    }
    if whole.starts_with(LEGACY) {
        let text = format!("`{NAME}` is of the old sort, without a digest; sign with a newer minisign");
        return Err(Refusal::rule("legacy-signature", text));
    }
    let read = SignatureBox::from_string(text).map_err(|_| no_signature())?;
    if read.keynum() != key.inner().keynum() {
        return Err(bad("is by another key than the one that seal.toml names"));
    }
    minisign::verify(key.inner(), &read, Cursor::new(signed), true, false, false)
        .map_err(|_| bad("does not fit: the list of files was changed after it was signed, or another key signed it"))
}
