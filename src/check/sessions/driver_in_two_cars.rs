//! `driver-in-two-cars`: one driver in two cars at once.

use crate::book::model::PersonId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::sessions::Session;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "driver-in-two-cars",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "one driver in two cars at once",
    why: "The same person is written as driving two cars in sessions that overlap. One of the names is wrong, or \
          one of the times. The words of a driver are worth as much as knowing whose they are.",
    wrong: "2025-05-10 heron\n  09:30..09:50 run s1  by ned\n2025-05-10 plover\n  09:40..10:00 run s1  by ned",
    right: "2025-05-10 heron\n  09:30..09:50 run s1  by ned\n2025-05-10 plover\n  09:50..10:10 run s1  by ned",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut timed: Vec<(PersonId, &Session)> = cx
        .history
        .sessions
        .all
        .iter()
        .filter(|session| session.end > session.start && cx.entry(session.entry).clock.0 >= 0)
        .filter_map(|session| session.driver.map(|driver| (driver, session)))
        .collect();
    timed.sort_by_key(|(driver, session)| (*driver, session.start, session.rank));
    let mut last: Option<(PersonId, &Session)> = None;
    for (driver, session) in timed {
        let before = last.filter(|(before, _)| *before == driver).map(|(_, before)| before);
        if let Some(before) = before
            && before.car != session.car
            && session.start < before.end
        {
            out.push(message(cx, driver, before, session));
        }
        if before.is_none_or(|before| session.end >= before.end) {
            last = Some((driver, session));
        }
    }
}

fn message(cx: &Context<'_>, driver: PersonId, before: &Session, session: &Session) -> Diagnostic {
    let who = cx.book.people.get(driver).map_or("?", |person| person.named.title.as_str());
    let at = words::clock(cx.entry(session.entry).clock.0);
    CHECK
        .at(
            session.label,
            format!(
                "{who} drives {} in {} and {} in {} at {at}.",
                cx.car(before.car),
                told::label(cx, before),
                cx.car(session.car),
                told::label(cx, session)
            ),
        )
        .and(before.label, "in the other car here")
        .cure("correct the driver or the times of one of them")
}
