//! The question whether the computer's date is right.

use crate::domain::clock::Doubt;
use crate::domain::day::{DAY_BEGINS_HOUR, Instant, ShipOffset, StudyDay};
use crate::present::clock::ClockState;
use crate::present::{ClockView, words};

/// The question, or, once the learner goes to set the clock, what to do.
pub fn question(doubt: Doubt, now: Instant, ship: ShipOffset, setting: bool) -> ClockView {
    let says =
        format!("The computer’s clock says {}, {} ({}).", date(now, ship), words::time_of_day(now, ship), ship.label());
    let against = match doubt {
        Doubt::Behind { last } => {
            format!("Your last answer was later: on {}, {}.", date(last, ship), words::time_of_day(last, ship))
        }
        Doubt::Ahead { last } => format!("Your last answer was on {}.", date(last, ship)),
        Doubt::Leapt { expected } => format!(
            "It has been changed while the program ran: before, it was {}, {}.",
            date(expected, ship),
            words::time_of_day(expected, ship)
        ),
        Doubt::Early => "This program was made later than that.".to_owned(),
    };
    if setting {
        return ClockView {
            title: "Set the computer’s clock".to_owned(),
            paragraphs: vec![
                "Set the date and the time of this computer now, then come back here. As soon as they can be right the \
                 program goes on by itself."
                    .to_owned(),
                format!("{says} {against} Until it is settled nothing is kept."),
            ],
            state: ClockState::Setting,
        };
    }
    ClockView {
        title: "Is the date right?".to_owned(),
        paragraphs: vec![
            format!("{says} {against} Is the date right?"),
            "The days on which cards come back are counted by this clock. With a wrong date they would come back on wrong \
             days, so nothing is kept until this is settled."
                .to_owned(),
        ],
        state: ClockState::Asked,
    }
}

/// What can be done about answers that are dated after today; `days` in order, with how many were given on each.
pub fn later(days: &[(StudyDay, usize)]) -> ClockView {
    let all: usize = days.iter().map(|(_, answers)| answers).sum();
    let said = |(day, answers): &(StudyDay, usize)| {
        format!("{} on {}", words::count(*answers, "answer"), words::full_date(*day))
    };
    let mut said_days: Vec<String> = days.iter().take(MOST_DAYS).map(said).collect();
    if days.len() > MOST_DAYS {
        said_days.push(format!("more on {}", words::count(days.len() - MOST_DAYS, "later day")));
    }
    let them = if all == 1 { "it" } else { "them" };
    let comes = if all == 1 { "The card comes" } else { "The cards come" };
    ClockView {
        title: "Answers with a later date".to_owned(),
        paragraphs: vec![
            format!("Kept with a date that has not come yet: {}. The clock was wrong then.", said_days.join(", ")),
            format!(
                "Take {them} back? {comes} again as if you had not answered. Nothing is deleted: the file only notes \
                 what was taken back. If you leave {them}, {} back long after the right day.",
                if all == 1 { "the card comes" } else { "the cards come" }
            ),
        ],
        state: ClockState::Later(all),
    }
}

/// So many days are named.
const MOST_DAYS: usize = 4;

/// The date of the calendar, which changes at midnight.
fn date(at: Instant, ship: ShipOffset) -> String {
    words::full_date(Instant(at.0.saturating_add(DAY_BEGINS_HOUR * 3_600_000)).study_day(ship))
}
