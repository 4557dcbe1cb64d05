//! `not-one-number`: two numbers with a slash where one belongs.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "not-one-number",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "two numbers with a slash where one belongs",
    why: "`41/11` is two numbers: teeth, a pressure held over its supply, the three temperatures across a tyre. A \
          quantity that has one number cannot tell which of them was meant, and no arithmetic is done on what is \
          typed.",
    wrong: "  set fuel 40/7 L",
    right: "  set fuel 20 L",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NotOneNumber(id) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let parts: Vec<&str> = typed.split('/').collect();
    Some(
        CHECK
            .at(trouble.span, format!("{typed} is {} numbers; {} has one.", parts.len(), cx.quantity(id).name))
            .cure(format!("write {} alone, or repeats of it with a comma and a blank: `{}`", typed.split('/').next().unwrap_or(typed), parts.join(", "))),
    )
}
