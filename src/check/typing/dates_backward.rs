//! `dates-backward`: a range of dates that ends before it starts.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::dates::date;
use jiff::ToSpan as _;
use jiff::civil::Date;

/// The check.
pub const CHECK: Check = Check {
    name: "dates-backward",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a range of dates that ends before it starts",
    why: "An event's dates say which days belong to it. The last day stands after two points and may leave out \
          what is the same: the year, or the year and the month. Ending before it starts, the event holds no day \
          at all.",
    wrong: "event pell-1 2025-05-10..09 at pell-hill",
    right: "event pell-1 2025-05-10..11 at pell-hill",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::DatesBackward = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("{typed} ends before it starts."));
    Some(match next_month(typed) {
        Some(range) => message.cure(format!("the month changes? Write `{range}`; else put the earlier day first")),
        None => message.cure("put the earlier day first; where the year changes write it: 2026-12-30..2027-01-02"),
    })
}

/// The range with its last day in the month after, where only a day was typed.
fn next_month(typed: &str) -> Option<String> {
    let (from, to) = typed.split_once("..")?;
    let first = date(from).ok()?;
    let day: i8 = to.parse().ok()?;
    let next = first.first_of_month().checked_add(1.month()).ok()?;
    let last = Date::new(next.year(), next.month(), day).ok()?;
    let year = if last.year() == first.year() { String::new() } else { format!("{:04}-", last.year()) };
    Some(format!("{from}..{year}{:02}-{:02}", last.month(), last.day()))
}
