//! What a worth is told in: its units, and the names of what moved and what was turned.
//!
//! Must not know sentences.

use crate::Compiled;
use crate::book::place::Place;
use crate::units::UnitId;
use crate::vocabulary::QuantityId;

/// A number of one unit, and how much SI it is.
pub(super) struct Shown {
    pub(super) unit: UnitId,
    pub(super) si: f64,
}

impl Shown {
    pub(super) fn of(unit: UnitId) -> Self {
        Self { unit, si: unit.get().difference_to_si(1.0) }
    }

    /// Its symbol; `None` of a plain number.
    pub(super) fn symbol(&self) -> Option<String> {
        Some(self.unit.get().shown().to_owned()).filter(|unit| !unit.is_empty())
    }
}

/// "cross-weight", "camber LF".
pub(super) fn at(compiled: &Compiled, quantity: QuantityId, place: Place) -> String {
    let name = &compiled.book.vocabulary.get(quantity).name;
    let place = compiled.book.place_word(place);
    format!("{name} {place}").trim_end().to_owned()
}
