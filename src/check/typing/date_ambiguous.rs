//! `date-ambiguous`: a date that is not written year-month-day.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::syntax::Mistake;
use crate::words;
use jiff::civil::Date;

/// The check.
pub const CHECK: Check = Check {
    name: "date-ambiguous",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a date that is not written year-month-day",
    why: "Day before month or month before day depends on who types and on where the calendar was bought; half of \
          all such dates can be read both ways. Dates are written year first, always, so that none can. Nothing \
          under the line is read until its day is certain.",
    wrong: "5/6/26 heron",
    right: "2026-06-05 heron",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Syntax(Mistake::DateOrder) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let readings = readings(typed, cx.today.year());
    let message = CHECK.at(trouble.span, format!("`{typed}` is not a date as the book writes them, year-month-day."));
    Some(if readings.is_empty() {
        message.cure("write the year in four digits, then month and day in two: 2026-04-18")
    } else {
        let quoted: Vec<String> = readings.iter().map(|date| format!("`{date}`")).collect();
        message.cure(format!("write {}", words::or(&quoted)))
    })
}

/// The days that the numbers may mean, as typed in a book; day before month first.
fn readings(typed: &str, this_year: i16) -> Vec<Date> {
    let parts: Vec<&str> = typed.split(['/', '.', '-']).collect();
    let numbers: Vec<i16> = parts.iter().filter_map(|part| part.parse().ok()).collect();
    let full = |year: i16, text: &str| if text.len() <= 2 { this_year / 100 * 100 + year } else { year };
    let mut ways: Vec<(i16, i16, i16)> = Vec::new();
    match (numbers.as_slice(), parts.as_slice()) {
        (&[a, b, c], &[first, _, last]) if first.len() < 3 => {
            ways.push((full(c, last), b, a));
            ways.push((full(c, last), a, b));
            if typed.contains('-') && last.len() <= 2 {
                ways.push((full(a, first), b, c));
            }
        }
        (&[a, b, c], _) => ways.push((a, b, c)),
        (&[a, b], _) => {
            ways.push((this_year, b, a));
            ways.push((this_year, a, b));
        }
        _ => {}
    }
    let mut dates: Vec<Date> = Vec::new();
    for (year, month, day) in ways {
        let date = i8::try_from(month).ok().zip(i8::try_from(day).ok());
        if let Some(date) = date.and_then(|(month, day)| Date::new(year, month, day).ok())
            && !dates.contains(&date)
        {
            dates.push(date);
        }
    }
    dates
}
