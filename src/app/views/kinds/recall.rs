//! A recall card as view data: its key points with what was said of each.

use crate::app::sheet::{AnswerSheet, Marked};
use crate::app::views::kinds::{KindView, Laid};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::key_point::KeyPoint;
use crate::domain::kinds::recall::Recall;
use crate::domain::marking::PointMark;
use crate::present::kinds::recall::{PointRow, RecallAskedView, RecallMarkedView};
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::library::{AnswerPoint, AnswerView};
use crate::present::stage::RemedyPart;
use crate::present::words;

impl KindView for Recall {
    fn is_narrow(&self) -> bool {
        true
    }

    fn asked(&self, _laid: Laid<'_>) -> AskedView {
        AskedView::Recall(RecallAskedView)
    }

    fn marked(&self, laid: Laid<'_>, marked: &Marked) -> MarkedView {
        let typed = match &marked.given {
            Given::Text(text) => Some(text.clone()),
            _ => None,
        };
        MarkedView::Recall(RecallMarkedView { points: points(self, marks(marked), laid.missing_told), typed })
    }

    fn tally(&self, marked: &Marked, _sheet: &AnswerSheet) -> String {
        let points = marks(marked);
        let said = points.iter().filter(|p| p.said).count();
        let fatal = || points.iter().zip(&self.points).filter(|(mark, point)| !mark.said && point.critical);
        let critical = match fatal().next() {
            None => "",
            Some(_) if fatal().all(|(mark, _)| mark.unsure) => ", a critical one not sure",
            Some(_) => ", a critical one missing",
        };
        format!("{said} of {}{critical}, ", words::count(points.len(), "point"))
    }

    fn remedy(&self, _card: &Card, _sheet: Option<&AnswerSheet>) -> Vec<RemedyPart> {
        let of = self.points.len();
        let part = |(n, point): (usize, &KeyPoint)| RemedyPart {
            label: format!("Point {} of {of}", n + 1),
            text: point.say.clone(),
            critical: point.critical,
        };
        self.points.iter().enumerate().map(part).collect()
    }

    fn answer(&self, _card: &Card) -> AnswerView {
        let point = |p: &KeyPoint| AnswerPoint { text: p.say.clone(), critical: p.critical };
        AnswerView::Points(self.points.iter().map(point).collect())
    }
}

fn marks(marked: &Marked) -> &[PointMark] {
    marked.marking.detail.points().unwrap_or_default()
}

/// The key points as rows; those that are missing without their words where these are not told.
fn points(recall: &Recall, marks: &[PointMark], missing_told: bool) -> Vec<PointRow> {
    let none = PointMark::ticked(false);
    let row = |(n, point): (usize, &KeyPoint)| {
        let mark = marks.get(n).unwrap_or(&none);
        let told = mark.said || missing_told;
        PointRow {
            number: n + 1,
            text: if told { point.say.clone() } else { not_told(mark.contradicted).to_owned() },
            said: mark.said,
            contradicted: mark.contradicted,
            unsure: mark.unsure && told,
            critical: point.critical && told,
            evidence: mark.evidence.clone().filter(|_| told || !mark.unsure),
        }
    };
    recall.points.iter().enumerate().map(row).collect()
}

/// What stands in the place of a point whose words are not told.
fn not_told(contradicted: bool) -> &'static str {
    match contradicted {
        true => "Something that you wrote speaks against a point",
        false => "A point that you have not made",
    }
}
