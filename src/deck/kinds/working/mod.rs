//! `[[working]]`: work it out with fresh figures. Here the table is read into a working with the place of every part;
//! `judging` then looks at its formulas.

mod answered;
mod givens;
mod judging;
mod places;
mod trying;

use self::places::{Places, Written};
use super::figure::not_a_quantity;
use super::form::ReadForm;
use super::kind::DeckKind;
use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, table_of};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::answer::Form;
use crate::domain::kinds::Body;
use crate::domain::quantity::{Quantity, Unit, Within, expression};
use crate::domain::working::{Asks, Line, MOST_LINES, MOST_SLIPS, Slip, Working};

/// What only this kind holds.
const FIELDS: [Field; 5] = [
    optional("asks", Shape::Text, "where the answer is a rate: the unit that the question asks for"),
    needed("givens", Shape::Named(&givens::FIELDS), "figures that are drawn anew at every attempt"),
    optional("line", Shape::Tables(&LINE_FIELDS), "the method, line by line"),
    needed("answer", Shape::Table(&ANSWER_FIELDS), "what is asked for"),
    optional("slip", Shape::Tables(&SLIP_FIELDS), "known wrong ways"),
];
const KEYS: &[&str] = &keys(&FIELDS);
const LINE_FIELDS: [Field; 2] =
    [needed("name", Shape::Text, "the name of the value"), needed("is", Shape::Text, "a formula")];
const LINE_KEYS: &[&str] = &keys(&LINE_FIELDS);
const ANSWER_FIELDS: [Field; 3] = [
    needed("is", Shape::Text, "a formula, often the name of a line"),
    optional("unit", Shape::Free, "left out for a pure number"),
    optional("within", Shape::Text, "how near is right"),
];
const ANSWER_KEYS: &[&str] = &keys(&ANSWER_FIELDS);
const SLIP_FIELDS: [Field; 2] =
    [needed("is", Shape::Text, "what the mistake comes to"), needed("tell", Shape::Text, "what to say of it")];
const SLIP_KEYS: &[&str] = &keys(&SLIP_FIELDS);
const LINE_SAMPLE: &str = "[[working.line]] with two brackets above each line";
const SLIP_SAMPLE: &str = "[[working.slip]] with two brackets above each slip";
const ANSWER_SAMPLE: &str = "[working.answer] with is = \"power\" and unit = \"kW\"";

pub(crate) const KIND: DeckKind = DeckKind {
    word: "working",
    one: "a working card",
    chapter: 5,
    fields: &FIELDS,
    keys: KEYS,
    expects: &["slip"],
    forms: FORMS,
    in_row: Err(
        "a working has figures that are drawn anew and a method, which no row can hold: write it in a file of the deck, as the manual (decks/FORMAT.md) shows it",
    ),
    form: &[],
    read,
};

/// The forms in which it is answered.
const FORMS: &[ReadForm] =
    &[ReadForm { form: Form::Worked, keys: &["text", "givens", "seed", "lines"], read: answered::read }];

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    let errors_before = context.problems.errors();
    let (givens, given_sites) = givens::read(context, card);
    let (lines, names, line_texts) = lines(context, card, &givens);
    let answer = answer(context, card);
    let (slips, slip_texts) = slips(context, card);
    let asks = asks(context, card, answer.as_ref()).map(Box::new);
    let Answer { is, unit, within } = answer?;
    if context.problems.errors() > errors_before {
        // What follows from a fault that has been told is not told as well.
        return None;
    }
    // That it is there and says something has been looked at with what all cards share.
    let ask = card.table.get("ask").and_then(|value| {
        let text = value.get_ref().as_str()?;
        Some(Written { text: text.to_owned(), site: context.site(value.span()) })
    });
    let working = Working { givens, lines, answer: is.text.clone(), unit, asks, within, slips };
    let places = Places { ask, givens: given_sites, names, lines: line_texts, answer: is, slips: slip_texts };
    judging::judge(context, &working, &places);
    Some(Body::Working(working))
}

