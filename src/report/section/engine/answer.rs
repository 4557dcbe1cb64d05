//! The sentence of decision: which cylinder stands out, whether it did from the first, whether it gets worse, and until when.
//!
//! Must not know tables.

use super::block::{slope, told};
use super::series::Series;
use crate::answer::due::{TrendView, trend};
use crate::book::model::{CarId, Clock};
use crate::due::ends::Trend;
use crate::due::trend::HOUR;
use crate::history::likeness::{self, Likeness};
use crate::report::section::value::ShownValue;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// The sentence of decision.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EngineAnswer {
    /// "Cylinder 2 gets worse, and was not always so."
    pub lead: String,
    /// Whether a cylinder stands out or gets worse.
    pub stands_out: bool,
    /// What that rests on, a sentence each.
    pub because: Vec<String>,
    /// What other cylinders lead to, a sentence each.
    pub beside: Vec<String>,
    /// What the car is to run next; empty where nothing is planned.
    pub ahead: String,
}

/// A cylinder whose readings lead to an end.
struct Worse<'s, 'a> {
    series: &'s Series<'a>,
    index: usize,
    view: TrendView,
    likely: f64,
}

/// Makes it.
pub(super) fn answer(tell: &Teller<'_>, car: CarId, all: &[Series<'_>]) -> EngineAnswer {
    let leak = all.iter().find(|one| one.kept.figure.is_some());
    let held = leak.and_then(|leak| leak.newest()?.far());
    let far = held.clone().unwrap_or_default();
    let worse = worse(tell, all);
    let worst = far.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map(|(index, ..)| *index);
    let soonest = worse.iter().min_by(|a, b| a.likely.total_cmp(&b.likely)).map(|one| one.index);
    let Some(index) = worst.or(soonest) else {
        return none(all, leak.is_some(), held.is_some());
    };
    let its: Vec<&Worse<'_, '_>> = worse.iter().filter(|one| one.index == index).collect();
    let number = index + 1;
    let lead = match worst {
        Some(_) => {
            let first = leak.and_then(|leak| leak.first(index)?.far());
            let first = first.map(|far| far.iter().any(|(at, ..)| *at == index));
            match (first, its.is_empty()) {
                (Some(true), false) => "stood out from the first reading, and gets worse",
                (Some(false), false) => "gets worse, and was not always so",
                (None, false) => "stands out, and gets worse",
                (Some(true), true) => "stands out, and did from the first reading",
                (Some(false), true) => "stands out, and did not at first",
                (None, true) => "stands out",
            }
        }
        None if held.is_some() => "gets worse, and does not leak far more than the others",
        None => "gets worse",
    };
    let mut because = Vec::new();
    if let Some((_, _, middle)) = far.iter().find(|(at, ..)| *at == index)
        && let Some(leak) = leak
    {
        let value = leak.newest().and_then(|line| line.cells.get(index)?.as_ref());
        let value = value.map_or_else(String::new, |cell| spaced(&told(tell, cell)));
        because.push(format!(
            "It leaks {value}, the middle of the others {} %.",
            words::amount(middle * 100.0, 1)
        ));
    }
    because.extend(its.iter().map(|one| leads(one, "Its ")));
    if let Some(leak) =
        leak.filter(|_| worst.is_some() && !its.iter().any(|one| one.series.kept.figure.is_some()))
        && let Some(trend) = leak.trend(index)
    {
        because.push(untold(tell, trend));
    }
    let told_of = |one: &&Series<'_>| !its.iter().any(|its| std::ptr::eq(its.series, *one));
    let others = all.iter().filter(|one| one.kept.figure.is_none()).filter(told_of);
    because.extend(others.filter_map(|one| reads_apart(tell, one, index)));
    let beside = worse.iter().filter(|one| one.index != index);
    EngineAnswer {
        lead: format!("Cylinder {number} {lead}."),
        stands_out: true,
        because,
        beside: beside.map(|one| leads(one, &format!("Cylinder {}: its ", one.index + 1))).collect(),
        ahead: ahead(tell, car),
    }
}

