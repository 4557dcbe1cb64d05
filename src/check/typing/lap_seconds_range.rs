//! `lap-seconds-range`: a lap time with 60 seconds or more after the colon.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "lap-seconds-range",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a lap time with 60 seconds or more after the colon",
    why: "After the colon seconds run to 59.99. `1:75.0` is a slip: either 75 seconds, or a minute too many or too \
          few. A lap time decides which setup is called the better one, so it is not guessed.",
    wrong: "  run s1 5 laps  best 1:75.0",
    right: "  run s1 5 laps  best 1:15.0",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::LapSeconds = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("{typed}: after the colon seconds run from 0 to 59."));
    let parts = typed.split_once(':').and_then(|(minutes, seconds)| {
        let (whole, rest) = seconds.split_at(seconds.find('.').unwrap_or(seconds.len()));
        Some((minutes.parse::<u32>().ok()?, whole.parse::<u32>().ok()?, rest))
    });
    Some(match parts {
        Some((minutes, seconds, rest)) => {
            let carried = format!("{}:{:02}{rest}", minutes.saturating_add(seconds / 60), seconds % 60);
            let alone = format!("{}:{:02}{rest}", seconds / 60, seconds % 60);
            message.cure(if alone == carried {
                format!("{seconds}{rest} seconds is `{alone}`")
            } else {
                format!("{seconds}{rest} seconds is `{alone}`; with the minute carried it is `{carried}`")
            })
        }
        None => message.cure("write minutes, a colon, seconds in two digits: 1:08.42"),
    })
}
