//! `unit-ambiguous`: a unit that is two units under one name.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "unit-ambiguous",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a unit that is two units under one name",
    why: "Some names belong to two units of the same kind: a US gallon is 3.785 L and a UK gallon 4.546 L, a fifth \
          more. Where the word alone cannot tell, the language asks rather than guesses.",
    wrong: "  fill fuel 6 gal",
    right: "  fill fuel 6 US-gal",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::UnitAmbiguous(units) = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let units: Vec<&str> = units.iter().map(|unit| unit.get().symbol).collect();
    Some(
        CHECK
            .at(trouble.span, format!("{typed} can be {}; which?", words::or(&units)))
            .cure(format!("write {}", words::or(&units))),
    )
}
