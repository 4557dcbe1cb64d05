//! A cylinder that comes to the end of what is usual, in words.

use crate::Compiled;
use crate::answer::{LedgerLine, entry_line};
use crate::due::ends::Ending;
use crate::units::{UnitId, number, table};
use crate::words;
use serde::Serialize;

/// A cylinder that may come to the end of what is usual before the event is over.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EndView {
    /// The car.
    pub car: String,
    /// "leakdown c2".
    pub what: String,
    /// The readings taken alike, oldest first, in `unit`.
    pub readings: Vec<f64>,
    /// The unit; empty of a plain number.
    pub unit: String,
    /// The end of what is usual, in `unit`.
    pub limit: f64,
    /// Until it is reached, hours of the engine from the moment of the list: the earliest, the likely and the latest at 0.95; under nought
    /// it may be there already. Where nobody knows what was run since the last reading, from that.
    pub hours: [f64; 3],
    /// In words.
    pub text: String,
    /// The line of the last reading.
    pub line: Option<LedgerLine>,
}

pub(super) fn view(compiled: &Compiled, one: &Ending) -> EndView {
    let quantity = compiled.book.vocabulary.get(one.quantity);
    let typed = one.readings.last().filter(|_| !one.worked_out).and_then(|(line, _)| {
        let entry = compiled.book.entries.get(*line)?;
        let item = compiled.book.items_of(entry).iter().find(|item| item.place == one.place)?;
        Some(words::normal::unit(quantity, item.unit()))
    });
    let shown: UnitId = typed.or(quantity.show[0]).unwrap_or_else(|| table().plain());
    let unit = shown.get();
    let in_unit = |si: f64| unit.from_si(si);
    let symbol = unit.shown();
    let readings: Vec<f64> = one.readings.iter().map(|(_, value)| in_unit(*value)).collect();
    let listed: Vec<String> = readings.iter().map(|value| words::amount(*value, 1)).collect();
    let whose = words::normal::whose(&compiled.book, one.limit.1.says);
    let [low, _, high] = one.hours;
    let hours = |hours: f64| number::format(hours, u8::from(hours < 10.0));
    let from = if one.since.is_some() {
        "from now"
    } else {
        "after the last reading, and what it ran since is not known"
    };
    let when = if high <= 0.0 {
        "by now".to_owned()
    } else if low <= 0.0 {
        format!("by now or in up to {} h of the engine {from}", hours(high))
    } else {
        format!("in {} to {} h of the engine {from}", hours(low), hours(high))
    };
    let ahead = one.ahead.map_or_else(String::new, |ahead| {
        format!("; {} h of running are expected until it is over", hours(ahead))
    });
    let renewed: Vec<&str> = one.renewed.iter().map(|part| compiled.context().part(*part)).collect();
    let renewed = if renewed.is_empty() {
        String::new()
    } else {
        format!(
            "; since the first of them {} was fitted or rebuilt: of another engine they say nothing",
            words::and(&renewed)
        )
    };
    let space = if symbol.is_empty() { "" } else { " " };
    EndView {
        car: compiled.book.cars.get(one.car).map_or_else(String::new, |car| car.named.typed.to_string()),
        what: format!("{} {}", quantity.name, compiled.book.place_word(one.place)),
        text: format!(
            "{}{space}{symbol}, taken alike: a straight line through them reaches {}{space}{symbol}, the end of what is usual{whose}, {when}{ahead}{renewed}",
            listed.join(", "),
            words::amount(in_unit(one.limit.0), 1)
        ),
        readings,
        unit: symbol.to_owned(),
        limit: in_unit(one.limit.0),
        hours: one.hours,
        line: one.readings.last().and_then(|(line, _)| entry_line(compiled, *line)),
    }
}
