//! `minutes-against-clock`: the minutes typed are not what the times say.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};

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
        let typed = cx.book.runs.get(session.run).and_then(|run| run.minutes);
        let (Some(typed), true) = (typed, cx.entry(session.entry).clock.1 >= 0) else { continue };
        let elapsed = f64::from(session.end - session.start);
        if (typed - elapsed).abs() > 1.0 {
            out.push(
                CHECK
                    .at(
                        session.label,
                        format!(
                            "{} says {}, and its times are {} apart.",
                            told::label(cx, session),
                            told::minutes(typed),
                            told::minutes(elapsed)
                        ),
                    )
                    .cure("correct one of the two; leave the minutes out if the times are right"),
            );
        }
    }
}
