//! `declaration-unknown`: a line at the margin whose first word declares nothing.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::declare::DECLARATIONS;
use crate::words::did_you_mean;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "declaration-unknown",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a line at the margin whose first word declares nothing",
    why: "What starts at the margin with a word declares something: a car, a part, an event and so on. A verb at \
          the margin has lost its indent, so it belongs to no day. Either way nobody can tell what the line was \
          meant to say.",
    wrong: "carr heron \"Heron\"",
    right: "car heron \"Heron\"",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::DeclarationUnknown { near, verb } = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    if *verb {
        return Some(
            CHECK
                .at(trouble.span, format!("`{typed}` says what was done on a day, so it cannot start at the margin."))
                .cure("indent the line under its date"),
        );
    }
    let message = CHECK.at(trouble.span, format!("`{typed}` declares nothing."));
    Some(match near {
        Some(near) => message.cure(did_you_mean(near)),
        None => message.cure(format!(
            "indent it if it belongs to the lines above; a declaration is {}",
            words::or(&DECLARATIONS)
        )),
    })
}
