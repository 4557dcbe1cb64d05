//! `local-name-reserved`: a name of a formula that means something in the language.

use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::entry::Verb;
use crate::book::figure::Function;
use crate::book::place::Place;
use crate::units::table;

/// The check.
pub const CHECK: Check = Check {
    name: "local-name-reserved",
    severity: Severity::Error,
    family: Family::Formulas,
    brief: "a name of a formula that means something in the language",
    why: "Names of a formula may be no verb, place, unit or function of the language: in `2 g` nobody could tell a gram from a name, and a line that begins with `set` says what was set.",
    wrong: "figure lean ratio car\n  is run / left\n  left = wheelbase",
    right: "figure lean ratio car\n  is run_l / left_l\n  left_l = wheelbase",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Figure(figure) = &trouble.what else { return None };
    let FigureTrouble::LocalReserved = figure else { return None };
    let typed = cx.text(trouble.span);
    let lower = typed.to_lowercase();
    let is = if Place::parse(typed).is_some() {
        "a place on a car"
    } else if Verb::ALL.iter().any(|verb| verb.word() == lower) {
        "a verb"
    } else if Function::find(&lower).is_some() {
        "a function"
    } else if table().knows(typed) || table().knows(&lower) {
        "a unit"
    } else {
        "a word of the language"
    };
    Some(
        CHECK
            .at(trouble.span, format!("`{typed}` is {is} and cannot be a name of a formula."))
            .cure(format!("choose another, such as `{typed}_1`")),
    )
}
