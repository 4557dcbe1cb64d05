//! `head-unreadable`: a line at the margin that is neither a date nor a declaration.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::syntax::Mistake;

/// The check.
pub const CHECK: Check = Check {
    name: "head-unreadable",
    severity: Severity::Error,
    family: Family::Reading,
    brief: "a line at the margin that is neither a date nor a declaration",
    why: "What starts at the margin opens a block: a date (`2026-04-18 heron`) or a declaration (`car`, `part`, \
          `event` ...). Everything that happened on a day is indented under its date. A line at the margin that is \
          neither belongs to nothing.",
    wrong: "09:35..09:50 run s1",
    right: "2025-05-10 heron\n  09:35..09:50 run s1",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Syntax(Mistake::HeadUnreadable) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let time = typed.contains(':') && typed.starts_with(|first: char| first.is_ascii_digit());
    let message = CHECK
        .at(trouble.span, format!("`{typed}` starts at the margin and is neither a date nor a declaration."));
    Some(if time {
        message.cure("indent the line under its date; a time stands first on an indented line")
    } else {
        message.cure("indent it under its date or declaration; a date is written 2026-04-18")
    })
}
