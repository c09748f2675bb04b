//! Water and steam by the IAPWS Industrial Formulation 1997, over `seuif97`; the only caller of it.
//!
//! Everything is in SI base units: pascals (absolute), kelvins, J/kg, J/(kg K), m3/kg. What lies outside the tables has
//! no value. Tests hold it to the formulation's published verification points.

use seuif97::{OH, OP, OS, OT, OV};

/// What is looked up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Property {
    /// Specific enthalpy.
    Enthalpy,
    /// Specific entropy.
    Entropy,
    /// Specific volume.
    Volume,
}

/// By what a saturated state is looked up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum By {
    Pressure,
    Temperature,
}

/// The triple point and the critical point, in pascals and kelvins.
const SATURATION: ([f64; 2], [f64; 2]) = ([611.657, 273.16], [22.064e6, 647.096]);
/// The greatest pressure and temperatures of the tables beside saturation.
const MOST: (f64, [f64; 2]) = (100e6, [273.15, 1_073.15]);
const ZERO_CELSIUS: f64 = 273.15;
const PASCALS: f64 = 1e6;

/// The temperature at which water boils at a pressure.
pub(super) fn saturation_temperature(pressure: f64) -> Option<f64> {
    is_saturated(By::Pressure, pressure).then(|| seuif97::px(pressure / PASCALS, 0.0, OT) + ZERO_CELSIUS)
}

/// The pressure at which water boils at a temperature.
pub(super) fn saturation_pressure(temperature: f64) -> Option<f64> {
    is_saturated(By::Temperature, temperature).then(|| seuif97::tx(temperature - ZERO_CELSIUS, 0.0, OP) * PASCALS)
}

/// A property of saturated water (`dryness` 0) or of dry saturated steam (1).
pub(super) fn saturated(property: Property, dryness: f64, by: By, at: f64) -> Option<f64> {
    let found = is_saturated(by, at).then(|| match by {
        By::Pressure => seuif97::px(at / PASCALS, dryness, property.id()),
        By::Temperature => seuif97::tx(at - ZERO_CELSIUS, dryness, property.id()),
    })?;
    property.checked(found)
}

/// A property of water or of superheated steam at a pressure and a temperature.
pub(super) fn at(property: Property, pressure: f64, temperature: f64) -> Option<f64> {
    let (most_pressure, [coldest, hottest]) = MOST;
    let is_inside = pressure > 0.0 && pressure <= most_pressure && (coldest..=hottest).contains(&temperature);
    let found = is_inside.then(|| seuif97::pt(pressure / PASCALS, temperature - ZERO_CELSIUS, property.id()))?;
    property.checked(found)
}

fn is_saturated(by: By, at: f64) -> bool {
    let ([least_pressure, coldest], [most_pressure, hottest]) = SATURATION;
    match by {
        By::Pressure => (least_pressure..=most_pressure).contains(&at),
        By::Temperature => (coldest..=hottest).contains(&at),
    }
}

impl Property {
    fn id(self) -> i32 {
        match self {
            Property::Enthalpy => OH,
            Property::Entropy => OS,
            Property::Volume => OV,
        }
    }

    /// In SI base units; none for what the tables mark as outside of them, which lies far below any property.
    fn checked(self, found: f64) -> Option<f64> {
        let scale = if self == Property::Volume { 1.0 } else { 1_000.0 };
        (found.is_finite() && found > -100.0).then_some(found * scale)
    }
}
