//! Checks on parts and their lives.

crate::check::family! {
    does_not_fit,
    failed_part_back,
    inside_circle,
    kind_differs,
    not_quarantined,
    part_in_two_places,
    place_needed,
    place_occupied,
    pull_not_there,
    quarantined_part_fitted,
    retired_part_fitted,
    still_fitted,
    used_before_bought,
}
