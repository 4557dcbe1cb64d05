//! A range that a car or a class states, and a range with who says it.
//!
//! Must not know which of several holds at a place; that is `book::normal`. Every number is SI.

use super::ids::{CarId, ClassId};
use super::place::Place;
use crate::source::Span;
use crate::units::UnitId;
use crate::vocabulary::QuantityId;

/// Which of the two ranges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// Outside it is asked about.
    Usual,
    /// Outside it is refused.
    Possible,
}

impl Bound {
    /// The word in a ledger.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Usual => "usual",
            Self::Possible => "possible",
        }
    }
}

/// One range that a car or a class states.
#[derive(Debug, Clone)]
pub struct StatedRange {
    /// Of what.
    pub quantity: QuantityId,
    /// Where; `None` for every place that the quantity has.
    pub place: Option<Place>,
    /// Which range.
    pub bound: Bound,
    /// Least, in SI. A range of toe is for one wheel.
    pub low: f64,
    /// Most, in SI.
    pub high: f64,
    /// The unit it is typed in.
    pub unit: UnitId,
    /// The range as typed, its property and quantity with it.
    pub typed: Span,
}

impl StatedRange {
    /// How closely it names a place: `Some(0)` for every place, more for an axle or a side, most for the place itself; `None` where
    /// it is about another.
    pub(super) fn closeness(&self, place: Place) -> Option<u8> {
        match self.place {
            None => Some(0),
            Some(stated) if stated == place => Some(3),
            Some(stated) => stated.corners().contains(&place).then_some(2),
        }
    }

    /// Whether two are about the same with the same right: neither names its places more closely than the other.
    pub(super) fn rivals(&self, other: &Self) -> bool {
        let alike = |place: &Place| {
            let here = self.closeness(*place);
            here.is_some() && here == other.closeness(*place)
        };
        let mut places = Place::CORNERS.iter().chain(&self.place).chain(&other.place);
        self.quantity == other.quantity
            && self.bound == other.bound
            && (self.place == other.place || places.any(alike))
    }
}

/// Who says a range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Says {
    /// The vocabulary: built in, or a `quantity` line.
    Vocabulary,
    /// A class.
    Class(ClassId),
    /// The car.
    Car(CarId),
}

/// A range and who says it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Least, SI.
    pub low: f64,
    /// Most, SI.
    pub high: f64,
    /// Who says so.
    pub says: Says,
}

impl Limits {
    /// Whether a value is within, the last bit of a conversion aside.
    #[must_use]
    pub fn hold(&self, value: f64) -> bool {
        let slack = (self.high - self.low).abs() * 1e-9;
        value >= self.low - slack && value <= self.high + slack
    }

    pub(super) fn with(self, other: &Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high), says: other.says }
    }
}
