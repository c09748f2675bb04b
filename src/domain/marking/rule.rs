//! The rule of a card in one line: what makes which outcome, in the words of a learner.

use super::{in_words, sentence};
use crate::domain::card::{Body, Card};
use crate::domain::outcome::Outcome;
use crate::domain::piping::Want;

/// What makes which outcome on this card, and within how many seconds a full answer is fluent.
pub fn rule(card: &Card) -> String {
    let fluent = card.seconds.map_or_else(String::new, |seconds| format!(", within {seconds} s Fluent"));
    match &card.body {
        Body::Recall(recall) => {
            let critical = recall.points.iter().any(|point| point.critical);
            counted(recall.points.len(), "said", "", &fluent, critical.then_some("a safety-critical one not said"))
        }
        Body::Why(why) => {
            let more = " A cause that does not belong takes one away.";
            counted(why.links.len(), "in order", more, &fluent, None)
        }
        Body::Figure(_) => {
            format!("The right figure: Answered{fluent}. The right number without its unit: Prompted. Else: Missed.")
        }
        Body::Working(_) => format!(
            "The right answer: Answered{fluent}. Right lines with one slip, or a second try: Prompted. Else: Missed."
        ),
        Body::Sequence(_) => format!(
            "An order that works: Answered{fluent}. 60 % of the needed steps and the goal: Prompted. Less, or damage or injury: \
             Missed."
        ),
        Body::Lineup(network) => {
            let most = least_for_prompted(
                network.demands.iter().filter(|demand| matches!(demand.want, Want::Flow(_))).count(),
            );
            let some = most.map_or_else(String::new, |least| format!(" {} of them: Prompted.", at_least(least)));
            format!("Every flow there: Answered{fluent}.{some} Less, or a flow that must not be: Missed.")
        }
        Body::Point(_) => format!("The right part: Answered{fluent}. Any other: Missed."),
    }
}

/// The fewest of so many that still make a prompted answer; none where all or nothing counts.
fn least_for_prompted(all: usize) -> Option<usize> {
    (1..all).find(|right| Outcome::from_share(*right as f64, all as f64, false) == Outcome::Prompted)
}

fn at_least(least: usize) -> String {
    sentence(&format!("{} or more", in_words(least)))
}

/// `All five said: Answered, within 55 s Fluent. Three or four: Prompted. Fewer, or ...: Missed.`
fn counted(all: usize, how: &str, more: &str, fluent: &str, or: Option<&str>) -> String {
    let or = or.map_or_else(String::new, |or| format!(", or {or}"));
    let whole = if all == 1 { sentence(how) } else { format!("All {} {how}", in_words(all)) };
    let some = match least_for_prompted(all) {
        Some(least) if least + 1 == all => format!(" {}: Prompted.", sentence(&in_words(least))),
        Some(least) if least + 2 == all => {
            format!(" {} or {}: Prompted.", sentence(&in_words(least)), in_words(all - 1))
        }
        Some(least) => format!(" {} to {}: Prompted.", sentence(&in_words(least)), in_words(all - 1)),
        None => String::new(),
    };
    let less = if all == 1 { format!("Not {how}: Missed.") } else { format!("Fewer{or}: Missed.") };
    format!("{whole}: Answered{fluent}.{some} {less}{more}")
}
