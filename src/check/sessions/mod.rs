//! Checks on dates, sessions and counters.

crate::check::family! {
    best_slower_than_laps,
    driver_in_two_cars,
    ends_before_start,
    event_in_future,
    hot_without_cold,
    lap_out_of_range,
    laps_against_minutes,
    late_entry,
    meter_against_sessions,
    meter_went_back,
    minutes_against_clock,
    not_the_owner,
    run_outside_event,
    session_number_gap,
    session_twice,
    session_unknown,
    session_without_minutes,
    sessions_overlap,
    sold_before_bought,
    sold_car_touched,
}
