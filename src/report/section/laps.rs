//! The lap times of two events side by side, and what may be credited for their difference.
//!
//! Must not know settings beyond how many differ.

use super::{bests, change};
use crate::book::entry::Verb;
use crate::book::model::{CarId, EventId};
use crate::history::diff::{Fate, SlotDiff, diff};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::report::section::stops;
use crate::report::teller::Teller;
use crate::report::words;
use crate::units::number;
use serde::Serialize;

/// One event's sessions.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Ladder {
    /// The event.
    pub event: String,
    /// Where and when.
    pub about: String,
    /// Its best lap, with its session.
    pub best: String,
    /// The line of the best.
    pub best_src: String,
    /// Its sessions.
    pub sessions: Vec<Rung>,
}

/// One session.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Rung {
    /// Its label.
    pub label: String,
    /// What was changed before it, in short: "bar hole front, tyre cold".
    pub changed: String,
    /// Laps.
    pub laps: String,
    /// Running minutes.
    pub minutes: String,
    /// Best lap as typed.
    pub best: String,
    /// Median of the laps that count, with their number: "1:23.90 of 4"; empty where too few are listed.
    pub median: String,
    /// Whether it is the event's best.
    pub quickest: bool,
    /// Who drove, conditions, yellow laps.
    pub conditions: String,
    /// Its line.
    pub src: String,
}

/// An event's sessions.
pub(super) fn ladder(tell: &Teller<'_>, car: CarId, event: EventId) -> Ladder {
    let sessions: Vec<&Session> =
        tell.cx.history.sessions.at(car, event).map(|(_, session)| session).collect();
    let best = bests::quickest(sessions.iter().copied());
    let declared = tell.cx.book.events.get(event);
    let circuit =
        declared.and_then(|event| event.circuit).and_then(|circuit| tell.cx.book.circuits.get(circuit));
    let mut about: Vec<String> = circuit.map(|circuit| circuit.named.title.clone()).into_iter().collect();
    about.extend(declared.map(|event| words::dates(event.first, event.last)));
    let mut before = stops::first_rank(tell, car, event);
    Ladder {
        event: tell.event(event).to_owned(),
        about: about.join(", "),
        best: best.map_or_else(
            || words::DASH.to_owned(),
            |best| format!("{} in {}", bests::lap(tell, best), tell.label(best)),
        ),
        best_src: best.map_or_else(String::new, |best| tell.src_of(best.entry)),
        sessions: sessions
            .iter()
            .map(|session| {
                let from = std::mem::replace(&mut before, session.rank);
                Rung {
                    label: tell.label(session).to_owned(),
                    changed: changed(tell, car, from, session.rank),
                    laps: session.laps.map_or_else(|| words::DASH.to_owned(), |laps| laps.to_string()),
                    minutes: session
                        .minutes
                        .map_or_else(|| words::DASH.to_owned(), |minutes| words::amount(minutes, 1)),
                    best: bests::lap(tell, session),
                    median: bests::median(tell, session)
                        .map_or_else(String::new, |(median, of)| format!("{median} of {of}")),
                    quickest: best.is_some_and(|best| best.entry == session.entry),
                    conditions: tell.about_run(session).join(", "),
                    src: tell.src_of(session.entry),
                }
            })
            .collect(),
    }
}

/// What was set or swapped between two ranks, each once.
pub(super) fn changed(tell: &Teller<'_>, car: CarId, from: Rank, until: Rank) -> String {
    let cx = &tell.cx;
    let mut names: Vec<String> = Vec::new();
    for index in cx.history.order.entries.within(from..until) {
        let Some(entry) = tell.entry(*index) else { continue };
        if cx.car_of(*index) != Some(car) || entry.broken {
            continue;
        }
        let name = if matches!(entry.verb, Verb::Set | Verb::Adjust) {
            entry.quantity.map(|id| cx.quantity(id).name.replace('-', " "))
        } else if matches!(entry.verb, Verb::Swap | Verb::Fit) {
            entry.part().map(|part| cx.kind_of(part).replace('-', " "))
        } else {
            None
        };
        if let Some(name) = name
            && !names.contains(&name)
        {
            names.push(name);
        }
    }
    names.join(", ")
}

