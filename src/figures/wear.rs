//! Pads and discs between their first and their last reading, and the running between.
//!
//! Wear and what is left are arithmetic, in `grammar/figures.sline`. Must not know hydraulics.

use super::calc::{Calc, Fig, Got, Missing};
use super::code::Code;
use super::dual::sum;
use super::formula::Formula;
use super::typed::{Needs, all};
use crate::book::entry::EntryId;
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("pad-when-new", |calc, place| one(calc, "pad-thickness", place, |[new, ..]| new)),
    ("pad-now", |calc, place| one(calc, "pad-thickness", place, |[_, now, _]| now)),
    ("pad-running", |calc, place| one(calc, "pad-thickness", place, |[.., running]| running)),
    ("pad-running-since", |calc, place| since_last(calc, "pad-thickness", place)),
    ("disc-running-since", |calc, place| since_last(calc, "disc-thickness", place)),
    ("disc-when-new", |calc, place| one(calc, "disc-thickness", place, |[new, ..]| new)),
    ("disc-now", |calc, place| one(calc, "disc-thickness", place, |[_, now, _]| now)),
    ("disc-running", |calc, place| one(calc, "disc-thickness", place, |[.., running]| running)),
];

const RUNNING: Formula = Formula {
    id: "running-between",
    name: "running between the readings",
    expression: "sum(m)",
    source: "common practice",
    convention: "minutes of the sessions between, as typed or by the clock",
    dimension: DimensionId::TIME,
    shown: "h",
    show: [None, None],
};

const SINCE: Formula = Formula {
    id: "running-since",
    name: "running since the last reading",
    convention: "minutes of the sessions since, as typed or by the clock",
    ..RUNNING
};

/// Every line that read a slot before the moment, oldest first, with its rank.
#[must_use]
pub fn read_lines(calc: &Calc<'_>, name: &str, place: Place) -> Vec<(EntryId, Rank)> {
    let all = calc.readings(name, place).unwrap_or_default();
    all.into_iter().map(|(entry, _)| (entry, calc.history.order.rank[entry])).collect()
}

/// The first reading, the last one, or the running between.
fn one(calc: &mut Calc<'_>, name: &str, place: Place, which: impl FnOnce([Fig; 3]) -> Fig) -> Got {
    since_new(calc, name, place).map(which)
}

/// First and last reading since the thickness last grew (a new one went on), and the running between.
fn since_new(calc: &mut Calc<'_>, name: &str, place: Place) -> Got<[Fig; 3]> {
    let id = calc.quantity(name)?;
    let what = calc.slot_name(id, place);
    let readings = calc.readings(name, place)?;
    let grown = readings.array_windows().rposition(|[(_, before), (_, after)]| after.value > before.value);
    let [(first, _), .., (last, _)] = readings.split_at(grown.map_or(0, |at| at + 1)).1 else {
        return Err(Missing::one(format!("two readings of {what} with running between")));
    };
    let ranks = &calc.history.order.rank;
    let (from, until) = (ranks[*first], ranks[*last]);
    let Some(running) = running_between(calc, [from, until], &RUNNING) else {
        return Err(Missing::one(format!("running between two readings of {what}")));
    };
    let now = calc.rank;
    calc.rank = from.next();
    let first = calc.reading_in_book(name, place);
    calc.rank = now;
    let last = calc.reading(name, place);
    let running = running.and_then(|running| calc.positive(running));
    all([first, last, running])
}

/// The running since the last reading; none where nothing ran.
fn since_last(calc: &mut Calc<'_>, name: &str, place: Place) -> Got {
    let readings = calc.readings(name, place)?;
    let what = calc.slot_name(calc.quantity(name)?, place);
    let Some((last, _)) = readings.last() else {
        return Err(Missing::one(format!("a reading of {what}")));
    };
    let (from, now) = (calc.history.order.rank[*last], calc.rank);
    running_between(calc, [from, now], &SINCE).unwrap_or_else(|| {
        let words = "no running since the last reading";
        Ok(calc.constant(words, 0.0, DimensionId::TIME, "no session since"))
    })
}

/// The running of the sessions between two moments; `None` where there are none.
fn running_between(calc: &mut Calc<'_>, [from, until]: [Rank; 2], formula: &'static Formula) -> Option<Got> {
    let sessions: Vec<EntryId> =
        calc.between(from, until).iter().map(|id| calc.history.sessions.get(*id).entry).collect();
    if sessions.is_empty() {
        return None;
    }
    let mut needs = Needs::default();
    let minutes: Vec<(String, Fig)> = sessions
        .iter()
        .enumerate()
        .filter_map(|(at, entry)| Some((format!("m{}", at + 1), needs.take(calc.running_of(*entry))?)))
        .collect();
    if minutes.len() < sessions.len() {
        return Some(Err(needs.missing()));
    }
    let inputs: Vec<(&str, &Fig)> = minutes.iter().map(|(name, fig)| (name.as_str(), fig)).collect();
    Some(calc.derive(formula, Place::CAR, &inputs, sum))
}
