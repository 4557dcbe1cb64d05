//! Parts to come back or to go back, and kinds of which too few are on hand, in words.

use crate::Compiled;
use crate::answer::costs::whom_words;
use crate::answer::{LedgerLine, dates, entry_line, line};
use crate::due::beside::{Loaned, Short};
use crate::history::parts::loan;
use crate::history::stock::OnHand;
use crate::words;
use serde::Serialize;

/// Something to be seen to beside the cars.
#[derive(Debug, Clone, Serialize)]
pub struct BesideView {
    /// `lent`, `borrowed`, `approval` or `stock`.
    pub sort: &'static str,
    /// The kind.
    pub kind: String,
    /// The part; empty for a kind that runs short.
    pub part: String,
    /// Until when; null for stock.
    pub until: Option<String>,
    /// Days to that, below zero when past; null for stock.
    pub days_left: Option<i32>,
    /// In words.
    pub text: String,
    /// The line that lent or borrowed it, or counted it last; the kind's own.
    pub line: LedgerLine,
}

impl BesideView {
    /// "coupling cp-9", "hub-nut".
    #[must_use]
    pub fn what(&self) -> String {
        format!("{} {}", self.kind, self.part).trim_end().to_owned()
    }
}

pub(super) fn loaned(compiled: &Compiled, one: &Loaned) -> BesideView {
    let book = &compiled.book;
    let part = &book.parts[one.part].named;
    let whom = loan::facts(book, one.entry).and_then(|loan| loan.whom);
    let whom = whom.map_or_else(String::new, |whom| whom_words(compiled, whom));
    let (sort, done) = match (one.lent, one.approval) {
        (true, _) => ("lent", format!("lent to {whom}")),
        (false, true) => ("approval", format!("from {whom} on approval: return it or buy it")),
        (false, false) => ("borrowed", format!("borrowed from {whom}")),
    };
    let when = match one.days_left {
        0 => "today".to_owned(),
        left if left < 0 => format!("{} past", words::days(left.abs())),
        left => format!("{} left", words::days(left)),
    };
    BesideView {
        sort,
        kind: book.kind_of(one.part).map_or("part", |kind| &kind.named.typed).to_owned(),
        part: part.typed.to_string(),
        until: Some(one.until.to_string()),
        days_left: Some(one.days_left),
        text: format!("{done}, until {}, {when}", dates::date(one.until)),
        line: entry_line(compiled, one.entry).unwrap_or_else(|| line(compiled, part.declared)),
    }
}

pub(super) fn short(compiled: &Compiled, one: &Short) -> BesideView {
    let named = &compiled.book.kinds[one.kind].named;
    let there = match one.on_hand {
        OnHand::Count(count @ ..0) => format!("{} more used than there were", -count),
        OnHand::Count(0) => "none on hand".to_owned(),
        OnHand::Count(count) => format!("{count} on hand"),
        OnHand::Unknown => "how many are on hand is not known: count them".to_owned(),
    };
    let counted = one.counted.and_then(|entry| compiled.context().date(entry));
    let counted = counted.map_or_else(String::new, |day| format!(", last counted on {}", dates::date(day)));
    let at = one.counted.and_then(|entry| entry_line(compiled, entry));
    BesideView {
        sort: "stock",
        kind: named.typed.to_string(),
        part: String::new(),
        until: None,
        days_left: None,
        text: match one.keep {
            Some(keep) => format!("{there}, {keep} to be kept{counted}"),
            None => format!("{there}; how many are to be kept could not be read{counted}"),
        },
        line: at.unwrap_or_else(|| line(compiled, named.declared)),
    }
}
