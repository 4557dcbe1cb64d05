//! `ends-before-start`: a session whose times cannot be told apart from a slip of the pen.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Length;
use crate::history::problem::Typed;
use crate::history::sessions::Session;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "ends-before-start",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a session whose times cannot be told apart from a slip of the pen",
    why: "An end that is not after its start means the next day, which is right for a night race. When that would make \
          the session longer than twelve hours, it is more likely a slip (01:10 for 13:10), so its minutes are left out until \
          they are typed. The same is asked where only the clock going back puts the end after the start.",
    wrong: "  09:35..08:55 run s1",
    right: "  09:35..09:55 run s1",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for (_, session) in cx.history.sessions.of(car) {
        match cx.history.order.lengths.get(session.run) {
            Some(Length::Slip(elapsed)) => out.push(slip(cx, session, *elapsed)),
            Some(Length::Back(elapsed)) if !typed(cx, session) => out.push(change(cx, session, *elapsed)),
            _ => {}
        }
    }
}

fn slip(cx: &Context<'_>, session: &Session, elapsed: i32) -> Diagnostic {
    let (from, to) = cx.entry(session.entry).clock;
    CHECK
        .at(
            session.label,
            format!(
                "{} starts at {} and ends at {}: that would be the next day, {} h {:02} min later.",
                told::label(cx, session),
                words::clock(from),
                words::clock(to),
                elapsed / 60,
                elapsed % 60
            ),
        )
        .cure("correct the times; if it really ran so long, type the minutes as well")
}

fn typed(cx: &Context<'_>, session: &Session) -> bool {
    cx.book.runs.get(session.run).is_some_and(|run| run.minutes.is_some())
}

fn change(cx: &Context<'_>, session: &Session, elapsed: i32) -> Diagnostic {
    let (from, to) = cx.entry(session.entry).clock;
    let (_, zone) = told::zone(cx, Typed::Start(session.entry));
    CHECK
        .at(
            session.label,
            format!(
                "The clock goes back during {}: {} to {} is taken as {elapsed} min (zone {zone}).",
                told::label(cx, session),
                words::clock(from),
                words::clock(to)
            ),
        )
        .cure(format!("type the minutes by the stopwatch: `{elapsed} min` if that is what it was"))
}
