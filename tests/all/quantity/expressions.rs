//! Expressions over quantities: what they come to, what is refused and in which words, and that the unit engine
//! agrees.

use bedplate::domain::quantity::expression::Sort;
use bedplate::domain::quantity::{Expression, ExpressionError, Quantity, Scope, Unit, Value};

fn scope() -> Scope {
    let mut scope = Scope::new();
    for (name, figure) in [
        ("bore", "320 mm"),
        ("stroke", "400 mm"),
        ("pm", "16.2 bar"),
        ("speed", "720 rpm"),
        ("cylinders", "6"),
        ("t_in", "20 degC"),
        ("t_out", "85 degC"),
        ("apparent", "450 kVA"),
        ("active", "300 kW"),
        ("pf", "0.8"),
    ] {
        scope.set(name, Value::of(&Quantity::parse(figure).expect(figure)).expect(figure));
    }
    scope
}

fn value(text: &str) -> Result<Value, ExpressionError> {
    Expression::parse(text)?.evaluate(&scope())
}

/// The number of an expression in a unit.
fn given(text: &str, unit: &str) -> f64 {
    let value = value(text).unwrap_or_else(|error| panic!("{text}: {error}; {}", error.mend));
    let unit = Unit::parse(unit).expect(unit);
    value.to(&unit).unwrap_or_else(|error| panic!("{text} in {}: {error}", unit.spelling))
}

#[track_caller]
fn near(text: &str, unit: &str, expected: f64) {
    let found = given(text, unit);
    assert!((found - expected).abs() <= 1e-9 * expected.abs().max(1e-9), "{text}: {found}, not {expected} {unit}");
}

#[test]
fn products_powers_and_sums() {
    near("1 + 2 * 3 ^ 2 / 6 - 4", "", 0.0);
    near("2 ^ 3 ^ 2", "", 512.0);
    near("-2 ^ 2", "", -4.0);
    near("(1 + 2) * 3", "", 9.0);
    near("8 / 4 / 2", "", 1.0);
    near("2 ^ -1", "", 0.5);
    near("+5 - -3", "", 8.0);
    near("1.5e3", "", 1500.0);
    near("pi * bore^2 / 4", "cm2", std::f64::consts::PI * 256.0);
    let swept = std::f64::consts::PI * 0.1024 / 4.0 * 0.4;
    near("pm * stroke * (pi * bore^2 / 4) * (speed / 2) * cylinders", "kW", 1620.0 * swept * 36.0);
}

#[test]
fn a_unit_belongs_to_the_number_before_it() {
    near("9.81 m/s^2 * 2 s", "m/s", 19.62);
    near("6 m / 2 m / s", "1/s", 3.0);
    near("6 m / 2 m/s", "s", 3.0);
    near("4.19 kJ/(kg K) * 10 K", "kJ/kg", 41.9);
    near("4.19 kJ/kg K * 10 K", "kJ/kg", 41.9);
    near("330 nmi/24 h", "kn", 13.75);
    near("1000 kg / 991 kg/m3", "m3", 1000.0 / 991.0);
    near("5 %", "", 0.05);
    near("15 ppm * 5 m3/h", "mL/h", 75.0);
    near("3 bar^2 / 1 bar", "bar", 3.0);
    near("pm / bar", "", 16.2);
    near("pm / (1 bar)", "", 16.2);
    near("3 min", "s", 180.0);
    near("min(3 min, 100 s)", "s", 100.0);
}

#[test]
fn broken_powers_of_units() {
    near("sqrt(16 m2)", "m", 4.0);
    near("(27 m3)^(1/3)", "m", 3.0);
    near("(8 kg)^(2/3) * (1 kg)^(1/3)", "kg", 4.0);
    // The Admiralty coefficient of 60000 t at 14.5 kn with 9500 kW: 491.829 in tonnes, knots and kilowatts.
    let found = given("(60000 t / 1 t)^(2/3) * (14.5 kn / 1 kn)^3 / (9500 kW / 1 kW)", "");
    assert!((found - 491.829).abs() < 5e-4, "{found}");
}

