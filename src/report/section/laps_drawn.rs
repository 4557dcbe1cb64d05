//! The sessions of an event as a drawing: laps up, what was changed before each, what was said after it.
//!
//! The same drawing as a trial's. It says nothing of what a change did: that is a trial's to say. Must not know which page shows it.

use super::back_to_back::spoken;
use super::{bests, laps, laps_below, stops};
use crate::book::model::{CarId, EventId};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::report::chart::below::BelowSeries;
use crate::report::chart::ladder::{LadderChart, LadderMark, LadderSeries, ladder};
use crate::report::chart::runs::{self, RunPoint, RunsChart};
use crate::report::chart::{self, Table, Words};
use crate::report::teller::Teller;
use crate::report::words;

/// More sessions than these do not fit on a phone.
const MOST: usize = 24;

/// What is said of the rows below the laps.
const BELOW: &str = " Below the laps stands what was read of each session, every row by a scale of its own: front is round, rear square; left is \
                     filled, right hollow.";

/// The sessions of a car at an event.
pub(super) fn at(tell: &Teller<'_>, car: CarId, event: EventId) -> Option<RunsChart> {
    let sessions: Vec<&Session> =
        tell.cx.history.sessions.at(car, event).map(|(_, session)| session).collect();
    drawn(tell, car, &sessions, Some(event))
}

/// Some sessions that follow each other; nothing where fewer than two have a lap.
pub(super) fn drawn(
    tell: &Teller<'_>,
    car: CarId,
    sessions: &[&Session],
    event: Option<EventId>,
) -> Option<RunsChart> {
    let first = sessions.len().saturating_sub(MOST);
    let mut from = sessions.first().map_or(Rank::START, |session| {
        event.map_or(session.rank, |event| stops::first_rank(tell, car, event))
    });
    let best = bests::quickest(sessions.iter().copied()).map(|best| best.entry);
    let mut points = Vec::new();
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut head =
        ["session", "changed before it", "best, min:s", "median, min:s", "said"].map(str::to_owned).to_vec();
    for (index, session) in sessions.iter().enumerate() {
        // What was done at its stops it ran on with.
        let before = std::mem::replace(&mut from, session.during);
        if index < first {
            continue;
        }
        let changed = laps::changed(tell, car, before, session.rank);
        let said = spoken(tell, session);
        let count = changed.split(", ").filter(|name| !name.is_empty()).count();
        points.push(RunPoint {
            label: tell.label(session).to_owned(),
            lap: session.best.unwrap_or(f64::NAN),
            // The quickest is filled.
            level: if best == Some(session.entry) { 0 } else { 2 },
            letter: String::new(),
            change: match count {
                0 => Vec::new(),
                count => vec![changed.clone(), words::count(count, "change", "changes"), count.to_string()],
            },
            words: said.clone(),
        });
        let or_dash = |text: String| if text.is_empty() { words::DASH.to_owned() } else { text };
        rows.push(vec![
            tell.label(session).to_owned(),
            or_dash(changed),
            bests::lap(tell, session),
            bests::median(tell, session).map_or_else(|| words::DASH.to_owned(), |(median, _)| median),
            or_dash(said),
        ]);
    }
    if points.iter().filter(|point| point.lap.is_finite()).count() < 2 {
        return None;
    }
    let drawn = sessions.get(first..).unwrap_or_default();
    let below = laps_below::rows(tell, car, drawn);
    for row in &below {
        head.push(row.head.clone());
        for (cells, cell) in rows.iter_mut().zip(&row.cells) {
            cells.push(cell.clone());
        }
    }
    let event = event.map_or("the last day", |event| tell.event(event));
    let drawing = Words {
        id: chart::id(&["laps", tell.cx.car(car), event]),
        title: format!("{event}: best laps, the quicker the higher"),
        desc: format!(
            "Each session's best lap in order, the quickest filled; a dotted line where something was changed before a session. The day \
             and the driver have their share in every lap: what a change did only runs there and back can tell.{}",
            if below.is_empty() { "" } else { BELOW }
        ),
    };
    let below: Vec<BelowSeries> = below.into_iter().map(|row| row.series).collect();
    Some(runs::runs(drawing, &points, &[], &below, Table { head, rows }))
}

/// The events of a season under each other, from all its sessions; none where no session has a lap.
pub(super) fn season(tell: &Teller<'_>, car: CarId, sessions: &[&Session]) -> Option<LadderChart> {
    let or_dash = |text: String| if text.is_empty() { words::DASH.to_owned() } else { text };
    let mut lanes = Vec::new();
    let mut rows = Vec::new();
    for event in stops::events(sessions) {
        let of = || sessions.iter().copied().filter(|session| session.event == Some(event));
        let Some(best) = bests::quickest(of()) else { continue };
        let slowest = of().filter(|session| session.best.is_some());
        let slowest = slowest.max_by(|a, b| a.best.unwrap_or(0.0).total_cmp(&b.best.unwrap_or(0.0)));
        let mut from = stops::first_rank(tell, car, event);
        let mut drawn = Vec::new();
        for session in of() {
            let changed =
                laps::changed(tell, car, std::mem::replace(&mut from, session.during), session.rank);
            drawn.push(LadderMark {
                label: tell.label(session).to_owned(),
                lap: session.best.unwrap_or(f64::NAN),
                changed: !changed.is_empty(),
            });
            rows.push(vec![
                tell.event(event).to_owned(),
                tell.label(session).to_owned(),
                or_dash(changed),
                bests::lap(tell, session),
                bests::median(tell, session).map_or_else(|| words::DASH.to_owned(), |(median, _)| median),
                or_dash(spoken(tell, session)),
            ]);
        }
        lanes.push(LadderSeries {
            name: tell.event(event).to_owned(),
            best: bests::lap(tell, best),
            slowest: slowest.map_or_else(String::new, |session| bests::lap(tell, session)),
            sessions: drawn,
        });
    }
    if lanes.is_empty() {
        return None;
    }
    let head = ["event", "session", "changed before it", "best, min:s", "median, min:s", "said"];
    let drawing = Words {
        id: chart::id(&["season", tell.cx.car(car)]),
        title: "Best laps of every event, the quicker the higher".to_owned(),
        desc: "One lane an event, by a scale of its own: its quickest lap is filled and written above, its slowest session's best below; a dotted \
               line where something was changed before a session. Circuits and days differ: no lane says anything of another."
            .to_owned(),
    };
    Some(ladder(drawing, &lanes, Table { head: head.map(str::to_owned).to_vec(), rows }))
}
