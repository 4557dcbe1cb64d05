//! What is planned, in words: the event, the cars, what they are expected to run.

use crate::Compiled;
use crate::answer::{LedgerLine, line};
use crate::book::model::Clock;
use crate::due::Due;
use crate::due::plan::{CarPlan, Plan};
use crate::words::scale::Scale;
use jiff::civil::Date;
use serde::Serialize;

/// The plan.
#[derive(Debug, Clone, Serialize)]
pub struct PlanView {
    /// The event; null where none is to come.
    pub event: Option<String>,
    /// Its words.
    pub title: String,
    /// First day.
    pub first: Option<String>,
    /// Last day.
    pub last: Option<String>,
    /// The day the list is made for: today, or the event's first day where that is past.
    pub on: String,
    /// What says that day: `today by the clock`, `the day asked for`, `its first day`.
    pub by: &'static str,
    /// Days from then to the first day.
    pub days_ahead: Option<i32>,
    /// Where the event is declared.
    pub line: Option<LedgerLine>,
    /// The cars that go; of no event those that are the shop's.
    pub cars: Vec<CarView>,
}

/// A car that goes.
#[derive(Debug, Clone, Serialize)]
pub struct CarView {
    /// The car.
    pub car: String,
    /// The events up to the one asked about.
    pub events: Vec<String>,
    /// Over how many earlier events the mean is.
    pub of_events: u32,
    /// Running time expected over those events, seconds; null where it is not known.
    pub expected_s: Option<f64>,
    /// In words: `162.5 min an event, the mean of its 4 events`.
    pub text: String,
}

pub(super) fn view(compiled: &Compiled, made: &Due) -> PlanView {
    let event = made.plan.event.and_then(|event| compiled.book.events.get(event));
    let days = |first: Date| made.plan.today.until(first).map_or(0, |span| span.get_days());
    PlanView {
        event: event.map(|event| event.named.typed.to_string()),
        title: event.map_or_else(String::new, |event| event.named.title.clone()),
        first: event.map(|event| event.first.to_string()),
        last: event.map(|event| event.last.to_string()),
        on: made.plan.today.to_string(),
        by: match compiled.at {
            _ if made.plan.today < compiled.today => "its first day",
            Some(_) => "the day asked for",
            None => "today by the clock",
        },
        days_ahead: event.map(|event| days(event.first)),
        line: event.map(|event| line(compiled, event.named.declared)),
        cars: made.plan.cars.iter().map(|car| car_view(compiled, &made.plan, car)).collect(),
    }
}

fn car_view(compiled: &Compiled, whole: &Plan, plan: &CarPlan) -> CarView {
    let on = whole.today;
    let events: Vec<String> =
        plan.events.iter().map(|event| compiled.book.events[*event].named.typed.to_string()).collect();
    let scale = Scale::plain(Clock::Time);
    let mean = plan.per_event[Clock::Time];
    let text = match (mean, plan.of) {
        _ if whole.event.is_none() => "no event to come".to_owned(),
        (_, 0) => match plan.unfinished.and_then(|event| compiled.book.events.get(event)) {
            Some(event) => {
                let (name, last) = (&event.named.typed, event.last);
                format!(
                    "not known: by {on} {name}, the one event it ran at, is not over, since its last day is {last}"
                )
            }
            None => "it has run no whole event in this book: not known".to_owned(),
        },
        (None, n) => format!("not known: of its {n} events not every session says its minutes"),
        (Some(mean), 1) => format!("{} an event, as at its one event so far", scale.words(mean)),
        (Some(mean), n) => format!("{} an event, the mean of its {n} events", scale.words(mean)),
    };
    let text = if events.len() > 1 { format!("{text}; {} events up to then", events.len()) } else { text };
    CarView {
        car: compiled.book.cars[plan.car].named.typed.to_string(),
        events,
        of_events: plan.of,
        expected_s: plan.expected(Clock::Time),
        text,
    }
}
