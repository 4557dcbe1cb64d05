//! What is wanted: the places of a quantity, what a figure needs.
//!
//! Must not know any quantity or figure.

use super::{and, or};
use crate::figures::Missing;
use crate::vocabulary::Places;

/// "corners (LF RF LR RR) or axles (front, rear)".
#[must_use]
pub fn places(places: Places) -> String {
    let all = [
        (Places::CORNER, "corners (LF RF LR RR)"),
        (Places::AXLE, "axles (front, rear)"),
        (Places::CAR, "no place"),
        (Places::CYLINDER, "cylinders (c1, c2 ...)"),
        (Places::GEAR, "gears (g1, g2 ...)"),
    ];
    let words: Vec<&str> =
        all.into_iter().filter(|(class, _)| places.has(*class)).map(|(_, words)| words).collect();
    or(&words)
}

/// "of s8 it is not known: needs a value of fuel-rate": what was had of a session before.
#[must_use]
pub fn not_of(session: &str, needs: &Missing) -> String {
    format!("of {session} it is not known: {}", missing(needs))
}

/// "needs a reading of weight RR and a reading of weight RF".
#[must_use]
pub fn missing(missing: &Missing) -> String {
    format!("needs {}", and(&missing.needs))
}
