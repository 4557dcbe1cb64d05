//! Checks on units, numbers, places and dates as typed.

crate::check::family! {
    unit_missing,
}
