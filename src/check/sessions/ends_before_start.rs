//! `ends-before-start`: a session whose times cannot be told apart from a slip of the pen.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Length;
use crate::history::sessions::Session;

/// The check.
pub const CHECK: Check = Check {
    name: "ends-before-start",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a session whose times cannot be told apart from a slip of the pen",
    why: "An end that is not after its start means the next day, which is right for a night race. When that would make \
          the session longer than twelve hours, it is more likely a slip (01:10 for 13:10), so its minutes are left out until \
          they are typed.",
    wrong: "  09:35..08:55 run s1",
    right: "  09:35..09:55 run s1",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for (_, session) in cx.history.sessions.of(car) {
        if let Some(Length::Slip(elapsed)) = cx.history.order.lengths.get(session.run) {
            out.push(slip(cx, session, *elapsed));
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
                told::clock(from),
                told::clock(to),
                elapsed / 60,
                elapsed % 60
            ),
        )
        .cure("correct the times; if it really ran so long, type the minutes as well")
}
