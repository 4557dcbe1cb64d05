//! `dew-point-above-air`: a dew point above the temperature of the air.

use super::wet_air::{Air, of_car};
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;
use rustc_hash::FxHashSet;

/// The check.
pub const CHECK: Check = Check {
    name: "dew-point-above-air",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "a dew point above the temperature of the air",
    why: "At its dew point the air holds all the water it can, so the air is never colder than that. One of the two is \
          mistyped, or they were not read together. The digits typed are allowed for.",
    wrong: "  09:00..09:20 run s1  with air 14 C, dew-point 19 C",
    right: "  09:00..09:20 run s1  with air 19 C, dew-point 14 C",
    look: Look::Car(look),
};

/// Whether the dew point is above the air's temperature by more than the digits leave open.
pub(super) fn above(at: &Air) -> bool {
    at.dew.as_ref().zip(at.temperature.as_ref()).is_some_and(|(dew, air)| dew.value - air.value > (dew.half + air.half) * 1.000_001)
}

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut told: FxHashSet<Span> = FxHashSet::default();
    of_car(cx, car, |at| {
        let Some((dew, air)) = at.dew.as_ref().zip(at.temperature.as_ref()) else { return };
        if !above(at) || !told.insert(dew.span) {
            return;
        }
        out.push(
            CHECK
                .at(dew.span, format!("A dew point of {} is above the air's {}.", dew.text, air.text))
                .and(air.span, "the air")
                .cure("correct one of the two, or leave out what was read at another time"),
        );
    });
}
