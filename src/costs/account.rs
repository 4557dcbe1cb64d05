//! What everything cost, as it is kept.
//!
//! Must not know how a line is booked.

use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, JobId, PartId};
use crate::costs::failing::FailureCost;
use crate::costs::payment::{Payment, ToLender};
use crate::costs::posting::Posting;
use crate::costs::problem::Problem;
use crate::money::{Amount, Currency};

/// What a book's lines cost.
#[derive(Debug, Clone, Default)]
pub struct Costs {
    /// In the order things happened.
    pub postings: Vec<Posting>,
    /// Parts that were paid for and never fitted.
    pub stock: Vec<Stocked>,
    /// Cars that were sold for a stated sum.
    pub sold: Vec<SoldCar>,
    /// What each failure cost, in order.
    pub failures: Vec<FailureCost>,
    /// Jobs with a quote.
    pub quotes: Vec<Quoted>,
    /// What clients paid, in the order things happened.
    pub payments: Vec<Payment>,
    /// What is owed to lenders of parts that broke.
    pub to_lenders: Vec<ToLender>,
    /// What is wrong.
    pub problems: Vec<Problem>,
    /// By car, the places of its postings, in order.
    pub of_car: Vec<Vec<usize>>,
    /// By job, the places of its postings, in order.
    pub of_job: Vec<Vec<usize>>,
    /// Whether the book has a payment of which nobody can say whose it is: no account is known.
    pub payer_unknown: bool,
    /// Whether something of the reader's account is not his to know: nothing is said of it, since what is left of it is wrong.
    pub account_withheld: bool,
    /// The shop's currency, into which sums are exchanged where a rate is stated.
    pub home: Option<Currency>,
}

/// A part in stock: bought, or declared with a price, and never on a car.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stocked {
    /// The part.
    pub part: PartId,
    /// What it cost.
    pub price: Amount,
    /// The line that buys it.
    pub entry: Option<EntryId>,
}

/// A car that was sold. What it brought is no cost of running it and stands apart from all totals.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SoldCar {
    /// The car.
    pub car: CarId,
    /// For how much.
    pub price: Amount,
    /// The line.
    pub entry: EntryId,
}

/// A job and the quote that stands: the last of its lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quoted {
    /// The job.
    pub job: JobId,
    /// The sum, in the shop's currency where a rate is stated; `None` where a mistake has taken it.
    pub quote: Option<Amount>,
    /// Its line.
    pub entry: EntryId,
}

impl Costs {
    /// Notes which postings are of which car and on which job, once all are there.
    pub(crate) fn index(&mut self, book: &Book) {
        self.of_car = vec![Vec::new(); book.cars.len()];
        self.of_job = vec![Vec::new(); book.jobs.len()];
        for (at, posting) in self.postings.iter().enumerate() {
            if let Some(list) = posting.car.and_then(|car| self.of_car.get_mut(car.index())) {
                list.push(at);
            }
            if let Some(list) = posting.job.and_then(|job| self.of_job.get_mut(job.index())) {
                list.push(at);
            }
        }
    }
}
