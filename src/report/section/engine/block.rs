//! One quantity of the cylinders as a table: a line a reading, below them what each leads to.
//!
//! Must not know which cylinder stands out.

use super::series::{CellRead, LineRead, Series};
use crate::answer::due::{TrendView, trend};
use crate::book::entry::{By, Entry, EntryId, Verb};
use crate::book::model::CarId;
use crate::due::trend::HOUR;
use crate::history::likeness::{self, Likeness};
use crate::report::chart::strip::Strip;
use crate::report::section::figures::health;
use crate::report::section::value::{self, ShownValue, ValueOrigin};
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use crate::units::number;
use crate::words::capital;
use serde::Serialize;

/// What is read of each cylinder over hours.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EngineBlock {
    /// "exhaust lash".
    pub name: String,
    /// The unit, where all have the same.
    pub unit: String,
    /// The cylinders: "1", "2".
    pub cylinders: Vec<String>,
    /// The readings drawn to their limit; none where nobody knows the engine's hours of any.
    pub strip: Option<Strip>,
    /// The readings, oldest first.
    pub rows: Vec<EngineRow>,
    /// By how much each rises in an hour of the engine, with half of its interval: "+1.0 ± 0.6"; a dash where that is not told.
    pub per_hour: Vec<String>,
    /// When each comes to its end; a dash where that is not told.
    pub ends: Vec<String>,
    /// Whether any end is told.
    pub any_end: bool,
    /// What the ends are, and why others have none, a sentence each.
    pub notes: Vec<String>,
    /// The line to type next time, with gaps, so that it is taken alike: "read leakdown … … % at 7.0 bar by ld-1 with hot".
    pub line: String,
}

/// A reading of the cylinders.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EngineRow {
    /// What was fitted or rebuilt before it, and since the one above: "en-2 fitted or rebuilt: from here another engine, or another state of it".
    pub anew: String,
    /// "12 Mar 2026".
    pub when: String,
    /// "found, cold", "hot, at 7 bar".
    pub taken: String,
    /// The engine's hours; a dash where the book does not know them.
    pub hours: String,
    /// One a cylinder.
    pub cells: Vec<EngineCell>,
    /// Its line.
    pub src: String,
}

/// A reading of a cylinder.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EngineCell {
    /// The value; missing where it was not read.
    pub value: ShownValue,
    /// Whether it leaks far more than the others of its line.
    pub far: bool,
}

/// What a reading tells, as typed; of a pressure held over a supply, the share lost.
pub(super) fn told(tell: &Teller<'_>, cell: &CellRead<'_>) -> ShownValue {
    let typed = value::value(tell, cell.track, &cell.event);
    if !typed.text.contains('/') {
        return typed;
    }
    let lost = |si: f64| ShownValue {
        text: words::amount(si * 100.0, 1),
        unit: "%".to_owned(),
        how: ValueOrigin::Derived,
    };
    cell.si.map_or_else(ShownValue::missing, lost)
}

/// The unit of some values, where they have one.
pub(super) fn one_unit(cells: &[ShownValue]) -> String {
    let mut units = cells.iter().map(|cell| cell.unit.as_str()).filter(|unit| !unit.is_empty());
    let first = units.next().unwrap_or_default();
    if units.all(|unit| unit == first) { first.to_owned() } else { String::new() }
}

/// "+1.0 ± 0.6": as finely as half of its interval is, or a digit more where the two would look alike.
pub(super) fn slope(view: &TrendView) -> Option<String> {
    let [per, half] = view.per_hour?;
    let fine = if half > 0.0 { -libm::floor(libm::log10(half)) } else { 3.0 };
    let decimals = fine.clamp(0.0, 6.0) as u8;
    let texts = |decimals: u8| [number::format(per.abs(), decimals), number::format(half, decimals)];
    let alike = |decimals: &u8| {
        let [per, half] = texts(*decimals);
        per == half
    };
    let decimals = (decimals..decimals + 3).find(|decimals| !alike(decimals)).unwrap_or(decimals);
    let [_, half] = texts(decimals);
    Some(format!("{} ± {half}", number::signed(per, decimals)))
}

