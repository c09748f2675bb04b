//! Values as people write them: so many significant digits, in a unit that the trade would choose.

use super::value::{Nature, Value};
use super::{Dimension, Unit};

/// Units of one kind from small to large, each with the least number at which it is taken; the first is taken for
/// anything smaller.
const LADDERS: &[&[(&str, f64)]] = &[
    &[("", 0.0)],
    &[("mm", 0.0), ("m", 1.0), ("km", 100.0)],
    &[("mm2", 0.0), ("m2", 0.001)],
    &[("mL", 0.0), ("L", 0.1), ("m3", 0.001)],
    &[("g", 0.0), ("kg", 1.0), ("t", 10.0)],
    &[("s", 0.0), ("min", 2.0), ("h", 2.0), ("day", 3.0)],
    &[("K", 0.0)],
    &[("1/s", 0.0)],
    &[("m/s", 0.0)],
    &[("m/s2", 0.0)],
    &[("N", 0.0), ("kN", 1.0), ("MN", 10.0)],
    &[("J", 0.0), ("kJ", 1.0), ("MJ", 10.0), ("GJ", 10.0)],
    &[("Pa", 0.0), ("bar", 0.01), ("MPa", 20.0), ("GPa", 10.0)],
    &[("W", 0.0), ("kW", 1.0), ("MW", 100.0)],
    &[("mV", 0.0), ("V", 1.0), ("kV", 10.0)],
    &[("mA", 0.0), ("A", 1.0), ("kA", 10.0)],
    &[("Ah", 0.0)],
    &[("ohm", 0.0), ("kohm", 1.0), ("Mohm", 1.0)],
    &[("uF", 0.0), ("F", 0.1)],
    &[("mH", 0.0), ("H", 1.0)],
    &[("kg/m3", 0.0)],
    &[("m3/kg", 0.0)],
    &[("m3/h", 0.0)],
    &[("kg/h", 0.0), ("t/h", 10.0)],
    &[("cSt", 0.0), ("m2/s", 0.01)],
    &[("Pa s", 0.0)],
    &[("J/kg", 0.0), ("kJ/kg", 1.0), ("MJ/kg", 10.0)],
    &[("kJ/(kg K)", 0.0)],
    &[("kJ/K", 0.0)],
    &[("g/kWh", 0.0)],
    &[("W/m2", 0.0), ("kW/m2", 1.0)],
    &[("W/(m2 K)", 0.0)],
    &[("W/(m K)", 0.0)],
    &[("deg", 0.0)],
    &[("rad/s", 0.0)],
    &[("lux", 0.0)],
    &[("kg/m", 0.0)],
    &[("N/m", 0.0), ("kN/m", 1.0)],
    &[("t m", 0.0)],
    &[("1/K", 0.0)],
    &[("m4", 0.0)],
];

impl Value {
    /// The value with so many significant digits, and a unit as decks spell it (empty for a pure number). In the
    /// preferred unit where it is of that kind, else in one that the trade would choose.
    pub fn readable(&self, digits: usize, preferred: Option<&str>) -> (String, String) {
        let preferred = preferred.and_then(|unit| Unit::parse(unit).ok());
        if let Some((unit, number)) = preferred.and_then(|unit| self.to(&unit).ok().map(|number| (unit, number))) {
            return (significant(number, digits), unit.spelling);
        }
        let (number, unit) = self.fitting();
        (significant(number, digits), unit)
    }

    /// The value as one text with its unit, such as `1876 kW`.
    pub fn text(&self, digits: usize, preferred: Option<&str>) -> String {
        let (number, unit) = self.readable(digits, preferred);
        format!("{number} {unit}").trim_end().to_owned()
    }

    fn fitting(&self) -> (f64, String) {
        let given = |unit: &str| {
            let unit = Unit::parse(unit).ok()?;
            Some((self.to(&unit).ok()?, unit.spelling))
        };
        let own: &[(&str, f64)] = match self.kind.nature {
            Nature::Reading => &[("degC", 0.0)],
            Nature::Apparent => &[("VA", 0.0), ("kVA", 1.0), ("MVA", 100.0)],
            Nature::Reactive => &[("var", 0.0), ("kvar", 1.0), ("Mvar", 100.0)],
            _ => LADDERS.iter().find(|ladder| self.is_of(ladder)).copied().unwrap_or_default(),
        };
        let mut best = own.first().and_then(|(unit, _)| given(unit));
        for (unit, least) in own.iter().skip(1) {
            match given(unit) {
                Some((number, unit)) if number.abs() >= *least => best = Some((number, unit)),
                _ => break,
            }
        }
        best.unwrap_or_else(|| (self.number, self.kind.dimension.in_base_units()))
    }

    fn is_of(&self, ladder: &[(&str, f64)]) -> bool {
        let of = |unit: &str| -> Option<Dimension> { Some(super::Kind::of_unit(&Unit::parse(unit).ok()?).dimension) };
        ladder.first().and_then(|(unit, _)| of(unit)) == Some(self.kind.dimension)
    }
}

/// A number with so many significant digits, at most 15: `0.08042`, `6.000`, `1876`; figures before the decimal point
/// are never rounded away. Very small and very large ones as `7.094e-8`.
pub fn significant(number: f64, digits: usize) -> String {
    let digits = digits.clamp(1, 15);
    if number == 0.0 || !number.is_finite() {
        return format!("{number}").replace("-0", "0");
    }
    // Rounding first: 9.9996 has one digit before the point more than it seems.
    let rounded = format!("{number:.*e}", digits - 1);
    let power: i32 = rounded.split_once('e').and_then(|(_, power)| power.parse().ok()).unwrap_or_default();
    if !(-4..=9).contains(&power) {
        return rounded;
    }
    let before = usize::try_from(power + 1).unwrap_or_default();
    let after = i32::try_from(digits).unwrap_or_default() - 1 - power;
    if before >= digits { format!("{number:.0}") } else { format!("{number:.*}", usize::try_from(after).unwrap_or(0)) }
}

/// A number with so many significant digits, without zeros that say nothing: `52`, `2.5`.
pub fn plain(number: f64, digits: usize) -> String {
    let text = significant(number, digits);
    if text.contains('.') && !text.contains('e') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A unit with the signs that a deck writes plainly: `m3/h` becomes `m³/h`, `degC` `°C`, `um` `µm`, `Mohm` `MΩ`.
pub fn pretty_unit(unit: &str) -> String {
    let mut out = String::with_capacity(unit.len() + 4);
    let mut word = String::new();
    for c in unit.chars().chain([' ']) {
        if c.is_alphabetic() {
            word.push(c);
            continue;
        }
        out += &pretty_word(&word);
        let raised = match c {
            _ if word.is_empty() => None,
            '2' => Some('²'),
            '3' => Some('³'),
            '4' => Some('⁴'),
            '5' => Some('⁵'),
            '6' => Some('⁶'),
            _ => None,
        };
        word.clear();
        out.push(raised.unwrap_or(c));
    }
    out.truncate(out.trim_end().len());
    out
}

fn pretty_word(word: &str) -> String {
    match word {
        "degC" => "°C".to_owned(),
        "degF" => "°F".to_owned(),
        "deg" => "°".to_owned(),
        "ohm" => "Ω".to_owned(),
        "kohm" => "kΩ".to_owned(),
        "Mohm" => "MΩ".to_owned(),
        "Gohm" => "GΩ".to_owned(),
        "mohm" => "mΩ".to_owned(),
        "us" | "um" | "ug" | "uL" | "uA" | "uS" | "uF" => word.replacen('u', "µ", 1),
        _ => word.to_owned(),
    }
}
