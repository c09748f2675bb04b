//! A point card as view data: the drawing with its parts.

use std::sync::Arc;

use crate::app::sheet::{AnswerSheet, Marked};
use crate::app::views::kinds::{KindView, Laid, part};
use crate::domain::answer::{Given, Pointed};
use crate::domain::card::Card;
use crate::domain::drawing::Pointing;
use crate::domain::english;
use crate::domain::kinds::Detail;
use crate::present::drawing::{DrawingState, DrawingView};
use crate::present::kinds::point::{Choice, PointAskedView, PointMarkedView};
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::library::AnswerView;
use crate::present::stage::RemedyPart;

impl KindView for Pointing {
    fn given(&self, given: &Given) -> Option<String> {
        match given {
            Given::Pointed(Pointed::Part(id)) => {
                let part = self.drawing.parts.iter().find(|part| part.id == *id);
                Some(part.map_or_else(|| id.clone(), |part| part.name.clone()))
            }
            Given::Pointed(Pointed::At(at)) => {
                let part = self.drawing.part_at(*at).map(|part| self.drawing.parts[part].name.clone());
                Some(part.unwrap_or_else(|| "No part".to_owned()))
            }
            _ => None,
        }
    }

    fn asked(&self, laid: Laid<'_>) -> AskedView {
        let mut choice = choice(self);
        let place = |one: &Choice| {
            let number = self.drawing.part(&one.id).map(|part| part + 1);
            laid.sheet.shuffled.iter().position(|n| Some(*n) == number)
        };
        choice.sort_by_key(place);
        AskedView::Point(PointAskedView { drawing: drawn(self, laid.drawing), choice })
    }

    fn marked(&self, laid: Laid<'_>, marked: &Marked) -> MarkedView {
        let (hit, part) = match &marked.marking.detail {
            Detail::Point(told) => (told.hit, told.part.as_deref()),
            _ => (false, None),
        };
        MarkedView::Point(PointMarkedView {
            drawing: drawn(self, laid.drawing),
            // A card whose part is not there has an error, and is not asked.
            target: self.target().unwrap_or_default(),
            pointed: part.and_then(|part| self.drawing.part(part)),
            hit,
            reason: marked.marking.reason.clone(),
        })
    }

    fn remedy(&self, _card: &Card, _sheet: Option<&AnswerSheet>) -> Vec<RemedyPart> {
        let Some(target) = self.target().map(|target| &self.drawing.parts[target]) else { return Vec::new() };
        let whole = target.within.and_then(|whole| self.drawing.parts.get(whole));
        let said = [
            Some(("The part", target.name.as_str())),
            target.look.as_deref().map(|look| ("Where it is", look)),
            whole.map(|whole| ("It is a piece of", whole.name.as_str())),
        ];
        said.into_iter().flatten().map(|(label, text)| part(label, english::capital(text))).collect()
    }

    fn answer(&self, _card: &Card) -> AnswerView {
        let Some(target) = self.target().map(|target| &self.drawing.parts[target]) else {
            return AnswerView::Part { name: english::capital(&self.part), detail: String::new() };
        };
        let whole = target.within.and_then(|whole| self.drawing.parts.get(whole));
        let whole = whole.map(|whole| format!("A piece of: {}.", whole.name));
        let said = [target.look.as_deref().map(english::sentence), whole];
        AnswerView::Part {
            name: english::capital(&target.name),
            detail: said.into_iter().flatten().collect::<Vec<_>>().join(" "),
        }
    }

    fn part(&self) -> Option<usize> {
        self.target()
    }
}

/// The drawing as far as it is read; at first nothing is known of its dots.
fn drawn(pointing: &Pointing, drawing: Option<DrawingView>) -> DrawingView {
    drawing.unwrap_or_else(|| DrawingView {
        name: pointing.path.clone(),
        drawing: Arc::clone(&pointing.drawing),
        state: DrawingState::Loading,
    })
}

/// The parts from which one can be chosen in words alone; empty where the one to find cannot be.
fn choice(pointing: &Pointing) -> Vec<Choice> {
    let drawing = &pointing.drawing;
    let Some(Ok(parts)) = pointing.target().map(|target| drawing.told_apart(target)) else { return Vec::new() };
    let choice = parts.into_iter().map(|part| &drawing.parts[part]);
    choice.filter_map(|part| Some(Choice { id: part.id.clone(), look: part.look.clone()? })).collect()
}
