//! `dimensions-clash`: dimensions that do not go together in a formula.

use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::figure::Clash;
use crate::units::DimensionId;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "dimensions-clash",
    severity: Severity::Error,
    family: Family::Formulas,
    brief: "dimensions that do not go together in a formula",
    why: "A stiffness and a weight do not add up, a sine is of an angle, and what a formula gives is what its figure was declared to be. Dimensions are checked as the line is read, so that no number comes out that means nothing. Factors between units are written with their units, such as `1 km / c` or `9.80665 m/s2 * m`.",
    wrong: "figure load weight corner\n  is k + w",
    right: "figure load weight corner\n  is k * x + w",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Figure(figure) = &trouble.what else { return None };
    let FigureTrouble::Clash(clash) = figure else { return None };
    let typed = cx.text(trouble.span);
    Some(match clash {
        Clash::Apart { does: does @ "stands in for", first, second } => CHECK
            .at(second.0, format!("`{}` is {}, and {does} {}.", cx.text(second.0), second.1, first.1))
            .and(first.0, format!("this is {}", first.1))
            .cure("a name is of one kind, whatever it is from: bring it to that, with its unit"),
        Clash::Apart { does, first, second } => CHECK
            .at(second.0, format!("This {does} {} and {}.", first.1, second.1))
            .and(first.0, format!("`{}` is {}", cx.text(first.0), first.1))
            .cure("multiply or divide by what brings them together, with its unit"),
        Clash::Wants { wants, is, .. } => {
            CHECK.at(trouble.span, format!("Wanted is {wants}; `{typed}` is {is}.")).cure("bring it to that first")
        }
        Clash::Gives(_, gives, wanted) => CHECK
            .at(trouble.span, format!("This gives {gives}, and the figure is declared as {}.", words::a(&wanted.name().replace('-', " "))))
            .cure("mend the formula, or the figure's dimension"),
        Clash::Scale(_, wanted) if *wanted == DimensionId::TEMPERATURE => CHECK
            .at(trouble.span, "This gives a difference of temperatures, not a temperature.")
            .cure("declare the figure as `temperature-difference`"),
        Clash::Scale(..) => CHECK
            .at(trouble.span, "This gives a temperature, or a sum of them, not a difference of temperatures.")
            .cure("take one temperature from another, or declare the figure as `temperature`"),
        _ => return None,
    })
}
