//! `page-handed-twice`: one page went to one client twice on one day.

use crate::book::entry::{EntryId, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use std::collections::BTreeMap;

/// The check.
pub const CHECK: Check = Check {
    name: "page-handed-twice",
    severity: Severity::Error,
    family: Family::Book,
    brief: "one page registered twice for one client and day",
    why: "Of two lines about one page, client and day nobody can say which of them he has in his hand. Where the page was made anew that day and given \
          out again, the later fingerprint is the one that counts.",
    wrong: "2026-05-12 heron\n  handed now to orr 4f3a-91c2-07b1\n  handed now to orr 4f3a-91c2-07b1",
    right: "2026-05-12 heron\n  handed now to orr 4f3a-91c2-07b1",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut first: BTreeMap<_, EntryId> = BTreeMap::new();
    for (index, entry) in cx.book.entries.iter_enumerated() {
        if entry.verb != Verb::Handed || entry.broken {
            continue;
        }
        let Some(facts) = cx.book.extra(entry).and_then(|extra| extra.handed.as_deref()) else { continue };
        let Some(head) = cx.book.head(entry) else { continue };
        let car = head.car.filter(|_| facts.page.is_of_car());
        let key = (head.date, car, facts.page, facts.year, facts.event, facts.client);
        let Some(other) = first.get(&key) else {
            first.insert(key, index);
            continue;
        };
        out.push(
            CHECK
                .at(entry.span(), "that page went to that client on that day already.")
                .and(cx.entry(*other).span(), "the other")
                .cure("keep the line whose fingerprint stands on the page he has"),
        );
    }
}
