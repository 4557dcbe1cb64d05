//! `name-unknown`: a name that nobody declared.

use crate::book::alike::{difference, skeleton};
use crate::book::declare::can_name;
use crate::book::entry::{Head, HeadId, Run, Verb};
use crate::book::names::same;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;
use crate::units::DimensionId;
use crate::words::did_you_mean;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "name-unknown",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a name that nobody declared",
    why: "Cars, people, gauges, events, circuits, clients, kinds and specs are declared once, so that a slip of \
          the finger cannot make a second one that shares the first one's history. The nearest declared name is \
          offered; one message stands for every use of the same wrong name.",
    wrong: "2025-05-03 herron",
    right: "2025-05-03 heron",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NameUnknown { wanted, near } = &trouble.what else { return None };
    if *wanted == "part" {
        return None;
    }
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("No {wanted} is called `{typed}`."));
    let message = match may_be_of(cx, trouble).filter(|_| *wanted == "car") {
        Some(cars) => message.here(format!("until this is mended, what {cars} ran is \"at least\"")),
        None => message,
    };
    Some(match (near, *wanted) {
        (Some(near), _) if skeleton(typed) == skeleton(near) && difference(typed, near).is_some() => message
            .cure(format!("`{near}` only looks like it ({})", difference(typed, near).unwrap_or_default())),
        (Some(near), _) => message.cure(did_you_mean(near)),
        (None, "dimension") => message.cure(format!("it is one of {}", dimensions())),
        (None, "session") if let Some(car) = whose(cx, trouble.span) => {
            message.cure(format!("the {typed} of that day is {car}'s: put the line under its head"))
        }
        (None, what) if what != "session" && !can_name(what, typed) => {
            message.cure(format!("write the name of {} as it is declared", words::a(what)))
        }
        (None, "session") => message.cure("write the label as it stands after `run`"),
        (None, "job") => message.cure(format!("open it, on its day: `job {typed} \"what is to be done\"`")),
        (None, "spec") => {
            message.cure(format!("declare it, at the margin: `spec {typed} of KIND \"what it is\"`"))
        }
        (None, "kind of part") => message.cure(format!("declare it, at the margin: `kind {typed} \"what it is\"`")),
        (None, "gauge or person") => message.cure(format!(
            "declare it, at the margin: `gauge {typed} \"what it is\"` or `person {typed} \"Full Name\"`"
        )),
        (None, "event") => message.cure(format!(
            "declare it, at the margin: `event {typed} 2026-04-18..19 at CIRCUIT \"what it is\"`"
        )),
        (None, _) => message.cure(format!("declare it, at the margin: `{wanted} {typed} \"what it is\"`")),
    })
}

/// The cars that the block of a head with a mistake may be about.
fn may_be_of(cx: &Context<'_>, trouble: &Trouble) -> Option<String> {
    let heads = &cx.book.heads;
    let start = |head: &Head| (head.span.file, head.span.start);
    let next = heads.partition_point(|head| start(head) <= (trouble.span.file, trouble.span.start));
    let id = HeadId::from(next.index().checked_sub(1)?);
    let head = heads.get(id).filter(|head| head.span.end >= trouble.span.end && head.span.file == trouble.span.file)?;
    let cars = cx.book.may_be_of(id);
    let ran = head.lines().any(|line| cx.entry(line).verb == Verb::Run);
    let told = if cars.len() == cx.book.cars.len() && cars.len() > 2 {
        "every car".to_owned()
    } else {
        words::or(&cars.iter().map(|car| cx.car(*car)).collect::<Vec<_>>())
    };
    (ran && !cars.is_empty()).then_some(told)
}

/// The other car that ran a session of that label on the day of the line.
fn whose<'a>(cx: &Context<'a>, at: Span) -> Option<&'a str> {
    let label = cx.text(at);
    let inside = |head: &&Head| head.span.file == at.file && head.span.start < at.start;
    let head = cx.book.heads.iter().filter(inside).max_by_key(|head| head.span.start)?;
    let other = |run: &Run| {
        let there = cx.book.head(cx.entry(run.entry))?;
        let named = there.date == head.date && there.car != head.car && same(cx.text(run.label), label);
        there.car.filter(|_| named)
    };
    cx.book.runs.iter().find_map(other).map(|car| cx.car(car))
}

fn dimensions() -> String {
    words::or(&DimensionId::all().map(DimensionId::name).collect::<Vec<_>>())
}
