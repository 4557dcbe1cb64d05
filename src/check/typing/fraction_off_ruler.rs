//! `fraction-off-ruler`: a fraction that no ruler is divided into.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "fraction-off-ruler",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a fraction that no ruler is divided into",
    why: "Rules are divided into halves, quarters, eighths and so on to sixty-fourths. Any other fraction is a \
          slip of a digit, or two numbers that belong elsewhere.",
    wrong: "  found ride-height LF 4 5/12 in",
    right: "  found ride-height LF 4 7/16 in",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::FractionOffRuler = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("{typed} is not on a ruler."));
    Some(match nearest(typed) {
        Some(near) => message.cure(format!("{near}? Rules have halves, quarters, eighths ... to sixty-fourths")),
        None => message.cure("write halves, quarters, eighths ... to sixty-fourths, or a decimal"),
    })
}

/// The nearest sixteenth, in its lowest terms.
fn nearest(typed: &str) -> Option<String> {
    let (top, bottom) = typed.rsplit([' ', '-', '+']).next()?.split_once('/')?;
    let (top, bottom): (u32, u32) = (top.parse().ok()?, bottom.parse().ok()?);
    let mut top = (top * 32 + bottom) / (2 * bottom);
    if top == 0 || top >= 16 {
        return None;
    }
    let mut bottom = 16;
    while top.is_multiple_of(2) {
        top /= 2;
        bottom /= 2;
    }
    Some(format!("{top}/{bottom}"))
}
