//! Where a condition turns, to the last bit.

/// The place between `low` and `high` up to which `before` holds, to the last bit.
pub(super) fn bisect(mut low: f64, mut high: f64, before: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if before(middle) { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}
