//! Checks: what is wrong with a figure, its unit and its tolerance.

use crate::deck::check::{Found, Site};
use crate::domain::quantity::QuantityError;

checks! {
    BAD_VALUE {
        code: "bad-value",
        severity: Error,
        says: "a value that cannot be read as a number with its unit",
        why: "The learner's typed answer is compared with the value, so the program must be able to read it.",
        example: &["[[figure]]", r#"value = "about 30 bar""#],
        mend: "write one number and one unit, such as \"30 bar\", \"4320 kW\" or \"0.5\"",
    }
    BAD_WITHIN {
        code: "bad-within",
        severity: Error,
        says: "a tolerance that does not fit its value",
        why: "A tolerance is a distance in a unit of the value's own kind, or a share in %. It is never below zero.",
        example: &["[[figure]]", r#"value = "30 bar""#, r#"within = "1 kW""#],
        mend: "write a distance such as \"1 bar\", or a share such as \"2 %\", or leave it out for an exact figure",
    }
    UNKNOWN_UNIT {
        code: "unknown-unit",
        severity: Error,
        says: "a unit that the program does not know",
        why: "An answer in another unit could not be converted to this one.",
        example: &["[[figure]]", r#"value = "30 barr""#],
        mend: "use a unit of the manual's list",
    }
}

pub(crate) fn bad_value(site: Site, key: &str, error: &QuantityError) -> Found {
    BAD_VALUE.at(site, format!("`{key}` cannot be read: {}", error.message), error.mend.clone())
}

pub(crate) fn bad_within(site: Site, error: &QuantityError) -> Found {
    BAD_WITHIN.at(site, error.message.clone(), error.mend.clone())
}

pub(crate) fn unknown_unit(site: Site, error: &QuantityError) -> Found {
    UNKNOWN_UNIT.at(site, error.message.clone(), error.mend.clone())
}
