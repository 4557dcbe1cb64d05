//! `property-unknown`: a property that a declaration does not have.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::declare::names_of;
use crate::words::did_you_mean;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "property-unknown",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a property that a declaration does not have",
    why: "A declaration takes a few properties by name. A word that is none of them would be lost, and with it the \
          life, the gauge's date or whatever it was meant to say. The words after it on that line are not read \
          either.",
    wrong: "kind coupling \"coupling\"  lives 300 min",
    right: "kind coupling \"coupling\"  life 300 min",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::PropertyUnknown { of, near } = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("{} has no property `{typed}`.", words::capital(&words::a(of))));
    let all = names_of(of);
    Some(match near {
        Some(near) => message.cure(did_you_mean(near)),
        None if all.is_empty() => message.cure("it takes a name and a title in quotes, nothing more"),
        None if *of == "car" => {
            message.cure(format!("it has {}, and any quantity with its opening value", all.join(", ")))
        }
        None => message.cure(format!("it has {}; free words go in quotes", words::and(all))),
    })
}
