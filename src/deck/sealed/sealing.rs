//! Making a sealed deck.

use super::archive::{self, Entry};
use super::keys::SecretKey;
use super::list::{self, Listed, SealHead};
use super::opened::{BELOW, within_limits};
use super::paths::{self, Met};
use super::refusal::Refusal;
use super::signature;

/// The bytes of a sealed deck: of these files (by their paths below the deck's folder), in the order of their paths, signed
/// where there is a key, which then stands in the head. The same arguments give the same bytes.
///
/// # Errors
/// Where a file's path may not stand in a sealed deck, or there is more than a deck may hold.
pub fn seal(head: &SealHead, files: &[Entry], key: Option<&SecretKey>) -> Result<Vec<u8>, Refusal> {
    let mut files: Vec<&Entry> = files.iter().collect();
    files.sort_by(|a, b| a.name.cmp(&b.name));
    within_limits(files.iter().map(|file| (file.name.as_str(), file.bytes.len())))?;
    let mut met = Met::default();
    for file in &files {
        paths::check(&file.name, &file.name)?;
        met.add(&file.name)?;
    }
    let head = SealHead { key: key.map(|key| key.public().line().to_owned()), ..head.clone() };
    let listed: Vec<Listed> = files.iter().map(|file| Listed::of(file)).collect();
    let text = list::text(&head, &listed);
    let mut entries = Vec::new();
    let signature = key.map(|key| {
        let comment = format!("deck:{} edition:{} made:{}", head.deck, head.edition, head.made);
        signature::sign(text.as_bytes(), key, &comment)
    });
    entries.push(Entry { name: list::NAME.to_owned(), bytes: text.into_bytes() });
    entries.extend(signature.map(|text| Entry { name: signature::NAME.to_owned(), bytes: text.into_bytes() }));
    entries.extend(
        files.into_iter().map(|file| Entry { name: format!("{BELOW}{}", file.name), bytes: file.bytes.clone() }),
    );
    Ok(archive::write(&entries))
}
