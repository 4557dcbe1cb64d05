//! How much of a fluid goes on a car: a number with its unit, and what it is of.
//!
//! Must not know where it comes from.

use crate::book::entry::Item;
use crate::source::Span;
use crate::units::{UnitId, number};
use serde::Serialize;

/// One car's fill.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Fill {
    /// The car.
    pub car: String,
    /// "5.2 L"; an en dash where it is not known.
    pub amount: String,
    /// Of fuel what it rests on, of any fluid why it is not known; empty where it is as last filled.
    pub how: String,
}

/// A volume in SI, the unit it is told in and how finely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Volume {
    pub si: f64,
    pub unit: UnitId,
    pub decimals: u8,
}

impl Volume {
    /// Two fills of one unit are told in it, of two in that one.
    pub(super) fn with(self, other: Self, unit: UnitId) -> Self {
        let decimals = self.decimals.max(other.decimals);
        let sum = Self { si: self.si + other.si, decimals, ..self };
        if self.unit == other.unit { sum } else { sum.told_in(unit) }
    }

    /// In another unit, with a decimal at least: eight quarts are not eight litres.
    pub(super) fn told_in(self, unit: UnitId) -> Self {
        if unit == self.unit { self } else { Self { unit, decimals: self.decimals.max(1), ..self } }
    }
}

/// A fill with its number.
pub(super) struct Found {
    pub what: String,
    pub grade: String,
    /// A mistake hides the grade: it is not the same as any other.
    pub grade_lost: bool,
    pub fill: Fill,
    pub volume: Option<Volume>,
    pub spans: Vec<Span>,
}

impl Volume {
    /// What is wanted, to the tenth that is not below it.
    pub(super) fn up(si: f64, unit: UnitId) -> Self {
        let tenths = unit.get().from_si(si) * 10.0;
        // What only the arithmetic made more than a tenth is that tenth.
        let whole = if (tenths - tenths.round()).abs() < 1e-6 { tenths.round() } else { tenths.ceil() };
        Self { si: unit.get().to_si(whole / 10.0), unit, decimals: 1 }
    }

    /// As it was typed.
    pub(super) fn typed(si: f64, item: &Item) -> Self {
        Self { si, unit: item.unit(), decimals: item.decimals }
    }

    pub(super) fn text(self) -> String {
        let unit = self.unit.get();
        format!("{} {}", number::format(unit.from_si(self.si), self.decimals), unit.shown())
    }
}
