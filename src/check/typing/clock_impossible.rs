//! `clock-impossible`: a time that no day has.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "clock-impossible",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a time that no day has",
    why: "Times run from 00:00 to 23:59, and 24:00 for the end of a day. A session that ends after midnight is \
          written with the time on the clock: 23:40..00:20 ends on the next day.",
    wrong: "  25:10..25:30 run s1",
    right: "  01:10..01:30 run s1",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ClockImpossible = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    Some(
        CHECK
            .at(trouble.span, format!("No day has the time {typed}."))
            .cure("hours run from 00 to 23 and minutes from 00 to 59; an end after midnight is the next day's: 23:40..00:20"),
    )
}
