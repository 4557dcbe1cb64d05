//! `delta-from-unknown`: a change of something whose value is not known.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "delta-from-unknown",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "a change of something whose value is not known",
    why: "`adjust` says by how much, so the book must know from where. Without a base every later value of that place would \
          be a guess. Give one absolute value first. (A quantity declared `relative`, such as the perch, needs none: it \
          counts from where it stood when the book began.)",
    wrong: "  adjust brake-bias -1 %",
    right: "  set brake-bias 62 %\n  adjust brake-bias -1 %",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::DeltaFromUnknown { entry, item, weighed } = *problem else { return None };
    let quantity = cx.entry(entry).quantity?;
    let slot = cx.slot(quantity, cx.item(item).place);
    let name = &cx.quantity(quantity).name;
    if let Some(pads) = weighed {
        return Some(
            CHECK
                .at(cx.item_span(entry, item), format!("The pads were read since {slot} was stated: what they say is what it was."))
                .and(cx.entry(pads).span(), "read here")
                .cure(format!("say what it should come to, `set {name} ...`; `stringline trace` has what the pads say")),
        );
    }
    Some(
        CHECK
            .at(
                cx.item_span(entry, item),
                format!("No base for {slot}: the book does not know what it was, so not what it is now."),
            )
            .here("changed from what?")
            .cure(format!("give one absolute value first: `set {name} ...`")),
    )
}
