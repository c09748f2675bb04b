//! Worksheets at the edges of units: absolute zero, sums of temperatures, and lines that end in the unit that is wanted.

use bedplate::domain::quantity::{Expression, Quantity, Scope};
use bedplate::domain::working::{LineResult, evaluate};

fn sheet(lines: &[&str]) -> Vec<LineResult> {
    let givens = [("t", "85 degC"), ("u", "65 degC"), ("p", "16.2 bar")];
    let givens: Vec<(String, Quantity)> =
        givens.iter().map(|(name, text)| ((*name).to_owned(), Quantity::parse(text).expect(text))).collect();
    let lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
    evaluate(&givens, &lines, Some("kW"))
}

#[track_caller]
fn shown(line: &str) -> String {
    let result = sheet(&[line]).remove(0);
    assert_eq!(result.error, None, "{line}");
    format!("{} {}", result.number, result.unit)
}

#[track_caller]
fn refused(line: &str) -> String {
    let result = sheet(&[line]).remove(0);
    let error = result.error.unwrap_or_else(|| panic!("{line}: {} {}", result.number, result.unit));
    assert!(error.span.end <= line.len() && error.span.start < error.span.end, "{line}: {:?}", error.span);
    error.message
}

#[test]
fn nothing_is_colder_than_absolute_zero() {
    // 0 K is -273.15 °C and -459.67 °F (SI brochure, 9th edition, 2.3.1; NIST SP 811, appendix B).
    for line in ["-300 degC", "-273.16 degC", "-460 degF", "-1 K", "T = -300 °C", "k = -1 K", "x = t - 400 K"] {
        assert!(refused(line).contains("below absolute zero"), "{line}");
    }
    assert!(refused("2 * (t - -300 degC)").contains("below absolute zero"), "inside of a line too");
    assert_eq!(shown("-273 degC"), "-273.0 degC");
    assert_eq!(shown("(-273.15 degC) in K"), "0 K");
    assert_eq!(shown("0 K"), "0 K");
    // A difference may be below zero.
    assert_eq!(shown("u - t"), "-20.00 K");
    assert_eq!(shown("5 K - 8 K"), "-3.000 K");
    // A deck's formula is held to it as well.
    let deck = Expression::parse("2 * (-300 degC)").expect("it reads").evaluate(&Scope::new());
    assert!(deck.is_err_and(|error| error.message.contains("below absolute zero")));
}

#[test]
fn two_temperatures_are_not_added_but_have_a_mean() {
    for line in
        ["20 degC + 5 degC", "t + u", "s = t + 5 degC", "2 * (t + u)", "(t + u) - 20 K", "(t + u) / 1", "-(t + u)"]
    {
        assert!(refused(line).contains("two temperatures cannot be added"), "{line}");
    }
    assert_eq!(shown("20 degC + 5 K"), "25.00 degC");
    assert_eq!(shown("(t + u) / 2"), "75.00 degC");
    assert_eq!(shown("0.5 * (t + u)"), "75.00 degC");
    assert_eq!(shown("(20 degC + 30 degC + 40 degC) / 3"), "30.00 degC");
    assert_eq!(shown("t - u + 20 degC"), "40.00 degC", "a difference and a temperature");
}

#[test]
fn a_line_may_end_in_the_unit_that_is_wanted() {
    assert_eq!(shown("1 m in cm"), "100.0 cm");
    assert_eq!(shown("1 m to cm"), "100.0 cm");
    assert_eq!(shown("L = 12 in to mm"), "304.8 mm");
    assert_eq!(shown("2 in in mm"), "50.80 mm");
    assert_eq!(shown("P = p * 2 in kPa"), "3240 kPa");
    assert_eq!(shown("t in K"), "358.1 K");
    assert_eq!(shown("p -> MPa"), "1.620 MPa");
    assert_eq!(shown("12 in"), "304.8 mm", "inches are inches still");
    // Another kind of unit, or a wish in the middle of a line, is refused with the reason.
    assert!(refused("1 m in bar").contains("a length"));
    assert!(refused("(1 m in cm) * 2").contains("stands at the end of a worksheet's line"));
    let results = sheet(&["L = 1 m in cm", "2 * L"]);
    assert_eq!((results[1].number.as_str(), results[1].unit.as_str()), ("2.000", "m"), "the value is what it was");
}
