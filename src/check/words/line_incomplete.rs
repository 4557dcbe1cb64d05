//! `line-incomplete`: a line that stops before it has said everything.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "line-incomplete",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a line that stops before it has said everything",
    why: "Each verb needs certain things: `swap` the part that comes off and the one that goes on, `scrap` the \
          reason, `hit` the place. A half-written line damages nothing around it, but it says nothing either until \
          it is finished.",
    wrong: "  scrap cp-04",
    right: "  scrap cp-04 because split",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Incomplete { verb, wants } = trouble.what else { return None };
    let reason = wants.starts_with("`because`");
    Some(
        CHECK
            .at(trouble.span, format!("`{verb}` wants {wants}."))
            .here(if cx.text(trouble.span).is_empty() { "missing here" } else { "" })
            .cure(if reason {
                "end the line with `because` and why".to_owned()
            } else {
                format!("write `{verb}` and then {wants}")
            }),
    )
}
