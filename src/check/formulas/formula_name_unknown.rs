//! `formula-name-unknown`: a name in a figure that stands for nothing.

use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::figure::{Clash, Function};
use crate::book::names::nearest;
use crate::words::did_you_mean;
use crate::vocabulary::Form;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "formula-name-unknown",
    severity: Severity::Error,
    family: Family::Formulas,
    brief: "a name in a figure that stands for nothing",
    why: "Every name of a formula has a line that says what it is: a quantity or figure at a place, a condition of a reading, a number with its unit. A name without one has no value, nor has one that stands for a quantity nobody declared, for words, or a function that is none.",
    wrong: "figure stagger length axle\n  is c_r - c_l\n  c_r = tyre-circumference right",
    right: "figure stagger length axle\n  is c_r - c_l\n  c_r = tyre-circumference right\n  c_l = tyre-circumference left",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Figure(figure) = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let (message, near, cure) = match figure {
        FigureTrouble::NameUnknown { near } => (
            format!("`{typed}` is no quantity and no figure."),
            near.clone(),
            "`stringline trace` lists the figures, grammar/vocabulary.sline the quantities".to_owned(),
        ),
        FigureTrouble::Clash(Clash::Unknown { name, near, .. }) => (
            format!("no line of this figure says what `{name}` is."),
            near.clone(),
            if name.contains('-') {
                "a minus between two names stands between blanks".to_owned()
            } else {
                format!("add a line, such as `{name} = wheelbase`")
            },
        ),
        FigureTrouble::NotANumber => (
            format!("the values of `{typed}` are words, not numbers."),
            None,
            "name a quantity with numbers".to_owned(),
        ),
        FigureTrouble::SeveralNumbers(id) => {
            let three = cx.quantity(*id).form == Form::Triple;
            (
                format!("`{typed}` has {} numbers at a place, and a formula takes one.", if three { "three" } else { "two" }),
                None,
                format!("say which: `first of {typed}`, `second of {typed}`{}", if three { " or `third of ...`" } else { "" }),
            )
        }
        FigureTrouble::Clash(Clash::NoFunction(_, word)) => (
            format!("`{word}` is no function."),
            nearest(word, Function::ALL.iter().map(|(_, name)| *name)),
            format!("there are {}", words::and(&Function::ALL.iter().map(|(_, name)| *name).collect::<Vec<_>>())),
        ),
        _ => return None,
    };
    let cure = near.map_or(cure, did_you_mean);
    Some(CHECK.at(trouble.span, words::capital(&message)).cure(cure))
}
