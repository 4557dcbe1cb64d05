//! What is drawn below the laps of a few sessions: hot pressures, how far each tread is apart across its breadth, oil and water; each where
//! it was read.
//!
//! Must not know how it is drawn.

use super::came_in;
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::sessions::Session;
use crate::report::chart::below::{BelowReading, BelowSeries};
use crate::report::teller::Teller;
use crate::report::words::DASH;
use crate::units::{UnitId, number};
use crate::vocabulary::QuantityId;

/// A row, and its column of the table: a cell a session.
pub(super) struct Below {
    /// The row.
    pub series: BelowSeries,
    /// The head of its column: "hot pressure, bar: LF / RF / LR / RR".
    pub head: String,
    /// The same in digits.
    pub cells: Vec<String>,
}

/// How a row is told.
#[derive(Clone, Copy)]
enum RowOf {
    /// As it was read.
    Read,
    /// The hottest of the three less the coolest.
    Spread,
}

/// The rows: what is read, its name, whether at corners, its decimals in the units of a metric and of an imperial car.
const ROWS: [(&str, &str, RowOf, bool, [u8; 2]); 4] = [
    ("tyre-hot", "hot pressure", RowOf::Read, true, [2, 1]),
    ("tyre-temp", "hottest less coolest of each tread", RowOf::Spread, true, [0, 0]),
    ("oil-temp", "oil", RowOf::Read, false, [0, 0]),
    ("coolant-temp", "water", RowOf::Read, false, [0, 0]),
];

/// The rows of some sessions, each where anything was read.
pub(super) fn rows(tell: &Teller<'_>, car: CarId, sessions: &[&Session]) -> Vec<Below> {
    let imperial = tell.cx.book.cars.get(car).is_some_and(|car| car.imperial);
    let row = |(quantity, name, told, corners, decimals): &(&str, &str, RowOf, bool, [u8; 2])| {
        let id = tell.cx.book.vocabulary.find(quantity)?;
        let unit = tell.cx.quantity(id).show.get(usize::from(imperial)).copied().flatten()?;
        let [metric, own] = *decimals;
        let decimals = if imperial { own } else { metric };
        let places: &[Place] = if *corners { &Place::CORNERS } else { &[Place::CAR] };
        let mut readings = Vec::new();
        let mut cells = Vec::new();
        for (run, session) in sessions.iter().enumerate() {
            let mut texts = Vec::new();
            for (corner, place) in places.iter().enumerate() {
                let read = value(tell, session, (id, *place), *told, unit);
                let text =
                    |(value, typed): (f64, Option<u8>)| number::format(value, typed.unwrap_or(decimals));
                texts.push(read.map_or_else(|| DASH.to_owned(), text));
                let corner = corners.then_some(corner as u8);
                readings.extend(read.map(|(value, _)| BelowReading { run, value, corner }));
            }
            let nothing = texts.iter().all(|text| text == DASH);
            cells.push(if nothing { DASH.to_owned() } else { texts.join(" / ") });
        }
        let name = format!("{name}, {}", unit.get().shown());
        let head = if *corners { format!("{name}: LF / RF / LR / RR") } else { name.clone() };
        (!readings.is_empty()).then_some(Below { head, series: BelowSeries { name, readings }, cells })
    };
    ROWS.iter().filter_map(row).collect()
}

/// What a session read at a place, in a unit; and with how many decimals it was typed, where it was in that unit.
fn value(
    tell: &Teller<'_>,
    session: &Session,
    (quantity, place): (QuantityId, Place),
    told: RowOf,
    unit: UnitId,
) -> Option<(f64, Option<u8>)> {
    let read = came_in::read(tell, session, quantity, place)?;
    let numbers = came_in::numbers(tell, &read);
    let typed = numbers.iter().all(|item| item.unit() == unit);
    let typed = numbers.iter().map(|item| item.decimals).max().filter(|_| typed);
    match told {
        RowOf::Read => Some((unit.get().from_si(read.event.value), typed)),
        RowOf::Spread => {
            let most = numbers.iter().map(|item| item.si).fold(f64::NEG_INFINITY, f64::max);
            let least = numbers.iter().map(|item| item.si).fold(f64::INFINITY, f64::min);
            (numbers.len() == 3).then(|| ((most - least) / unit.get().difference_to_si(1.0), typed))
        }
    }
}
