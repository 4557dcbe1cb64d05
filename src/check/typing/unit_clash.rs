//! `unit-clash`: two units on one number.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;
use crate::source::Span;
use crate::units::number::format;
use crate::units::{DimensionId, Number, table};

/// The check.
pub const CHECK: Check = Check {
    name: "unit-clash",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "two units on one number",
    why: "A unit covers the numbers before it, back to the unit before. A second one straight after it contradicts \
          the first, and the two readings can be far apart: 26 psi is a tyre, 26 bar is a fire extinguisher.",
    wrong: "  set tyre-cold front 1.8 psi bar",
    right: "  set tyre-cold front 1.8 bar",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::UnitTwice { number } = trouble.what else { return None };
    let second = cx.text(trouble.span);
    let digits = cx.text(number);
    let between = Span::new(number.file, number.end, trouble.span.start.max(number.end));
    let first_at = phrase::word_of(cx.text(between), between, 0);
    let first = cx.text(first_at).trim();
    if first.is_empty() || first == "," {
        return Some(
            CHECK
                .at(trouble.span, format!("`{second}` follows no number of its own."))
                .cure("a unit covers the numbers before it; write it once, after the last of them"),
        );
    }
    let message = CHECK
        .at(trouble.span, format!("The line says {first} and {second} for {digits}; which?{}", same(digits, first, second)))
        .and(first_at, "the first unit");
    Some(message.cure(format!("write `{digits} {first}` or `{digits} {second}`")))
}

/// " 1.8 bar is 26.1 psi.", when both are units of one kind.
fn same(digits: &str, first: &str, second: &str) -> String {
    let both = DimensionId::all()
        .find_map(|kind| Some((table().find_one(first, kind)?.get(), table().find_one(second, kind)?.get())));
    match (both, Number::parse(digits)) {
        (Some((to, from)), Ok(number)) if to != from => {
            let value = format(to.from_si(from.to_si(number.value)), number.decimals.max(1));
            format!(" {digits} {second} is {value} {first}.")
        }
        _ => String::new(),
    }
}
