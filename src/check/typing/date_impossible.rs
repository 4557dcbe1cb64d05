//! `date-impossible`: a day that no calendar has.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::dates::{YEARS, date};

/// The check.
pub const CHECK: Check = Check {
    name: "date-impossible",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a day that no calendar has",
    why: "A date that does not exist is a slip of a digit, and the day it was meant for cannot be guessed. Nothing \
          under the line is read until it is right, since every age, life and order in the book hangs on its \
          dates.",
    wrong: "2026-06-31 heron",
    right: "2026-06-30 heron",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let days = match trouble.what {
        What::DateImpossible { days } => days,
        What::YearFar => {
            let (first, last) = (YEARS.start(), YEARS.end());
            let message = format!("No block is of {}: years run from {first} to {last}.", cx.text(trouble.span));
            return Some(CHECK.at(trouble.span, message).cure("correct the year"));
        }
        _ => return None,
    };
    let typed = cx.text(trouble.span);
    let (year, month) = of_which(typed);
    let name = month.and_then(|month| MONTHS.get(month.wrapping_sub(1)));
    let message = match (name, days) {
        (Some(name), Some(days)) if *name == "February" => format!("February {year} has {days} days."),
        (Some(name), Some(days)) => format!("{name} has {days} days."),
        _ => format!("There is no such day as {typed}: months run from 01 to 12."),
    };
    Some(CHECK.at(trouble.span, message).cure("correct the day, the month or the year"))
}

const MONTHS: [&str; 12] = [
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
];

/// Year and month of the day that is wrong: the first of a range unless that one exists.
fn of_which(typed: &str) -> (String, Option<usize>) {
    let (from, to) = typed.split_once("..").unwrap_or((typed, ""));
    let mut parts: Vec<&str> = from.split('-').collect();
    if date(from).is_ok() {
        let last: Vec<&str> = to.split('-').collect();
        let keep = parts.len().saturating_sub(last.len());
        parts.truncate(keep);
        parts.extend(last);
    }
    let month = parts.get(1).and_then(|month| month.parse().ok());
    (parts.first().map_or_else(String::new, |year| (*year).to_owned()), month)
}
