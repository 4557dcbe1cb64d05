//! What is read over hours and where it ends, in words.

use crate::Compiled;
use crate::answer::{LedgerLine, entry_line};
use crate::due::ends::{Ending, LEAST, Limit, NoEnd, Trend};
use crate::due::trend::Hours;
use crate::units::{Unit, UnitId, number, table};
use crate::words;
use serde::Serialize;

/// Something that may come to the end of what is usual, or to the least that the book states, before the event is over.
#[derive(Debug, Clone, Serialize)]
pub struct EndView {
    /// The car.
    pub car: String,
    /// "leakdown c2".
    pub what: String,
    /// The readings taken alike, oldest first, in `unit`.
    pub readings: Vec<f64>,
    /// The unit; empty of a plain number.
    pub unit: String,
    /// The end, in `unit`.
    pub limit: f64,
    /// By how much it rises in an hour, in `unit`.
    pub per_hour: f64,
    /// Until it is reached, hours from the moment of the list: the earliest, the likely and the latest at 0.95; under nought
    /// it may be there already. Where nobody knows what was run since the last reading, from that.
    pub hours: [f64; 3],
    /// In words.
    pub text: String,
    /// The line of the last reading.
    pub line: Option<LedgerLine>,
}

/// Things read over hours of which no end is told, for one reason.
#[derive(Debug, Clone, Serialize)]
pub struct NoEndView {
    /// The car.
    pub car: String,
    /// "pad-thickness LF RF".
    pub what: String,
    /// Why.
    pub text: String,
}

/// What a page about one thing read over hours says of it.
#[derive(Debug, Clone)]
pub struct TrendView {
    /// The unit; empty of a plain number.
    pub unit: String,
    /// By how much it rises in an hour, and half of that interval at 0.95, in `unit`.
    pub per_hour: Option<[f64; 2]>,
    /// "10 %, the end of what is usual"; empty where no end is told.
    pub limit: String,
    /// "in 4.5 to 103 h", "by now"; empty where no end is told.
    pub within: String,
    /// Whether those hours count from its last reading, what it ran since being unknown.
    pub from_last: bool,
    /// "in 4.5 to 103 h of the engine from now"; empty where no end is told.
    pub when: String,
    /// Why no end is told; empty where one is.
    pub why: String,
    /// "; since the first of them en-2 was fitted or rebuilt: ..."; empty where nothing was.
    pub renewed: String,
}

/// The same thing for a page about it.
#[must_use]
pub fn trend(compiled: &Compiled, one: &Trend) -> TrendView {
    let unit = unit(compiled, one);
    let in_unit = |si: f64| unit.from_si(si);
    let rises = |si: f64| in_unit(si) - in_unit(0.0);
    let end = one.end.as_ref();
    TrendView {
        unit: unit.shown().to_owned(),
        per_hour: one.slope.map(|slope| [rises(slope.per), rises(slope.half).abs()]),
        limit: end.map_or_else(|_| String::new(), |end| limit(compiled, one, end)),
        within: end.map_or_else(|_| String::new(), within),
        from_last: end.is_ok_and(|end| end.since.is_none() && end.hours[2] > 0.0),
        when: end.map_or_else(|_| String::new(), |end| when(one, end)),
        why: end.err().map_or_else(String::new, |why| reason(one, *why)),
        renewed: end.map_or_else(|_| String::new(), |end| renewed(compiled, end)),
    }
}

/// The unit that it is told in: that of its last reading, or of the figure.
#[must_use]
pub fn unit(compiled: &Compiled, one: &Trend) -> &'static Unit {
    let quantity = compiled.book.vocabulary.get(one.quantity);
    let typed = one.readings.last().filter(|_| !one.worked_out).and_then(|(line, _)| {
        let entry = compiled.book.entries.get(*line)?;
        let item = compiled.book.items_of(entry).iter().find(|item| item.place == one.place)?;
        Some(words::normal::unit(quantity, item.unit()))
    });
    let shown: UnitId = typed.or(quantity.show[0]).unwrap_or_else(|| table().plain());
    shown.get()
}

/// As closely as such things are read: hundredths of a millimetre, tenths of a bar.
fn decimals(unit: &Unit, one: &Trend) -> u8 {
    if one.readings.iter().any(|(_, value)| unit.from_si(*value).abs() >= 5.0) { 1 } else { 2 }
}

fn space(symbol: &str) -> &'static str {
    if symbol.is_empty() { "" } else { " " }
}

