//! Days of runs, and their order.
//!
//! Must not know trials.

use crate::history::sessions::Session;
use jiff::civil::Date;

/// The days of some runs, by number, and the place of each in the running order of its day, from 1.
#[must_use]
pub fn days(runs: &[&Session]) -> Vec<(usize, u32)> {
    let mut known: Vec<(Date, u32)> = Vec::new();
    runs.iter()
        .map(|run| {
            let at = known.iter().position(|(day, _)| *day == run.date).unwrap_or_else(|| {
                known.push((run.date, 0));
                known.len() - 1
            });
            let order = known.get_mut(at).map_or(1, |(_, count)| {
                *count += 1;
                *count
            });
            (at, order)
        })
        .collect()
}
