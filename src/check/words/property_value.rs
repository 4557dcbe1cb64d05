//! `property-value`: a property without the value it needs.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "property-value",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a property without the value it needs",
    why: "A property is a word and what belongs to it: `life 300 min`, `clicks 0..20`, `valid-until 2026-12-31`. \
          Without it, or with something else in its place, the property says nothing and the rest of that line is \
          not read.",
    wrong: "gauge cg-1 \"camber gauge\"  valid-until next spring",
    right: "gauge cg-1 \"camber gauge\"  valid-until 2026-04-30",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::PropertyValue { property, wants } = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let instead = if typed.is_empty() { String::new() } else { format!(", not `{typed}`") };
    Some(
        CHECK
            .at(trouble.span, format!("`{property}` wants {wants}{instead}."))
            .cure(format!("write `{property}` and then {wants}")),
    )
}
