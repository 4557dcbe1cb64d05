//! `old-value-differs`: the old value of a change is not what the book says.

use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Verb, ItemId};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "old-value-differs",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "the old value of a change is not what the book says",
    why: "`set ... OLD -> NEW` says what was on the car before. If that is neither what was asked last nor what was read \
          last, one of the two lines is wrong, and every setup since is in doubt. The new value stands, so the rest of the \
          season is not questioned again.",
    wrong: "  set spring-rate front 70 N/mm\n  set spring-rate front 75 -> 80 N/mm",
    right: "  set spring-rate front 70 N/mm\n  set spring-rate front 70 -> 80 N/mm",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::OldValueDiffers { entry, item, was, was_item, value } = *problem else { return None };
    let span = cx.item_span(entry, item);
    let typed = cx.typed(entry, cx.item(item));
    let quantity = cx.entry(entry).quantity.map_or_else(String::new, |id| cx.slot(id, cx.item(item).place));
    let Some(was) = was else {
        return Some(
            CHECK
                .at(span, format!("The car's declaration gives {quantity} another value; you wrote {typed} as the old one."))
                .cure("correct the old value, or write `?` if nobody knows"),
        );
    };
    let book = held(cx, was, was_item, value);
    let when = cx.when(was, span);
    Some(
        CHECK
            .at(
                span,
                format!(
                    "The book says {quantity} is {book} ({when}); you wrote {typed}. Which was on the car?"
                ),
            )
            .and(cx.entry(was).span(), format!("{book} here"))
            .cure("correct the old value, or write `?` if nobody knows"),
    )
}

/// The book's value in words; after an `adjust` that is the sum, not the change on its line.
fn held(cx: &Context<'_>, was: EntryId, item: ItemId, value: f64) -> String {
    let (entry, item) = (cx.entry(was), cx.item(item));
    if entry.verb == Verb::Adjust { cx.value_like(value, was, item) } else { cx.typed_from(was, item) }
}
