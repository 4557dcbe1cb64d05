//! What the SI value of a quantity of some kind is counted in, as a symbol: `Pa`, `rad`, `N/m`.
//!
//! Taken from the unit table, where it has a unit of factor one; the few kinds without one stand here. Must not know how a value is shown.

use super::kind::DimensionId;
use super::table::table;

/// Kinds whose table has no unit of factor one, or one that is no SI symbol.
const OTHERS: [(&str, &str); 17] = [
    ("temperature", "K"),
    ("temperature-difference", "K"),
    ("ratio", "1"),
    ("count", "1"),
    ("length-per-length", "m/m"),
    ("pitch", "m/turn"),
    ("charge", "C"),
    ("consumption", "m3/m"),
    ("length-per-time", "m/s"),
    ("ratio-per-time", "1/s"),
    ("pressure-per-time", "Pa/s"),
    ("weight-per-turn", "N/turn"),
    ("angle-per-acceleration", "rad.s2/m"),
    ("length-per-mass", "m/kg"),
    ("volume-per-lap", "m3/lap"),
    ("turns-per-length", "turn/m"),
    ("text", ""),
];

/// The symbol of the SI unit of a kind; empty for words, and for a kind that takes units of several sorts.
#[must_use]
pub fn si(kind: DimensionId) -> &'static str {
    if let Some((_, symbol)) = OTHERS.iter().find(|(name, _)| *name == kind.name()) {
        return symbol;
    }
    // A weight takes the units of a force, a fluid those of a volume.
    let Some(of) = kind.get().accepts.first().filter(|first| first.get().dim == kind.get().dim) else {
        return "";
    };
    let one = |unit: &super::unit::Unit| {
        unit.kind == *of
            && unit.factor.to_bits() == 1.0_f64.to_bits()
            && unit.offset == 0.0
            && !unit.reciprocal
    };
    table().all().find(|(_, unit)| one(unit)).map_or("", |(_, unit)| unit.symbol)
}
