//! `driver-in-two-cars`: one driver in two cars at once.

use crate::book::entry::EntryId;
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

/// A drive: by whom, in which session, from when until when, and its line.
struct Drive<'a> {
    driver: PersonId,
    session: &'a Session,
    start: i32,
    end: i32,
    line: EntryId,
}

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut timed: Vec<Drive<'_>> = Vec::new();
    for (id, session) in cx.history.sessions.all.iter_enumerated() {
        for (line, driver, _) in cx.history.sessions.drives(id) {
            let part = cx.history.sessions.parts(id).iter().find(|part| part.entry == line);
            let (start, end) = part.map_or((session.start, session.end), |part| (part.start, part.end));
            let told = end > start && cx.entry(line).clock.0 >= 0;
            timed.extend(driver.filter(|_| told).map(|driver| Drive { driver, session, start, end, line }));
        }
    }
    timed.sort_by_key(|drive| (drive.driver, drive.start, drive.session.rank));
    let mut last: Option<Drive<'_>> = None;
    for drive in timed {
        let before = last.as_ref().filter(|before| before.driver == drive.driver);
        if let Some(before) = before
            && before.session.car != drive.session.car
            && drive.start < before.end
        {
            out.push(message(cx, drive.driver, before.session, &drive));
        }
        if before.is_none_or(|before| drive.end >= before.end) {
            last = Some(drive);
        }
    }
}

fn message(cx: &Context<'_>, driver: PersonId, before: &Session, drive: &Drive<'_>) -> Diagnostic {
    let session = drive.session;
    let who = cx.book.people.get(driver).map_or("?", |person| person.named.title.as_str());
    let at = words::clock(cx.entry(drive.line).clock.0);
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
