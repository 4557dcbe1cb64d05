//! Checks on dated items and class rules.

crate::check::family! {
    impact_not_inspected,
    safety_date_before_next,
    safety_date_missing,
    safety_date_passed,
}
