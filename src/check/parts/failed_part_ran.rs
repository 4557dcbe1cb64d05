//! `failed-part-ran`: a car ran on with a part that had failed.

use crate::history::order::Rank;
use crate::book::entry::{Verb, EntryId};
use crate::book::model::PartId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::parts::PartHistory;
use crate::history::sessions::Session;

/// The check.
pub const CHECK: Check = Check {
    name: "failed-part-ran",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a car ran on with a part that had failed",
    why: "The book says that the part failed, and before any line takes it off or puts it right, the car ran \
          again. Usually the `swap` or `remove` is missing or stands too late; if the car really ran on it, say so \
          with a waiver, because somebody will ask.",
    wrong: "  failed cp-1 during s1\n  11:10..11:30 run s2",
    right: "  failed cp-1 during s1\n  swap coupling LR cp-1 -> cp-2\n  11:10..11:30 run s2",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for (index, part) in cx.history.parts.all.iter_enumerated() {
        for failure in part.failures.iter().filter(|failure| cx.entry(**failure).verb == Verb::Failed) {
            if let Some(session) = ran_on(cx, part, *failure) {
                out.push(message(cx, index, *failure, session));
            }
        }
    }
}

/// The first session that the failed part's car ran while it was still where it had failed.
fn ran_on<'a>(cx: &Context<'a>, part: &PartHistory, failure: EntryId) -> Option<&'a Session> {
    let session = cx.history.during(cx.book, failure).and_then(|run| {
        let rank = cx.rank(run);
        let found = cx.history.sessions.between(cx.car_of(run)?, rank, rank.next());
        found.first().map(|id| cx.history.sessions.get(*id))
    });
    // What was found at a stop was known when the session went on.
    let at_stop = cx.entry(failure).parent.is_some_and(|above| cx.entry(above).verb == Verb::Stop);
    let after = session.filter(|_| !at_stop).map_or(Rank::START, |session| session.after);
    let from = cx.rank(failure).max(after);
    let mended = part.rebuilds.iter().map(|rebuild| rebuild.rank).find(|rank| *rank >= from);
    let at = part.at(from.next())?;
    let car = at.car?;
    let until = at.until.min(mended.unwrap_or(Rank::END));
    let session = *cx.history.sessions.legs_between(car, from, until).first()?;
    // After a mistake about where it is, nobody knows whether it was on.
    (!part.doubted(at.from, session.rank)).then_some(session)
}

fn message(cx: &Context<'_>, part: PartId, failure: EntryId, session: &Session) -> Diagnostic {
    let name = cx.part(part);
    CHECK
        .at(
            session.label,
            format!(
                "{} ran {} with {name} still on, which had failed ({}).",
                cx.car(session.car),
                told::session(cx, session),
                cx.when(failure, session.label)
            ),
        )
        .and(cx.entry(failure).span(), "failed here")
        .cure(format!("write where {name} came off, or was rebuilt, before this session"))
}
