//! Amounts and totals as plain data, and the line one stands on.
//!
//! Must not know what they are of.

use crate::Compiled;
use crate::answer::LedgerLine;
use crate::book::entry::EntryId;
use crate::money::{Amount, Total, round};
use rust_decimal::Decimal;
use serde::Serialize;

/// An amount of money.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Sum {
    /// With the decimals of its currency: `2943.90`, `-25.00`.
    pub amount: String,
    /// ISO 4217.
    pub currency: &'static str,
}

/// Sums, one a currency, and working time.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct SumsView {
    /// One a currency; two are never added.
    pub sums: Vec<Sum>,
    /// Hours of work that it charges for; null for none.
    pub hours: Option<String>,
    /// Hours of work that are counted and not charged; null for none.
    pub unbilled_hours: Option<String>,
    /// Something in it is not known, so that it is this much or more.
    pub at_least: bool,
    /// Something that came back is not known, so that it is this much or less; with the above, nobody knows which.
    pub at_most: bool,
}

impl Sum {
    /// An amount as a view.
    #[must_use]
    pub fn of(amount: Amount) -> Self {
        Self { amount: amount.digits(), currency: amount.currency.code() }
    }

    /// In words: `2943.90` in the currency that goes without saying, `120.00 GBP` in another.
    #[must_use]
    pub fn words(&self, silent: Option<&str>) -> String {
        if Some(self.currency) == silent {
            self.amount.clone()
        } else {
            format!("{} {}", self.amount, self.currency)
        }
    }
}

impl SumsView {
    /// A total as a view.
    #[must_use]
    pub fn of(total: &Total) -> Self {
        Self {
            sums: total.sums().iter().copied().map(Sum::of).collect(),
            hours: (!total.minutes.is_zero()).then(|| total.minutes.hours()),
            unbilled_hours: (!total.unbilled.is_zero()).then(|| total.unbilled.hours()),
            at_least: total.at_least,
            at_most: total.at_most,
        }
    }

    /// In words: `2943.90` in the currency that goes without saying, `120.00 GBP` in another, `-` for nothing.
    #[must_use]
    pub fn words(&self, silent: Option<&str>) -> String {
        let sums = self.sums.iter().map(|sum| sum.words(silent)).collect::<Vec<_>>().join(" + ");
        match (sums.is_empty(), self.bound()) {
            (true, Some(_)) => "not known".to_owned(),
            (true, None) => "-".to_owned(),
            (false, Some(bound)) => format!("{bound} {sums}"),
            (false, None) => sums,
        }
    }

    /// What stands before its sums where not all of it is known.
    #[must_use]
    pub const fn bound(&self) -> Option<&'static str> {
        match (self.at_least, self.at_most) {
            (false, false) => None,
            (true, false) => Some("at least"),
            (false, true) => Some("at most"),
            (true, true) => Some("not known; without what is not,"),
        }
    }

    /// The same with the hours worked: `1247.00 (21.5 h)`, `not billed (74.0 h)`.
    #[must_use]
    pub fn with_hours(&self, silent: Option<&str>) -> String {
        let sums = self.words(silent);
        match (&self.hours, &self.unbilled_hours) {
            (None, None) => sums,
            (Some(hours), None) => format!("{sums} ({hours} h)"),
            (None, Some(unbilled)) if sums == "-" => format!("not billed ({unbilled} h)"),
            (None, Some(unbilled)) => format!("{sums} ({unbilled} h not billed)"),
            (Some(hours), Some(unbilled)) => format!("{sums} ({hours} h; {unbilled} h not billed)"),
        }
    }
}

/// Whole units as a decimal with two places: seconds as hours, millimetres as kilometres.
pub(super) fn hundredths(units: u64, each: u64) -> Option<String> {
    round::quotient(Decimal::from(units), Decimal::from(each), 2).map(|value| value.to_string())
}

/// The line of an entry.
pub(super) fn line(compiled: &Compiled, entry: EntryId) -> LedgerLine {
    crate::answer::entry_line(compiled, entry).unwrap_or(LedgerLine { path: String::new(), line: 0 })
}
