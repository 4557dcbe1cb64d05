//! `line-twice`: a line that counts something, twice under two heads of one car and day.

use crate::book::entry::{Entry, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use std::collections::{BTreeMap, BTreeSet};

/// The check.
pub const CHECK: Check = Check {
    name: "line-twice",
    severity: Severity::Warning,
    family: Family::Book,
    brief: "a line that counts something, twice under two heads of one car and day",
    why: "Hours, money, what was used up and what broke are added up. The same line under two heads of one car and one day is most \
          often one evening that two people typed, or a merge that kept both: then it is counted twice. Once for each two heads it is \
          asked about; a `waive` under the second line answers it.",
    wrong: "2026-05-11 heron\n  hours 2 h \"gearbox out\"\n2026-05-11 heron\n  hours 2 h \"gearbox out\"",
    right: "2026-05-11 heron\n  hours 2 h \"gearbox out\"\n2026-05-11 heron\n  hours 1 h \"gearbox in\"",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut first = BTreeMap::new();
    let mut told = BTreeSet::new();
    for (_, entry) in cx.book.entries.iter_enumerated().filter(|(_, entry)| counts(cx, entry)) {
        let Some(head) = cx.book.head(entry) else { continue };
        let said: Vec<&str> = cx.text(entry.span()).split_whitespace().collect();
        let key = (head.date, head.car, said.join(" ").to_lowercase());
        let Some(before) = first.get(&key).copied() else {
            first.insert(key, entry);
            continue;
        };
        let other: &Entry = before;
        if other.head == entry.head || !told.insert((other.head, entry.head)) {
            continue;
        }
        out.push(
            CHECK
                .at(entry.span(), "The same line stands under another head of this day, and both are counted.")
                .and(other.span(), "counted here")
                .cure("take one of the two out; if both are so, say what differs in words"),
        );
    }
}

/// Whether a line adds to a sum. What has an invoice is held to that.
fn counts(cx: &Context<'_>, entry: &Entry) -> bool {
    let verb = matches!(
        entry.verb,
        Verb::Hours | Verb::Cost | Verb::Credit | Verb::Paid | Verb::Use | Verb::Buy | Verb::Failed
    );
    let extra = cx.book.extra(entry);
    let billed = extra.is_some_and(|extra| {
        extra.costs.as_ref().is_some_and(|facts| facts.invoice.is_some())
            || extra.parts.as_ref().is_some_and(|facts| facts.invoice.is_some())
    });
    verb && !entry.broken && !entry.withheld && !billed
}
