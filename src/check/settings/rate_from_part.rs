//! `rate-from-part`: a rate set or read of a corner where the part that has it is fitted.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "rate-from-part",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "a value is set or read where the part that gives it is fitted",
    why: "A kind that `gives` a quantity brings its own: the rate is that of the spring by serial, measured or tagged. A \
          `set` or a `read` beside it would leave the book with two rates for one corner. If another spring went on, say which: `swap`; \
          what was read of this one is its own, wherever it is: `bench`.",
    wrong: "  fit sp-1 LF\n  set spring-rate LF 80 N/mm",
    right: "  fit sp-1 LF\n  swap spring LF sp-1 -> sp-3",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::RateFromPart { entry, item, part } = *problem else { return None };
    let quantity = cx.entry(entry).quantity?;
    let place = cx.item(item).place;
    let (slot, kind, on) = (cx.slot(quantity, place), cx.kind_of(part), cx.part(part));
    let rank = cx.rank(entry);
    let since = cx.history.parts.get(part).at(rank).map(|stay| stay.entry);
    let read = cx.entry(entry).verb.is_reading();
    let (how, cure) = if read {
        let name = &cx.book.vocabulary.get(quantity).name;
        ("what is read of it is said of the part", format!("write `bench {on} {name} ...`"))
    } else {
        ("it is not set by hand", format!("write `swap {kind} {} {on} -> ...` if another went on", cx.place(place)))
    };
    let mut message =
        CHECK.at(cx.item_span(entry, item), format!("{slot} comes from the {kind} fitted there, {on}; {how}.")).cure(cure);
    if let Some(since) = since {
        message = message.and(cx.entry(since).span(), format!("{on} went on here"));
    }
    Some(message)
}
