//! `driver-in-two-cars`: one driver in two cars at once.

use crate::book::model::PersonId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Zones;
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

/// A drive: by whom, in which session, from when until when.
struct Drive<'a> {
    driver: PersonId,
    session: &'a Session,
    start: i32,
    end: i32,
}

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut timed: Vec<Drive<'_>> = Vec::new();
    for (id, session) in cx.history.sessions.all.iter_enumerated() {
        for (line, driver, _) in cx.history.sessions.drives(id) {
            let Some((driver, (start, end))) = driver.zip(cx.history.sessions.drove(&cx.history.order, id, line)) else { continue };
            timed.push(Drive { driver, session, start, end });
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
    let (_, at) = Zones::new(cx.book).of(session.event).civil(drive.start);
    let at = words::clock(at as i16);
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
