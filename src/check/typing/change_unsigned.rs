//! `change-unsigned`: an `adjust` without a plus or a minus.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "change-unsigned",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "an `adjust` without a plus or a minus",
    why: "`adjust` says by how much something was changed, and the sign is part of it: without one it cannot be \
          told from the new value itself. `set` is for that.",
    wrong: "  adjust perch RF 1/4 turn",
    right: "  adjust perch RF +1/4 turn",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ChangeUnsigned(id) = trouble.what else { return None };
    let name = &cx.quantity(id).name;
    let typed = cx.text(trouble.span);
    Some(
        CHECK
            .at(trouble.span, format!("Up or down? `adjust` wants the sign of the change before {typed}."))
            .cure(format!("write `+{typed}` or `-{typed}`; for the new value itself, `set {name} ... {typed}`")),
    )
}
