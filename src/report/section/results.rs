//! What came of the sessions of an event: places, points, why a car stopped.
//!
//! Must not know settings, parts or money: prize money stands with the costs.

use crate::book::entry::{Entry, Verb};
use crate::book::model::{CarId, EventId};
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// One result.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownResult {
    /// The session, or "overall".
    pub session: String,
    /// "grid 5, finish 3, class 1, 1 lap down, 18 points"; why it retired.
    pub words: String,
    /// Its line.
    pub src: String,
}

/// The results of a car at an event, or (without one) between events, in the order of the book.
pub(in crate::report) fn of_event(
    tell: &Teller<'_>,
    car: CarId,
    event: Option<EventId>,
    year: i16,
) -> Vec<ShownResult> {
    let mut lines = tell.cx.history.order.lines_of(tell.cx.book, car);
    lines.retain(|(_, index)| {
        tell.entry(*index).is_some_and(|line| {
            line.verb == Verb::Result
                && !line.broken
                && !line.withheld
                && tell.cx.book.head(line).is_some_and(|head| head.event == event && head.date.year() == year)
        })
    });
    let shown =
        lines.into_iter().filter_map(|(_, index)| tell.entry(index).and_then(|line| of_line(tell, line)));
    shown.collect()
}

/// "10 s", "1:10 min".
fn penalty(seconds: f64) -> String {
    let decimals = words::amount(seconds, 3).split_once('.').map_or(0, |(_, decimals)| decimals.len() as u8);
    if seconds < 60.0 {
        format!("{} s", words::amount(seconds, 3))
    } else {
        format!("{} min", words::lap(seconds, decimals))
    }
}

fn of_line(tell: &Teller<'_>, line: &Entry) -> Option<ShownResult> {
    let extra = tell.cx.book.extra(line)?;
    let facts = extra.result.as_deref()?;
    let mut said = Vec::new();
    for (word, place) in [("grid", facts.grid), ("finish", facts.finish), ("class", facts.class)] {
        said.extend(place.map(|place| format!("{word} {place}")));
    }
    said.extend(facts.laps_down.map(|laps| format!("{} down", words::count(laps as usize, "lap", "laps"))));
    said.extend(facts.penalty.map(|seconds| format!("{} added", penalty(seconds))));
    said.extend(facts.points.map(|points| format!("{} points", words::amount(points, 2))));
    if facts.retired {
        said.push("retired".to_owned());
    }
    let quoted = super::entry::quotes(tell, line);
    if !quoted.is_empty() {
        said.push(quoted);
    }
    let run = line.run().and_then(|run| tell.cx.book.runs.get(run));
    (!said.is_empty()).then(|| ShownResult {
        session: run.map_or_else(|| "overall".to_owned(), |run| tell.cx.text(run.label).to_owned()),
        words: said.join(", "),
        src: tell.src(line.span()),
    })
}
