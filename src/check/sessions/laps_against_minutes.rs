//! `laps-against-minutes`: so many laps do not go into so many minutes.

use crate::book::entry::Run;
use crate::book::model::{CarId, CircuitId};
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::sessions::Session;
use crate::trials::said::{flags, stops_a_run};
use crate::words;
use rustc_hash::FxHashMap;

/// The check.
pub const CHECK: Check = Check {
    name: "laps-against-minutes",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "so many laps do not go into so many minutes",
    why: "The laps of a session, at the pace this car does there, should take about the minutes it ran; an out lap \
          and an in lap are allowed for. More than 25 % apart, the laps or the times were mistyped. Where all laps \
          are listed, their sum is taken; standing starts are left alone. Times are whole minutes, so that a minute either way says nothing; and a session \
          that says it was slowed or stopped (`yellow-flag`, `safety-car`, `red-flag`, a lap marked `yellow`) may have taken any time longer.",
    wrong: "  09:30..09:50 run s2  27 laps  best 1:10.0",
    right: "  09:30..09:50 run s2  17 laps  best 1:10.0",
    look: Look::Car(look),
};

/// Further apart than this share is asked about.
const SHARE: f64 = 0.25;

/// A start and an end by the clock are each some time in their minute, s.
const MINUTE: f64 = 60.0;

/// Whether the session says that it was slowed or stopped.
fn slowed(cx: &Context<'_>, session: &Session, run: &Run) -> bool {
    run.yellow > 0 || flags(cx.facts, session).iter().any(|word| stops_a_run(word))
}

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let circuit = |session: &Session| {
        let event = session.event.and_then(|event| cx.book.events.get(event));
        event.and_then(|event| event.circuit)
    };
    let mut bests: FxHashMap<CircuitId, Vec<f64>> = FxHashMap::default();
    for (_, session) in cx.history.sessions.of(car).filter(|(_, session)| session.launches.is_none()) {
        if let (Some(circuit), Some(best)) = (circuit(session), session.best) {
            bests.entry(circuit).or_default().push(best);
        }
    }
    let typical: FxHashMap<CircuitId, f64> = bests
        .into_iter()
        .filter_map(|(circuit, mut list)| {
            list.sort_by(f64::total_cmp);
            Some((circuit, *list.get(list.len() / 2)?))
        })
        .collect();
    for (_, session) in cx.history.sessions.of(car) {
        let Some(run) = cx.book.runs.get(session.run) else { continue };
        let lap = circuit(session).and_then(|circuit| typical.get(&circuit).copied()).or(session.best);
        let (Some(minutes), Some(laps), Some(lap)) = (session.minutes, run.laps, lap) else { continue };
        if session.launches.is_some() || laps == 0 {
            continue;
        }
        let listed: f64 = run.times.iter().map(|(time, _)| time).sum();
        let whole = run.times.len() as u32 == laps;
        let need = if whole { listed } else { f64::from(laps) * lap };
        let most = if whole { listed + lap } else { (f64::from(laps) + 2.0) * lap };
        let ran = minutes * 60.0;
        let room = if run.minutes.is_none() { MINUTE } else { 0.0 };
        let long = !slowed(cx, session, run) && ran - room > (1.0 + SHARE) * most;
        if need > (1.0 + SHARE) * (ran + room) || long {
            out.push(message(cx, session, laps, lap, need));
        }
    }
}

fn message(cx: &Context<'_>, session: &Session, laps: u32, lap: f64, need: f64) -> Diagnostic {
    let seconds = libm::round(need) as u64;
    CHECK
        .at(
            session.label,
            format!(
                "{} of about {} need {} min {:02} s; {} ran {}.",
                words::count(laps, "lap", "laps"),
                words::lap(lap, 2),
                seconds / 60,
                seconds % 60,
                told::label(cx, session),
                told::minutes(session.minutes.unwrap_or(0.0))
            ),
        )
        .cure("correct the laps or the times; `N min` on the line says how long it really ran")
}
