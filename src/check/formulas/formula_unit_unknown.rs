//! `formula-unit-unknown`: a number of a formula with a unit that is none, or that is several.

use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::figure::Clash;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "formula-unit-unknown",
    severity: Severity::Error,
    family: Family::Formulas,
    brief: "a number of a formula with a unit that is none, or that is several",
    why: "A number in a formula has its unit behind it, unless it is a plain number. The unit alone has to say what is meant, for nothing else does: `g` is a gram and an acceleration, so write `9.80665 m/s2`; `min` is time and angle, so write `60 s`. Between a number and a name stands a `*`.",
    wrong: "figure braking acceleration car\n  is 1 g * share",
    right: "figure braking acceleration car\n  is 9.80665 m/s2 * share",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Figure(figure) = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    match figure {
        FigureTrouble::Clash(Clash::NoUnit(_)) => Some(
            CHECK
                .at(trouble.span, format!("`{typed}` is no unit."))
                .cure("correct it; between a number and a name stands a `*`, and blanks stand around `/`"),
        ),
        FigureTrouble::Clash(Clash::Ambiguous(_, units)) => {
            let kinds: Vec<String> =
                units.iter().map(|unit| words::a(&unit.get().kind.name().replace('-', " "))).collect();
            Some(
                CHECK
                    .at(trouble.span, format!("`{typed}` can be {}; which?", words::or(&kinds)))
                    .cure("write it in a unit that is only one of them"),
            )
        }
        _ => None,
    }
}
