//! One posting: so much money (or so many hours) to one car, client, event and job, from one line of the book.
//!
//! Must not know how it came about.

use crate::book::entry::{CostKind, EntryId};
use crate::book::model::{CarId, ClientId, EventId, JobId, PartId};
use crate::money::exchange::Rate;
use crate::money::{Amount, Minutes, Total};
use crate::source::Span;
use jiff::civil::Date;

/// Where a line's money belongs.
#[derive(Debug, Clone, Copy)]
pub struct Belongs {
    /// Its day.
    pub date: Date,
    /// The car it is for.
    pub car: Option<CarId>,
    /// Who pays.
    pub client: Option<ClientId>,
    /// The event it is for.
    pub event: Option<EventId>,
    /// The job it is work on.
    pub job: Option<JobId>,
}

/// What money went on, in the order of columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Fees to take part.
    Entry,
    /// The shop's own work.
    Labour,
    /// Parts.
    Parts,
    /// Fuel.
    Fuel,
    /// What is used up.
    Consumables,
    /// Work done by another shop.
    Outside,
    /// Anything else.
    Other,
    /// A part that went from one car to another at an agreed value: minus there, plus here.
    Transfer,
    /// What parts brought when they were sold.
    Sold,
    /// Prize money: won, and on no job.
    Prize,
}

impl Kind {
    /// Every kind, in order.
    pub const ALL: [Self; 10] = [
        Self::Entry,
        Self::Labour,
        Self::Parts,
        Self::Fuel,
        Self::Consumables,
        Self::Outside,
        Self::Other,
        Self::Transfer,
        Self::Sold,
        Self::Prize,
    ];

    /// The heading of its column.
    #[must_use]
    pub const fn heading(self) -> &'static str {
        match self {
            Self::Entry => "entries",
            Self::Labour => "labour",
            Self::Parts => "parts",
            Self::Fuel => "fuel",
            Self::Consumables => "consumables",
            Self::Outside => "outside work",
            Self::Other => "other",
            Self::Transfer => "transfer",
            Self::Sold => "sold",
            Self::Prize => "prize money",
        }
    }
}

impl From<CostKind> for Kind {
    fn from(kind: CostKind) -> Self {
        match kind {
            CostKind::Entry => Self::Entry,
            CostKind::Parts => Self::Parts,
            CostKind::Fuel => Self::Fuel,
            CostKind::Consumables => Self::Consumables,
            CostKind::Outside => Self::Outside,
            CostKind::Prize => Self::Prize,
            CostKind::Other => Self::Other,
        }
    }
}

/// A posting.
#[derive(Debug, Clone)]
pub struct Posting {
    /// The line that it comes from; for a part the line that first puts it on a car.
    pub entry: EntryId,
    /// The day of that line.
    pub date: Date,
    /// Which car.
    pub car: Option<CarId>,
    /// Who pays.
    pub client: Option<ClientId>,
    /// At which event.
    pub event: Option<EventId>,
    /// For which job.
    pub job: Option<JobId>,
    /// What for.
    pub kind: Kind,
    /// How much, in the shop's currency where a rate says how; `None` where it is not known or not charged.
    pub amount: Option<Amount>,
    /// It came back: where it is not known, a total without it is too high.
    pub back: bool,
    /// The sum before it was exchanged, and the rate.
    pub exchanged: Option<Box<(Amount, Rate)>>,
    /// Time worked.
    pub minutes: Minutes,
    /// Hours that are counted and not charged.
    pub unbilled: bool,
    /// The part that it paid for.
    pub part: Option<PartId>,
    /// Where the price of that part stands.
    pub price: Option<Span>,
    /// Which share of the line this is, and of how many.
    pub share: Option<(u32, u32)>,
    /// Its line names the client who pays, or for whom the shop drew it: whoever may have the booking may not read the line.
    pub named: bool,
}

impl Posting {
    /// Adds it to a total.
    pub fn add_to(&self, total: &mut Total) {
        if let Some(amount) = self.amount {
            total.add(amount);
        }
        total.add_time(self.minutes, self.unbilled);
        total.at_least |= self.is_unknown() && !self.back;
        total.at_most |= self.is_unknown() && self.back;
    }

    /// Whether it costs something that is not known.
    #[must_use]
    pub const fn is_unknown(&self) -> bool {
        self.amount.is_none() && !self.unbilled
    }
}
