//! Checks on parts and their lives.

crate::check::family! {
    does_not_fit,
    empty_place_ran,
    failed_part_back,
    failed_part_ran,
    inner_part_forgotten,
    inner_part_older,
    inside_circle,
    kind_differs,
    life_ends_next_event,
    life_over_limit,
    not_quarantined,
    one_use_hardware,
    part_in_two_places,
    place_needed,
    place_occupied,
    pull_not_there,
    quarantined_part_fitted,
    retired_part_fitted,
    still_fitted,
    used_before_bought,
}
