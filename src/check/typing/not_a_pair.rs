//! `not-a-pair`: one number where a quantity has two or three.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};


/// The check.
pub const CHECK: Check = Check {
    name: "not-a-pair",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "one number where a quantity has two or three",
    why: "Some quantities are two numbers or three with a slash between: the teeth of a final drive, the \
          temperatures outside, in the middle and inside of a tyre. One number alone leaves out which it is.",
    wrong: "  read tyre-temp LF 81 C",
    right: "  read tyre-temp LF 81/86/79 C",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NotAPair(id, wanted) = trouble.what else { return None };
    let name = &cx.quantity(id).name;
    let (count, all, example) = if wanted == 2 { ("two", "both", "41/11") } else { ("three", "all three", "81/86/79") };
    Some(
        CHECK
            .at(trouble.span, format!("{name} has {count} numbers with slashes between, such as {example}."))
            .cure(format!("write {all}, without blanks: {example}")),
    )
}
