//! `laps-against-list`: more laps in the list than the session says it had.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "laps-against-list",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "more laps in the list than the session says it had",
    why: "The session states its laps, and its list has more that count. One of the two was mistyped, or the list is another \
          session's; what counts laps takes what is stated.",
    wrong: "  run s2  3 laps\n    laps 1:12.0 1:09.5 1:10.2 1:10.0 1:09.9",
    right: "  run s2  5 laps\n    laps 1:12.0 1:09.5 1:10.2 1:10.0 1:09.9",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for (_, session) in cx.history.sessions.of(car) {
        let Some(run) = cx.book.runs.get(session.run) else { continue };
        let listed = run.times.iter().filter(|(_, slow)| !slow).count();
        let Some(laps) = run.laps.filter(|laps| listed > *laps as usize) else { continue };
        let said = format!(
            "{} has {}, and {} in its list that count.",
            told::label(cx, session),
            words::count(laps, "lap", "laps"),
            listed
        );
        out.push(CHECK.at(session.label, said).cure("correct the laps, or the list"));
    }
}
