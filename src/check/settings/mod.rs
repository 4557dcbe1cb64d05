//! Checks of old against new, and found against left.

mod drift;
mod lines;

crate::check::family! {
    change_is_nothing,
    click_datum_differs,
    clicks_beyond_range,
    clicks_without_datum,
    day_order_unclear,
    delta_from_unknown,
    found_has_drifted,
    found_never_left,
    left_without_found,
    old_value_differs,
    one_side_only,
    rate_from_part,
    set_and_left_differ,
}
