//! The files of a deck that is begun.

use super::unwritable::Unwritable;
use super::values::quoted;
use crate::domain::form::BeginDeck;
use crate::domain::ids::is_id;

/// What stands before the topic of a deck's cards in the first lines of their file.
const USUAL: &str = "# topic = \"";

/// The files of a new deck, each with its name: its head, and an empty file of cards.
///
/// # Errors
/// Where the id is none.
pub fn begun(deck: &BeginDeck) -> Result<[(&'static str, String); 2], Unwritable> {
    if !is_id(&deck.id) {
        return Err(Unwritable::BadId);
    }
    let publisher = match deck.publisher.trim() {
        "" => "# publisher = \"\"                     # whose deck it is\n".to_owned(),
        publisher => format!("publisher = {}\n", quoted(publisher)),
    };
    let head = format!(
        "# What the deck is called, and the sources that its cards cite. Lines that begin with # are remarks.\n\n\
         id = {}                        # the deck's name for the program; never change it\n\
         title = {}\n\
         edition = 1                            # one higher at each publication\n\
         language = \"en\"\n\
         {publisher}\
         licence = \"CC-BY-4.0\"                  # what others may do with it\n\
         # about = \"What the deck is about.\"\n\
         # caution = \"Shown with the deck.\"\n\n\
         # What the cards cite, each under a short name. The kinds: convention, standard, class-rule, textbook, practice.\n\
         [source.practice]\n\
         title = \"common practice, no published source\"\n\
         kind = \"practice\"\n",
        quoted(&deck.id),
        quoted(deck.title.trim())
    );
    let topic = deck.topic.trim();
    let usual = if topic.is_empty() { String::new() } else { format!("{USUAL}{topic}\"\n") };
    let cards =
        format!("# The cards of {}, one below the other. New ones begin with this topic:\n{usual}", deck.title.trim());
    let cards =
        if topic.is_empty() { format!("# The cards of {}, one below the other.\n", deck.title.trim()) } else { cards };
    Ok([("deck.toml", head), ("cards.toml", cards)])
}

/// The topic that new cards of a file begin with, where its first remarks say so.
pub fn usual_topic(text: &str) -> Option<&str> {
    let remarks = text.lines().take_while(|line| line.is_empty() || line.starts_with('#'));
    remarks.filter_map(|line| line.strip_prefix(USUAL)?.split('"').next()).next()
}
