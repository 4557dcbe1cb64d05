//! The spring on the car: what was put in its place, the fitted spring on the bench, its tag, or what was set.
//!
//! The rates of it are arithmetic, in `grammar/figures.sline`. Must not know bars.

use super::bench;
use super::calc::{Calc, Got, Missing};
use super::code::Code;
use crate::book::place::Place;

/// What the program works out.
pub const FIGURES: &[Code] = &[("fitted-spring-rate", spring)];

/// The spring's own rate at a corner: what was put in its place, the fitted spring on the bench, its tag, or what was set.
fn spring(calc: &mut Calc<'_>, place: Place) -> Got {
    let id = calc.quantity("spring-rate")?;
    if let Some(fig) = calc.instead(id, place) {
        return Ok(fig);
    }
    match calc.giver(id, place)? {
        Some(part) => bench::of_part(calc, part, "spring-rate", None),
        None => calc.value("spring-rate", place),
    }
}

/// A corner is wanted; anything else says so.
pub(super) fn corner(place: Place) -> Got<()> {
    if place.is_corner() { Ok(()) } else { Err(Missing::one("a corner: LF, RF, LR or RR")) }
}
