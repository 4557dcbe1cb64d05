//! `figure-circle`: figures that would need themselves.

use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "figure-circle",
    severity: Severity::Error,
    family: Family::Formulas,
    brief: "figures that would need themselves",
    why: "A figure may take other figures. Where those take it again, none of them could ever be worked out. Take one of them as it was typed, with `read`, `set` or `typed` before its name.",
    wrong: "figure a-part ratio car\n  is x / 2\n  x = b-part\nfigure b-part ratio car\n  is y * 2\n  y = a-part",
    right: "figure a-part ratio car\n  is x / 2\n  x = front-weight\nfigure b-part ratio car\n  is y * 2\n  y = a-part",
    look: Look::Trouble(words),
};

fn words(_: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Figure(figure) = &trouble.what else { return None };
    if matches!(figure, FigureTrouble::Deep) {
        return Some(
            CHECK
                .at(trouble.span, "More than 40 figures stand behind one another here.")
                .cure("say more of it in one formula"),
        );
    }
    let FigureTrouble::Circle(names) = figure else { return None };
    let around: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    Some(
        CHECK
            .at(trouble.span, format!("Figures in a circle: {}.", around.join(" takes ")))
            .cure("take one of them as it was typed, with `read` before its name"),
    )
}
