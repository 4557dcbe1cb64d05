//! `promise-to-whom`: a promise to a client whose car it is not, or to nobody the book knows.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Rank;
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "promise-to-whom",
    severity: Severity::Warning,
    family: Family::Jobs,
    brief: "a promise to a client whose car it is not, or to nobody the book knows",
    why: "A promise is shown to the client it was given to. Given to another than the car's own, the name is usually a \
          slip; where neither the line nor the car names a client, nobody can be told.",
    wrong: "car heron \"Heron\"  client orr\n...\n  promise j-2 to varga until 2026-06-26",
    right: "car heron \"Heron\"  client orr\n...\n  promise j-2 to orr until 2026-06-26",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::PromiseToWhom { entry, job, client } = *problem else { return None };
    let of_car = cx.history.jobs.get(job).car;
    let car = of_car.and_then(|car| cx.book.cars.get(car));
    let made = cx.history.order.rank.get(entry).copied().unwrap_or(Rank::END);
    let owner = of_car.and_then(|car| cx.history.parts.owner(cx.book, car, made));
    let message = match (client, owner) {
        (Some(client), Some(owner)) => format!(
            "{} is promised to {}; {} is the car of {}.",
            cx.job_words(job),
            cx.client(client),
            car.map_or("it", |car| &car.named.typed),
            cx.client(owner)
        ),
        _ => format!("{} is promised, and the book does not say to whom.", cx.job_words(job)),
    };
    let cure = match (owner.and_then(|owner| cx.book.clients.get(owner)), car) {
        (Some(owner), _) => format!("write `to {}`, or leave it out", owner.named.typed),
        (None, Some(car)) => format!("give {} its `client`, or write `to` and the client", car.named.typed),
        (None, None) => "write `to` and the client".to_owned(),
    };
    Some(CHECK.at(told::until_span(cx, entry), message).cure(cure))
}
