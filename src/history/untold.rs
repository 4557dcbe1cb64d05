//! Running that no session of the book tells of: sessions on lines with a mistake, and cars that a part may have been on besides where the
//! book has it.
//!
//! Must not know limits or statistics.

use super::History;
use super::parts::Where;
use crate::book::model::PartId;
use crate::history::order::Rank;

/// Whether a part may have run more with `from <= rank < until` than the sessions that it surely ran.
#[must_use]
pub fn may_have_run(history: &History, part: PartId, from: Rank, until: Rank) -> bool {
    let mut open = vec![(part, from, until)];
    // Assemblies hold no part twice; the count guards against a book that says so.
    let mut left = history.parts.all.len();
    while let Some((part, from, until)) = open.pop() {
        let told = history.parts.get(part);
        let within = |first: Rank, end: Rank| (first.max(from), end.min(until));
        let claimed = told.claims.iter().any(|claim| {
            let (from, until) = within(claim.from, claim.until);
            history.sessions.ran(claim.car, from, until)
        });
        if claimed {
            return true;
        }
        for stay in &told.stays {
            let (from, until) = within(stay.from, stay.until);
            if from >= until {
                continue;
            }
            if stay.car.is_some_and(|car| history.sessions.lost_between(car, from, until)) {
                return true;
            }
            if let Where::Inside(assembly) = stay.at
                && left > 0
            {
                left -= 1;
                open.push((assembly, from, until));
            }
        }
    }
    false
}
