//! A card of the watch at every stage.

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::app::sheet::{AnswerSheet, Marked, Stage as SheetStage};
use crate::app::views::kinds::{self, Laid};
use crate::app::views::{Pictured, editions};
use crate::domain::card::{Card, is_about_a_run};
use crate::domain::day::Instant;
use crate::domain::deck::Deck;
use crate::domain::ids::CardKey;
use crate::domain::marking::rule;
use crate::domain::oral::{Disclosure, Place, disclosure};
use crate::domain::outcome::Outcome;
use crate::present::drawing::PartShown;
use crate::present::result::ResultView;
use crate::present::stage::{Marked as MarkedStage, RemedyPart, RemedyView, Stage};
use crate::present::watch::WatchCardView;
use crate::present::worksheet::WorksheetView;
use crate::present::{TitleBlock, words};

/// Where the card on the sheet is asked, and what the program adds to it.
pub struct CardContext {
    /// Picture and drawing of the card, as far as they are read.
    pub pictured: Pictured,
    /// The lines of a working, as far as they are worked out.
    pub worksheet: WorksheetView,
    /// An answer is being kept.
    pub keeping: bool,
    /// The answer accepted before can be taken back.
    pub can_take_back: bool,
    /// The place: in a mock oral, when a card comes back is no matter, and what was right is told later.
    pub place: Place,
    /// The question's id in a sitting, by which drafts on screen are told apart; none in a watch.
    pub question: Option<String>,
    /// The clock stands, though the answer is being given.
    pub clock_stands: bool,
    /// The outcome that a second person gives to key points said aloud.
    pub outcome: Option<Outcome>,
    /// Whoever writes the card answers it: nothing is kept.
    pub tried: bool,
}

/// How much of a marked answer is told.
#[derive(Clone, Copy)]
struct Telling {
    told: Disclosure,
    in_oral: bool,
    tried: bool,
    outcome: Option<Outcome>,
}

/// The card on the sheet.
pub fn card(
    learner: &Learner,
    shelf: &Shelf,
    (deck, card): (&Deck, &Card),
    sheet: &AnswerSheet,
    context: CardContext,
    now: Instant,
) -> WatchCardView {
    let block = block(learner, shelf, deck, card);
    laid(learner, block, (deck, card), sheet, context, now)
}

/// A card on a sheet with this title block.
pub fn laid(
    learner: &Learner,
    mut block: TitleBlock,
    (deck, card): (&Deck, &Card),
    sheet: &AnswerSheet,
    context: CardContext,
    now: Instant,
) -> WatchCardView {
    // A question about a run stands in front of the card that was run.
    let (card, sheet) = sheet.front(card);
    let told = disclosure(context.place, is_answered(sheet));
    if !told.source && !matches!(sheet.stage, SheetStage::Remedy(_)) {
        let later = if is_answered(sheet) { "In the debrief" } else { "Shown after the answer" };
        block.rows.iter_mut().filter(|row| row.label == "Source").for_each(|row| row.value = later.to_owned());
    }
    let in_oral = context.place != Place::Watch;
    let telling = Telling { told, in_oral, tried: context.tried, outcome: context.outcome };
    let in_remedy = matches!(sheet.stage, SheetStage::Remedy(_));
    let kind = kinds::of(card);
    let shown = context.pictured.drawing.clone().filter(|_| in_remedy).zip(kind.part());
    let on_sheet = Laid {
        card,
        sheet,
        drawing: context.pictured.drawing,
        worksheet: context.worksheet,
        withheld: !told.answer,
        missing_told: told.missing,
    };
    let stage = match &sheet.stage {
        SheetStage::Remedy(shown) => Stage::Remedy(remedy(learner, deck, on_sheet, *shown)),
        SheetStage::Marked(marked) if is_answered(sheet) => {
            let result = result(learner, (card, sheet, marked), telling, now);
            Stage::Marked(MarkedStage { result, view: kind.marked(on_sheet, marked) })
        }
        // Also while a second try, or practice, is worked.
        SheetStage::Asked | SheetStage::Marked(_) => Stage::Asked(kind.asked(on_sheet)),
    };
    let answered = is_answered(sheet);
    let changed = learner.editions.changed(&card.key).filter(|_| !in_oral);
    WatchCardView {
        changed: changed.map(|changed| editions::changed(changed, answered)),
        key: CardKey { card: context.question.unwrap_or_else(|| card.key.card.clone()), deck: card.key.deck.clone() },
        kind: card.kind(),
        place: Learner::place(card),
        ask: kind.question(card, sheet),
        caution: card.caution.clone(),
        picture: context.pictured.picture,
        shown: shown.map(|(drawing, part)| PartShown { drawing, part }),
        seconds: sheet.seconds(now) as u32,
        limit: card.seconds.map(|seconds| seconds.round() as u32),
        clock_runs: sheet.clock_runs() && !context.clock_stands,
        today: learner.day(now),
        in_oral,
        tried: context.tried,
        reading: sheet.handed.is_some(),
        keeping: context.keeping,
        can_take_back: context.can_take_back,
        stage,
        block,
    }
}

