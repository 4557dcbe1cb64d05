//! What folding the costs finds wrong, as facts without words.
//!
//! Must not know messages or severities.

use crate::book::entry::EntryId;
use crate::book::model::{ClientId, JobId};
use crate::money::{Amount, Currency};

/// Why a cost cannot be shared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unshared {
    /// No car ran then.
    NobodyRan,
    /// None of the cars named ran then.
    TheseDidNotRun,
    /// A session does not say how long it was: what its car bears, and so any of them, is not known.
    Untimed(EntryId),
    /// All parts are 0.
    NoParts,
    /// So many cars ran, and none is named.
    TooMany(usize),
}

/// One problem.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Problem {
    /// Hours, and no rate for them anywhere.
    HoursWithoutRate {
        /// The first such line.
        entry: EntryId,
        /// How many more there are.
        more: u32,
    },
    /// Nothing to share a cost out by.
    SplitKeyEmpty {
        /// The line.
        entry: EntryId,
        /// Why.
        why: Unshared,
    },
    /// A currency that no rate takes into the shop's.
    ExchangeMissing {
        /// The first such line.
        entry: EntryId,
        /// The currency.
        currency: Currency,
        /// How many more lines are in it.
        more: u32,
    },
    /// A payment, and nobody who paid it.
    PaidByNobody {
        /// The line.
        entry: EntryId,
    },
    /// A payment on a job of several clients, one of whom paid it.
    PaidBySeveral {
        /// The line.
        entry: EntryId,
        /// Who may have, in the order they are declared.
        clients: Vec<ClientId>,
    },
    /// One invoice booked twice.
    BilledTwice {
        /// The later line.
        entry: EntryId,
        /// The first.
        first: EntryId,
    },
    /// A job has cost more than was quoted.
    QuoteExceeded {
        /// The line that went past the quote.
        entry: EntryId,
        /// The job.
        job: JobId,
        /// The quote's line.
        quote: EntryId,
        /// The quote.
        quoted: Amount,
        /// What the job has cost.
        cost: Amount,
    },
}
