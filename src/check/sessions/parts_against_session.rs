//! `parts-against-session`: the laps of the stints, or the kilometres of the stages, are not those of the session.

use crate::book::entry::Verb;
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::stretches::Part;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "parts-against-session",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "the laps of the stints or the kilometres of the stages are not those that the session says",
    why: "Each stint says its laps, or each stage its length, and the line of the session says another number for all of them. What the session \
          says is what counts on every part, so that one of the two should be put right.",
    wrong: "  10:00..12:00 run race  50 laps\n    10:00..11:00 stint ned  22 laps\n    11:00..12:00 stint orr  24 laps",
    right: "  10:00..12:00 run race  46 laps\n    10:00..11:00 stint ned  22 laps\n    11:00..12:00 stint orr  24 laps",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for (id, session) in cx.history.sessions.of(car) {
        let parts = cx.history.sessions.parts(id);
        let Some(run) = cx.book.runs.get(session.run).filter(|_| !parts.is_empty()) else { continue };
        let sum = |verb: Verb, amount: fn(&Part) -> Option<f64>| {
            let mut own = parts.iter().filter(|part| part.runs()).peekable();
            own.peek()?;
            own.map(|part| amount(part).filter(|_| part.verb == verb)).sum::<Option<f64>>()
        };
        let laps = sum(Verb::Stint, |part| part.laps.map(f64::from));
        let listed = (!run.times.is_empty()).then_some(run.times.len() as u32);
        if let (Some(laps), Some(typed)) = (laps, run.laps.or(listed))
            && (laps - f64::from(typed)).abs() > 0.5
        {
            let all = words::count(typed as usize, "lap", "laps");
            let message = format!(
                "{} says {all}, and its stints come to {}.",
                told::label(cx, session),
                words::count(laps as usize, "lap", "laps")
            );
            out.push(CHECK.at(session.label, message).cure("correct the one or the other"));
            continue;
        }
        let metres = sum(Verb::Stage, |part| part.distance);
        if let (Some(metres), Some(typed)) = (metres, run.distance)
            // Both are rounded: to a tenth of a kilometre a stage.
            && (metres - typed).abs() > 100.0 * parts.len() as f64
        {
            let message = format!(
                "{} says {} km, and its stages come to {} km.",
                told::label(cx, session),
                words::amount(typed / 1000.0, 2),
                words::amount(metres / 1000.0, 2)
            );
            out.push(CHECK.at(session.label, message).cure("correct the one or the other; the road between stages is `road 40 km`"));
        }
    }
}