/// "Cylinder 2", "Cylinders 1, 3 and 4", "All cylinders" of so many.
fn cylinders(which: &[usize], of: usize) -> String {
    let numbers: Vec<String> = which.iter().map(|index| (index + 1).to_string()).collect();
    match which.len() {
        1 => format!("Cylinder {}", words::and(&numbers)),
        all if all == of => "All cylinders".to_owned(),
        _ => format!("Cylinders {}", words::and(&numbers)),
    }
}

/// Makes it.
pub(super) fn block(tell: &Teller<'_>, car: CarId, series: &Series<'_>) -> EngineBlock {
    let views: Vec<Option<TrendView>> = (0..series.places.len())
        .map(|index| series.trend(index).map(|one| trend(tell.compiled, one)))
        .collect();
    let rows: Vec<EngineRow> = series.lines.iter().map(|line| row(tell, series, line)).collect();
    let cells: Vec<ShownValue> =
        rows.iter().flat_map(|row| &row.cells).map(|cell| cell.value.clone()).collect();
    let of = |words: &dyn Fn(&TrendView) -> Option<String>| -> Vec<String> {
        let one = |view: &Option<TrendView>| view.as_ref().and_then(words);
        views.iter().map(|view| one(view).unwrap_or_else(|| words::DASH.to_owned())).collect()
    };
    let kept = series.kept;
    let head = if kept.figure.is_some() { "lost" } else { "read" };
    let end = tell.cx.history.order.entries.next_key();
    EngineBlock {
        name: series.called.to_owned(),
        unit: one_unit(&cells),
        cylinders: (1..=series.places.len()).map(|number| number.to_string()).collect(),
        strip: health::drawn(tell, car, end, kept, (&capital(series.called), head)),
        rows,
        per_hour: of(&slope),
        ends: of(&|view| (!view.within.is_empty()).then(|| view.within.clone())),
        any_end: views.iter().flatten().any(|view| !view.within.is_empty()),
        notes: notes(tell, series, &views),
        line: series.newest().map_or_else(String::new, |line| next(tell, series, line)),
    }
}

/// What the ends are, and why there is none, each with its cylinders.
fn notes(tell: &Teller<'_>, series: &Series<'_>, views: &[Option<TrendView>]) -> Vec<String> {
    let mut list: Vec<(String, Vec<usize>)> = Vec::new();
    for (index, view) in views.iter().enumerate() {
        let Some(view) = view else { continue };
        let words = if view.why.is_empty() {
            let counted = if view.from_last {
                "; hours count from its last reading, what it ran since is not known"
            } else {
                ""
            };
            format!("a straight line leads to {}{}{counted}", view.limit, view.renewed)
        } else {
            format!("{}{}", view.why, between(tell, series, index).unwrap_or_default())
        };
        match list.iter_mut().find(|(same, _)| *same == words) {
            Some((_, all)) => all.push(index),
            None => list.push((words, vec![index])),
        }
    }
    let of = series.places.len();
    let told = list.iter().map(|(words, all)| format!("{}: {words}.", cylinders(all, of)));
    let mut notes: Vec<String> = told.collect();
    if series.put_right() {
        notes.push(
            "Above as typed; drawn, and in the slopes, as the comparisons of its gauge put it right."
                .to_owned(),
        );
    }
    if series.of_others > 0 {
        let lines = words::count(series.of_others, "line", "lines");
        notes.push(format!("{lines} about what was in before: that stays with it, and is not here."));
    }
    notes
}

/// Of too few readings for a line: whether the gauge tells the last from the first of them.
fn between(tell: &Teller<'_>, series: &Series<'_>, index: usize) -> Option<String> {
    let trend = series.trend(index)?;
    let [(first, _), .., (last, _)] = trend.readings.as_slice() else { return None };
    if trend.slope.is_some() {
        return None;
    }
    let cell = |entry: EntryId| {
        let line = series.lines.iter().find(|line| line.entry == entry)?;
        *line.cells.get(index)?
    };
    let (first, last) = (cell(*first)?, cell(*last)?);
    let likeness = likeness::compare(tell.cx.facts, (last.event, last.track), (first.event, first.track));
    let dimension = |cell: &CellRead<'_>| {
        Some(tell.cx.history.item(tell.cx.book, cell.track, &cell.event)?.unit().get().dim)
    };
    // A share that was typed and one worked out of two pressures are not held against each other.
    if dimension(&first)? != dimension(&last)? {
        return None;
    }
    Some(match likeness {
        Likeness::Same => "; the last of them is the first, within what the gauge tells".to_owned(),
        Likeness::Moved => {
            "; the last of them differs from the first by more than the gauge leaves open".to_owned()
        }
        Likeness::CannotTell => "; whether the last of them differs from the first cannot be told".to_owned(),
    })
}

