//! A payment, and what is owed to a lender.
//!
//! Must not know what a client owes.

use crate::book::entry::EntryId;
use crate::book::loan::Whom;
use crate::book::model::{ClientId, JobId, PartId};
use crate::money::Amount;
use jiff::civil::Date;

/// What a client paid; below zero what was paid back to him.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Payment {
    /// The line.
    pub entry: EntryId,
    /// Its day.
    pub date: Date,
    /// Who paid; `None` where a line with a mistake does not say.
    pub client: Option<ClientId>,
    /// On which job.
    pub job: Option<JobId>,
    /// How much, in the shop's currency where a rate says how; `None` where a mistake has taken it.
    pub amount: Option<Amount>,
}

/// What is owed to the lender of a part that broke or was lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ToLender {
    /// The part.
    pub part: PartId,
    /// Whose it is.
    pub whom: Option<Whom>,
    /// The sum agreed; `None` where none was, or it is not known.
    pub sum: Option<Amount>,
    /// A mistake has taken the sum.
    pub sum_lost: bool,
    /// The line that says it broke.
    pub entry: EntryId,
    /// Its day.
    pub date: Date,
}
