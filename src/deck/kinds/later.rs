//! The kinds of card that are known by name and not asked by this version. What all cards share is checked;
//! their own keys are not judged.

use super::CardKind;

pub(crate) const LINEUP: CardKind = CardKind { word: "lineup", one: "a lineup card", reader: None };
pub(crate) const POINT: CardKind = CardKind { word: "point", one: "a point card", reader: None };
