//! The mock oral: what an examiner asks, follows up, marks and concludes. Pure, seeded, and replayable from its turns.
//!
//! A sitting is its setup and the turns so far. [`next`] looks at them and at the cards that may be asked, and gives
//! the next question or the end; [`card_for`] gives the card that a question is answered as, and [`answered`] the turn's
//! answer once that card is marked; [`verdict`] concludes. All give the same for the same sitting, so that a sitting that
//! was broken off is taken up from its kept turns.

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
mod setup;
mod sitting;
mod verdict;
mod what_if;

pub use blueprint::{Blueprint, BlueprintError, Length, MINUTES_A_LEAD, Rules, Share, function_of};
pub use debrief::{Debrief, MissedPoint, debrief};
pub use disclosure::{Disclosure, Place, disclosure, is_of_reason};
pub use draw::{Candidate, allot};
pub use examiner::{Ended, Next, next};
pub use leads::{LeadResult, lead_results};
pub use mark::{Reply, answered, card_for, follow_up, nothing_said};
pub use notices::{Ruling, notices};
pub use probe::{REASON_ASKED, again};
pub use setup::{Draw, Manner, OralChoice, Setup, Way};
pub use sitting::{Answered, Asked, Mark, MarkedBy, Question, Sitting, Turn};
pub use verdict::{CompetenceMark, Failing, FunctionMark, Verdict, competence_marks, verdict};