/// Cylinders whose readings lead to an end.
fn worse<'s, 'a>(tell: &Teller<'_>, all: &'s [Series<'a>]) -> Vec<Worse<'s, 'a>> {
    let mut list = Vec::new();
    for series in all {
        for index in 0..series.places.len() {
            let Some(one) = series.trend(index) else { continue };
            let Ok(end) = one.end.as_ref() else { continue };
            let [_, likely, _] = end.hours;
            list.push(Worse { series, index, view: trend(tell.compiled, one), likely });
        }
    }
    list
}

/// Nothing stands out.
fn none(all: &[Series<'_>], leak: bool, held: bool) -> EngineAnswer {
    let trends = || all.iter().flat_map(|one| &one.trends);
    let (lead, mut because) = if trends().any(|one| one.slope.is_some()) {
        let and = if held { ", and none leaks far more than the others" } else { "" };
        (format!("No cylinder gets worse as far as its readings tell{and}."), Vec::new())
    } else {
        let most = trends().map(|one| one.readings.len()).max().unwrap_or(0);
        let lead = "As they stand no cylinder leaks far more than the others.".to_owned();
        let few = format!(
            "Whether one gets worse cannot be told yet: {} taken alike at known hours of the engine {} the most there are of any, and {} are needed.",
            words::count(most, "reading", "readings"),
            if most == 1 { "is" } else { "are" },
            crate::due::ends::LEAST
        );
        if held { (lead, vec![few]) } else { (few, Vec::new()) }
    };
    if !held {
        let why = if leak {
            "The last leak-down read too few cylinders to hold them against one another."
        } else {
            "No leak-down was read."
        };
        because.push(why.to_owned());
    }
    EngineAnswer { lead, stands_out: false, because, beside: Vec::new(), ahead: String::new() }
}

/// "Its leak-down changes by +1.0 ± 0.6 % an hour of the engine: a straight line reaches 10 %, the end of what is usual, by now."
fn leads(one: &Worse<'_, '_>, whose: &str) -> String {
    let TrendView { unit, limit, when, renewed, .. } = &one.view;
    let slope = slope(&one.view).unwrap_or_default();
    format!(
        "{whose}{} changes by {slope} {unit} an hour of the engine: a straight line reaches {limit}, {when}{renewed}.",
        one.series.called
    )
}

/// What is told of a leak that leads to no end.
fn untold(tell: &Teller<'_>, one: &Trend) -> String {
    let view = trend(tell.compiled, one);
    match (slope(&view), one.slope) {
        (Some(slope), Some(line)) if line.is_told() => {
            format!("Its leak-down changes by {slope} {} an hour of the engine; {}.", view.unit, view.why)
        }
        (Some(slope), _) => format!(
            "No change of its leak-down can be told from {} taken alike: {slope} {} an hour of the engine.",
            words::count(one.readings.len(), "reading", "readings"),
            view.unit
        ),
        (None, _) => format!("Whether it gets worse cannot be told yet: {}.", view.why),
    }
}

/// "Its compression is 11.3 bar, the others 12.9 to 13.0 bar": where it lies outside the others, and the gauge tells it from the nearest.
fn reads_apart(tell: &Teller<'_>, series: &Series<'_>, index: usize) -> Option<String> {
    let line = series.newest()?;
    let own = line.cells.get(index)?.as_ref()?;
    let mut others: Vec<_> = line
        .cells
        .iter()
        .enumerate()
        .filter(|(at, _)| *at != index)
        .filter_map(|(_, cell)| cell.as_ref())
        .collect();
    others.sort_by(|a, b| a.event.value.total_cmp(&b.event.value));
    let (least, most) = (*others.first()?, *others.last()?);
    let nearest = if own.event.value < least.event.value {
        least
    } else if own.event.value > most.event.value {
        most
    } else {
        return None;
    };
    let likeness = likeness::compare(tell.cx.facts, (own.event, own.track), (nearest.event, nearest.track));
    if likeness != Likeness::Moved {
        return None;
    }
    let [own, least, most] = [own, least, most].map(|cell| told(tell, cell));
    let others =
        if least.text == most.text { spaced(&least) } else { format!("{} to {}", least.text, spaced(&most)) };
    let cylinders = if series.places.len() == 2 { "the other" } else { "the others" };
    Some(format!("Its {} is {}, {cylinders} {others}.", series.called, spaced(&own)))
}

/// "22 %", as limits and slopes are said.
fn spaced(value: &ShownValue) -> String {
    format!("{} {}", value.text, value.unit).trim_end().to_owned()
}

/// What the car is expected to run until the next event is over.
fn ahead(tell: &Teller<'_>, car: CarId) -> String {
    let planned =
        tell.due().and_then(|due| Some((due.plan.event?, due.plan.of(car)?.expected(Clock::Time)?)));
    planned.map_or_else(String::new, |(event, seconds)| {
        format!(
            "Until {} is over the car is expected to run {} h.",
            tell.event(event),
            words::amount(seconds / HOUR, 1)
        )
    })
}