/// The question is over on this sheet: nothing more is to be answered.
fn is_answered(sheet: &AnswerSheet) -> bool {
    matches!(sheet.stage, SheetStage::Marked(_)) && !sheet.work.as_ref().is_some_and(|work| work.is_open(&sheet.stage))
}

/// A card's title block.
pub fn block(learner: &Learner, shelf: &Shelf, deck: &Deck, card: &Card) -> TitleBlock {
    let (n, of) = shelf.number(&card.key).unwrap_or((0, 0));
    let seen = learner.memory.get(&card.key).map_or(0, |m| m.seen);
    let seen = match seen {
        0 => "never".to_owned(),
        1 => "once".to_owned(),
        n => format!("{n} times"),
    };
    TitleBlock::of([
        ["Deck", &deck.title, "Card", &format!("{n} of {of}")],
        ["Topic", card.heading.as_deref().unwrap_or(&card.topic), "Edition", &deck.edition.to_string()],
        ["Source", &deck.source_titles(card).join("; "), "Seen", &seen],
    ])
}

fn remedy(learner: &Learner, deck: &Deck, laid: Laid<'_>, shown: usize) -> RemedyView {
    let card = laid.card;
    let part = |label: &str, text: String| RemedyPart { label: label.to_owned(), text, critical: false };
    let mut parts = kinds::of(card).remedy(card, Some(laid.sheet));
    parts.extend(card.because.clone().map(|because| part("The reason", because)));
    parts.push(part("Where it comes from", deck.source_titles(card).join("; ")));
    let misses = learner.memory.get(&card.key).map_or(0, |m| m.misses_in_a_row);
    RemedyView {
        intro: format!(
            "Missed {} times in a row. Go through it part by part and say each aloud; it is asked again later in this watch.",
            words::number(misses as usize)
        ),
        shown: (shown + 1).min(parts.len()),
        folded: kinds::of(card).is_folded(),
        parts,
    }
}

fn result(
    learner: &Learner,
    (card, sheet, marked): (&Card, &AnswerSheet, &Marked),
    telling: Telling,
    now: Instant,
) -> ResultView {
    let outcome = marked.outcome();
    let due = learner.due_after(&card.key, outcome, marked.seconds, now);
    let next = match due.days_since(learner.day(now)) {
        // An examiner does not say when it comes back.
        _ if telling.in_oral => String::new(),
        _ if telling.tried => "Answered here, it leaves no trace.".to_owned(),
        // A question about a run is of this run alone.
        _ if is_about_a_run(&card.key) => "It counts for the topic.".to_owned(),
        0 => "Back in this watch.".to_owned(),
        n => format!("Next {}.", words::in_days(n)),
    };
    let told = telling.told;
    let kind = kinds::of(card);
    let given = telling.outcome.filter(|_| card.key_points().is_some());
    ResultView {
        outcome: given.unwrap_or(outcome),
        detail: format!("{}{}. {next}", kind.tally(marked, sheet), words::duration(marked.seconds))
            .trim_end()
            .to_owned(),
        // A second person may move it to any of the four.
        worked_out: given.unwrap_or(marked.marking.outcome),
        notch: marked.notch,
        rule: rule(card),
        because: card.because.clone().filter(|_| told.reason && (!told.answer || kind.tells_reason(marked, sheet))),
        withheld: !told.answer,
        fixed: !told.notch || telling.tried,
    }
}
