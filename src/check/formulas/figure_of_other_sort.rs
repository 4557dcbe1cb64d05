//! `figure-of-other-sort`: a quantity and a figure of one name that are not the same thing.

use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "figure-of-other-sort",
    severity: Severity::Error,
    family: Family::Formulas,
    brief: "a quantity and a figure of one name that are not the same thing",
    why: "What is read under a figure's name is that figure, read: it stands before what is worked out. So a quantity of that name has the same dimension and the same places; anything else needs a name of its own.",
    wrong: "quantity total-weight ratio car",
    right: "quantity total-share ratio car",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Figure(figure) = &trouble.what else { return None };
    let FigureTrouble::OtherSort { declared, dimension, wants } = figure else { return None };
    let typed = cx.text(trouble.span);
    let made = CHECK
        .at(trouble.span, format!("`{typed}` is also {}, and not the same thing.", words::a(&dimension.name().replace('-', " "))))
        .cure(format!("give one of them another name, or give both one dimension and the same places ({wants})"));
    Some(declared.map_or(made.clone(), |declared| made.and(declared, "the other")))
}
