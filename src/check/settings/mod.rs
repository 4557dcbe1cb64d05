//! Checks of old against new, and found against left.

crate::check::family! {
    found_has_drifted,
    old_value_differs,
}
