//! What an injector's bench line says of its test.
//!
//! Must not know mixtures.

use super::calc::{Calc, Got, Missing};
use super::code::Code;
use crate::book::place::Place;
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[("injector-test-pressure", tested)];

/// The pressure on the flow's own line, `at 3.0 bar`.
fn tested(calc: &mut Calc<'_>, place: Place) -> Got {
    calc.reading("injector-flow", place)?;
    let typed = calc.typed_in_book("injector-flow", place)?;
    let at = typed.entry.and_then(|entry| Some((entry, calc.book.extra(&calc.book.entries[entry])?.at?)));
    let Some((entry, item)) = at else {
        return Err(Missing::one(format!(
            "the pressure it was tested at, `at 3.0 bar`, on the line of {}",
            typed.name
        )));
    };
    Ok(calc.item(format!("test pressure of {}", typed.name), entry, &item, DimensionId::PRESSURE))
}
