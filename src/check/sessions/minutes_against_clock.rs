//! `minutes-against-clock`: the minutes typed are not what the times say.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Length;
use crate::history::sessions::Session;
use crate::history::stretches::Part;

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
    for (id, session) in cx.history.sessions.of(car) {
        let parts = cx.history.sessions.parts(id);
        let Some(typed) = cx.book.runs.get(session.run).and_then(|run| run.minutes) else { continue };
        if !parts.is_empty() {
            out.extend(against_parts(cx, session, parts, typed));
            continue;
        }
        let differs = |length: i32| (typed - f64::from(length)).abs() > 1.0;
        let apart = match cx.history.order.lengths.get(session.run) {
            Some(Length::Known(length) | Length::Back(length)) if differs(*length) => told::minutes(f64::from(*length)),
            // The clock shows one of them twice.
            Some(Length::Either(least, most)) if differs(*least) && differs(*most) => {
                format!("{least} or {}", told::minutes(f64::from(*most)))
            }
            _ => continue,
        };
        out.push(self::apart(cx, session, typed, &apart));
    }
}

fn apart(cx: &Context<'_>, session: &Session, typed: f64, apart: &str) -> Diagnostic {
    let label = told::label(cx, session);
    let message = format!("{label} says {}, and its times are {apart} apart.", told::minutes(typed));
    CHECK.at(session.label, message).cure("correct one of the two; leave the minutes out if the times are right")
}

/// Of a divided session its minutes may be those of running, or those from its start to its end.
fn against_parts(cx: &Context<'_>, session: &Session, parts: &[Part], typed: f64) -> Option<Diagnostic> {
    let clock = match cx.history.order.lengths.get(session.run) {
        Some(Length::Known(length) | Length::Back(length)) => Some(f64::from(*length)),
        _ => None,
    };
    if let Some(clock) = clock.filter(|clock| typed > clock + 1.0) {
        return Some(apart(cx, session, typed, &told::minutes(clock)));
    }
    let of = |runs: bool| parts.iter().filter(move |part| part.runs() == runs).map(|part| part.minutes);
    let ran: f64 = of(true).sum::<Option<f64>>().filter(|_| of(true).next().is_some())?;
    let stood: f64 = of(false).flatten().sum();
    if [Some(ran), Some(ran + stood), clock].into_iter().flatten().any(|known| (typed - known).abs() <= 1.0) {
        return None;
    }
    let label = told::label(cx, session);
    let stops = if stood > 0.0 { format!(", its stops to {}", told::minutes(stood)) } else { String::new() };
    let message = format!(
        "{label} says {}, and its stints and stages come to {}{stops}.",
        told::minutes(typed),
        told::minutes(ran)
    );
    Some(CHECK.at(session.label, message).cure("correct them; the minutes of the stints and stages are what counts on every part"))
}
