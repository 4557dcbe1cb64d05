//! `formula-unreadable`: a formula that cannot be read.

use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::syntax::formula::FormulaMistake;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "formula-unreadable",
    severity: Severity::Error,
    family: Family::Formulas,
    brief: "a formula that cannot be read",
    why: "A formula is numbers with their units, names, `+ - * / ^`, parentheses and functions. Names may hold a minus, so a minus between two things stands between blanks. A figure whose formula cannot be read has no value anywhere.",
    wrong: "figure rake-now length car\n  is rear_h-front_h",
    right: "figure rake-now length car\n  is rear_h - front_h",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Figure(figure) = &trouble.what else { return None };
    let FigureTrouble::Unreadable(mistake) = figure else { return None };
    let typed = cx.text(trouble.span);
    let (message, cure) = match mistake {
        FormulaMistake::Empty => ("there is no formula here.".to_owned(), "write it after the word, such as `is c_r - c_l`"),
        FormulaMistake::Unexpected if typed.is_empty() => {
            ("the formula ends in the middle.".to_owned(), "write what is still to come")
        }
        FormulaMistake::Unexpected => {
            (format!("`{typed}` fits nothing here."), "between two values stands one of + - * / ^, and numbers have points, not commas")
        }
        FormulaMistake::Parenthesis => ("a parenthesis without the other one.".to_owned(), "write both, or neither"),
        FormulaMistake::MinusGlued => {
            ("this minus is stuck to a word, and names may hold one.".to_owned(), "put a blank on both sides of it")
        }
        FormulaMistake::Deep => ("parentheses this deep are not read.".to_owned(), "give a piece of it a figure of its own"),
        FormulaMistake::Comparison => {
            ("a comparison is wanted here and no formula, or a formula and no comparison.".to_owned(),
             "`when`, `must` and `careful` compare, such as `must share > 0`; `is` does not")
        }
    };
    Some(CHECK.at(trouble.span, words::capital(&message)).cure(cure))
}
