//! A range of a quantity in words, and who says it.
//!
//! Must not know whether a value lies within it.

use crate::book::Book;
use crate::book::normal::{Limits, Says};
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
    let usual = units_for(quantity.dimension).first().and_then(|unit| table().find_one(unit, quantity.dimension));
    quantity.show[0].or(usual).unwrap_or_else(|| table().plain())
}

/// "2 to 7 deg".
#[must_use]
pub fn range(limits: &Limits, unit: UnitId) -> String {
    let unit = unit.get();
    let (a, b) = (unit.from_si(limits.low), unit.from_si(limits.high));
    let symbol = unit.shown();
    let space = if symbol.is_empty() || symbol == "%" { "" } else { " " };
    format!("{} to {}{space}{symbol}", amount(a.min(b), 3), amount(a.max(b), 3))
}

/// " on lm12", " in class LM"; nothing where the vocabulary says it.
#[must_use]
pub fn whose(book: &Book, says: Says) -> String {
    match says {
        Says::Vocabulary => String::new(),
        Says::Car(car) => book.cars.get(car).map_or_else(String::new, |car| format!(" on {}", car.named.typed)),
        Says::Class(class) => {
            book.classes.get(class).map_or_else(String::new, |class| format!(" in class {}", class.named.typed))
        }
    }
}
