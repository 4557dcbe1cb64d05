//! `dew-point-and-humidity`: dew point and humidity that cannot be of the same air.

use super::dew_point_above_air::above;
use super::wet_air::{Air, Stated, of_car};
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;
use crate::units::number;
use rustc_hash::FxHashSet;

/// The check.
pub const CHECK: Check = Check {
    name: "dew-point-and-humidity",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "dew point and humidity that cannot be of the same air",
    why: "Air temperature and dew point say the humidity: the pressure of water vapour at the one over that at the other, by the \
          coefficients of Alduchov and Eskridge (Journal of Applied Meteorology 35, 1996). Where the book has all three of one \
          air, and they differ by more than the digits typed and three points of humidity (what a good hygrometer is off by, common practice), \
          one of them is mistyped. The density of the air is worked out from one of the two.",
    wrong: "  09:00..09:20 run s1  with air 24 C, dew-point 9 C, humidity 70 %",
    right: "  09:00..09:20 run s1  with air 24 C, dew-point 9 C, humidity 39 %",
    look: Look::Car(look),
};

/// What a good hygrometer is off by, as a share.
const ROOM: f64 = 0.03;

/// The pressure of saturated vapour over water at a temperature in kelvin, over a constant (Alduchov and Eskridge 1996, AERK).
fn vapour(kelvin: f64) -> f64 {
    let celsius = kelvin - 273.15;
    libm::exp(17.625 * celsius / (243.04 + celsius))
}

/// The lowest and the highest humidity that those digits leave open.
fn humidity(air: &Stated, dew: &Stated) -> (f64, f64) {
    let share = |dew: f64, air: f64| vapour(dew) / vapour(air);
    (share(dew.value - dew.half, air.value + air.half), share(dew.value + dew.half, air.value - air.half).min(1.0))
}

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut told: FxHashSet<Span> = FxHashSet::default();
    of_car(cx, car, |at| {
        let Air { temperature: Some(air), dew: Some(dew), humidity: Some(wet) } = at else { return };
        let (low, high) = humidity(air, dew);
        let agrees = wet.value + wet.half >= low - ROOM && wet.value - wet.half <= high + ROOM;
        // The formula is for weather, and a dew point above the air has its own message.
        if !low.is_finite() || !high.is_finite() || agrees || above(at) || !told.insert(wet.span) {
            return;
        }
        let share = number::format(100.0 * vapour(dew.value) / vapour(air.value), 0);
        out.push(
            CHECK
                .at(
                    wet.span,
                    format!(
                        "A dew point of {} in air of {} makes a humidity of {share} %; the book says {}.",
                        dew.text, air.text, wet.text
                    ),
                )
                .and(dew.span, "the dew point")
                .cure("correct one of the three, or leave out what was read at another time"),
        );
    });
}