#[test]
fn temperatures_are_readings_and_differences() {
    near("85 degC", "K", 358.15);
    near("85 degC", "degC", 85.0);
    near("-18 degC", "K", 255.15);
    near("t_out - t_in", "K", 65.0);
    near("t_out - t_in", "degC", 65.0);
    near("t_in + 12 K", "degC", 32.0);
    near("t_in + (t_out - t_in) / 2", "degC", 52.5);
    near("(t_in + t_out) / 2", "degC", 52.5);
    near("10 kW / (1 kg/s * 4 kJ/(kg K))", "K", 2.5);
    near("t_in * 2", "degC", 2.0 * 293.15 - 273.15);
    // The gas law: 1 bar x 2 m3 = m x 287.05 J/(kg K) x 293.15 K.
    near("1 bar * 2 m3 / (287.05 J/(kg K) * t_in)", "kg", 200_000.0 / (287.05 * 293.15));
    near("t_out - 273.15 K", "K", 85.0);
    near("(t_in - 0 degC) / 1 K", "", 20.0);
    near("max(t_in, t_out)", "degC", 85.0);
    let error = value("t_in + 273.15 K").expect_err("doubled");
    assert_eq!(error.sort, Sort::Units);
    assert!(error.message.contains("kelvins already"), "{error}");
    let error = value("t_in + 273").expect_err("doubled");
    assert!(error.message.contains("kelvins already"), "{error}");
    assert!(value("t_in / 1 degC").is_err());
    assert!(value("t_in / degC").is_err());
}

#[test]
fn revolutions_are_counted() {
    near("speed", "1/s", 12.0);
    near("2 * pi * speed * 1 kNm", "kW", 24.0 * std::f64::consts::PI);
    near("75 rad/s * 1 kNm", "kW", 75.0);
    near("75 rad/s", "rpm", 75.0 * 60.0 / (2.0 * std::f64::consts::PI));
    near("speed * 2 * pi * 1 rad", "rad/s", 24.0 * std::f64::consts::PI);
    let speed = value("speed").expect("a value");
    assert!(speed.to(&Unit::parse("rad/s").expect("a unit")).is_err());
}

#[test]
fn angles() {
    near("sin(30 deg)", "", 0.5);
    near("acos(0.5)", "deg", 60.0);
    near("tan(acos(0.8))", "", 0.75);
    near("cos(pi / 3)", "", 0.5);
    near("atan(1 m / 2 m)", "deg", 26.565_051_177_077_99);
    near("400 mm * 90 deg", "mm", 200.0 * std::f64::consts::PI);
    near("0.5 * 1 m / (1 m)", "deg", 90.0 / std::f64::consts::PI);
    assert!(value("sin(30)").is_err_and(|error| error.mend.contains("deg")));
    assert!(value("sin(30 mm)").is_err());
}

#[test]
fn powers_active_apparent_and_reactive() {
    near("apparent", "kVA", 450.0);
    near("apparent * pf", "kW", 360.0);
    near("active / pf", "kVA", 375.0);
    near("sqrt(3) * 440 V * 850 A", "kVA", 0.44 * 850.0 * 3f64.sqrt());
    near("sqrt(3) * 440 V * 850 A * pf", "kW", 0.44 * 850.0 * 3f64.sqrt() * 0.8);
    near("sqrt(apparent^2 - active^2)", "kvar", (450f64 * 450.0 - 300.0 * 300.0).sqrt());
    near("apparent * sin(acos(pf))", "kvar", 270.0);
    near("active / apparent", "", 300.0 / 450.0);
    near("2 * active", "kW", 600.0);
    let kilowatt = Unit::parse("kW").expect("a unit");
    for text in ["apparent", "2 * apparent", "apparent + 50 kVA"] {
        let error = value(text).expect("a value").to(&kilowatt).expect_err(text);
        assert!(error.message.contains("apparent power") && error.mend.contains("power factor"), "{error}");
    }
    assert!(value("apparent + active").is_err_and(|error| error.sort == Sort::Units));
}

