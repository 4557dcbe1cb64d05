//! `comma-glued`: a comma with no blank after it.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::syntax::Mistake;

/// The check.
pub const CHECK: Check = Check {
    name: "comma-glued",
    severity: Severity::Error,
    family: Family::Reading,
    brief: "a comma with no blank after it",
    why: "A comma and a blank separate the repeats of a reading, the conditions of it, and names in a list. A \
          comma without a blank looks like a decimal comma or a slip of the finger, so the line is not read rather \
          than guessed at.",
    wrong: "  left fuel 20 L  with driver 78 kg,bars off",
    right: "  left fuel 20 L  with driver 78 kg, bars off",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Syntax(Mistake::CommaGlued) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let apart = typed.split(',').collect::<Vec<_>>().join(", ");
    Some(
        CHECK
            .at(trouble.span, "A comma needs a blank after it.")
            .cure(format!("write `{}`", apart.trim_end())),
    )
}
