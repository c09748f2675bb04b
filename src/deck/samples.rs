//! Sample answers are marked as learners' answers are, and those that come out otherwise than they expect are reported.

use std::time::{Duration, Instant};

use super::check::{Found, Site};
use super::checks;
use super::draft::DeckDraft;
use crate::domain::card::Card;
use crate::domain::marking::Marker;
use crate::domain::sample::Sample;

/// All samples of a deck may take this long to mark together; a deck that needs more is a mistake or an attack.
const LONGEST: Duration = Duration::from_secs(120);

/// Marks every sample of a card that can be asked. The drawings must have been read.
pub(crate) fn check(deck: &mut DeckDraft, marker: Marker<'_>) {
    check_within(deck, marker, LONGEST);
}

fn check_within(deck: &mut DeckDraft, marker: Marker<'_>, longest: Duration) {
    let begun = Instant::now();
    for draft in &deck.drafts {
        // A card that points at a drawing has it only where both are sound.
        let unsound = draft.unsound.as_ref().filter(|_| draft.is_askable && draft.drawing.is_none());
        let Some(card) = draft.card.as_ref().or(unsound) else { continue };
        for (sample, site) in card.samples.iter().zip(&draft.samples) {
            if begun.elapsed() >= longest {
                deck.problems.report(checks::file::too_slow_samples(*site, longest));
                return;
            }
            if let Some(found) = fault(card, sample, *site, marker) {
                deck.problems.report(found);
            }
        }
    }
}

/// What is wrong with a sample; none where the marker makes of it what it expects.
fn fault(card: &Card, sample: &Sample, site: Site, marker: Marker<'_>) -> Option<Found> {
    let Some(answer) = card.answer_of(sample) else { return Some(checks::sample::sample_answer_no_order(site)) };
    match marker.mark(card, &answer) {
        Err(error) => Some(checks::sample::sample_answer(site, &error.message)),
        Ok(marking) => {
            let differences = sample.differences(&marking);
            (!differences.is_empty()).then(|| checks::sample::sample_differs(site, &differences))
        }
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::check_within;
    use crate::deck::check::Site;
    use crate::deck::draft::DeckDraft;
    use crate::deck::kinds::Draft;
    use crate::deck::source_text::SourceText;
    use crate::domain::answer::Given;
    use crate::domain::card::Card;
    use crate::domain::ids::CardKey;
    use crate::domain::key_point::KeyPoint;
    use crate::domain::kinds::recall::Recall;
    use crate::domain::marking::Marker;
    use crate::domain::sample::{Expected, Sample, SampleAnswer};

    /// A deck of one card with two samples that want its one point said; only the first says it.
    fn deck() -> DeckDraft {
        let sample = |text: &str| Sample {
            answer: SampleAnswer::Given(Given::Text(text.to_owned())),
            seconds: None,
            expected: Expected { says: vec![1], ..Expected::default() },
        };
        let card = Card {
            key: CardKey::new("", "pump"),
            topic: "A-III/1.1.4".to_owned(),
            heading: None,
            ask: "What happens?".to_owned(),
            because: None,
            because_points: Vec::new(),
            caution: None,
            sources: Vec::new(),
            picture: None,
            seconds: None,
            weight: 2,
            probes: Vec::new(),
            was: Vec::new(),
            samples: vec![sample("the pump starts"), sample("nothing at all")],
            body: Recall { points: vec![KeyPoint::plain("The pump starts".to_owned(), false)] }.into(),
        };
        let draft = Draft {
            word: "recall",
            id: None,
            heading: None,
            ask: None,
            sources: Vec::new(),
            was: Vec::new(),
            picture: None,
            drawing: None,
            part: None,
            samples: vec![Site::default(); 2],
            is_askable: true,
            site: Site::default(),
            card: Some(card),
            unsound: None,
        };
        let texts = vec![SourceText { name: "cards.toml".to_owned(), text: String::new() }];
        DeckDraft { texts, drafts: vec![draft], ..DeckDraft::default() }
    }

    #[test]
    fn samples_that_take_too_long_are_told_once_and_marked_no_further() {
        let codes = |time: Duration| -> Vec<&'static str> {
            let mut deck = deck();
            check_within(&mut deck, Marker::default(), time);
            deck.problems.into_problems(&deck.texts).iter().map(|problem| problem.code).collect()
        };
        assert_eq!(codes(Duration::ZERO), ["too-many"]);
        assert_eq!(codes(Duration::from_secs(600)), ["sample-differs"]);
    }
}
