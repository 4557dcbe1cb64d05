//! `best-slower-than-laps`: a lap in the list beats the best lap stated.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::best;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "best-slower-than-laps",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a lap in the list beats the best lap stated",
    why: "The session states its best lap, and its list has a quicker one that counts. Either the best was copied \
          from another session, or a lap in the list was mistyped; a lap that was cut short is marked `box`, \
          `in-lap` or `out-lap` after its time.",
    wrong: "  run s2  best 1:09.9\n    laps 1:12.0 1:09.5 1:10.2",
    right: "  run s2  best 1:09.5\n    laps 1:12.0 1:09.5 1:10.2",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for (id, session) in cx.history.sessions.of(car) {
        let Some(run) = cx.book.runs.get(session.run) else { continue };
        let Some(best) = run.best else { continue };
        let stints = cx.history.sessions.parts(id).iter().filter_map(|part| part.best);
        let least = best::least(&run.times, stints);
        if least.is_finite() && least < best - best::half(best, least) * 1.000_001 {
            out.push(
                CHECK
                    .at(
                        session.label,
                        format!(
                            "{} has a best of {}, and a lap of {} in its list.",
                            told::label(cx, session),
                            words::lap(best, 2),
                            words::lap(least, 2)
                        ),
                    )
                    .cure("correct the best or the lap; mark a lap that does not count with `box`, `in-lap` or `out-lap`"),
            );
        }
    }
}
