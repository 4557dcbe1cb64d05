//! Checks on jobs, promises, and work that comes round again.

crate::check::family! {
    day_already_past,
    impact_without_job,
    interval_overdue,
    job_closed_empty,
    job_closed_twice,
    job_is_closed,
    job_not_open,
    job_of_other_car,
    open_job_ran,
    promise_late,
    promise_overdue,
    promise_to_whom,
}
