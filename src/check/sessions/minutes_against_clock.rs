//! `minutes-against-clock`: the minutes typed are not what the times say.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Length;

/// The check.
pub const CHECK: Check = Check {
    name: "minutes-against-clock",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "the minutes typed are not what the times say",
    why: "The line gives both minutes and times, and they differ by more than one. The minutes are what counts on \
          every part, so one of the two should be put right; where a car stood in the lane for some of the time, \
          waive it and say so.",
    wrong: "  09:35..09:55 run s1  30 min",
    right: "  09:35..09:55 run s1  20 min",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for (_, session) in cx.history.sessions.of(car) {
        let Some(typed) = cx.book.runs.get(session.run).and_then(|run| run.minutes) else { continue };
        let differs = |length: i32| (typed - f64::from(length)).abs() > 1.0;
        let apart = match cx.history.order.lengths.get(session.run) {
            Some(Length::Known(length) | Length::Back(length)) if differs(*length) => told::minutes(f64::from(*length)),
            // The clock shows one of them twice.
            Some(Length::Either(least, most)) if differs(*least) && differs(*most) => {
                format!("{least} or {}", told::minutes(f64::from(*most)))
            }
            _ => continue,
        };
        let label = told::label(cx, session);
        out.push(
            CHECK
                .at(
                    session.label,
                    format!("{label} says {}, and its times are {apart} apart.", told::minutes(typed)),
                )
                .cure("correct one of the two; leave the minutes out if the times are right"),
        );
    }
}
