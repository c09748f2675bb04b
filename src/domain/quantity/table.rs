//! The program's own units: how decks spell them, what they are worth, and what learners call them.
//!
//! Factors come from the SI brochure (9th edition, 2019) and, for units outside the SI, from NIST Special
//! Publication 811 (2008), appendix B. Volt-ampere and var have dimensions of their own, so that apparent,
//! reactive and active power cannot be taken for one another; so have the radian, the lumen, the decibel and turbidity.
//! A revolution is a count, as persons are: `rpm` is 1/min.

use std::collections::HashMap;
use std::sync::OnceLock;

/// One unit.
#[derive(Debug)]
pub(super) struct UnitDef {
    /// How a deck spells it, the standard spelling first. After the clean-up of signs (`µ` to `u`, `Ω` to
    /// `ohm`, `°` to `deg`).
    pub names: &'static [&'static str],
    /// The unit's worth in units above it in the table; a word beginning with `:` names a base dimension.
    pub is: &'static str,
    /// What learners write besides, in lower case; prefixes such as "kilo" and "milli" are understood before
    /// these where the table holds the prefixed unit.
    pub words: &'static [&'static str],
}

const fn unit(names: &'static [&'static str], is: &'static str, words: &'static [&'static str]) -> UnitDef {
    UnitDef { names, is, words }
}

