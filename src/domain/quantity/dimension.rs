//! What a quantity is of, as powers of the table's base units.

use super::power::Power;
use super::table::UNITS;

/// How many base units the table begins with.
pub(super) const BASES: usize = 13;

const METRE: usize = 0;
const KILOGRAM: usize = 1;
const SECOND: usize = 2;
const KELVIN: usize = 4;
const VOLT_AMPERE: usize = 8;
const VAR: usize = 9;
const RADIAN: usize = 10;

/// What a quantity is of: pressure, time and so on, as powers of the base units. Two are equal when a number can be
/// converted from one unit to the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Dimension([Power; BASES]);

impl Dimension {
    /// A pure number.
    pub const NONE: Dimension = Dimension([Power::ZERO; BASES]);

    /// A base unit of the table to the first power; `None` where the number is none of them.
    pub(super) fn base(number: usize) -> Option<Self> {
        let mut powers = [Power::ZERO; BASES];
        *powers.get_mut(number)? = Power::ONE;
        Some(Self(powers))
    }

    /// The dimension of these whole powers of the base units, in the table's order; `None` where one is too high.
    pub(super) fn of_powers(powers: &[i64; BASES]) -> Option<Self> {
        let mut dimension = Self::NONE;
        for (power, whole) in dimension.0.iter_mut().zip(powers) {
            *power = Power::new(*whole, 1)?;
        }
        Some(dimension)
    }

    /// A pure number, angles not among them.
    pub fn is_none(&self) -> bool {
        *self == Self::NONE
    }

    /// A temperature.
    pub fn is_temperature(&self) -> bool {
        Self::base(KELVIN) == Some(*self)
    }

    /// The dimension of an angle.
    pub(super) fn angle() -> Self {
        Self::base(RADIAN).unwrap_or(Self::NONE)
    }

    /// A power, whether active, apparent or reactive.
    pub(super) fn is_power(&self) -> bool {
        self.electric_folded() == Some(Self::watt())
    }

    /// Apparent power in volt-amperes, and nothing else.
    pub(super) fn is_apparent(&self) -> bool {
        Self::base(VOLT_AMPERE) == Some(*self)
    }

    /// Reactive power in vars, and nothing else.
    pub(super) fn is_reactive(&self) -> bool {
        Self::base(VAR) == Some(*self)
    }

    fn watt() -> Self {
        let mut powers = [Power::ZERO; BASES];
        powers[METRE] = Power::whole(2);
        powers[KILOGRAM] = Power::ONE;
        powers[SECOND] = Power::whole(-3);
        Self(powers)
    }

    /// This dimension with volt-amperes and vars as watts, as physics has it; `None` where a power grows too high.
    pub(super) fn electric_folded(&self) -> Option<Self> {
        let mut rest = *self;
        let electric = rest.0[VOLT_AMPERE].plus(rest.0[VAR])?;
        (rest.0[VOLT_AMPERE], rest.0[VAR]) = (Power::ZERO, Power::ZERO);
        rest.times(&Self::watt().raised(electric)?)
    }

    /// This dimension without angles: a radian is metre by metre.
    pub(super) fn without_angle(&self) -> Self {
        let mut rest = *self;
        rest.0[RADIAN] = Power::ZERO;
        rest
    }

    /// The dimension of a product; `None` where a power grows too high.
    pub(super) fn times(&self, other: &Self) -> Option<Self> {
        self.joined(other, Power::plus)
    }

    /// The dimension of a quotient; `None` where a power grows too high.
    pub(super) fn over(&self, other: &Self) -> Option<Self> {
        self.joined(other, Power::minus)
    }

    fn joined(&self, other: &Self, join: impl Fn(Power, Power) -> Option<Power>) -> Option<Self> {
        let mut powers = self.0;
        for (power, other) in powers.iter_mut().zip(&other.0) {
            *power = join(*power, *other)?;
        }
        Some(Self(powers))
    }

    /// The dimension of a power of it; `None` where a power grows too high.
    pub(super) fn raised(&self, by: Power) -> Option<Self> {
        let mut powers = self.0;
        for power in &mut powers {
            *power = power.times(by)?;
        }
        Some(Self(powers))
    }

    /// An angular speed as a speed of rotation, which counts revolutions; `None` for any other dimension.
    pub(super) fn counted(&self) -> Option<Self> {
        (*self == Self::angular_speed()).then(|| self.without_angle())
    }

    /// The dimension of an angular speed, radians by time.
    pub(super) fn angular_speed() -> Self {
        let mut powers = [Power::ZERO; BASES];
        (powers[RADIAN], powers[SECOND]) = (Power::ONE, Power::whole(-1));
        Self(powers)
    }

    /// The base units as a unit is spelled, such as `kg m2/s3`; `1` for a pure number.
    pub(super) fn in_base_units(&self) -> String {
        let factors = |sign: bool| -> Vec<String> {
            let named = |(power, unit): (&Power, &super::table::UnitDef)| {
                let name = unit.names.first()?;
                (!power.is_zero() && power.is_below_zero() == sign).then(|| power.size().on(name))
            };
            // Mass stands first in the trade's compounds.
            let order = |text: &String| usize::from(!text.starts_with("kg"));
            let mut all: Vec<String> = self.0.iter().zip(UNITS).filter_map(named).collect();
            all.sort_by_key(order);
            all
        };
        let (above, below) = (factors(false), factors(true));
        let top = if above.is_empty() { "1".to_owned() } else { above.join(" ") };
        match below.len() {
            0 => top,
            1 => format!("{top}/{}", below[0]),
            _ => format!("{top}/({})", below.join(" ")),
        }
    }
}
