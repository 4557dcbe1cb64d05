//! Checks of old against new, and found against left.

crate::check::family! {
    change_is_nothing,
    click_datum_differs,
    clicks_beyond_range,
    clicks_without_datum,
    day_order_unclear,
    delta_from_unknown,
    found_has_drifted,
    old_value_differs,
    rate_from_part,
}
