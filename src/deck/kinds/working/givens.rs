//! The givens of a working: figures that are drawn on round steps.

use super::super::figure::not_a_quantity;
use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text, table_of};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::quantity::{Quantity, expression};
use crate::domain::working::{self, Given, MOST_DRAWN_STEPS, MOST_GIVENS};

pub(super) const FIELDS: [Field; 4] = [
    needed("from", Shape::Text, "the least figure"),
    needed("to", Shape::Text, "the greatest figure"),
    needed("step", Shape::Text, "from one figure to the next"),
    optional("say", Shape::Text, "its name for people"),
];
const KEYS: &[&str] = &keys(&FIELDS);
const SAMPLE: &str =
    "[working.givens] with a line such as bore = { from = \"280 mm\", to = \"400 mm\", step = \"10 mm\" }";

/// Reads `[working.givens]` in the order of the file; a given with an error is left out.
pub(super) fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> (Vec<Given>, Vec<Site>) {
    let (mut givens, mut sites) = (Vec::new(), Vec::new());
    let Some(value) = card.required(context, "givens", SAMPLE) else { return (givens, sites) };
    let Some(table) = table_of(context, value, "givens", "the givens of a working", SAMPLE) else {
        return (givens, sites);
    };
    let mut keys: Vec<(usize, &str)> = Vec::new();
    for key in table.table.keys() {
        keys.push((key.span().start, key.get_ref()));
    }
    keys.sort_unstable();
    if keys.is_empty() {
        context.report(checks::key::missing_key(table.site, "givens", "a working card", SAMPLE));
    }
    for (n, (start, name)) in keys.into_iter().enumerate() {
        let site = context.site(start..start + name.len());
        if n == MOST_GIVENS {
            context.report(checks::file::too_many_of_card(site, "givens", MOST_GIVENS));
            break;
        }
        if expression::name(name).as_deref() != Some(name) {
            context.report(checks::working::bad_name(site, name));
        }
        let Some(value) = table.get(name) else { continue };
        let sample = format!("{name} = {{ from = \"5\", to = \"9\", step = \"1\" }}");
        let Some(table) = table_of(context, value, name, "a given of a working", &sample) else { continue };
        if let Some(given) = given(context, table, name) {
            givens.push(given);
            sites.push(site);
        }
    }
    (givens, sites)
}

fn given(context: &mut Context<'_>, table: Table<'_, '_>, name: &str) -> Option<Given> {
    table.check_keys(context, &[KEYS]);
    let say = table.text(context, "say").map_or_else(|| spoken(name), Text::own);
    let from = quantity(context, table, "from", "from = \"280 mm\"");
    let to = quantity(context, table, "to", "to = \"400 mm\"");
    let step = quantity(context, table, "step", "step = \"10 mm\"");
    let ((from, _), (to, to_site), (step, step_site)) = (from?, to?, step?);
    for (key, quantity, site) in [("to", &to, to_site), ("step", &step, step_site)] {
        let bare = quantity.unit.is_empty() != from.unit.is_empty();
        if bare || !quantity.same_dimension(&from) {
            context.report(checks::working::bad_range_other_kind(site, key, &quantity.described(), &from.described()));
            return None;
        }
    }
    let given = Given { name: name.to_owned(), say, from, to, step };
    if given.greatest() < given.from.number - 1e-9 * given.from.number.abs() {
        context.report(checks::working::bad_range_upside_down(to_site));
        return None;
    }
    if given.step_size() <= 0.0 {
        context.report(checks::working::bad_range_no_step(step_site));
        return None;
    }
    if (given.greatest() - given.from.number) / given.step_size() > MOST_DRAWN_STEPS {
        context.report(checks::working::bad_range_too_many_steps(step_site));
        return None;
    }
    let last = given.at(given.steps());
    if (given.greatest() - last.number).abs() > 1e-6 * given.step_size() {
        context.report(checks::working::uneven_step(step_site, &working::text(&given, &last)));
    }
    let has_zero_point = matches!(given.from.unit.as_str(), "degC" | "degF");
    if has_zero_point && is_difference(&given) {
        context.report(checks::working::difference_in_degc(table.site, name));
    }
    Some(given)
}

/// Whether its name says that it is a difference.
fn is_difference(given: &Given) -> bool {
    let words = format!("{} {}", given.name, given.say).to_lowercase();
    let mut words = words.split(|c: char| !c.is_alphanumeric());
    words.any(|word| matches!(word, "rise" | "difference" | "drop" | "fall" | "delta" | "dt" | "increase" | "approach"))
}

/// A quantity with its place.
fn quantity(context: &mut Context<'_>, table: Table<'_, '_>, key: &str, sample: &str) -> Option<(Quantity, Site)> {
    let text = table.required_text(context, key, sample)?;
    match Quantity::parse(text.value) {
        Ok(quantity) => Some((quantity, text.site)),
        Err(error) => {
            context.report(not_a_quantity(text, key, &error));
            None
        }
    }
}

/// A given's name for people where the deck gives none: `mean_pressure` is `Mean pressure`.
fn spoken(name: &str) -> String {
    let words = name.replace('_', " ");
    let mut chars = words.trim().chars();
    chars.next().map_or_else(|| name.to_owned(), |first| first.to_uppercase().chain(chars).collect())
}
