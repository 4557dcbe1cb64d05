//! The anti-roll bar of an axle: on, off, or none; and its rate.
//!
//! Roll stiffness and load transfer are arithmetic, in `grammar/figures.sline`. Must not know weights.

use super::bench;
use super::calc::{Calc, Fig, Got, Missing};
use super::code::Code;
use crate::book::entry::Flags;
use crate::book::place::Place;
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[("bar-is-on", is_on), ("bar-rate-on", rate_on)];

/// What is to be known about an axle's anti-roll bar.
#[derive(Debug, Clone)]
pub(super) enum Bar {
    /// Its rate with one end held.
    Rate(Fig),
    /// Its link is off.
    Off,
    /// The book knows of none.
    None,
}

/// The bar of an axle at the moment.
pub(super) fn bar(calc: &mut Calc<'_>, axle: Place) -> Got<Bar> {
    let (rate, hole) = (calc.quantity("bar-rate")?, calc.quantity("bar-hole")?);
    let state = calc.state(hole, axle);
    let supposed = calc.what_if.iter().any(|one| one.quantity == hole && one.place == axle);
    let mut at = None;
    if calc.supposed_off(hole, axle) {
        return Ok(Bar::Off);
    }
    if supposed {
        at = calc.instead(hole, axle);
    } else if let Some(slot) = state {
        let is = slot.held.is(calc.history);
        let item = is.and_then(|event| calc.history.item(calc.book, slot.track, &event));
        if item.is_some_and(|item| item.is(Flags::OFF)) {
            return Ok(Bar::Off);
        }
        at = Some(calc.value("bar-hole", axle)?);
    }
    if let Some(fig) = calc.instead(rate, axle) {
        return Ok(Bar::Rate(fig));
    }
    let part = calc.giver(rate, axle)?;
    if let Some(part) = part {
        let rate = bench::fitted_bar(calc, part, at.as_ref().map(|fig| fig.value));
        let rate = rate.map_err(|missing| match at {
            None if missing.needs.iter().any(|need| need.starts_with("a hole for")) => {
                Missing::one(format!("a value of {}", calc.slot_name(hole, axle)))
            }
            _ => missing,
        })?;
        return Ok(Bar::Rate(rate));
    }
    if at.is_none() && calc.state(rate, axle).is_none() {
        return Ok(Bar::None);
    }
    let rate = calc.value("bar-rate", axle)?;
    Ok(Bar::Rate(rate))
}

fn is_on(calc: &mut Calc<'_>, place: Place) -> Got {
    let hole = calc.quantity("bar-hole")?;
    // What is supposed off is no bar, by what is supposed.
    if calc.supposed_off(hole, place)
        && let Some(off) = calc.instead(hole, place)
    {
        return Ok(off);
    }
    let (words, value) = match bar(calc, place)? {
        Bar::Rate(_) => ("a bar on this axle", 1.0),
        Bar::Off => ("the bar's link is off", 0.0),
        Bar::None => ("no bar on this axle", -1.0),
    };
    Ok(calc.constant(words, value, DimensionId::RATIO, "the book's own lines of the bar"))
}

fn rate_on(calc: &mut Calc<'_>, place: Place) -> Got {
    match bar(calc, place)? {
        Bar::Rate(rate) => Ok(rate),
        Bar::Off => Err(Missing::one("the bar's link on (bar-hole is off)")),
        Bar::None => Err(Missing::one(format!(
            "a bar on the {} axle: a fitted part that gives bar-rate, or bar-rate set",
            calc.book.place_word(place)
        ))),
    }
}
