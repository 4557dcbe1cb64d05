//! What a failure cost, and what was lost by it.
//!
//! Must not know how that is found.

use crate::book::entry::EntryId;
use crate::book::model::{CarId, EventId, JobId, PartId};
use crate::costs::posting::Posting;
use crate::history::order::Rank;
use crate::money::{Amount, Total};
use jiff::civil::Date;
use rust_decimal::Decimal;

/// One failure, or one impact.
#[derive(Debug, Clone)]
pub struct FailureCost {
    /// Its line.
    pub entry: EntryId,
    /// The day.
    pub date: Date,
    /// The car.
    pub car: CarId,
    /// The event it happened at.
    pub event: Option<EventId>,
    /// The part that failed; `None` for an impact.
    pub part: Option<PartId>,
    /// The job it is tied to, by `on JOB` on its line.
    pub job: Option<JobId>,
    /// Postings of the part that took its place.
    pub parts: Vec<usize>,
    /// Postings of its job; those of a job that an earlier failure counts already are left out.
    pub work: Vec<usize>,
    /// Postings of the entry money of the car at that event, where sessions of it were lost.
    pub fees: Vec<usize>,
    /// Sessions lost by it.
    pub lost: Option<Lost>,
    /// Its line has a mistake, or how many sessions its event planned cannot be read: it may have cost more.
    pub unclear: bool,
    /// All of it.
    pub total: Total,
    /// Its rank, for the order.
    pub rank: Rank,
}

/// Sessions of an event that were paid for and not run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lost {
    /// How many.
    pub sessions: u32,
    /// Of how many.
    pub planned: u32,
    /// Whether the event says how many were planned; else the other cars' sessions do.
    pub stated: bool,
    /// Their share of the entry money; `None` where that is not known.
    pub entry: Option<Amount>,
}

impl FailureCost {
    /// Works its sums out of its postings; no sum of it comes from anywhere else, so that of a reader's postings they are sums
    /// of what he may read.
    pub fn add_up(&mut self, postings: &[Posting]) {
        self.total = Total::default();
        self.total.at_least = self.unclear;
        for posting in self.parts.iter().chain(&self.work).filter_map(|at| postings.get(*at)) {
            posting.add_to(&mut self.total);
        }
        let Some(lost) = &mut self.lost else { return };
        let fees = self.fees.iter().filter_map(|at| postings.get(*at)).map(|posting| posting.amount);
        let paid = fees.reduce(|sum, more| sum.zip(more).and_then(|(sum, more)| sum.plus(more))).flatten();
        lost.entry =
            paid.and_then(|paid| paid.scaled(Decimal::from(lost.sessions), Decimal::from(lost.planned)));
        match lost.entry {
            Some(entry) => self.total.add(entry),
            None => self.total.at_least = true,
        }
    }
}
