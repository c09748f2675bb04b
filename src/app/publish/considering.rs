//! A file looked into for somebody who will be asked: with everything that they must say yes to.

use std::path::Path;

use crate::app::publish::news::{Done, News};
use crate::app::publish::offer::{Judged, look_into};
use crate::domain::taking_in::{Rule, Verdict, Wishes, judge};

/// What there is to ask about a file.
#[derive(Debug, Clone, PartialEq)]
pub struct Considered {
    /// What is known. It is refused only where no yes would let it in; it is there already where nothing is to be done.
    pub news: News,
    /// What must be said yes to, in this order.
    pub questions: Vec<Rule>,
    /// The wishes that saying yes comes to.
    pub wishes: Wishes,
}

/// Looks into the bytes of a file, and finds what must be said yes to.
pub fn consider(home: &Path, bytes: &[u8]) -> Considered {
    let looked = look_into(home, bytes, Wishes::default());
    let (mut news, mut wishes, mut questions) = (looked.news, Wishes::default(), Vec::new());
    let Some(Judged { offer, standing, held }) = looked.judged else { return Considered { news, questions, wishes } };
    loop {
        let rule = match judge(&offer, standing, &held, wishes) {
            Verdict::TakeIn => break,
            Verdict::AlreadyThere => {
                let binds = held.bound.is_none() && offer.key.is_some();
                if !binds {
                    (news.done, questions) = (Done::AlreadyThere, Vec::new());
                }
                break;
            }
            Verdict::Refused(rule) => rule,
        };
        match rule {
            Rule::Untrusted => wishes.trust = true,
            Rule::OlderEdition => wishes.older = true,
            Rule::Bundled => wishes.replace_bundled = true,
            // No yes lets these in. The refusal that was found first says why, unless it was one that a yes lifts.
            Rule::OtherKey | Rule::Unsigned | Rule::SameEdition => {
                news = look_into(home, bytes, wishes).news;
                return Considered { news, questions: Vec::new(), wishes };
            }
        }
        questions.push(rule);
    }
    news.refused = None;
    Considered { news, questions, wishes }
}
