//! Checks of old against new, and found against left.

mod drift;
pub(super) mod lines;
mod own_usual;
mod reasons;

crate::check::family! {
    change_is_nothing,
    change_impossible,
    change_without_reason,
    changes_share_a_run,
    click_datum_differs,
    clicks_beyond_range,
    clicks_without_datum,
    correction_misses,
    day_order_unclear,
    delta_from_unknown,
    final_drive_differs,
    found_has_drifted,
    found_never_left,
    left_without_found,
    old_value_differs,
    one_side_only,
    order_fooled_by_trend,
    rate_from_part,
    set_and_left_differ,
    tag_against_bench,
    trial_open_already,
    trial_unclear,
    value_far_from_history,
    value_implausible,
}
