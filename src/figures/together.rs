//! Holds a figure to inputs that were true together: where they were not, it is worked out with older readings of that physical
//! state that were, and says so; else it is missing, and says which do not belong together.
//!
//! What belongs together is decided by [`likeness`]. Must not know any particular figure.

use super::calc::{Calc, Fig, Got, Missing};
use crate::book::entry::EntryId;
use crate::book::figure::FigureId;
use crate::book::place::Place;
use crate::history::likeness::{self, Apart, Reading, Why};
use std::sync::Arc;

/// So many states of the car are gone back. Each holds at least one reading that no newer state has, so more than a few means that a
/// book never reads the figure's inputs together.
pub(super) const STATES: usize = 8;

/// The figure, if its readings were true together; else with those of their state that last were.
pub(super) fn held(calc: &mut Calc<'_>, id: FigureId, place: Place, fig: Fig) -> Got {
    let Some(car) = calc.car else { return Ok(fig) };
    let readings: Vec<Reading> = fig.by.iter().filter_map(|(root, _)| calc.read.get(root).copied()).collect();
    // What it rests on may be of an older state already: then all of it is, or it would be of two.
    let apart = likeness::apart(calc.facts, car, &readings).map(Arc::new).or_else(|| fig.back.clone());
    let Some(apart) = apart else { return Ok(fig) };
    let missing = Missing::one(together(calc, &apart));
    let horizon = apart.horizon(calc.facts);
    if calc.horizons.contains(&horizon) || calc.horizons.len() >= STATES {
        return Err(missing);
    }
    calc.horizons.push(horizon.clone());
    let older = calc.figure(id, place);
    calc.horizons.pop();
    let Ok(mut older) = older else { return Err(missing) };
    let since = match &apart.why {
        Why::Disturbed(change) => change.entry,
        Why::Conditions(_) => apart.newer.entry,
    };
    let of_state = older.by.iter().filter_map(|(root, _)| calc.read.get(root));
    let of_state = of_state.filter(|one| horizon.holds(calc.facts, one.quantity)).map(|one| one.entry);
    let newest = of_state.max_by_key(|entry| calc.history.order.rank.get(*entry).copied());
    let words = match newest {
        Some(newest) => format!("as of {}: {}", day(calc, newest), stands_apart(calc, &apart)),
        None => stands_apart(calc, &apart),
    };
    older.stale = older.stale.or(Some(since));
    older.back = Some(apart);
    if let Some(node) = calc.nodes.get_mut(older.node) {
        node.stale = node.stale.or(Some(since));
    }
    calc.cautions.entry(older.node).or_insert(words.into());
    Ok(older)
}

/// What would have to be read.
fn together(calc: &Calc<'_>, apart: &Apart) -> String {
    format!("{} ({})", pair(calc, apart, " and "), stands_apart(calc, apart))
}

/// "weight LF" and what it does not belong with.
fn pair(calc: &Calc<'_>, apart: &Apart, and: &str) -> String {
    let [older, newer] = [apart.older, apart.newer].map(|one| calc.slot_name(one.quantity, one.place));
    format!("{older}{and}{newer} read in one state of the car")
}

/// Why the newer reading does not belong with the older.
fn stands_apart(calc: &Calc<'_>, apart: &Apart) -> String {
    let [older, newer] = [apart.older, apart.newer]
        .map(|one| format!("{} of {}", calc.slot_name(one.quantity, one.place), day(calc, one.entry)));
    match &apart.why {
        Why::Disturbed(change) => {
            let what = change.quantity.map_or_else(
                || "an impact came".to_owned(),
                |id| format!("{} was changed", calc.slot_name(id, change.place)),
            );
            format!("{what} on {} between {older} and {newer}", day(calc, change.entry))
        }
        Why::Conditions(key) => format!("{older} and {newer} were read with another {key} each"),
    }
}

/// The day a line was done on.
pub(super) fn day(calc: &Calc<'_>, entry: EntryId) -> String {
    calc.history.order.date(calc.book, entry).map_or_else(String::new, |date| date.to_string())
}