/// The method's lines, with the places of their names and their formulas.
fn lines(
    context: &mut Context<'_>,
    card: Table<'_, '_>,
    givens: &[crate::domain::working::Given],
) -> (Vec<Line>, Vec<Site>, Vec<Written>) {
    let (mut lines, mut names, mut texts): (Vec<Line>, _, _) = (Vec::new(), Vec::new(), Vec::new());
    for table in card.tables(context, "line", "a line of a working", LINE_SAMPLE).unwrap_or_default() {
        if lines.len() == MOST_LINES {
            context.report(checks::file::too_many_of_card(table.site, "lines", MOST_LINES));
            break;
        }
        table.check_keys(context, &[LINE_KEYS]);
        let name = table.required_text(context, "name", "name = \"area\"");
        let is = table.required_text(context, "is", "is = \"pi * bore^2 / 4\"");
        if let Some(name) = name {
            let known = name.value.trim();
            if expression::name(known).as_deref() != Some(known) {
                context.report(checks::working::bad_name(name.site, known));
            } else if givens.iter().any(|given| given.name == known) {
                context.report(checks::working::duplicate_name(name.site, known, "a given"));
            } else if lines.iter().any(|line| line.name == known) {
                context.report(checks::working::duplicate_name(name.site, known, "a line"));
            }
        }
        if let (Some(name), Some(is)) = (name, is) {
            lines.push(Line { name: name.value.trim().to_owned(), is: is.own() });
            names.push(name.site);
            texts.push(Written::of(is));
        }
    }
    (lines, names, texts)
}

fn slips(context: &mut Context<'_>, card: Table<'_, '_>) -> (Vec<Slip>, Vec<Written>) {
    let (mut slips, mut texts) = (Vec::new(), Vec::new());
    for table in card.tables(context, "slip", "a slip of a working", SLIP_SAMPLE).unwrap_or_default() {
        if slips.len() == MOST_SLIPS {
            context.report(checks::file::too_many_of_card(table.site, "slips", MOST_SLIPS));
            break;
        }
        table.check_keys(context, &[SLIP_KEYS]);
        let is = table.required_text(context, "is", "is = \"2 * power\"");
        let tell = table.required_text(context, "tell", "tell = \"what went wrong\"");
        if let (Some(is), Some(tell)) = (is, tell) {
            slips.push(Slip { is: is.own(), tell: tell.own() });
            texts.push(Written::of(is));
        }
    }
    (slips, texts)
}

struct Answer {
    is: Written,
    unit: String,
    within: Within,
}

fn answer(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Answer> {
    let value = card.required(context, "answer", ANSWER_SAMPLE)?;
    let table = table_of(context, value, "answer", "the answer of a working", ANSWER_SAMPLE)?;
    table.check_keys(context, &[ANSWER_KEYS]);
    let is = table.required_text(context, "is", "is = \"power\"");
    let unit = unit(context, table);
    let within = table.text(context, "within");
    let (is, unit) = (is?, unit?);
    let within = match within {
        None => Within::Exact,
        Some(text) => match Within::parse(text.value, &Quantity { number: 1.0, unit: unit.spelling.clone() }) {
            Ok(within) => within,
            Err(error) => {
                context.report(match Quantity::parse(text.value) {
                    Ok(_) => checks::figure::bad_within(text.site, &error),
                    Err(error) => not_a_quantity(text, "within", &error),
                });
                return None;
            }
        },
    };
    Some(Answer { is: Written::of(is), unit: unit.spelling, within })
}

/// The unit that the question asks for, where the answer is a rate; reported where it does not fit.
fn asks(context: &mut Context<'_>, card: Table<'_, '_>, answer: Option<&Answer>) -> Option<Asks> {
    let text = card.text(context, "asks")?;
    match Unit::parse(text.value) {
        Ok(unit) => {
            let answer = answer?;
            let spelling = unit.spelling.clone();
            let asks = Asks::of(unit, &answer.unit);
            if asks.is_none() {
                context.report(checks::working::bad_asks(text.site, &spelling, &answer.unit));
            }
            asks
        }
        Err(error) => {
            context.report(checks::figure::unknown_unit(text.site, &error));
            None
        }
    }
}

/// The answer's unit; left out or empty for a pure number.
fn unit(context: &mut Context<'_>, table: Table<'_, '_>) -> Option<Unit> {
    let text = match table.get("unit") {
        None => "",
        Some(value) if value.get_ref().as_str().is_some_and(|text| text.trim().is_empty()) => "",
        Some(_) => {
            let text = table.text(context, "unit")?;
            return match Unit::parse(text.value) {
                Ok(unit) => Some(unit),
                Err(error) => {
                    context.report(checks::figure::unknown_unit(text.site, &error));
                    None
                }
            };
        }
    };
    Unit::parse(text).ok()
}