/// Every unit, each defined by those above it.
pub(super) const UNITS: &[UnitDef] = &[
    // Base units of the dimensions.
    unit(&["m"], ":Length", &["metre", "metres", "meter", "meters", "mtr", "mtrs"]),
    unit(&["kg"], ":Mass", &["kilo", "kilos", "kgs", "kilogramme", "kilogrammes"]),
    unit(&["s", "sec"], ":Time", &["second", "seconds", "secs"]),
    unit(&["A"], ":Current", &["ampere", "amperes", "amp", "amps"]),
    unit(&["K"], ":Temperature", &["kelvin", "kelvins"]),
    unit(&["mol"], ":Amount", &["mole", "moles"]),
    unit(&["cd"], ":Luminosity", &["candela", "candelas", "candle", "candles"]),
    unit(&["lm"], ":LuminousFlux", &["lumen", "lumens"]),
    unit(&["VA"], ":ApparentPower", &["volt-ampere", "volt-amperes", "voltampere", "voltamperes"]),
    unit(&["var"], ":ReactivePower", &["vars"]),
    unit(&["rad"], ":Angle", &["radian", "radians"]),
    unit(&["dB"], ":Level", &["decibel", "decibels"]),
    // Turbidity, by scattered light against formazin: ISO 7027 counts FNU, USEPA method 180.1 NTU. On the standard that
    // both are set by they read alike, and MEPC.259(68) takes either for wash water.
    unit(&["FNU", "NTU"], ":Turbidity", &["fnus", "ntus"]),
    // Ratios and counts.
    unit(&["%"], "1 / 100", &["percent", "per cent", "percentage", "pct", "per-cent"]),
    unit(&["‰"], "1 / 1000", &["permille", "per mille", "per mil"]),
    unit(&["ppm"], "1 / 1000000", &["parts per million", "part per million"]),
    unit(&["ppb"], "1 / 1000000000", &["parts per billion", "part per billion"]),
    unit(&["rev", "r"], "1", &["revolution", "revolutions", "revs"]),
    unit(&["pH"], "1", &[]),
    unit(&["persons", "person"], "1", &["people", "pax"]),
    // Time.
    unit(&["min"], "60 * s", &["minute", "minutes", "mins"]),
    unit(&["h", "hr"], "60 * min", &["hour", "hours", "hrs"]),
    unit(&["day", "days", "d"], "24 * h", &[]),
    unit(&["week", "weeks"], "7 * day", &["wk", "wks"]),
    unit(&["year", "years"], "365 * day", &["yr", "yrs"]),
    unit(&["month", "months"], "year / 12", &[]),
    unit(&["ms"], "s / 1000", &["millisec", "millisecs", "msec"]),
    unit(&["us"], "s / 1000000", &[]),
    // Speed of rotation and frequency.
    unit(&["rpm"], "1 / min", &["rpms", "r.p.m"]),
    unit(&["Hz"], "1 / s", &["hertz"]),
    unit(&["kHz"], "1000 * Hz", &[]),
    unit(&["MHz"], "1000000 * Hz", &[]),
    // Length, area, volume.
    unit(&["km"], "1000 * m", &["kms"]),
    unit(&["cm"], "m / 100", &["cms"]),
    unit(&["mm"], "m / 1000", &["mms"]),
    unit(&["um"], "m / 1000000", &["micron", "microns"]),
    unit(
        &["nmi", "nm", "NM"],
        "1852 * m",
        &["nautical mile", "nautical miles", "n mile", "n miles", "sea mile", "sea miles", "miles", "mile"],
    ),
    unit(&["cable"], "nmi / 10", &["cables"]),
    unit(&["in"], "254 * mm / 10", &["inch", "inches"]),
    unit(&["ft"], "12 * in", &["foot", "feet"]),
    unit(&["L", "l"], "m^3 / 1000", &["litre", "litres", "liter", "liters", "ltr", "ltrs", "lit"]),
    unit(&["mL", "ml"], "L / 1000", &["cc", "ccs"]),
    unit(&["uL"], "L / 1000000", &[]),
    unit(&["ha"], "10000 * m^2", &["hectare", "hectares"]),
    // Mass.
    unit(&["g"], "kg / 1000", &["gram", "grams", "gramme", "grammes", "gms", "gm"]),
    unit(&["mg"], "g / 1000", &["mgs"]),
    unit(&["ug"], "g / 1000000", &[]),
    unit(&["t"], "1000 * kg", &["tonne", "tonnes", "ton", "tons", "metric ton", "metric tons", "mt"]),
    unit(&["lb"], "45359237 * kg / 100000000", &["lbs", "pound", "pounds"]),
    unit(&["mgKOH"], "mg", &["mg koh"]),
    // Speed.
    unit(&["kn", "kt"], "nmi / h", &["knot", "knots", "kts", "kns"]),
    unit(&["kmh", "kph"], "km / h", &["kmph"]),
    unit(&["mph"], "1609344 * m / 1000 / h", &[]),
    // Force, torque.
    unit(&["N"], "kg * m / s^2", &["newton", "newtons"]),
    unit(&["kN"], "1000 * N", &[]),
    unit(&["MN"], "1000000 * N", &[]),
    unit(&["kgf"], "980665 * N / 100000", &["kilogram force", "kilogram-force", "kp"]),
    unit(&["lbf"], "44482216152605 * N / 10000000000000", &["pound force", "pounds force"]),
    unit(&["Nm"], "N * m", &["newton-metre", "newton-metres", "newton-meters", "newtonmetres"]),
    unit(&["kNm"], "1000 * Nm", &[]),
    unit(&["MNm"], "1000000 * Nm", &[]),
    unit(&["kgfm", "kgm"], "kgf * m", &[]),
    // Pressure.
    unit(&["Pa"], "N / m^2", &["pascal", "pascals"]),
    unit(&["mPa"], "Pa / 1000", &[]),
    unit(&["hPa"], "100 * Pa", &[]),
    unit(&["kPa"], "1000 * Pa", &[]),
    unit(&["MPa"], "1000000 * Pa", &[]),
    unit(&["GPa"], "1000000000 * Pa", &[]),
    unit(&["bar"], "100000 * Pa", &["bars", "barg", "bara"]),
    unit(&["mbar"], "bar / 1000", &["mbars", "millibars"]),
    unit(&["psi"], "lbf / in^2", &["psig", "psia"]),
    unit(&["atm"], "101325 * Pa", &["atmosphere", "atmospheres", "atms"]),
    unit(&["ksc"], "kgf / cm^2", &[]),
    unit(&["mmHg"], "133322387415 * Pa / 1000000000", &["mm hg", "torr"]),
    unit(&["cmHg"], "10 * mmHg", &["cm hg"]),
    unit(&["inHg"], "254 * mmHg / 10", &["in hg"]),
    unit(&["mmWG", "mmH2O", "mmWC"], "980665 * Pa / 100000", &["mm wg", "mm h2o", "mm wc", "mmwg", "mmaq"]),
    unit(&["mH2O", "mWG", "mWC", "mwc"], "1000 * mmWG", &["m h2o", "m wg", "m wc", "mlc"]),
    unit(&["inWG", "inH2O"], "254 * mmWG / 10", &["in wg"]),
    // Temperature: degC and degF have offsets, which stand in the readings and not here.
    unit(
        &["degC", "C"],
        "K",
        &["degrees celsius", "degree celsius", "celsius", "degrees centigrade", "centigrade", "degrees c", "deg c"],
    ),
    unit(&["degF"], "5 * K / 9", &["degrees fahrenheit", "fahrenheit", "degrees f", "deg f"]),
    // Energy and power.
    unit(&["J"], "N * m", &["joule", "joules"]),
    unit(&["kJ"], "1000 * J", &[]),
    unit(&["MJ"], "1000000 * J", &[]),
    unit(&["GJ"], "1000000000 * J", &[]),
    unit(&["kcal"], "41868 * J / 10", &["kilocalorie", "kilocalories"]),
    unit(&["W"], "J / s", &["watt", "watts"]),
    unit(&["mW"], "W / 1000", &[]),
    unit(&["kW"], "1000 * W", &["kws"]),
    unit(&["MW"], "1000000 * W", &[]),
    unit(&["GW"], "1000000000 * W", &[]),
    unit(&["Wh"], "W * h", &[]),
    unit(&["kWh", "kW.h"], "kW * h", &["kwhr", "kwhrs", "kw-h", "kw-hr"]),
    unit(&["MWh"], "MW * h", &["mwhr"]),
    unit(&["hp", "bhp"], "550 * ft * lbf / s", &["horsepower", "horse power"]),
    unit(&["PS"], "75 * kgf * m / s", &[]),
    // Electricity.
    unit(&["V"], "W / A", &["volt", "volts"]),
    unit(&["mV"], "V / 1000", &[]),
    unit(&["kV"], "1000 * V", &[]),
    unit(&["mA"], "A / 1000", &[]),
    unit(&["uA"], "A / 1000000", &[]),
    unit(&["kA"], "1000 * A", &[]),
    unit(&["Ah"], "A * h", &["ampere hours", "amp hours", "amp-hours", "ampere-hours"]),
    unit(&["mAh"], "Ah / 1000", &[]),
    unit(&["kVA"], "1000 * VA", &[]),
    unit(&["MVA"], "1000000 * VA", &[]),
    unit(&["kvar", "kVAr", "kVAR"], "1000 * var", &["kvars"]),
    unit(&["Mvar", "MVAr", "MVAR"], "1000000 * var", &[]),
    unit(&["ohm", "Ohm"], "V / A", &["ohms"]),
    unit(&["mohm"], "ohm / 1000", &[]),
    unit(&["kohm", "kOhm"], "1000 * ohm", &["kohms"]),
    unit(
        &["Mohm", "MOhm"],
        "1000000 * ohm",
        &["megohm", "megohms", "meg", "megaohm", "megaohms", "meg ohm", "meg ohms"],
    ),
    unit(&["Gohm"], "1000000000 * ohm", &["gohms"]),
    unit(&["S"], "A / V", &["siemens"]),
    unit(&["uS"], "S / 1000000", &[]),
    unit(&["mS"], "S / 1000", &[]),
    unit(&["F"], "A * s / V", &["farad", "farads"]),
    unit(&["uF"], "F / 1000000", &["mfd"]),
    unit(&["nF"], "F / 1000000000", &[]),
    unit(&["pF"], "F / 1000000000000", &[]),
    unit(&["H"], "V * s / A", &["henry", "henrys", "henries"]),
    unit(&["mH"], "H / 1000", &[]),
    unit(&["T"], "V * s / m^2", &["tesla"]),
    // Light, angle, viscosity, alkalinity.
    unit(&["kgK"], "kg * K", &["kgc"]),
    unit(&["lux", "lx"], "lm / m^2", &[]),
    unit(&["deg"], "3141592653589793 * rad / 180000000000000000", &["degree", "degrees"]),
    unit(&["cSt"], "mm^2 / s", &["centistoke", "centistokes", "csts", "cst"]),
    unit(&["St"], "100 * cSt", &["stoke", "stokes"]),
    unit(&["P"], "Pa * s / 10", &["poise"]),
    unit(&["cP"], "P / 100", &["cps"]),
    unit(&["BN", "TBN"], "mgKOH / g", &["base number"]),
];

