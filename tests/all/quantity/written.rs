//! Quantities as decks write them. Factors are checked against the SI brochure (9th edition, 2019) and NIST
//! Special Publication 811 (2008), appendix B, as remembered; the products are exact arithmetic.

use bedplate::domain::quantity::{Quantity, Within, known_units, nearest_unit};

fn quantity(text: &str) -> Quantity {
    match Quantity::parse(text) {
        Ok(quantity) => quantity,
        Err(error) => panic!("{text}: {error}"),
    }
}

fn assert_near(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() <= 1e-9 * wanted.abs().max(1e-12), "{what}: {found} is not {wanted}");
}

#[test]
fn quantities_convert_to_other_units_of_their_kind() {
    let cases = [
        ("30 bar", "MPa", 3.0),
        ("30 bar", "kPa", 3000.0),
        ("30 bar", "N/mm2", 3.0),
        ("1 atm", "Pa", 101_325.0),
        ("1 psi", "Pa", 6_894.757_293_168_361), // SP 811: 6.894 757 E+03
        ("1 kgf/cm2", "bar", 0.980_665),
        ("10 mH2O", "kPa", 98.0665),
        ("760 mmHg", "Pa", 101_325.014_435_4), // SP 811: 133.3224 Pa each
        ("100 mmWG", "Pa", 980.665),
        ("45 s", "min", 0.75),
        ("1 day", "h", 24.0),
        ("2 week", "day", 14.0),
        ("15 ppm", "%", 0.0015),
        ("3.5 %", "‰", 35.0),
        ("5 ppb", "ppm", 0.005),
        ("6.6 kV", "V", 6600.0),
        ("500 mA", "A", 0.5),
        ("50 Hz", "kHz", 0.05),
        ("4.32 MW", "kW", 4320.0),
        ("1 hp", "W", 745.699_871_582_270_1), // SP 811: 550 ft lbf/s = 7.456 999 E+02
        ("2 MVA", "kVA", 2000.0),
        ("300 kvar", "var", 300_000.0),
        ("1 MΩ", "kohm", 1000.0),
        ("1 Mohm", "Ω", 1e6),
        ("470 µF", "F", 0.000_47),
        ("85 degC", "K", 358.15),
        ("85 °C", "degF", 185.0),
        ("-40 degF", "degC", -40.0),
        ("12 nmi", "m", 22_224.0),
        ("1 cable", "m", 185.2),
        ("12 in", "ft", 1.0),
        ("5 µm", "mm", 0.005),
        ("300 mm2", "cm2", 3.0),
        ("5 m3", "L", 5000.0),
        ("250 mL", "cm3", 250.0),
        ("2 t", "kg", 2000.0),
        ("1 lb", "g", 453.592_37),
        ("991 kg/m3", "g/cm3", 0.991),
        ("80 mg/kg", "ppm", 80.0),
        ("720 rpm", "Hz", 12.0),
        ("720 1/min", "rev/min", 720.0),
        ("720 r/min", "rpm", 720.0),
        ("10 kn", "km/h", 18.52),
        ("36 km/h", "m/s", 10.0),
        ("120 m3/h", "L/min", 2000.0),
        ("2 t/day", "kg/h", 83.333_333_333_333_33),
        ("185 g/kWh", "kg/MWh", 185.0),
        ("380 cSt", "mm2/s", 380.0),
        ("380 mm²/s", "m2/s", 0.000_38),
        ("1 Pa s", "cP", 1000.0),
        ("1 mPa s", "cP", 1.0),
        ("1 kWh", "MJ", 3.6),
        ("42.7 MJ/kg", "kJ/kg", 42_700.0),
        ("4.19 kJ/(kg K)", "J/(kg K)", 4190.0),
        ("4.19 kJ/kg K", "kJ/(kg degC)", 4.19),
        ("900 W/(m2 K)", "kW/(m2 K)", 0.9),
        ("900 W/m2K", "W/(m^2·K)", 900.0),
        ("2 MN", "kN", 2000.0),
        ("350 kNm", "Nm", 350_000.0),
        ("350 kN m", "MNm", 0.35),
        ("200 lux", "lx", 200.0),
        ("180 deg", "rad", std::f64::consts::PI),
        ("60 rpm", "rad/s", 2.0 * std::f64::consts::PI),
        ("12 L/nmi", "m3/nmi", 0.012),
        ("40 mgKOH/g", "BN", 40.0),
        ("24 months", "year", 2.0),
        ("100 Ah", "A h", 100.0),
        ("0.5 S/m", "uS/cm", 5000.0),
    ];
    for (text, unit, wanted) in cases {
        match quantity(text).convert(unit) {
            Ok(found) => assert_near(found, wanted, &format!("{text} in {unit}")),
            Err(error) => panic!("{text} in {unit}: {error}"),
        }
    }
}

