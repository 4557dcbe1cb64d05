//! `number-unreadable`: a number that cannot be read, or none where one must stand.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "number-unreadable",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a number that cannot be read, or none where one must stand",
    why: "A number is digits with at most one point, or a fraction of a ruler, or degrees and minutes. Anything \
          else where a number is needed, or one with more digits than any gauge has, would have to be guessed at.",
    wrong: "  run s1 5 laps  best quick",
    right: "  run s1 5 laps  best 0:41.82",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NumberBad = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    if typed.is_empty() {
        return Some(CHECK.at(trouble.span, "A number is missing here.").cure("write it here, and its unit if it has one"));
    }
    let digits = typed.bytes().filter(u8::is_ascii_digit).count();
    let message = if digits > 24 {
        CHECK.at(trouble.span, format!("A number of {digits} digits is taken for a slip of the finger."))
    } else if let Some(whole) = typed.strip_suffix('.').filter(|whole| whole.parse::<f64>().is_ok()) {
        return Some(
            CHECK
                .at(trouble.span, format!("`{typed}` has no digit behind its point."))
                .cure(format!("write `{whole}`, or the digit behind the point; a letter O is no nought")),
        );
    } else if typed.parse::<f64>().is_ok() {
        CHECK.at(trouble.span, format!("{typed} must be a whole number here, not below zero and not huge."))
    } else {
        CHECK.at(trouble.span, format!("`{typed}` is not a number that can be used here."))
    };
    Some(message.cure("write digits with a point: 1.45; a lap time as 1:08.42; a count as a whole number"))
}
