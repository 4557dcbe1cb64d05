//! `ends-before-start`: a session whose times cannot be told apart from a slip of the pen.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::{LONGEST_PAST_MIDNIGHT, Zones};
use crate::history::sessions::Session;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "ends-before-start",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a session whose times cannot be told apart from a slip of the pen",
    why: "An end earlier than its start means the next day, which is right for a night race. When that would make \
          the session longer than six hours, it is more likely a slip, so its minutes are left out until they are \
          typed. The same is asked when a clock change falls inside a session: the wall clock then says one thing \
          and the stopwatch another, so type the minutes.",
    wrong: "  09:35..08:55 run s1",
    right: "  09:35..09:55 run s1",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut zones = None;
    for (_, session) in cx.history.sessions.of(car) {
        let (from, to) = cx.entry(session.entry).clock;
        if from < 0 || to < 0 || from == to {
            continue;
        }
        let face = (i32::from(to) - i32::from(from)).rem_euclid(1440);
        let elapsed = session.end - session.start;
        let typed = cx.book.runs.get(session.run).and_then(|run| run.minutes);
        let backward = to < from && face > LONGEST_PAST_MIDNIGHT;
        if elapsed == face || typed.is_some() && !backward {
            continue;
        }
        // Only now is the zone worth asking: whether a clock change is what makes the times run backward.
        let zones = zones.get_or_insert_with(|| Zones::new(cx.book));
        let zone = zones.of(cx.book, session.event);
        let end = zone.instant(session.date, i32::from(to), Some(session.start + 1));
        let changed = end > session.start && end - session.start != face;
        if changed && typed.is_none() {
            out.push(change(cx, session, end - session.start));
        } else if !changed && backward {
            out.push(slip(cx, session, face));
        }
    }
}

fn slip(cx: &Context<'_>, session: &Session, face: i32) -> Diagnostic {
    let (from, to) = cx.entry(session.entry).clock;
    CHECK
        .at(
            session.label,
            format!(
                "{} starts at {} and ends at {}: that would be the next day, {} h {:02} min later.",
                told::label(cx, session),
                words::clock(from),
                words::clock(to),
                face / 60,
                face % 60
            ),
        )
        .cure("correct the times; if it really ran so long, type the minutes as well")
}

fn change(cx: &Context<'_>, session: &Session, elapsed: i32) -> Diagnostic {
    let (from, to) = cx.entry(session.entry).clock;
    let event = session.event.and_then(|event| cx.book.events.get(event));
    let zone = event.and_then(|event| event.zone.as_deref()).or(cx.book.shop.zone.as_deref()).unwrap_or("UTC");
    CHECK
        .at(
            session.label,
            format!(
                "The clocks change during {}: {} to {} is taken as {elapsed} min (zone {zone}).",
                told::label(cx, session),
                words::clock(from),
                words::clock(to)
            ),
        )
        .cure(format!("type the minutes by the stopwatch: `{elapsed} min` if that is what it was"))
}
