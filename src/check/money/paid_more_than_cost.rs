//! `paid-more-than-cost`: more was paid on a job that is done than it cost whoever paid.

use crate::book::model::{ClientId, JobId};
use crate::check::{Check, Context, Family, Look};
use crate::costs::payment::Payment;
use crate::diagnostics::{Diagnostic, Severity};
use crate::money::Total;
use std::collections::BTreeMap;

/// The check.
pub const CHECK: Check = Check {
    name: "paid-more-than-cost",
    severity: Severity::Warning,
    family: Family::Money,
    brief: "more was paid on a job that is done than it cost whoever paid",
    why: "Before a job is done a client may have paid ahead. Once it is done, what he paid beyond its cost belongs to another job, \
          goes back to him, or hours and parts of the job were not written.",
    wrong: "  cost 80.00 EUR parts on j-7\n  done j-7\n  paid orr 120.00 EUR on j-7",
    right: "  cost 80.00 EUR parts on j-7\n  done j-7\n  paid orr 80.00 EUR on j-7",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut paid: BTreeMap<(JobId, ClientId), Vec<&Payment>> = BTreeMap::new();
    for payment in &cx.costs.payments {
        if let (Some(job), Some(client)) = (payment.job, payment.client) {
            paid.entry((job, client)).or_default().push(payment);
        }
    }
    for ((job, client), payments) in paid {
        out.extend(beyond(cx, job, client, &payments));
    }
}

fn beyond(cx: &Context<'_>, job: JobId, client: ClientId, payments: &[&Payment]) -> Option<Diagnostic> {
    let closed = cx.history.jobs.get(job).closed()?;
    let (mut cost, mut paid) = (Total::default(), Total::default());
    let postings = cx.costs.of_job.get(job.index()).into_iter().flatten();
    for posting in postings.filter_map(|at| cx.costs.postings.get(*at)) {
        if posting.client == Some(client) {
            posting.add_to(&mut cost);
        }
    }
    for payment in payments {
        paid.add(payment.amount?);
    }
    // Nobody can say that it is too much while a sum of the job is not known.
    if cost.at_least {
        return None;
    }
    let over = paid.sums().iter().find(|sum| sum.value > cost.of(sum.currency).value)?;
    let last = payments.iter().rev().find(|payment| payment.amount.is_some_and(|sum| sum.currency == over.currency))?;
    let name = cx.book.jobs.get(job).map_or("?", |job| &job.named.typed);
    let cost = cost.of(over.currency);
    Some(
        CHECK
            .at(cx.entry(last.entry).span(), format!("{over} was paid on {name}, which is done and cost {cost}."))
            .and(cx.entry(closed.entry).span(), "done here")
            .cure("name the job it belongs to, or write what was paid back: `paid ... back`"),
    )
}
