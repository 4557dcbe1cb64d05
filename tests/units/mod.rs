//! Units and numbers against published values and other libraries.

mod lookup;
mod number;
mod pint;
mod published;
mod uom;

use stringline::units::{DimensionId, Unit, table};

/// The unit of that spelling; the test fails if there is not exactly one.
fn unit(spelling: &str, kind: DimensionId) -> &'static Unit {
    let found = table().find_one(spelling, kind);
    found.unwrap_or_else(|| panic!("no one unit `{spelling}` of {}", kind.name())).get()
}

/// `value` in the unit `from`, shown in the unit `to`.
fn convert(value: f64, from: &str, to: &str, kind: DimensionId) -> f64 {
    unit(to, kind).from_si(unit(from, kind).to_si(value))
}

/// Asserts equality within a relative tolerance.
fn near(name: &str, ours: f64, theirs: f64, relative: f64) {
    assert!(
        (ours - theirs).abs() <= relative * theirs.abs(),
        "{name}: ours {ours:e}, expected {theirs:e}, apart by {:e}",
        (ours - theirs).abs() / theirs.abs()
    );
}
