//! Checks on gauges and measuring.

pub(super) mod bench;
mod conditions;
mod wet_air;

use super::Context;
use crate::book::model::Gauge;
use crate::vocabulary::QuantityId;

crate::check::family! {
    angle_decimal_or_minutes,
    bench_zero_moved,
    compared_in_other_unit,
    compared_with_itself,
    comparisons_disagree,
    condition_missing,
    conditions_differ,
    dew_point_above_air,
    dew_point_and_humidity,
    finer_than_gauge,
    gauge_found_off,
    gauge_mixed,
    gauge_not_named,
    gauge_of_other_quantity,
    gauge_out_of_date,
    order_unclear,
    pads_against_total,
    repeats_disagree,
    repeats_too_few,
    set_incomplete,
}

/// The book's gauges that read a quantity, in its order.
fn gauges_for<'a>(cx: &Context<'a>, id: QuantityId) -> impl Iterator<Item = &'a Gauge> {
    cx.book.gauges.iter().filter(move |gauge| gauge.reads.contains(&id))
}
