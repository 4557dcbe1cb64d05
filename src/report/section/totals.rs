//! How much a car ran: the cover's numbers and the table by event.
//!
//! Must not know settings or parts.

use crate::book::entry::{Entry, Verb};
use crate::book::model::{CarId, EventId};
use crate::history::sessions::Session;
use crate::history::usage;
use crate::report::section::results::ShownResult;
use crate::report::section::stops::events;
use crate::report::section::{drives, link, results};
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use crate::units::number;
use serde::Serialize;

/// Sums over some sessions. "at least" stands before a number of which a part is not known.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Totals {
    /// Calendar dates with a session.
    pub days: String,
    /// Sessions.
    pub sessions: String,
    /// Laps.
    pub laps: String,
    /// Running minutes.
    pub minutes: String,
    /// The same in hours, for the cover.
    pub hours: String,
    /// Kilometres.
    pub km: String,
    /// Miles, for a car shown in inches.
    pub miles: Option<String>,
    /// The sessions' lines.
    pub src: String,
}

/// One row of the table by event.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EventTotals {
    /// The event's name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Its circuit.
    pub circuit: String,
    /// Its dates.
    pub dates: String,
    /// Where the timeline tells of it.
    pub anchor: String,
    /// What a night took in all, and its pit time; empty where it did not run past midnight.
    pub night: String,
    /// Who drove for how long on which day, where drivers shared sessions; else empty.
    pub drivers: String,
    /// What came of its sessions.
    pub results: Vec<ShownResult>,
    /// The sums.
    pub totals: Totals,
    /// Failures there.
    pub failures: usize,
}

/// Metres in a mile, exactly (NIST SP 811, B.8).
const MILE: f64 = 1609.344;

fn number(value: f64, decimals: u8, at_least: bool) -> String {
    told(value, number::format(value, decimals), at_least)
}

/// At least nothing is an en dash: the book does not say.
fn told(value: f64, text: String, at_least: bool) -> String {
    match (at_least, value > 0.0) {
        (true, true) => format!("at least {text}"),
        (true, false) => words::DASH.to_owned(),
        (false, _) => text,
    }
}

/// Whether a `run` line of the car, at the event or in the year, is so broken that its session is not known at all.
pub(in crate::report) fn hole(
    tell: &Teller<'_>,
    car: CarId,
    event: Option<EventId>,
    year: Option<i16>,
) -> bool {
    let heads = tell.cx.book.heads_of(car).filter(|head| {
        (event.is_none() || head.event == event) && year.is_none_or(|year| head.date.year() == year)
    });
    heads.flat_map(crate::book::entry::Head::lines).any(|index| {
        tell.entry(index).is_some_and(|entry| entry.broken && entry.verb == Verb::Run)
            && tell.session(index).is_none()
    })
}

/// Adds sessions up; with a `hole`, every sum is a lower bound.
pub(in crate::report) fn totals(
    tell: &Teller<'_>,
    sessions: &[&Session],
    imperial: bool,
    hole: bool,
) -> Totals {
    let mut run = usage::total(sessions.iter().copied());
    run.laps_at_least |= hole;
    run.minutes_at_least |= hole;
    run.distance_at_least |= hole;
    let spans = sessions.iter().filter_map(|session| tell.entry(session.entry)).map(Entry::span);
    Totals {
        days: number(run.days.len() as f64, 0, hole),
        sessions: number(f64::from(run.sessions), 0, hole),
        laps: number(f64::from(run.laps), 0, run.laps_at_least),
        minutes: told(run.minutes, words::amount(run.minutes, 1), run.minutes_at_least),
        hours: number(run.minutes / 60.0, 2, run.minutes_at_least),
        km: number(run.distance / 1000.0, 2, run.distance_at_least),
        miles: imperial.then(|| number(run.distance / MILE, 1, run.distance_at_least)),
        src: sources::lines(tell.cx.files, spans),
    }
}

/// The table by event, and a last row for sessions outside any.
pub(in crate::report) fn by_event(
    tell: &Teller<'_>,
    car: CarId,
    sessions: &[&Session],
    failures: &[super::failures::ShownFailure],
) -> Vec<EventTotals> {
    let imperial = tell.cx.book.cars.get(car).is_some_and(|car| car.imperial);
    let mut rows: Vec<EventTotals> = events(sessions)
        .into_iter()
        .filter_map(|id| tell.cx.book.events.get(id).map(|event| (id, event)))
        .map(|(id, event)| {
            let own: Vec<&Session> =
                sessions.iter().copied().filter(|session| session.event == Some(id)).collect();
            let circuit = event.circuit.and_then(|circuit| tell.cx.book.circuits.get(circuit));
            EventTotals {
                name: event.named.typed.to_string(),
                title: event.named.title.clone(),
                circuit: circuit.map_or_else(String::new, |circuit| circuit.named.title.clone()),
                dates: words::dates(event.first, event.last),
                anchor: link::anchor(id),
                night: super::night::nights(tell, &own),
                drivers: drives::days(tell, &own),
                results: results::of_event(tell, car, Some(id), event.first.year()),
                totals: totals(tell, &own, imperial, hole(tell, car, Some(id), None)),
                failures: failures.iter().filter(|failure| failure.event == *event.named.typed).count(),
            }
        })
        .collect();
    let loose: Vec<&Session> = sessions.iter().copied().filter(|session| session.event.is_none()).collect();
    let loose_failures = failures.iter().filter(|failure| failure.event.is_empty()).count();
    if !loose.is_empty() || loose_failures > 0 {
        rows.push(EventTotals {
            name: "between events".to_owned(),
            title: "testing, and what was found in the shop".to_owned(),
            circuit: String::new(),
            dates: String::new(),
            anchor: "timeline".to_owned(),
            night: super::night::nights(tell, &loose),
            drivers: drives::days(tell, &loose),
            results: loose
                .first()
                .map_or_else(Vec::new, |first| results::of_event(tell, car, None, first.date.year())),
            totals: totals(tell, &loose, imperial, false),
            failures: loose_failures,
        });
    }
    rows
}