#[test]
fn kinds_that_are_easily_mixed_up_stay_apart() {
    for (a, b) in [
        ("450 kVA", "450 kW"),
        ("450 kVA", "450 kvar"),
        ("100 cd", "100 lm"),
        ("10 kg", "10 N"),
        ("5 deg", "5"),
        ("1 V", "1 A"),
        ("10 kn", "10 kN"),
        ("1 degC", "1 deg"),
    ] {
        assert!(!quantity(a).same_dimension(&quantity(b)), "{a} and {b}");
    }
}

#[test]
fn a_tolerance_is_a_distance_or_a_share_of_the_value() {
    for (value, within, distance) in [
        ("30 bar", "1 bar", 1.0),
        ("30 bar", "50 kPa", 0.5),
        ("30 bar", "2 %", 0.6),
        ("15 ppm", "2 %", 0.3),
        ("0.10 %", "2 %", 0.002),
        ("15 ppm", "1 ppm", 1.0),
        ("85 degC", "5 K", 5.0),
        ("85 degC", "5 degC", 5.0),
        ("85 degC", "9 degF", 5.0),
        ("-18 degC", "10 %", 1.8),
        ("6", "1", 1.0),
    ] {
        let value = quantity(value);
        match Within::parse(within, &value).and_then(|w| w.distance(&value)) {
            Ok(Some(found)) => assert_near(found, distance, within),
            other => panic!("{within}: {other:?}"),
        }
    }
    for (value, within) in [("30 bar", "1 s"), ("30 bar", "1"), ("6", "1 bar"), ("30 bar", "-1 bar"), ("30 bar", "x")] {
        assert!(Within::parse(within, &quantity(value)).is_err(), "{value} within {within}");
    }
}

#[test]
fn faulty_quantities_are_refused_with_a_way_to_mend_them() {
    for (text, part) in [
        ("", "begin with a number"),
        ("bar", "begin with a number"),
        ("30 baar", "did you mean `bar`"),
        ("30 BAR", "did you mean `bar`"),
        ("30 barg", "gauge or absolute"),
        ("30 seconds", "did you mean `s`"),
        ("4,320 kW", "without thousands marks"),
        ("0,125 mm", "without thousands marks"),
        ("1 000 kW", "without thousands marks"),
        ("1.5.2 bar", "without thousands marks"),
        ("30 bar/", "no unit"),
        ("30 bar)", "no unit"),
        ("30 (((((((((bar)))))))))", "no unit"),
        ("30 m99", "powers from 1"),
        ("30 m^-0", "powers from 1"),
        ("1e999 bar", "smaller number"),
        ("30 let x = 5", "not a unit"),
        ("30 bar + 2 bar", "no unit"),
        ("30 qqqqq", "use a unit such as"),
    ] {
        match Quantity::parse(text) {
            Ok(found) => panic!("{text} was read as {found:?}"),
            Err(e) => assert!(format!("{e}; {}", e.mend).contains(part), "{text}: {e}; {}", e.mend),
        }
    }
    assert!(Quantity::parse(&format!("30 {}", "m*".repeat(5000))).is_err());
}

#[test]
fn spellings_become_standard_and_neighbours_are_named() {
    assert_eq!(quantity("30 sec").unit, "s");
    assert_eq!(quantity("85 °C").unit, "degC");
    assert_eq!(quantity("85 ℃").unit, "degC");
    assert_eq!(quantity("6").unit, "");
    assert_eq!(quantity("12 nm").unit, "nmi");
    assert_eq!(nearest_unit("kw"), Some("kW"));
    assert_eq!(nearest_unit("minutes"), Some("min"));
    assert!(known_units().any(|u| u == "bar"));
}
