//! `stages-beside-stints`: one session is divided into both stints and stages.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::stretches;

/// The check.
pub const CHECK: Check = Check {
    name: "stages-beside-stints",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a session is divided into both stints and stages",
    why: "Stints say who drove and how long, stages how far and how fast. Whether a stage was driven in one of the stints or beside it, nothing \
          says, so that nobody knows how long the session ran: what is counted in minutes says \"at least\", and the account of fuel is open.",
    wrong: "  10:00..11:00 run loop\n    stint ned  10 min\n    stage ss1 10 km 6:00.0",
    right: "  10:00..11:00 run loop  by ned\n    stage ss1 10 km 6:00.0",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for (id, session) in cx.history.sessions.of(car) {
        if !stretches::mixed(cx.history.sessions.parts(id)) || cx.entry(session.entry).broken {
            continue;
        }
        let message = format!(
            "{} has stints and stages: whether a stage was driven in a stint or beside it, nothing says, and how long it ran is not known.",
            told::session(cx, session)
        );
        out.push(CHECK.at(session.label, message).cure("leave the stints out and say who drove with `by`, or write two sessions"));
    }
}
