//! A point card as data to draw: the drawing with its parts.

use crate::app::sheet::{Marked, Sheet};
use crate::domain::card::{Body, Card};
use crate::domain::drawing::Pointing;
use crate::domain::marking::Detail;
use crate::present::drawing::{DrawingState, DrawingView, PartShown};
use crate::present::library::AnswerView;
use crate::present::point::{Choice, PointAskedView, PointMarkedView};
use crate::present::watch::ResultView;
use crate::present::words;

/// Before the answer.
pub fn asked(pointing: &Pointing, drawing: DrawingView, sheet: &Sheet) -> PointAskedView {
    let mut choice = choice(pointing);
    let place = |one: &Choice| {
        let number = pointing.drawing.part(&one.id).map(|part| part + 1);
        sheet.shuffled.iter().position(|n| Some(*n) == number)
    };
    choice.sort_by_key(place);
    PointAskedView { drawing, choice }
}

/// The drawing before anything is known of its dots.
pub fn not_drawn(pointing: &Pointing) -> DrawingView {
    let drawing = std::sync::Arc::clone(&pointing.drawing);
    DrawingView { name: pointing.path.clone(), drawing, state: DrawingState::Loading }
}

/// The parts from which one can be chosen in words alone; empty where the one to find cannot be.
pub fn choice(pointing: &Pointing) -> Vec<Choice> {
    let drawing = &pointing.drawing;
    let Some(Ok(parts)) = pointing.target().map(|target| drawing.told_apart(target)) else { return Vec::new() };
    let choice = parts.into_iter().map(|part| &drawing.parts[part]);
    choice.filter_map(|part| Some(Choice { id: part.id.clone(), look: part.look.clone()? })).collect()
}

/// After it.
pub fn marked(pointing: &Pointing, drawing: DrawingView, marked: &Marked, result: ResultView) -> PointMarkedView {
    let (hit, part) = match &marked.marking.detail {
        Detail::Point { hit, part } => (*hit, part.as_deref()),
        _ => (false, None),
    };
    PointMarkedView {
        drawing,
        // A card whose part is not there has an error, and is not asked.
        target: pointing.target().unwrap_or_default(),
        pointed: part.and_then(|part| pointing.drawing.part(part)),
        hit,
        reason: marked.marking.reason.clone(),
        result,
    }
}

/// The part that a point card asks for, on its drawing; none for another kind of card.
pub fn shown(card: &Card, drawing: Option<DrawingView>) -> Option<PartShown> {
    let Body::Point(pointing) = &card.body else { return None };
    Some(PartShown { drawing: drawing?, part: pointing.target()? })
}

/// The part, for its page.
pub fn answer(pointing: &Pointing) -> AnswerView {
    let Some(target) = pointing.target().map(|target| &pointing.drawing.parts[target]) else {
        return AnswerView::Part { name: words::capital(&pointing.part), detail: String::new() };
    };
    let whole = target.within.and_then(|whole| pointing.drawing.parts.get(whole));
    let whole = whole.map(|whole| format!("A piece of: {}.", whole.name));
    let said = [target.look.as_deref().map(words::sentence), whole];
    AnswerView::Part {
        name: words::capital(&target.name),
        detail: said.into_iter().flatten().collect::<Vec<_>>().join(" "),
    }
}

/// The parts of its remedy, each with label, text and whether it is safety-critical.
pub fn remedy(pointing: &Pointing, part: &mut dyn FnMut(String, String, bool)) {
    let Some(target) = pointing.target().map(|target| &pointing.drawing.parts[target]) else { return };
    part("The part".to_owned(), words::capital(&target.name), false);
    if let Some(look) = &target.look {
        part("Where it is".to_owned(), words::capital(look), false);
    }
    if let Some(whole) = target.within.and_then(|whole| pointing.drawing.parts.get(whole)) {
        part("It is a piece of".to_owned(), words::capital(&whole.name), false);
    }
}
