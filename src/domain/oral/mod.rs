//! The mock oral: what an examiner asks, follows up, marks and concludes. Pure, seeded, and replayable from its turns.
//!
//! A sitting is its setup and the turns so far. [`next`] looks at them and at the cards that may be asked, and gives
//! the next question or the end; [`answered`] takes in a marked answer; [`verdict`] concludes. All three give the
//! same for the same sitting, so that a sitting that was broken off is taken up from its kept turns.

mod blueprint;
mod debrief;
mod disclosure;
mod draw;
mod examiner;
mod followup;
mod leads;
mod mark;
mod notices;
mod probe;
mod sitting;
mod verdict;
mod what_if;

pub use blueprint::{Blueprint, BlueprintError, Length, MINUTES_A_LEAD, Rules, Share, function_of};
pub use debrief::{Debrief, MissedPoint, debrief};
pub use disclosure::{Disclosure, Place, asks_reason, disclosure, is_of_reason};
pub use draw::{Candidate, allot};
pub use examiner::{Ended, Next, next};
pub use leads::{LeadResult, lead_results};
pub use mark::{Reply, What, answered, card_of, expected, marks_of};
pub use notices::notices;
pub use sitting::{Answered, Asked, Draw, Manner, Mark, MarkedBy, OralPoint, Question, Setup, Sitting, Turn, Way};
pub use verdict::{Failing, FunctionMark, Verdict, competence_marks, verdict};
