//! Recall of a group of cards, and the competence table. Pure.
//!
//! Every page that shows recall of an area or a competence takes it from [`stand`]: recall over the cards that have been
//! asked before, weighted by importance, with the count of all cards beside it. A card whose last answer was missed
//! counts as not recalled until it has been answered.

/// A card of a competence, as the table needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct CardState<'a> {
    /// The competence's key.
    pub competence: &'a str,
    /// The deck's heading, or else the competence's title.
    pub heading: &'a str,
    /// Importance, 1 to 3.
    pub weight: u8,
    /// The chance of recall; none for a card never asked.
    pub recall: Option<Recall>,
    /// Whether the card's last answer was missed.
    pub missed: bool,
    /// Whether this is a card of the decks; a question about a sequence's run is none, but its recall counts for the topic.
    pub is_card: bool,
}

/// The chance that a card is recalled, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recall {
    /// Today.
    pub today: f64,
    /// On the day asked for.
    pub on_day: f64,
}

/// How a group of cards stands.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stand {
    /// Cards asked before.
    pub met: usize,
    /// Cards there are.
    pub required: usize,
    /// Cards whose last answer was missed.
    pub missed: usize,
    /// Recall today of what was asked before, weighted by importance; none where nothing was.
    pub today: Option<f64>,
    /// Recall on the day asked for.
    pub on_day: Option<f64>,
}

/// One competence of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct CompetenceStand {
    /// The competence's key.
    pub competence: String,
    /// All its cards.
    pub all: Stand,
    /// By heading, the weakest first; headings of which nothing was asked come last.
    pub headings: Vec<HeadingStand>,
}

/// A heading of a competence.
#[derive(Debug, Clone, PartialEq)]
pub struct HeadingStand {
    /// Name of the heading.
    pub name: String,
    /// How its cards stand.
    pub stand: Stand,
}

/// A heading of a competence by which something has been asked before.
#[derive(Debug, Clone, PartialEq)]
pub struct Area<'a> {
    /// The competence's key.
    pub competence: &'a str,
    /// The heading.
    pub heading: &'a str,
    /// How its cards stand.
    pub stand: Stand,
}

impl Stand {
    /// What groups are put in order by, the weakest first: recall today; those of which nothing was asked come last.
    fn rank(&self) -> f64 {
        self.today.unwrap_or(f64::INFINITY)
    }
}

/// The stand of each of these competences, in their order.
pub fn table(competences: &[&str], cards: &[CardState<'_>]) -> Vec<CompetenceStand> {
    competences
        .iter()
        .map(|competence| {
            let of: Vec<&CardState<'_>> = cards.iter().filter(|card| card.competence == *competence).collect();
            let mut names: Vec<&str> = of.iter().map(|card| card.heading).collect();
            names.sort_unstable();
            names.dedup();
            let mut headings: Vec<HeadingStand> = names
                .into_iter()
                .map(|name| HeadingStand {
                    name: name.to_owned(),
                    stand: stand(of.iter().copied().filter(|card| card.heading == name)),
                })
                .collect();
            headings.sort_by(|a, b| a.stand.rank().total_cmp(&b.stand.rank()).then_with(|| a.name.cmp(&b.name)));
            CompetenceStand { competence: (*competence).to_owned(), all: stand(of.iter().copied()), headings }
        })
        .collect()
}

/// How a group of cards stands.
pub fn stand<'a, 'b: 'a>(cards: impl Iterator<Item = &'a CardState<'b>>) -> Stand {
    let mut stand = Stand::default();
    let (mut weights, mut today, mut on_day) = (0.0, 0.0, 0.0);
    for card in cards {
        stand.required += usize::from(card.is_card);
        stand.missed += usize::from(card.missed);
        if let Some(recall) = card.recall {
            let weight = f64::from(card.weight.max(1));
            stand.met += usize::from(card.is_card);
            weights += weight;
            today += weight * recall.today;
            on_day += weight * recall.on_day;
        }
    }
    if weights > 0.0 {
        (stand.today, stand.on_day) = (Some(today / weights), Some(on_day / weights));
    }
    stand
}

/// The areas of which something has been asked before, the weakest first.
pub fn areas<'a>(cards: &'a [CardState<'a>]) -> Vec<Area<'a>> {
    let mut names: Vec<(&str, &str)> =
        cards.iter().filter(|card| card.recall.is_some()).map(|card| (card.competence, card.heading)).collect();
    names.sort_unstable();
    names.dedup();
    let mut areas: Vec<Area<'_>> = names
        .into_iter()
        .map(|(competence, heading)| {
            let of = cards.iter().filter(|card| (card.competence, card.heading) == (competence, heading));
            Area { competence, heading, stand: stand(of) }
        })
        .collect();
    let name = |area: &Area<'a>| (area.heading, area.competence);
    areas.sort_by(|a, b| a.stand.rank().total_cmp(&b.stand.rank()).then_with(|| name(a).cmp(&name(b))));
    areas
}

#[cfg(test)]
mod tests {
    use super::*;

    fn card<'a>(heading: &'a str, weight: u8, recall: Option<(f64, f64)>) -> CardState<'a> {
        CardState {
            competence: "A-III/1.1.1",
            heading,
            weight,
            recall: recall.map(|(today, on_day)| Recall { today, on_day }),
            missed: false,
            is_card: true,
        }
    }

    #[test]
    fn recall_is_weighted_by_importance_and_unseen_cards_only_count_as_required() {
        let cards = [
            card("Rounds", 3, Some((0.9, 0.6))),
            card("Rounds", 1, Some((0.5, 0.2))),
            card("Handover", 2, Some((0.4, 0.4))),
            card("Logs", 1, None),
        ];
        let table = table(&["A-III/1.1.1", "A-III/1.1.2"], &cards);
        let first = &table[0];
        assert_eq!((first.all.met, first.all.required), (3, 4));
        // (3 * 0.9 + 0.5 + 2 * 0.4) / 6 and (3 * 0.6 + 0.2 + 2 * 0.4) / 6
        assert!((first.all.today.unwrap_or(0.0) - 4.0 / 6.0).abs() < 1e-12);
        assert!((first.all.on_day.unwrap_or(0.0) - 2.8 / 6.0).abs() < 1e-12);
        let names: Vec<&str> = first.headings.iter().map(|heading| heading.name.as_str()).collect();
        assert_eq!(names, ["Handover", "Rounds", "Logs"]);
        assert_eq!(table[1].all, Stand::default());
    }
}
