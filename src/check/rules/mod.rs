//! Checks on dated items and class rules.

mod judged;

crate::check::family! {
    impact_not_inspected,
    margin_inside_gauge,
    over_maximum,
    rule_ends_before_start,
    rule_not_yet,
    rule_unclear,
    rule_without_reading,
    rules_contradict,
    rules_overlap,
    safety_date_before_next,
    safety_date_missing,
    safety_date_passed,
    under_minimum,
}
