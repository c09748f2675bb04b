//! A point card on its sheet: answered once, and that is all.

use super::kind::OnSheet;
use crate::app::sheet::answer_sheet::AnswerSheet;
use crate::domain::answer::{Given, Pointed};
use crate::domain::card::Card;
use crate::domain::drawing::Pointing;

impl OnSheet for Pointing {
    fn sample(&self, _card: &Card, _sheet: &AnswerSheet, said: Vec<usize>) -> Given {
        Given::Pointed(if said.is_empty() { Pointed::At([0.0, 0.0]) } else { Pointed::Part(self.part.clone()) })
    }
}
