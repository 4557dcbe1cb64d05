//! `stints-leave-hole`: the stints and stops of a session do not fill it.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Length;
use crate::history::problem::{Problem, Typed};
use crate::history::sessions::Session;
use crate::history::stretches::Part;
use rustc_hash::FxHashSet;
use crate::book::entry::{EntryId, Verb};

/// The check.
pub const CHECK: Check = Check {
    name: "stints-leave-hole",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "the stints and stops of a session do not fill it, or come to more than it",
    why: "A session that is divided into stints is all of them and its stops: by their minutes every part and every driver is counted. These \
          leave some of it to nobody, or come to more than it was long. Where the car stood, a `stop` line says so.",
    wrong: "  10:00..12:00 run race\n    10:00..10:50 stint ned\n    11:10..12:00 stint orr",
    right: "  10:00..12:00 run race\n    10:00..10:50 stint ned\n    10:50..11:10 stop\n    11:10..12:00 stint orr",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut known = None;
    for (id, session) in cx.history.sessions.of(car) {
        let parts = cx.history.sessions.parts(id);
        let stinted = parts.iter().any(|part| part.verb == Verb::Stint);
        let staged = parts.iter().any(|part| part.verb == Verb::Stage);
        let Some(run) = cx.book.runs.get(session.run).filter(|_| stinted && !staged) else { continue };
        if run.minutes.is_some() {
            // They are held to the parts by themselves.
            continue;
        }
        let wrong = known.get_or_insert_with(|| wrong(cx));
        let mut lines = parts.iter().map(|part| part.entry).chain([session.entry]);
        if lines.any(|line| wrong.contains(&line) || cx.entry(line).broken) {
            continue;
        }
        let clock = match cx.history.order.lengths.get(session.run) {
            Some(Length::Known(length) | Length::Back(length)) => f64::from(*length),
            _ => continue,
        };
        let Some(all) = parts.iter().map(|part| part.minutes).sum::<Option<f64>>() else { continue };
        if (all - clock).abs() <= 1.0 {
            continue;
        }
        let message = format!(
            "the stints and stops of {} come to {}, and it was {} long{}.",
            told::session(cx, session),
            told::minutes(all),
            told::minutes(clock),
            hole(session, parts)
        );
        let cure = if all < clock { "write the `stop` or the stint that is missing" } else { "correct the times or the minutes" };
        out.push(CHECK.at(session.label, message).cure(cure));
    }
}

/// Where the first hole is, if times tell.
fn hole(session: &Session, parts: &[Part]) -> String {
    let ends = parts.iter().map(|part| part.end);
    let befores = std::iter::once(session.start).chain(ends);
    let nexts = parts.iter().map(|part| part.start).chain([session.end]);
    let first = befores.zip(nexts).find(|(before, next)| next > before);
    first.map_or_else(String::new, |(before, next)| {
        format!("; {} of it after {} are nobody's", told::minutes(f64::from(next - before)), told::minutes(f64::from(before - session.start)))
    })
}

/// Lines whose times have a message.
fn wrong(cx: &Context<'_>) -> FxHashSet<EntryId> {
    let lines = cx.history.problems.iter().filter_map(|problem| match problem {
        Problem::OutsideSession { entry, .. } | Problem::TimesBackward { entry, .. } | Problem::EndsFirst { entry } => Some(*entry),
        Problem::ClockSkipped { typed, .. }
        | Problem::ClockTwice { typed, .. }
        | Problem::ClockOffsetWrong { typed, .. } => match typed {
            Typed::Start(entry) | Typed::End(entry) => Some(*entry),
            Typed::Head(_) => None,
        },
        _ => None,
    });
    lines.collect()
}
