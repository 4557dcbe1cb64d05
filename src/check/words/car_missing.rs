//! `car-missing`: a line about a car under a date that names none.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;

/// The check.
pub const CHECK: Check = Check {
    name: "car-missing",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a line about a car under a date that names none",
    why: "A date without a car heads shop work: bench days, parts off the car. Settings, sessions and impacts \
          belong to a car, and it cannot be guessed which one stood on the plate that day.",
    wrong: "2025-05-03\n  set fuel 20 L",
    right: "2025-05-03 heron\n  set fuel 20 L",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NoCar(verb) = trouble.what else { return None };
    let head = cx.book.heads.iter().find(|head| {
        head.span.file == trouble.span.file
            && head.lines().any(|entry| {
                let span = cx.entry(entry).span();
                span.start <= trouble.span.start && trouble.span.end <= span.end
            })
    });
    let at = phrase::word_of(cx.text(trouble.span), trouble.span, 0);
    let message = CHECK.at(at, format!("`{verb}` is about a car, and the date above names none."));
    let message = match head {
        Some(head) => message.and(head.span, "no car here"),
        None => message,
    };
    let car = cx.book.cars.first().map_or("CAR", |car| &car.named.typed);
    let date = head.map_or_else(|| "2026-04-18".to_owned(), |head| head.date.to_string());
    Some(message.cure(format!("write the car after the date: `{date} {car}`")))
}