/// What can and what cannot be credited, in plain words. The laps are held against what was on the car in their own sessions; between
/// circuits they say nothing of what differs at the events' ends, so many settings and places. `tried` is whether a trial of the car tells
/// something of it.
pub(super) fn verdict(
    tell: &Teller<'_>,
    car: CarId,
    pair: (EventId, EventId),
    ends: (usize, usize),
    tried: bool,
) -> String {
    let best = |event: EventId| bests::quickest(tell.cx.history.sessions.at(car, event).map(|(_, s)| s));
    let circuit = |event: EventId| tell.cx.book.events.get(event).and_then(|event| event.circuit);
    let (Some(old), Some(new)) = (best(pair.0), best(pair.1)) else {
        return "One of the two events has no lap time in the book, so nothing can be credited to any change."
            .to_owned();
    };
    if circuit(pair.0).is_none() || circuit(pair.0) != circuit(pair.1) {
        let what = differing(ends);
        let about = if what.is_empty() { "the setup".to_owned() } else { format!("what differs ({what})") };
        return format!("Two different circuits: the lap times say nothing about {about}.");
    }
    let between = between(tell, car, old, new);
    let gain = new.best.unwrap_or_default() - old.best.unwrap_or_default();
    let sign = if gain > 0.0 { "+" } else { "" };
    let laps = format!(
        "Best lap {} in {} then, {} in {} now: {sign}{} s.",
        bests::lap(tell, old),
        tell.label(old),
        bests::lap(tell, new),
        tell.label(new),
        number::format(gain, 2)
    );
    let drivers = [tell.drivers(old), tell.drivers(new)];
    let driver = drivers[0] != drivers[1];
    let mut what = differing((between.set, between.parts));
    if driver && !what.is_empty() {
        what = format!("{what}, and another driver");
    }
    let unclear = words::count(between.unclear, "setting", "settings");
    let none = if tried || between.set + between.parts == 0 {
        ""
    } else {
        " None of what differs at the end was tried there and back."
    };
    match (between.set + between.parts, between.unclear) {
        (0, 0) => format!(
            "{laps} Nothing on the car differs between those two sessions; what is left is weather, tyres and driver."
        ),
        (0, _) => format!(
            "{laps} Nothing on the car is known to differ between those two sessions, but of {unclear} nobody can say{}: the \
             difference cannot be credited to anything.",
            if driver { ", and another driver drove" } else { "" }
        ),
        (1, 0) if !driver => format!(
            "{laps} One thing differs between those two sessions ({what}), but so do weather, tyre wear and the day: likely, not proven. \
             Only runs there and back in one day can tell.{none}"
        ),
        (_, unknown) => {
            let more = if unknown > 0 { format!("; of {unclear} nobody can say") } else { String::new() };
            format!(
                "{laps} Several things differ at once between those two sessions ({what}{more}), so the difference cannot be credited to any \
                 one of them.{none}"
            )
        }
    }
}

/// What differs between what was on the car in two sessions.
struct Between {
    /// Settings.
    set: usize,
    /// Settings of which nobody can say: told for the first time since, of a line with a mistake, or not this reader's.
    unclear: usize,
    /// Places with another part.
    parts: usize,
}

fn between(tell: &Teller<'_>, car: CarId, old: &Session, new: &Session) -> Between {
    let diff = diff(tell.cx.facts, car, old.rank.next(), new.rank.next());
    let count = |of: &dyn Fn(&SlotDiff<'_>) -> bool| diff.slots.iter().filter(|slot| of(slot)).count();
    Between {
        set: count(&|slot| slot.fate == Fate::Changed || change::from_zero(tell, slot)),
        unclear: count(&|slot| change::is_unclear(tell, slot)),
        parts: diff.parts.len(),
    }
}

/// "14 settings and 1 place with another part"; empty for nothing.
fn differing((settings, parts): (usize, usize)) -> String {
    let mut differ = Vec::new();
    if settings > 0 {
        differ.push(words::count(settings, "setting", "settings"));
    }
    if parts > 0 {
        differ.push(words::count(parts, "place with another part", "places with another part"));
    }
    words::and(&differ)
}
