//! The page on which a deck is taken in.

use std::path::Path;

use crate::app::jobs::taking_in::{Looked, TakingIn};
use crate::app::publish::considering::Considered;
use crate::app::publish::news::News;
use crate::deck::sealed::Refusal;
use crate::domain::editions::Update;
use crate::domain::english;
use crate::domain::taking_in::Rule;
use crate::present::taking_in::{OfferView, RefusedView, TakeInView};
use crate::present::{Labelled, words};

/// The page, by how far it is.
pub fn view(state: &TakingIn) -> TakeInView {
    match state {
        TakingIn::Nothing => TakeInView::Empty,
        TakingIn::Looking(path) => TakeInView::Busy { sentence: format!("Reading {} …", name(path)) },
        TakingIn::Working => TakeInView::Busy { sentence: "Taking the deck in …".to_owned() },
        TakingIn::Refused(path, news) => refused(path, news),
        TakingIn::Offered(looked) => TakeInView::Offered(Box::new(offer(looked))),
    }
}

fn name(path: &Path) -> String {
    path.file_name().map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned())
}

fn refused(path: &Path, news: &News) -> TakeInView {
    let headline = news.title.clone().unwrap_or_else(|| name(path));
    let (sentence, detail) = match &news.refused {
        None => (already(news), String::new()),
        Some(refusal) => (why(refusal).to_owned(), format!("{} ({})", english::sentence(&refusal.text), refusal.code)),
    };
    TakeInView::Refused(RefusedView { headline, sentence, detail })
}

fn already(news: &News) -> String {
    format!("Edition {} is here already, with the same contents. There is nothing to do.", news.edition.unwrap_or(1))
}

/// What a refusal means for whoever got the file, and what to do.
fn why(refusal: &Refusal) -> &'static str {
    match refusal.code {
        "other-key" | "unsigned" => {
            "This deck is taken in only from the publisher whose first signed edition you have taken in. This file is not \
             from there. Ask whoever gave it to you for the publisher’s own."
        }
        "same-edition" => {
            "This edition of the deck is here already, with other contents. Its publisher must give the new one a higher \
             edition."
        }
        "deck-errors" => "The deck has errors and cannot be used. Its publisher must mend it and send it again.",
        "file-unreadable" => "The file could not be read. See that it is where you say, and that you may read it.",
        "not-written" => "The deck could not be kept. All is as it was before.",
        "home-unreadable" => "What is known here of this deck could not be read, so nothing was changed.",
        "no-edition-before" | "no-such-deck" => "There is no edition to go back to.",
        "not-a-zip" | "no-seal" => {
            "This is not the file of a deck. A deck to take in is one file, as its publisher sealed it."
        }
        "bad-signature" | "legacy-signature" | "signature-missing" | "key-missing" | "bad-key" => {
            "The signature does not hold: the file was changed after it was signed, or it is not from whom it says. Ask \
             its publisher for it again."
        }
        _ if refusal.is_unreadable => "The file is damaged. Have it sent again.",
        _ => {
            "The file holds what the file of a deck may not hold: it was damaged or tampered with. Nothing of it was kept. \
             Ask its publisher for it again."
        }
    }
}

fn offer(looked: &Looked) -> OfferView {
    let Considered { news, questions, .. } = &looked.considered;
    let publisher = news.publisher.as_deref().filter(|name| !name.is_empty()).unwrap_or("not named");
    let edition = news.edition.unwrap_or(1);
    let mut facts = vec![Labelled::of("Publisher", publisher), Labelled::of("Edition", edition.to_string())];
    facts.extend(news.was_edition.map(|was| Labelled::of("Here now", format!("Edition {was}"))));
    facts.extend(news.made.as_ref().map(|made| Labelled::of("Made", made.replace('T', ", ").replace('Z', " UTC"))));
    facts.push(match &news.key_number {
        Some(number) => Labelled::of("Signature", format!("Good, by the key number {number}")),
        None => Labelled::of("Signature", "None: anybody could have made this file"),
    });
    OfferView {
        title: news.title.clone().unwrap_or_default(),
        facts,
        key: news.key.clone(),
        news: news.update.as_ref().map_or_else(Vec::new, brings),
        questions: asked(questions, news),
    }
}

/// `Two cards are new.`, and so on; the first edition of a deck is all new.
fn brings(update: &Update) -> Vec<String> {
    if update.was_edition.is_none() {
        return vec![english::capital(&format!(
            "{}, all of them new.",
            words::count_in_words(update.new.len(), "card")
        ))];
    }
    let counts = [
        (update.changed.len(), "changed"),
        (update.new.len(), "new"),
        (update.renamed.len(), "renamed"),
        (update.withdrawn.len(), "withdrawn"),
        (update.same, "as before"),
    ];
    let said = counts.iter().filter(|(count, _)| *count > 0).map(|(count, what)| {
        let are = if *count == 1 { "is" } else { "are" };
        english::capital(&format!("{} {are} {what}.", words::count_in_words(*count, "card")))
    });
    said.collect()
}

fn asked(questions: &[Rule], news: &News) -> Vec<String> {
    let (edition, was) = (news.edition.unwrap_or(1), news.was_edition.unwrap_or(1));
    let mut asked: Vec<String> = questions
        .iter()
        .filter_map(|rule| match rule {
            Rule::Untrusted if news.key.is_some() => Some(
                "Nobody has said on this computer that this publisher is trusted. Compare the key with the one that you \
                 were given by another way. From then on the deck is taken in only with this key."
                    .to_owned(),
            ),
            Rule::Untrusted => Some("It is not signed, so nobody can say who made it.".to_owned()),
            Rule::OlderEdition => Some(format!("Edition {was} is here, which is later than edition {edition}.")),
            Rule::Bundled => {
                Some("This deck came with the program, and the file is not from the program’s makers.".to_owned())
            }
            Rule::OtherKey | Rule::Unsigned | Rule::SameEdition => None,
        })
        .collect();
    asked.push(match questions.is_empty() {
        true => "Take it in?".to_owned(),
        false => "Take it in all the same?".to_owned(),
    });
    if questions == [Rule::Untrusted] {
        asked.pop();
        asked.push("Do you trust it, and take it in?".to_owned());
    }
    asked
}