/// "10 %, the end of what is usual", "9 mm, its pad-minimum".
fn limit(compiled: &Compiled, one: &Trend, end: &Ending) -> String {
    let unit = unit(compiled, one);
    let symbol = unit.shown();
    let limit = words::amount(unit.from_si(end.limit.0), decimals(unit, one));
    let limit = format!("{limit}{}{symbol}", space(symbol));
    match end.limit.1 {
        Limit::Usual(says) => {
            format!("{limit}, the end of what is usual{}", words::normal::whose(&compiled.book, says))
        }
        Limit::Stated(of) => format!("{limit}, its {}", compiled.book.vocabulary.get(of).name),
    }
}

fn renewed(compiled: &Compiled, end: &Ending) -> String {
    let renewed: Vec<&str> = end.renewed.iter().map(|part| compiled.context().part(*part)).collect();
    if renewed.is_empty() {
        return String::new();
    }
    format!(
        "; since the first of them {} was fitted or rebuilt: of another engine they say nothing",
        words::and(&renewed)
    )
}

pub(super) fn view(compiled: &Compiled, one: &Trend, end: &Ending) -> EndView {
    let quantity = compiled.book.vocabulary.get(one.quantity);
    let unit = unit(compiled, one);
    let in_unit = |si: f64| unit.from_si(si);
    let symbol = unit.shown();
    let readings: Vec<f64> = one.readings.iter().map(|(_, value)| in_unit(*value)).collect();
    let most = decimals(unit, one);
    let listed: Vec<String> = readings.iter().map(|value| words::amount(*value, most)).collect();
    let ahead = end.ahead.map_or_else(String::new, |ahead| {
        format!("; {} h of running are expected until it is over", hours(ahead))
    });
    EndView {
        car: car(compiled, one),
        what: format!("{} {}", quantity.name, compiled.book.place_word(one.place)),
        text: format!(
            "{}{}{symbol}, taken alike: a straight line through them reaches {}, {}{ahead}{}",
            listed.join(", "),
            space(symbol),
            limit(compiled, one, end),
            when(one, end),
            renewed(compiled, end)
        ),
        readings,
        unit: symbol.to_owned(),
        limit: in_unit(end.limit.0),
        per_hour: in_unit(end.slope) - in_unit(0.0),
        hours: end.hours,
        line: one.readings.last().and_then(|(line, _)| entry_line(compiled, *line)),
    }
}

fn car(compiled: &Compiled, one: &Trend) -> String {
    compiled.book.cars.get(one.car).map_or_else(String::new, |car| car.named.typed.to_string())
}

fn hours(hours: f64) -> String {
    number::format(hours, u8::from(hours < 10.0))
}

/// "in 4.5 to 103 h".
fn within(end: &Ending) -> String {
    let [low, _, high] = end.hours;
    if high <= 0.0 {
        "by now".to_owned()
    } else if low <= 0.0 {
        format!("by now or in up to {} h", hours(high))
    } else {
        format!("in {} to {} h", hours(low), hours(high))
    }
}

fn when(one: &Trend, end: &Ending) -> String {
    let within = within(end);
    if end.hours[2] <= 0.0 {
        return within;
    }
    let of = match one.by {
        Hours::Engine => "of the engine",
        Hours::Running => "of running",
    };
    let from = if end.since.is_some() {
        "from now"
    } else {
        "after the last reading, and what it ran since is not known"
    };
    format!("{within} {of} {from}")
}

/// Those of which no end is told, places of one reason together.
pub(super) fn open(compiled: &Compiled, all: &[Trend]) -> Vec<NoEndView> {
    let mut list: Vec<(String, String, Vec<&Trend>)> = Vec::new();
    for one in all {
        let Err(why) = one.end else { continue };
        let (car, text) = (car(compiled, one), reason(one, why));
        let known = list.iter_mut().find(|(of, same, trends)| {
            *of == car && *same == text && trends.first().is_some_and(|first| first.quantity == one.quantity)
        });
        match known {
            Some((.., trends)) => trends.push(one),
            None => list.push((car, text, vec![one])),
        }
    }
    list.into_iter()
        .map(|(car, text, trends)| {
            let name = trends.first().map(|one| compiled.book.vocabulary.get(one.quantity).name.to_string());
            let places: Vec<String> = trends.iter().map(|one| compiled.book.place_word(one.place)).collect();
            NoEndView { car, what: format!("{} {}", name.unwrap_or_default(), places.join(" ")), text }
        })
        .collect()
}

fn reason(one: &Trend, why: NoEnd) -> String {
    match why {
        NoEnd::Few => {
            let count = words::count(one.readings.len() as u64, "reading", "readings");
            let anew = if one.anew { " since it was renewed, adjusted or disturbed" } else { "" };
            format!("{count} taken alike{anew}, and {LEAST} are needed")
        }
        NoEnd::NotForeseen => "no end foreseeable by its readings".to_owned(),
        NoEnd::NoLimit => "nothing in the book says where it ends".to_owned(),
    }
}
