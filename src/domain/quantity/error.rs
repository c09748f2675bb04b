//! What can be wrong with a quantity in a deck, and how to mend it.

use super::table::UNITS;

/// A quantity or a unit that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct QuantityError {
    /// What is wrong, in a sentence without a full stop.
    pub message: String,
    /// How to mend it, in a sentence without a full stop.
    pub mend: String,
}

impl QuantityError {
    pub(super) fn new(message: impl Into<String>, mend: impl Into<String>) -> Self {
        Self { message: message.into(), mend: mend.into() }
    }

    pub(super) fn too_long(most: usize) -> Self {
        Self::new("the text is too long for a quantity", format!("use at most {most} characters"))
    }

    pub(super) fn unreadable_unit(unit: &str) -> Self {
        let mend = "write a unit such as `bar`, `m3/h` or `kJ/(kg K)`";
        Self::new(format!("`{}` is no unit", shorten(unit)), mend)
    }

    pub(super) fn power_too_high(unit: &str, most: u32) -> Self {
        Self::new(
            format!("the power in `{}` is zero or too high", shorten(unit)),
            format!("use powers from 1 to {most}, as in `m3`"),
        )
    }

    pub(super) fn unknown_unit(name: &str) -> Self {
        let mend = if name.eq_ignore_ascii_case("barg") || name.eq_ignore_ascii_case("bara") {
            "write `bar`, and say in the question whether it is gauge or absolute pressure".to_owned()
        } else {
            match nearest_unit(name) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "use a unit such as `bar`, `degC`, `rpm`, `min`, `kW` or `ppm`".to_owned(),
            }
        };
        Self::new(format!("`{}` is not a unit that the program knows", shorten(name)), mend)
    }

    pub(super) fn not_a_number(text: &str) -> Self {
        Self::new(
            format!("`{}` does not begin with a number", shorten(text)),
            "write a number and its unit, such as `30 bar`",
        )
    }
}

/// At most 40 characters of a text, for messages.
pub(super) fn shorten(text: &str) -> String {
    if text.chars().count() <= 40 { text.to_owned() } else { text.chars().take(39).chain(['…']).collect() }
}

/// The standard spelling of every unit that the program knows by name, in the table's order.
pub fn known_units() -> impl Iterator<Item = &'static str> {
    UNITS.iter().filter_map(|u| u.names.first().copied())
}

/// The known unit that this spelling is nearest to, if any is near.
pub fn nearest_unit(name: &str) -> Option<&'static str> {
    let name: String = name.chars().take(40).collect();
    let lower = name.to_lowercase();
    let spelt = |u: &&'static super::table::UnitDef| {
        u.names.iter().any(|n| n.to_lowercase() == lower) || u.words.contains(&lower.as_str())
    };
    if let Some(unit) = UNITS.iter().find(spelt) {
        return unit.names.first().copied();
    }
    let near = |n: &&'static str| strsim::osa_distance(&lower, &n.to_lowercase());
    let best = known_units().min_by_key(near)?;
    let most = if lower.chars().count() < 3 { 0 } else { 1 + lower.chars().count() / 6 };
    (near(&best) <= most).then_some(best)
}
