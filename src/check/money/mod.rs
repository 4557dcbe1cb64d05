//! Checks on money and hours.

crate::check::family! {
    billed_twice,
    cost_unassigned,
    currency_missing,
    exchange_missing,
    hours_without_rate,
    paid_by_whom,
    paid_more_than_cost,
    payer_missing,
    price_negative,
    quote_exceeded,
    split_key_empty,
    sum_too_fine,
}
