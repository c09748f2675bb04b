//! The mock oral as data to draw: its front page, a sitting being sat, the blueprint.

use crate::domain::oral::{Blueprint, Draw, Manner, Way};
use crate::present::block::TitleBlock;
use crate::present::kinds::recall::PointRow;
use crate::present::tone::Tone;
use crate::present::watch::WatchCardView;

/// The page on which a sitting is begun.
#[derive(Debug, Clone, PartialEq)]
pub struct OralFrontView {
    /// `Officer in charge of an engineering watch, STCW III/1`.
    pub certificate: String,
    /// A sitting that is not over: `Sitting 5, question 3 of 10`.
    pub standing: Option<String>,
    /// The sitting that was last ended by hand on this study day, which can be taken up again.
    pub take_up: Option<TakeUp>,
    /// Lead questions by the blueprint, where it counts them.
    pub questions: usize,
    /// What passes, in a sentence.
    pub rules: String,
    /// Sittings, the newest first.
    pub rows: Vec<SittingRow>,
    /// Marks of the sittings that are over, oldest first, 0 to 1.
    pub trend: Vec<f64>,
    /// The share over all that passes, 0 to 1.
    pub line: f64,
    /// Questions are read aloud.
    pub read_aloud: bool,
    /// Spoken answers are recorded.
    pub record: bool,
    /// Nothing can be asked: there are no cards for the certificate.
    pub no_cards: bool,
    /// The title block.
    pub block: TitleBlock,
}

/// A sitting that can be taken up again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakeUp {
    /// The sitting's id, for `Command::ResumeOral`.
    pub id: String,
    /// From 1.
    pub number: usize,
    /// `Sitting 5, ended early, after three of ten questions`.
    pub words: String,
}

/// A sitting in the list.
#[derive(Debug, Clone, PartialEq)]
pub struct SittingRow {
    /// The sitting's id.
    pub id: String,
    /// From 1.
    pub number: usize,
    /// `11 March 2026`.
    pub date: String,
    /// `Mock, 10 questions`.
    pub what: String,
    /// `72`, in per cent; `–` where nothing was answered.
    pub mark: String,
    /// `passed`, `below the pass mark`, `a safety-critical miss`, `ended early`, `not over`.
    pub word: String,
    /// The tone of that word.
    pub tone: Tone,
    /// The sitting is over, so that there is a debrief.
    pub over: bool,
}

/// A sitting being sat.
#[derive(Debug, Clone, PartialEq)]
pub struct OralView {
    /// What has been asked, with the question that stands last.
    pub thread: Vec<ThreadRow>,
    /// `Lead question`, `Follow-up`, `One level deeper`, `What if`.
    pub asked: String,
    /// `question 3 of 8`.
    pub number: String,
    /// What the examiner says first, or asks for once more; empty where nothing.
    pub lead_in: String,
    /// The typed answer is asked for once more, in other words.
    pub again: bool,
    /// The clock of this answer.
    pub answer: ClockView,
    /// The clock of the sitting, whose length is an estimate where it counts questions.
    pub sitting: ClockView,
    /// Lead questions asked so far, by function.
    pub functions: Vec<FunctionAsked>,
    /// How the answer is given.
    pub way: Way,
    /// The clock stands.
    pub paused: bool,
    /// The question with its answer, as a card of the watch.
    pub card: WatchCardView,
    /// The points on the second person's sheet while the answer is being given.
    pub examiner: Option<Vec<PointRow>>,
    /// The second person's note.
    pub note: String,
    /// Voice and recording.
    pub sound: SoundView,
    /// The question is answered on the whole sheet: a sequence, a line-up, a working, a point, a why.
    pub wide: bool,
    /// The title block.
    pub block: TitleBlock,
}

/// A clock against its length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClockView {
    /// Seconds gone.
    pub seconds: u32,
    /// Seconds that there are.
    pub of: u32,
}

/// How many of a function's lead questions have been asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FunctionAsked {
    /// The function, in a word or two.
    pub name: String,
    /// Lead questions asked, with the one that stands.
    pub asked: usize,
    /// Lead questions that fall to the function.
    pub of: usize,
}

/// Voice and recording while a question stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SoundView {
    /// The question, or its points, are being read aloud.
    pub reading: bool,
    /// The answer is being recorded.
    pub recording: bool,
    /// The recording of the answer is being played.
    pub playing: bool,
    /// The answer was recorded.
    pub recorded: bool,
    /// Questions are read aloud.
    pub aloud: bool,
}

/// A question of the thread.
#[derive(Debug, Clone, PartialEq)]
pub struct ThreadRow {
    /// 0 for a lead question, 1 to 3 for follow-ups.
    pub depth: u8,
    /// The question, in plain words.
    pub ask: String,
    /// `5 of 6 points`, `now`, `nothing said`.
    pub word: String,
    /// The tone of the word.
    pub tone: Tone,
    /// The question stands now.
    pub now: bool,
}

/// How orals are shared and passed.
#[derive(Debug, Clone, PartialEq)]
pub struct BlueprintView {
    /// The blueprint as it is kept.
    pub blueprint: Blueprint,
    /// The blueprint that ships with the program.
    pub standard: Blueprint,
    /// The competences, in the order of the shares.
    pub names: Vec<CompetenceCards>,
    /// The functions, in the order of the blueprint.
    pub functions: Vec<FunctionLeads>,
    /// Where grades and notices differ, a line each.
    pub notices: Vec<String>,
}

/// How many cards a competence has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CompetenceCards {
    /// The competence in words.
    pub name: String,
    /// Cards that can be asked.
    pub cards: usize,
}

/// How many lead questions fall to a function.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FunctionLeads {
    /// The function's name.
    pub name: String,
    /// Lead questions.
    pub leads: usize,
}

/// The draw's word.
pub fn draw_word(draw: Draw) -> &'static str {
    match draw {
        Draw::Mock => "Mock",
        Draw::Coaching => "Coaching",
    }
}

/// The manner's word.
pub fn manner_word(manner: Manner) -> &'static str {
    match manner {
        Manner::Steady => "steady",
        Manner::Pressing => "pressing",
    }
}
