//! `name-missing`: a declaration or a clause without the name it needs.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "name-missing",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a declaration or a clause without the name it needs",
    why: "Cars, parts, events, gauges and people are known by a short name that stands right after the word that \
          declares them. It starts with a letter; then letters, digits, `-` and `.` may follow. A serial number \
          that starts with a digit goes into `serial \"...\"` of a part with a name of its own.",
    wrong: "car \"Heron\"",
    right: "car heron \"Heron\"",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NameMissing(wanted) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let what = words::a(wanted);
    let quoted = typed.starts_with(['"', '\u{201C}', '\u{201D}', '\u{201E}']);
    if typed.is_empty() || quoted || typed == "," {
        return Some(
            CHECK
                .at(trouble.span, format!("The name of {what} is missing here."))
                .cure("write its short name: a letter first, then letters, digits, `-` and `.`"),
        );
    }
    let message = CHECK.at(trouble.span, format!("`{typed}` cannot be the name of {what}."));
    let digit = typed.starts_with(|first: char| first.is_ascii_digit());
    Some(if digit && wanted == "part" {
        message.cure(format!(
            "start it with a letter; the number itself can go into `serial \"{typed}\"` of a part"
        ))
    } else if digit {
        message.cure("start it with a letter")
    } else {
        message.cure("use letters, digits, `-` and `.` only, a letter first")
    })
}
