//! A number with its unit: what a slot of the ledger holds.
//!
//! Knows one value. It must not know what is measured or where.

use super::number::Number;
use super::unit::UnitId;

/// A number as typed and the unit it stands in. The typed form stays first; SI is for arithmetic.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// The number as typed.
    pub number: Number,
    /// Its unit; [`super::UnitTable::plain`] where none is needed.
    pub unit: UnitId,
}

impl Quantity {
    /// The SI value, read as a position on the scale (a temperature carries its offset).
    #[must_use]
    pub fn si(self) -> f64 {
        self.unit.get().to_si(self.number.value)
    }

    /// Half of the last digit typed, in SI.
    #[must_use]
    pub fn half_si(self) -> f64 {
        self.unit.get().half_to_si(self.number.half, self.number.value)
    }

    /// The value in another unit of the same kind. As typed where the unit is the same.
    #[must_use]
    pub fn value_in(self, unit: UnitId) -> f64 {
        if unit == self.unit { self.number.value } else { unit.get().from_si(self.si()) }
    }

    /// Whether two readings are the same within the larger of: half of the last digit of either, and
    /// `resolution_si` (half a gauge's resolution, 0 if there is none).
    #[must_use]
    pub fn agrees(self, other: Self, resolution_si: f64) -> bool {
        let room = self.half_si().max(other.half_si()).max(resolution_si);
        // A hair of room: 3.2 and 3.25 differ by half a digit exactly, but not as floats.
        (self.si() - other.si()).abs() <= room * (1.0 + 1e-9)
    }
}
