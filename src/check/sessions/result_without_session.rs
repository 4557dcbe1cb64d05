//! `result-without-session`: a finish where the car ran no session.

use crate::book::entry::Verb;
use crate::book::model::{CarId, EventId};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// The check.
pub const CHECK: Check = Check {
    name: "result-without-session",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a finish where the car ran no session",
    why: "The line says how the car came in, and the book has no session of it at that event (outside events: on that day). The sessions were not \
          typed, so that no part has their hours, or the result is another car's.",
    wrong: "2025-05-10 heron at pell-1\n  result finish 3",
    right: "2025-05-10 heron at pell-1\n  10:00..10:20 run race\n  result race finish 3",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut said = BTreeSet::new();
    // Of each session its event, and its dates.
    let mut ran: Option<BTreeSet<Result<EventId, Date>>> = None;
    for (_, index) in cx.history.order.lines_of(cx.book, car) {
        let line = cx.entry(index);
        let Some(facts) = cx.book.extra(line).and_then(|extra| extra.result.as_deref()) else { continue };
        let Some(head) = cx.book.head(line).filter(|_| line.verb == Verb::Result && !line.broken) else { continue };
        let came_in = facts.finish.is_some() || facts.class.is_some() || facts.laps_down.is_some();
        if !came_in || line.run().is_some() {
            continue;
        }
        let ran = ran.get_or_insert_with(|| {
            let sessions = cx.history.sessions.of(car);
            let where_and_when = sessions.flat_map(|(_, session)| {
                [session.event.ok_or(session.date), Err(session.date), Err(session.last)]
            });
            where_and_when.collect()
        });
        let there = head.event.ok_or(head.date);
        // One message for an event.
        if ran.contains(&there) || !said.insert(there) {
            continue;
        }
        let event = head.event.and_then(|event| cx.book.events.get(event));
        let there = event.map_or_else(|| "that day".to_owned(), |event| format!("at {}", event.named.typed));
        out.push(
            CHECK
                .at(line.span(), format!("{} came in, and ran no session {there}.", cx.car(car)))
                .cure("write the `run` line of the session that this is the result of"),
        );
    }
}
