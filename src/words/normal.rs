//! A range of a quantity in words, and who says it.
//!
//! Must not know whether a value lies within it.

use crate::book::Book;
use crate::book::range::{Limits, Says};
use crate::units::{DimensionId, UnitId, table, units_for};
use crate::vocabulary::Quantity;
use crate::words::amount;

/// The unit a range of a quantity is told in: the one typed, where it can be; toe typed as a length is told as the angle it is kept as.
#[must_use]
pub fn unit(quantity: &Quantity, typed: UnitId) -> UnitId {
    if typed.get().dim == quantity.dimension.get().dim && quantity.dimension != DimensionId::TOE {
        return typed;
    }
    if quantity.dimension == DimensionId::TOE {
        let angle = typed.get().dim == quantity.dimension.get().dim;
        return if angle { typed } else { table().find_one("deg", DimensionId::ANGLE).unwrap_or(typed) };
    }
    let usual =
        units_for(quantity.dimension).first().and_then(|unit| table().find_one(unit, quantity.dimension));
    quantity.show[0].or(usual).unwrap_or_else(|| table().plain())
}

/// "2 to 7 deg".
#[must_use]
pub fn range(limits: &Limits, unit: UnitId) -> String {
    let unit = unit.get();
    let (a, b) = (unit.from_si(limits.low), unit.from_si(limits.high));
    let symbol = unit.shown();
    let space = if symbol.is_empty() || symbol == "%" { "" } else { " " };
    format!("{} to {}{space}{symbol}", end(a.min(b)), end(a.max(b)))
}

/// An end as it is typed, or, where another unit was, to three figures or so.
fn end(value: f64) -> String {
    let typed = (value * 1e3 - libm::round(value * 1e3)).abs() < 1e-6;
    let most = if typed || value.abs() < 1.0 {
        3
    } else if value.abs() < 10.0 {
        2
    } else {
        u8::from(value.abs() < 1000.0)
    };
    amount(value, most)
}

/// " on lm12", " in class LM"; nothing where the vocabulary says it.
#[must_use]
pub fn whose(book: &Book, says: Says) -> String {
    match says {
        Says::Vocabulary => String::new(),
        Says::Car(car) => {
            book.cars.get(car).map_or_else(String::new, |car| format!(" on {}", car.named.typed))
        }
        Says::Class(class) => book
            .classes
            .get(class)
            .map_or_else(String::new, |class| format!(" in class {}", class.named.typed)),
    }
}
