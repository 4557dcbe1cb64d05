//! `fraction-lost-space`: a fraction that is more than a whole.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "fraction-lost-space",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a fraction that is more than a whole",
    why: "On a rule `1 3/8` loses its blank easily and becomes `13/8`, which is 1 5/8: a quarter of an inch away \
          and just as likely to be a ride height. Both readings are offered and neither is taken.",
    wrong: "  found ride-height LF 13/8 in",
    right: "  found ride-height LF 1 3/8 in",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::FractionImproper(readings) = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("{typed} is more than a whole."));
    let quoted: Vec<String> = readings.iter().map(|reading| format!("`{reading}`")).collect();
    Some(match readings.as_slice() {
        [lost, .., value] => CHECK
            .at(trouble.span, format!("{typed} is {value}. Did you mean {lost}?"))
            .cure(format!("write {}", words::or(&quoted))),
        [value] => message.cure(format!("write `{value}`")),
        [] => message.cure("write the whole number, a blank and the rest: `1 3/8`"),
    })
}