#[test]
fn errors_say_what_where_and_how_to_mend() {
    for (text, span, says, mends) in [
        ("pm + stroke", 0..11, "the left side is a pressure, the right side a length", "missing"),
        ("2 bar - 3 m", 0..11, "a pressure (bar), the right side a length (m)", "missing"),
        ("bore * strok", 7..12, "`strok` is not known", "did you mean `stroke`"),
        ("2 bore", 2..6, "`bore` behind a number is no unit", "`*`"),
        ("pm(2 + 3)", 0..2, "no function `pm`", "pm * ("),
        ("squrt(2)", 0..5, "no function `squrt`", "`sqrt`"),
        ("log(2)", 0..3, "no function `log`", "`log10`"),
        ("min(2)", 0..6, "given 1 of two or more", "min(a, b, ...)"),
        ("(1 + 2", 0..1, "not closed", ")"),
        ("1 + 2)", 5..6, "closes nothing", "away"),
        ("1 +", 3..3, "ends too early", "missing"),
        ("", 0..0, "no expression", "names"),
        ("* 2", 0..1, "missing before this", "signs away"),
        ("2 ** 3", 2..4, "`**`", "`^`"),
        ("let x", 4..5, "a sign is missing", "`*`"),
        ("x = 1", 2..3, "`=` has no meaning", "one `=` a line"),
        ("\"text\"", 0..1, "has no meaning", "names"),
        ("1,5 + 2", 0..2, "no plain number", "decimal point"),
        ("2 ^ bore", 4..8, "the power is a length", "unit"),
        ("bore ^ pf", 0..9, "cannot be raised", "unit"),
        ("ln(bore)", 3..7, "wants a pure number and is given a length", "unit"),
        ("1e999", 0..5, "out of range", "two digits"),
        ("pi * r^2", 5..6, "`r` is not known", "line above"),
        ("5 barg", 2..6, "`barg` behind a number is no unit", "`bar`"),
    ] {
        let error = value(text).expect_err(text);
        assert!(error.message.contains(says), "{text}: {error}");
        assert!(error.mend.contains(mends), "{text}: {}", error.mend);
        assert_eq!(error.span, span, "{text}: {error}");
    }
}

#[test]
fn what_has_no_value_is_refused() {
    for (text, sort) in [
        ("1 / 0", Sort::DividesByZero),
        ("pm / (t_out - 85 degC)", Sort::DividesByZero),
        ("0 ^ -1", Sort::DividesByZero),
        ("sqrt(-1)", Sort::NoValue),
        ("ln(0)", Sort::NoValue),
        ("asin(1.1)", Sort::NoValue),
        ("(0 - 2)^0.5", Sort::NoValue),
        ("10^10^10", Sort::NoValue),
        ("exp(1000)", Sort::NoValue),
        ("tan(90 deg)", Sort::NoValue),
    ] {
        assert_eq!(value(text).expect_err(text).sort, sort, "{text}");
    }
}

#[test]
fn typed_text_forgives() {
    let typed = |text: &str| {
        let value = Expression::parse_typed(text).and_then(|expression| expression.evaluate(&scope()));
        value.unwrap_or_else(|error| panic!("{text}: {error}; {}", error.mend))
    };
    for (text, unit, expected) in [
        ("π/4 · bore²", "cm2", std::f64::consts::PI * 256.0),
        ("2π × 3", "", 6.0 * std::f64::consts::PI),
        ("2,5 m ÷ 2", "m", 1.25),
        ("4,320 kW", "kW", 4320.0),
        ("1 200 kg", "kg", 1200.0),
        ("min(2,500)", "", 2.0),
        ("√3 · 440 V · 850 A", "kVA", 0.44 * 850.0 * 3f64.sqrt()),
        ("5 − 3", "", 2.0),
        ("9,81 m·s⁻²", "m/s2", 9.81),
        ("85 °C − 20 °C", "K", 65.0),
    ] {
        let found = typed(text).to(&Unit::parse(unit).expect(unit)).expect(text);
        assert!((found - expected).abs() < 1e-9 * expected, "{text}: {found}");
    }
}

#[test]
fn values_are_readable() {
    for (text, preferred, expected) in [
        ("pi * bore^2 / 4", None, "0.08042 m2"),
        ("speed / 2", None, "6.000 1/s"),
        ("speed / 2", Some("rpm"), "360.0 rpm"),
        ("pm * stroke * (pi * bore^2 / 4)", None, "52.12 kJ"),
        ("pm * stroke * (pi * bore^2 / 4)", Some("kW"), "52.12 kJ"),
        ("pm * 2", None, "32.40 bar"),
        ("stroke / 1000", None, "0.4000 mm"),
        ("t_out", None, "85.00 degC"),
        ("t_out - t_in", None, "65.00 K"),
        ("apparent", None, "450.0 kVA"),
        ("1 / 3", None, "0.3333"),
        ("119805", None, "119805"),
        ("7.09393e-8 m/s", None, "7.094e-8 m/s"),
        ("1 kg * 1 m / 3 s", None, "0.3333 kg m/s"),
        ("0 m", None, "0 mm"),
        ("99.996", None, "100.0"),
    ] {
        assert_eq!(value(text).expect(text).text(4, preferred), expected, "{text}");
    }
}
