//! `no-teeth`: a ratio typed as teeth, one of the two wheels without any.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "no-teeth",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a ratio typed as teeth, one of the two wheels without any",
    why: "A wheel has teeth, and a ratio of none or over none is no ratio: a digit was lost, or a dash was meant. The line is not \
          used, so that no speed is made from it.",
    wrong: "  set final-drive 41/0",
    right: "  set final-drive 41/10",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NoTeeth(id) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    Some(
        CHECK
            .at(trouble.span, format!("{typed}: a wheel of {} has no teeth.", cx.quantity(id).name))
            .cure("write the teeth of both wheels; `-` if they were not counted"),
    )
}
