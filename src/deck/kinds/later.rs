//! The kinds of card that are known by name and not asked by this version. What all cards share is checked;
//! their own keys are not judged.

use super::CardKind;

pub(crate) const WORKING: CardKind = CardKind { word: "working", one: "a working card", reader: None };
