//! Units and steam against values from outside the project: `tests/reference/units.toml` and `steam.toml` name their
//! sources.

use bedplate::domain::quantity::{Expression, Scope, Unit};
use toml::Value;

fn number(value: &Value, key: &str) -> Option<f64> {
    let value = value.get(key)?;
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64))
}

fn text<'v>(value: &'v Value, key: &str) -> &'v str {
    value.get(key).and_then(Value::as_str).unwrap_or_else(|| panic!("no {key} in {value}"))
}

fn entries(file: &str, key: &str) -> Vec<Value> {
    let file: Value = toml::from_str(file).expect("TOML");
    file[key].as_array().expect("a list").clone()
}

#[track_caller]
fn holds(expression: &str, unit: &str, expected: f64, figures: Option<f64>) {
    let unit = Unit::parse(unit).expect(unit);
    let value = Expression::parse(expression).and_then(|read| read.evaluate(&Scope::new()));
    let value = value.unwrap_or_else(|error| panic!("{expression}: {error}"));
    let found = value.to(&unit).unwrap_or_else(|error| panic!("{expression}: {error}"));
    // Half a unit of the last figure given, or what floating point leaves.
    let near = figures.map_or(1e-12, |figures| 5.1 * 10f64.powf(-figures));
    assert!((found - expected).abs() <= near * expected.abs(), "{expression}: {found}, not {expected}");
}

#[test]
fn units_are_worth_what_their_definitions_say() {
    let units = entries(include_str!("../../reference/units.toml"), "unit");
    assert!(units.len() > 35);
    for unit in units {
        let expected = number(&unit, "worth").expect("a worth");
        holds(text(&unit, "is"), text(&unit, "in"), expected, number(&unit, "figures"));
    }
}

#[test]
fn steam_is_that_of_the_formulation() {
    let file = include_str!("../../reference/steam.toml");
    for point in entries(file, "point") {
        let at = |key| number(&point, key).expect("a number");
        let figures = number(&point, "figures").or(Some(9.0));
        let given = format!("({} MPa, {} K)", at("p"), at("t"));
        holds(&format!("v_pt{given}"), "m3/kg", at("v"), figures);
        holds(&format!("h_pt{given}"), "kJ/kg", at("h"), figures);
        holds(&format!("s_pt{given}"), "kJ/(kg K)", at("s"), figures);
    }
    for point in entries(file, "saturation") {
        let at = |key| number(&point, key).expect("a number");
        if point.get("by").is_some() {
            holds(&format!("t_sat({} MPa)", at("p")), "K", at("t"), Some(9.0));
        } else {
            holds(&format!("p_sat({} K)", at("t")), "MPa", at("p"), Some(9.0));
        }
    }
    for worked in entries(file, "worked") {
        let figures = number(&worked, "figures").or(Some(6.0));
        holds(text(&worked, "of"), text(&worked, "unit"), number(&worked, "is").expect("a value"), figures);
    }
}

#[test]
fn steam_by_pressure_and_by_temperature_agree_and_stay_in_the_tables() {
    for bar in [0.01, 0.1, 1.0, 7.0, 16.0, 60.0, 150.0, 200.0] {
        for function in ["h_f", "h_g", "s_f", "s_g", "v_f", "v_g"] {
            let scope = Scope::new();
            let value = |text: &str| {
                let read = Expression::parse(text).and_then(|read| read.evaluate(&scope));
                read.unwrap_or_else(|error| panic!("{text}: {error}")).base_number()
            };
            let (by_p, by_t) =
                (value(&format!("{function}({bar} bar)")), value(&format!("{function}(t_sat({bar} bar))")));
            assert!((by_p - by_t).abs() < 2e-6 * by_p.abs().max(1.0), "{function} at {bar} bar: {by_p}, {by_t}");
        }
    }
    for outside in ["t_sat(221 bar)", "t_sat(0 bar)", "p_sat(400 degC)", "h_g(-5 degC)", "h_pt(5 bar, 900 degC)"] {
        assert!(Expression::parse(outside).and_then(|read| read.evaluate(&Scope::new())).is_err(), "{outside}");
    }
    for wrong in ["t_sat(20 degC)", "h_g(3 m)", "h_pt(20 degC, 5 bar)", "p_sat(5)", "h_g(30 degC - 10 degC)"] {
        assert!(Expression::parse(wrong).and_then(|read| read.evaluate(&Scope::new())).is_err(), "{wrong}");
    }
}
