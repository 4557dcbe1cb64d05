//! One unit: how it is written and how its numbers become SI.
//!
//! Knows one unit at a time. It must not know spellings of others, or which slot a number stands in.

use super::dim::Dim;
use super::kind::DimensionId;
use crate::ids::ids;

ids! {
    /// A unit, by its place in the table.
    UnitId: u16,
}

impl UnitId {
    /// What is known about it.
    #[must_use]
    pub fn get(self) -> &'static Unit {
        super::table().unit(self)
    }
}

/// One line of the unit table.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// The spelling messages and reports use.
    pub symbol: &'static str,
    /// The kind of quantity whose section it stands in.
    pub kind: DimensionId,
    /// The dimension vector of its SI value.
    pub dim: Dim,
    /// SI units in one of these (for a reciprocal unit: SI = factor / value).
    pub factor: f64,
    /// SI value of its zero: 273.15 for a reading in °C, else 0.
    pub offset: f64,
    /// Larger numbers mean less (miles per gallon).
    pub reciprocal: bool,
    /// A unit of mass that stands for its weight at standard gravity, 9.80665 m/s².
    pub stands_for_weight: bool,
}

impl Unit {
    /// The SI value of a reading in this unit.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        if self.reciprocal { self.factor / value } else { value * self.factor + self.offset }
    }

    /// The reading in this unit of an SI value.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        if self.reciprocal { self.factor / si } else { (si - self.offset) / self.factor }
    }

    /// The SI size of a difference in this unit: no offset. For a reciprocal unit a difference alone has no
    /// size; use [`Unit::half_to_si`] with the reading it is about.
    #[must_use]
    pub fn difference_to_si(&self, difference: f64) -> f64 {
        difference * self.factor
    }

    /// The SI size of a reading's half width (half its last digit, or half a gauge's resolution), at the
    /// reading itself. Never negative.
    #[must_use]
    pub fn half_to_si(&self, half: f64, value: f64) -> f64 {
        if self.reciprocal { (self.factor / value / value * half).abs() } else { (half * self.factor).abs() }
    }

    /// The symbol as shown after a number: nothing for a plain number.
    #[must_use]
    pub fn shown(&self) -> &'static str {
        if self.symbol == super::plain::PLAIN { "" } else { self.symbol }
    }
}