fn row(tell: &Teller<'_>, series: &Series<'_>, line: &LineRead<'_>) -> EngineRow {
    let cx = &tell.cx;
    let far: Vec<usize> = match series.kept.figure {
        Some(_) => line.far().unwrap_or_default().into_iter().map(|(index, ..)| index).collect(),
        None => Vec::new(),
    };
    let first = line.cells.iter().flatten().next();
    let taken = first.map(|cell| cell.taken);
    let verb = if line.verb == Verb::Read { "" } else { line.verb.word() };
    let how = [
        verb.to_owned(),
        match taken.and_then(|taken| taken.hot) {
            Some(true) => "hot".to_owned(),
            Some(false) => "cold".to_owned(),
            None => String::new(),
        },
        first
            .and_then(|cell| supply(tell, line.entry, cell))
            .map_or_else(String::new, |supply| format!("at {supply}")),
    ];
    let how: Vec<String> = how.into_iter().filter(|words| !words.is_empty()).collect();
    let renewed: Vec<&str> = line.renewed.iter().map(|part| cx.part(*part)).collect();
    let hours = taken.and_then(|taken| taken.hours);
    EngineRow {
        anew: if renewed.is_empty() {
            String::new()
        } else {
            format!("{} fitted or rebuilt before this", words::and(&renewed))
        },
        when: cx
            .date(line.entry)
            .map_or_else(String::new, |date| format!("{} {}", words::short(date), date.year())),
        taken: how.join(", "),
        hours: hours.map_or_else(|| words::DASH.to_owned(), |hours| words::amount(hours / HOUR, 2)),
        cells: (0..)
            .zip(&line.cells)
            .map(|(index, cell)| EngineCell {
                value: cell.as_ref().map_or_else(ShownValue::missing, |cell| told(tell, cell)),
                far: far.contains(&index),
            })
            .collect(),
        src: sources::lines(cx.files, tell.entry(line.entry).map(Entry::span)),
    }
}

/// The line to type next, taken as the last one was.
fn next(tell: &Teller<'_>, series: &Series<'_>, line: &LineRead<'_>) -> String {
    let cx = &tell.cx;
    let Some(entry) = tell.entry(line.entry) else { return String::new() };
    let unit = line.cells.iter().flatten().next().and_then(|cell| {
        let item = cx.history.item(cx.book, cell.track, &cell.event)?;
        Some(item.unit().get().shown())
    });
    let at = at(tell, line.entry).map_or_else(String::new, |at| format!(" at {at}"));
    let by = match entry.by {
        By::Gauge(gauge) => {
            cx.book.gauges.get(gauge).map_or_else(String::new, |gauge| format!(" by {}", gauge.named.typed))
        }
        _ => String::new(),
    };
    let with = tell.conditions(entry);
    let with = if with.is_empty() { String::new() } else { format!(" with {}", with.join(", ")) };
    let verb = if line.verb == Verb::Found { "found" } else { "read" };
    let gaps = vec!["…"; series.places.len()].join(" ");
    format!("{verb} {} {gaps} {}{at}{by}{with}", series.kept.name, unit.unwrap_or_default())
}

/// "7.0 bar", as a line says after `at`.
fn at(tell: &Teller<'_>, line: EntryId) -> Option<String> {
    let entry = tell.entry(line)?;
    let item = tell.cx.book.extra(entry)?.at.as_ref()?;
    Some(format!("{} {}", tell.cx.text(item.span(entry.file)), item.unit().get().shown()))
}

/// The supply pressure as typed: after `at`, or behind the stroke of what was held over it.
fn supply(tell: &Teller<'_>, line: EntryId, cell: &CellRead<'_>) -> Option<String> {
    at(tell, line).or_else(|| {
        let typed = value::value(tell, cell.track, &cell.event);
        let (_, supply) = typed.text.split_once('/')?;
        Some(format!("{supply} {}", typed.unit))
    })
}
