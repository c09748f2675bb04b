//! A figure card as view data: the field's hint, then the figure beside the right one.

use crate::app::sheet::{AnswerSheet, Marked};
use crate::app::views::kinds::{KindView, Laid, part};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::kinds::Detail;
use crate::domain::kinds::figure::Figure;
use crate::domain::marking::Slip;
use crate::domain::outcome::Outcome;
use crate::present::kinds::figure::{FigureAskedView, FigureMarkedView};
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::library::AnswerView;
use crate::present::stage::RemedyPart;
use crate::present::{Tone, words};

impl KindView for Figure {
    fn is_narrow(&self) -> bool {
        true
    }

    fn asked(&self, _laid: Laid<'_>) -> AskedView {
        let hint = match self.value.unit.is_empty() {
            true => "A number.",
            false => "A number with its unit; any unit of the right kind will do.",
        };
        AskedView::Figure(FigureAskedView { hint: hint.to_owned() })
    }

    fn marked(&self, laid: Laid<'_>, marked: &Marked) -> MarkedView {
        let given = match &marked.given {
            Given::Text(text) => text.trim().to_owned(),
            _ => String::new(),
        };
        let (error, slip): (Option<f64>, Option<&Slip>) = match &marked.marking.detail {
            Detail::Figure(told) => (told.error, told.slip.as_ref()),
            _ => (None, None),
        };
        let right = marked.marking.outcome >= Outcome::Answered;
        let tolerance = words::within(&self.within);
        let expected =
            if tolerance.is_empty() { self.value_text.clone() } else { format!("{}, {tolerance}", self.value_text) };
        // What was not given right is told in the debrief.
        let told = right || !laid.withheld;
        MarkedView::Figure(FigureMarkedView {
            given,
            expected: if told { expected } else { "told in the debrief".to_owned() },
            error: match error {
                _ if right => "right".to_owned(),
                Some(error) if told => format!("{} out", percent(error)),
                _ => String::new(),
            },
            tell: slip.filter(|_| told).map(|s| s.tell.clone()),
            tone: match marked.marking.outcome {
                Outcome::Missed => Tone::Bad,
                Outcome::Prompted => Tone::Weak,
                _ => Tone::Good,
            },
        })
    }

    fn remedy(&self, _card: &Card, _sheet: Option<&AnswerSheet>) -> Vec<RemedyPart> {
        vec![part("The figure", self.value_text.clone())]
    }

    fn answer(&self, _card: &Card) -> AnswerView {
        AnswerView::Figure { value: self.value_text.clone(), within: words::within(&self.within) }
    }
}

fn percent(share: f64) -> String {
    let percent = share * 100.0;
    match percent {
        p if p < 1.0 => format!("{p:.2} %"),
        p if p < 10.0 => format!("{p:.1} %"),
        p if p < 10_000.0 => format!("{p:.0} %"),
        _ => "more than a hundred times".to_owned(),
    }
}
