//! A car's runs, event by event, with its lines there.
//!
//! Must not know what is compared.

use super::standings::RankedLine;
use crate::book::model::{CarId, EventId};
use crate::history::Facts;
use crate::history::sessions::{Session, SessionId};
use jiff::civil::Date;

/// A car's runs by event, or by day outside of one, in order.
#[must_use]
pub fn meetings(facts: Facts<'_>, car: CarId) -> Vec<Vec<SessionId>> {
    let mut found: Vec<(Result<EventId, Date>, Vec<SessionId>)> = Vec::new();
    let mut index = rustc_hash::FxHashMap::default();
    for (id, session) in facts.history.sessions.of(car) {
        let key = session.event.ok_or(session.date);
        let at = *index.entry(key).or_insert_with(|| {
            found.push((key, Vec::new()));
            found.len() - 1
        });
        if let Some((_, runs)) = found.get_mut(at) {
            runs.push(id);
        }
    }
    found.into_iter().map(|(_, runs)| runs).collect()
}

/// The car's lines from the first of some runs to the last. What is set before the first is how it came; what stands under the last
/// belongs to it.
#[must_use]
pub fn lines_of<'a>(lines: &'a [RankedLine], runs: &[&Session]) -> &'a [RankedLine] {
    let Some((first, last)) = runs.first().zip(runs.last()) else { return &[] };
    let from = lines.partition_point(|(rank, _)| *rank < first.rank);
    let until = lines.partition_point(|(rank, _)| *rank < last.after);
    lines.get(from..until.max(from)).unwrap_or_default()
}
