//! `name-of-other-sort`: a name of one sort of thing where another is wanted.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "name-of-other-sort",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a name of one sort of thing where another is wanted",
    why: "Every name belongs to one sort of thing, and a line wants a particular sort at each place: a car at the \
          head, a gauge or a person after `by`, a circuit after an event's `at`. The name is known, but the thing \
          it names cannot stand here.",
    wrong: "2025-05-03 heron at pell-hill",
    right: "2025-05-03 heron at pell-1",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NameWrongSort { wanted, is, declared } = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let at = phrase::word_of(cx.text(declared), declared, 1);
    let circuit = wanted == "event" && is == "circuit";
    let event = cx.book.events.iter().find(|event| {
        circuit && event.circuit.is_some_and(|id| cx.book.circuits[id].named.name.eq_ignore_ascii_case(typed))
    });
    let message = CHECK
        .at(trouble.span, format!("`{typed}` is {}; {} is wanted here.", words::a(is), words::a(wanted)))
        .and(at, "declared here");
    Some(match event {
        Some(event) => message.cure(format!("name the event, such as `{}`", event.named.typed)),
        None => message.cure(format!("put the name of {} here", words::a(wanted))),
    })
}
