//! `because-empty`: `because` with no reason after it.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "because-empty",
    severity: Severity::Error,
    family: Family::Words,
    brief: "`because` with no reason after it",
    why: "The reason is what makes an old line worth reading: in eighteen months the number alone will not say \
          whether the change was a cure, a try or a mistake. `because` takes the rest of the line; with nothing \
          after it, it was left for later.",
    wrong: "  set rake 12 mm because",
    right: "  set rake 12 mm because it would not turn in",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::BecauseEmpty = trouble.what else { return None };
    Some(
        CHECK
            .at(trouble.span, "Because of what? Nothing follows `because`.")
            .cure("write the reason after it, or take `because` out"),
    )
}
