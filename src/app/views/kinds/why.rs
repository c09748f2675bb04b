//! A why card as view data: links ashore, then the learner's order beside the right one.

use crate::app::sheet::{AnswerSheet, Marked};
use crate::app::views::kinds::{KindView, Laid, in_order, part};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::kinds::Detail;
use crate::domain::kinds::why::{Why, longest_rising};
use crate::present::kinds::why::{GivenLink, LinkStanding, LinkView, WhyAskedView, WhyMarkedView};
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::library::AnswerView;
use crate::present::stage::RemedyPart;
use crate::present::words;

impl KindView for Why {
    fn given(&self, given: &Given) -> Option<String> {
        let Given::Links(links) = given else { return None };
        Some(in_order(links.iter().filter_map(|position| Some(link(self, *position)?.to_owned()))))
    }

    fn asked(&self, laid: Laid<'_>) -> AskedView {
        let view = |position: &usize| Some(LinkView { position: *position, text: link(self, *position)?.to_owned() });
        AskedView::Why(WhyAskedView { links: laid.sheet.shuffled.iter().filter_map(view).collect() })
    }

    fn marked(&self, laid: Laid<'_>, marked: &Marked) -> MarkedView {
        let right = if laid.withheld { Vec::new() } else { self.links.clone() };
        MarkedView::Why(WhyMarkedView { given: given_links(self, marked), right })
    }

    fn tally(&self, marked: &Marked, _sheet: &AnswerSheet) -> String {
        let Detail::Why(told) = &marked.marking.detail else { return String::new() };
        let false_words = match told.false_links {
            0 => String::new(),
            n => format!(", {} that {} nowhere", words::number(n), if n == 1 { "belongs" } else { "belong" }),
        };
        format!("{} of {} in order{false_words}, ", told.in_order, words::count(self.links.len(), "link"))
    }

    fn remedy(&self, _card: &Card, _sheet: Option<&AnswerSheet>) -> Vec<RemedyPart> {
        let of = self.links.len();
        self.links.iter().enumerate().map(|(n, link)| part(format!("Link {} of {of}", n + 1), link.clone())).collect()
    }

    fn answer(&self, _card: &Card) -> AnswerView {
        AnswerView::Links { links: self.links.clone(), false_links: self.false_links.clone() }
    }
}

fn link(why: &Why, position: usize) -> Option<&str> {
    let at = position.checked_sub(1)?;
    why.links.iter().chain(&why.false_links).nth(at).map(String::as_str)
}

fn given_links(why: &Why, marked: &Marked) -> Vec<GivenLink> {
    let given: &[usize] = match &marked.given {
        Given::Links(links) => links,
        _ => &[],
    };
    let true_links: Vec<usize> = given.iter().copied().filter(|p| *p <= why.links.len()).collect();
    let run = longest_rising(&true_links);
    given
        .iter()
        .filter_map(|position| {
            let standing = match *position {
                p if p > why.links.len() => LinkStanding::False,
                p if run.contains(&p) => LinkStanding::InOrder,
                _ => LinkStanding::OutOfPlace,
            };
            Some(GivenLink { text: link(why, *position)?.to_owned(), standing })
        })
        .collect()
}
