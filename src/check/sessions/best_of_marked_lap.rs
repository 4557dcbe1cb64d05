//! `best-of-marked-lap`: the best lap stated is a lap of the list that does not count.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::best;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "best-of-marked-lap",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "the best lap stated is a lap of the list that does not count",
    why: "A lap that is marked `yellow`, `box`, `in-lap` or `out-lap` is no time to compare, and the session states it as its best. \
          The quickest lap that counts stands in its place; with no such lap the session has no best.",
    wrong: "  run s2  best 1:09.5\n    laps 1:12.0 1:09.5 yellow 1:10.2",
    right: "  run s2  best 1:10.2\n    laps 1:12.0 1:09.5 yellow 1:10.2",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for (id, session) in cx.history.sessions.of(car) {
        let Some(run) = cx.book.runs.get(session.run) else { continue };
        let stints = cx.history.sessions.parts(id).iter().filter_map(|part| part.best);
        let least = best::least(&run.times, stints);
        let Some((typed, counts)) = run.best.zip(best::marked(run.best, &run.times, least)) else { continue };
        let instead = counts.map_or_else(
            || "no other lap of it has a time".to_owned(),
            |lap| format!("{} counts in its place", words::lap(lap, 2)),
        );
        out.push(
            CHECK
                .at(
                    session.label,
                    format!(
                        "{} has a best of {}, which its list marks as a lap that does not count; {instead}.",
                        told::label(cx, session),
                        words::lap(typed, 2),
                    ),
                )
                .cure("state the best of the laps that count, or take the mark off the lap"),
        );
    }
}
