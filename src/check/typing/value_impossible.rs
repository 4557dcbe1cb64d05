//! `value-impossible`: a value that cannot be.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::{table, units_for};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "value-impossible",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a value that cannot be",
    why: "Outside what is possible a number is a slip of the finger or a wrong unit: a leak-down over 100 %, a \
          tyre at 18 bar. The line is not used, so that no figure is made from it. The limits are wide; a merely \
          unusual value is asked about, not refused.",
    wrong: "  read leakdown 6 105 7 5 %",
    right: "  read leakdown 6 10.5 7 5 %",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ValueImpossible(id) = trouble.what else { return None };
    let quantity = cx.quantity(id);
    let typed = cx.text(trouble.span);
    let (low, high) = quantity.possible?;
    let unit = quantity.show[0].or_else(|| {
        units_for(quantity.dimension).first().and_then(|unit| table().find_one(unit, quantity.dimension))
    });
    let unit = unit.unwrap_or_else(|| table().plain()).get();
    let (low, high) = (unit.from_si(low), unit.from_si(high));
    Some(
        CHECK
            .at(
                trouble.span,
                format!(
                    "{typed} cannot be: {} runs from {} to {} {}.",
                    quantity.name,
                    words::amount(low.min(high), 3),
                    words::amount(low.max(high), 3),
                    unit.shown()
                )
                .replace(" .", "."),
            )
            .cure("correct the number or its unit; `-` if it was not read"),
    )
}
