//! `toe-underspecified`: a toe that does not say in or out, each or total, or over what length.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "toe-underspecified",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a toe that does not say in or out, each or total, or over what length",
    why: "3/32 of toe can be total or per wheel, in or out, at the rim or at a plate; the readings differ by a \
          factor of two and a sign. `toe-in` and `toe-out` say the direction, `each` or `total` the share, and \
          `over` the length it was measured at (or the car's own `toe-over`). A toe in degrees needs no length.",
    wrong: "  left toe front 3/32 in",
    right: "  left toe-out front 3/32 in total over 20 in",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ToeUnderspecified { direction, share, over } = trouble.what else { return None };
    let mut asks = Vec::new();
    let mut cures = Vec::new();
    if share {
        asks.push("total or each wheel");
        cures.push("`total` or `each` after the unit");
    }
    if direction {
        asks.push("in or out");
        cures.push("`toe-in` or `toe-out` in place of `toe`");
    }
    if over {
        asks.push("over what length");
        cures.push("`over 400 mm` (where it was measured) at the end, or `toe-over` once for the car");
    }
    let mut question = asks.join(", ");
    if let Some(first) = question.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    Some(
        CHECK
            .at(trouble.span, format!("{question}? Toe as {} does not say.", cx.text(trouble.span)).replace("Toe as  ", "The toe "))
            .cure(format!("write {}", cures.join("; "))),
    )
}