/// Where the unit of this standard spelling stands in the table; `None` for a spelling that the table does not hold.
pub(super) fn position(spelling: &str) -> Option<usize> {
    static PLACES: OnceLock<HashMap<&str, usize>> = OnceLock::new();
    let places = PLACES.get_or_init(|| {
        let named = UNITS.iter().enumerate().flat_map(|(at, unit)| unit.names.iter().map(move |name| (*name, at)));
        named.collect()
    });
    places.get(spelling).copied()
}

/// What people call a dimension, with a unit of it.
pub(super) const DIMENSION_WORDS: &[(&str, &str)] = &[
    ("pure number", "1"),
    ("length", "m"),
    ("mass", "kg"),
    ("time", "s"),
    ("current", "A"),
    ("temperature", "K"),
    ("amount of substance", "mol"),
    ("luminous intensity", "cd"),
    ("luminous flux", "lm"),
    ("apparent power", "VA"),
    ("reactive power", "var"),
    ("angle", "rad"),
    ("level", "dB"),
    ("turbidity", "FNU"),
    ("speed of rotation or frequency", "Hz"),
    ("area", "m2"),
    ("volume", "m3"),
    ("speed", "m/s"),
    ("acceleration", "m/s2"),
    ("force", "N"),
    ("energy or torque", "J"),
    ("pressure", "Pa"),
    ("power", "W"),
    ("voltage", "V"),
    ("charge", "A s"),
    ("resistance", "ohm"),
    ("conductance", "S"),
    ("conductivity", "S/m"),
    ("capacitance", "F"),
    ("inductance", "H"),
    ("magnetic flux density", "T"),
    ("illuminance", "lux"),
    ("density", "kg/m3"),
    ("specific volume", "m3/kg"),
    ("volume flow", "m3/s"),
    ("mass flow", "kg/s"),
    ("kinematic viscosity", "cSt"),
    ("dynamic viscosity", "Pa s"),
    ("specific energy", "J/kg"),
    ("specific heat capacity", "J/(kg K)"),
    ("heat capacity", "J/K"),
    ("specific consumption", "kg/J"),
    ("heat flux", "W/m2"),
    ("heat transfer coefficient", "W/(m2 K)"),
    ("thermal conductivity", "W/(m K)"),
    ("consumption over a distance", "L/nmi"),
    ("mass over a distance", "kg/m"),
];
/// Words for multiples, as learners spell units out.
pub(super) const PREFIX_WORDS: &[(&str, &str)] =
    &[("kilo", "k"), ("mega", "M"), ("giga", "G"), ("milli", "m"), ("micro", "u"), ("centi", "c"), ("hecto", "h")];
