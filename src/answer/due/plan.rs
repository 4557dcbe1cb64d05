//! What is planned, in words: the event, the cars, what they are expected to run.

use crate::Compiled;
use crate::answer::{LedgerLine, line};
use crate::book::model::Clock;
use crate::due::Due;
use crate::due::plan::CarPlan;
use crate::words::scale::Scale;
use jiff::civil::Date;
use serde::Serialize;

/// The plan.
#[derive(Debug, Clone, Serialize)]
pub struct PlanView {
    /// The event.
    pub event: String,
    /// Its words.
    pub title: String,
    /// First day.
    pub first: String,
    /// Last day.
    pub last: String,
    /// The day the list is made for: today, or the event's first day where that is past.
    pub on: String,
    /// What says that day: `today by the clock`, `the day asked for`, `its first day`.
    pub by: &'static str,
    /// Days from then to the first day.
    pub days_ahead: i32,
    /// Where the event is declared.
    pub line: LedgerLine,
    /// The cars that go.
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
    let event = &compiled.book.events[made.plan.event];
    let days = made.plan.today.until(event.first).map_or(0, |span| span.get_days());
    PlanView {
        event: event.named.typed.to_string(),
        title: event.named.title.clone(),
        first: event.first.to_string(),
        last: event.last.to_string(),
        on: made.plan.today.to_string(),
        by: match compiled.at {
            _ if made.plan.today < compiled.today => "its first day",
            Some(_) => "the day asked for",
            None => "today by the clock",
        },
        days_ahead: days,
        line: line(compiled, event.named.declared),
        cars: made.plan.cars.iter().map(|car| car_view(compiled, made.plan.today, car)).collect(),
    }
}

fn car_view(compiled: &Compiled, on: Date, plan: &CarPlan) -> CarView {
    let events: Vec<String> =
        plan.events.iter().map(|event| compiled.book.events[*event].named.typed.to_string()).collect();
    let scale = Scale::plain(Clock::Time);
    let mean = plan.per_event[Clock::Time];
    let text = match (mean, plan.of) {
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
