//! `lap-out-of-range`: a best lap far quicker than this car ever went there.

use crate::book::model::{CarId, CircuitId};
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::sessions::Session;
use crate::words;
use rustc_hash::FxHashMap;

/// The check.
pub const CHECK: Check = Check {
    name: "lap-out-of-range",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a best lap far quicker than this car ever went there",
    why: "The best lap is more than 7 % quicker than the car's best in all its other sessions on that circuit, of \
          which there are three or more. A second lost from a minute is a common slip when typing in the lane.",
    wrong: "  run s1  best 58.42",
    right: "  run s1  best 1:08.42",
    look: Look::Car(look),
};

/// A lap below this share of the best elsewhere is asked about.
const SHARE: f64 = 0.93;
/// Other sessions there must be, at least.
const SESSIONS: usize = 3;

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut by_circuit: FxHashMap<(CircuitId, bool), Vec<&Session>> = FxHashMap::default();
    let mut circuits = Vec::new();
    for (_, session) in cx.history.sessions.of(car).filter(|(_, session)| session.best.is_some()) {
        let event = session.event.and_then(|event| cx.book.events.get(event));
        if let Some(circuit) = event.and_then(|event| event.circuit) {
            // A lap from a standing start is another thing than a flying one.
            let key = (circuit, session.launches.is_some());
            by_circuit
                .entry(key)
                .or_insert_with(|| {
                    circuits.push(key);
                    Vec::new()
                })
                .push(session);
        }
    }
    for key in circuits {
        let sessions = by_circuit.get(&key).map_or(&[][..], Vec::as_slice);
        if sessions.len() <= SESSIONS {
            continue;
        }
        let mut order: Vec<&Session> = sessions.to_vec();
        order.sort_by(|a, b| a.best.unwrap_or(0.0).total_cmp(&b.best.unwrap_or(0.0)));
        // Only the quickest can beat all the others.
        let (Some(first), Some(next)) = (order.first(), order.get(1)) else { continue };
        if let (Some(best), Some(other)) = (first.best, next.best)
            && best < SHARE * other
        {
            out.push(message(cx, first, next, (best, other), key.0));
        }
    }
}

fn message(
    cx: &Context<'_>,
    session: &Session,
    next: &Session,
    (best, other): (f64, f64),
    circuit: CircuitId,
) -> Diagnostic {
    let place = cx.book.circuits.get(circuit).map_or("there", |circuit| circuit.named.title.as_str());
    let message = CHECK
        .at(
            session.label,
            format!(
                "{} in {} is {:.1} s quicker than {} ever went at {place}.",
                words::lap(best, 2),
                told::session(cx, session),
                other - best,
                cx.car(session.car)
            ),
        )
        .and(next.label, format!("{}, its best elsewhere", words::lap(other, 2)));
    // Ten seconds mistyped, or the minute's digits: the nearest reading that is in range.
    let guess = [10.0, 20.0, 30.0, 60.0].iter().map(|more| best + more).find(|guess| *guess >= SHARE * other);
    match guess.filter(|guess| *guess < other * 1.15) {
        Some(guess) => message.cure(format!("{}?", words::lap(guess, 2))),
        None => message.cure("correct the lap"),
    }
}
