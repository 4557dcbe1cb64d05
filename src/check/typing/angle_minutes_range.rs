//! `angle-minutes-range`: minutes of angle of 60 or more.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "angle-minutes-range",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "minutes of angle of 60 or more",
    why: "A degree has sixty minutes. `6d80'` is what comes of writing 6.80 degrees with the wrong sign, or of \
          adding minutes up without carrying; the two are 32 minutes apart.",
    wrong: "  set caster RF 6d80'",
    right: "  set caster RF 6d48'",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::AngleMinutes = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("{typed}: minutes run from 0 to 59."));
    Some(match readings(typed) {
        Some((decimal, of_decimal, carried)) => message
            .cure(format!("{decimal} deg is `{of_decimal}`; with the minutes carried it is `{carried}`")),
        None => message.cure("carry sixty minutes to a degree"),
    })
}

/// "6.80", what that is in minutes, and the minutes carried.
fn readings(typed: &str) -> Option<(String, String, String)> {
    let sign = if typed.starts_with(['-', '\u{2212}']) { "-" } else { "" };
    let body = typed.trim_start_matches(['-', '+', '\u{2212}']);
    let (degrees, minutes) = body.split_once(['d', '°'])?;
    let minutes = minutes.trim_end_matches(['\'', '\u{2032}', '\u{2019}']);
    let (degrees, minutes): (u32, u32) = (degrees.parse().ok()?, minutes.parse().ok()?);
    if minutes > 99 {
        return None;
    }
    // Hundredths of a degree in minutes, rounded to the nearest.
    let of_decimal = (minutes * 60 + 50) / 100;
    Some((
        format!("{sign}{degrees}.{minutes:02}"),
        format!("{sign}{degrees}d{of_decimal:02}'"),
        format!("{sign}{}d{:02}'", degrees.saturating_add(minutes / 60), minutes % 60),
    ))
}
