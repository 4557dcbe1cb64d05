//! `cost-unassigned`: money or hours that belong to nothing.

use crate::book::entry::{EntryId, Entry, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "cost-unassigned",
    severity: Severity::Warning,
    family: Family::Money,
    brief: "money or hours of no car, client, event or job",
    why: "Under a date without a car a cost belongs to nobody: it is in the shop's total, and in nobody's bill. A car in \
          the head, `at EVENT`, `to CLIENT`, `on JOB` or `split ... among CARS` says where it goes.",
    wrong: "2026-05-11\n  cost 46.00 EUR consumables \"rags, cleaner\"",
    right: "2026-05-11\n  cost 46.00 EUR consumables \"rags, cleaner\"  split equal among heron, wren",
    look: Look::Entry(&[Verb::Cost, Verb::Credit, Verb::Hours], look),
};

fn look(cx: &Context<'_>, _: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let Some(head) = cx.book.head(entry) else { return };
    let Some(extra) = cx.book.extra(entry) else { return };
    let Some(facts) = &extra.costs else { return };
    let owned = head.car.is_some()
        || head.car_unknown
        || head.event.is_some()
        || facts.event.is_some()
        || facts.client.is_some()
        || facts.split.is_some()
        || extra.job.is_some();
    if owned {
        return;
    }
    let what = match (facts.sum, facts.minutes) {
        (Some(sum), _) => sum.to_string(),
        (_, Some(minutes)) => format!("{} h", minutes.hours()),
        _ => "this".to_owned(),
    };
    out.push(
        CHECK
            .at(entry.span(), format!("To which car, client or event does {what} belong?"))
            .cure("put it under a head with its car, or end the line with `to CLIENT`, `at EVENT` or `split equal among CAR, CAR`"),
    );
}
