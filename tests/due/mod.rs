//! What is due before an event: the plan, limits, chances, spares.

mod carry;
mod chance;
mod dated;
mod ends;
mod known;
mod limits;
mod nothing;
mod odd;
mod plan;
mod spares;
mod unread;
mod wear;

use crate::checks::compile_text;
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::answer::due::{DueRow, DueView, view};
use stringline::book::model::EventId;
use stringline::book::names::Thing;
use stringline::due::Ask;
use stringline::due::row::Action;

/// Two cars and six events, two of them past by 1 June 2025.
pub const SHOP: &str = r#"shop "S"  zone Europe/Dublin
car heron "Heron"
car plover "Plover"
circuit pell "Pell"
event e-1 2025-05-03..04 at pell "one"
event e-2 2025-05-17..18 at pell "two"
event e-3 2025-06-07..08 at pell "three"
event e-4 2025-06-21..22 at pell "four"
"#;

/// A session of a car at an event, on its first day.
pub fn ran(car: &str, event: &str, facts: &str) -> String {
    let day = ["2025-05-03", "2025-05-17", "2025-06-07", "2025-06-21"]
        [["e-1", "e-2", "e-3", "e-4"].iter().position(|known| *known == event).unwrap()];
    format!("\n{day} {car} at {event}\n  09:00 run s1  {facts}\n")
}

/// Lines under a dated head.
pub fn on(date: &str, car: &str, lines: &[&str]) -> String {
    let mut text = format!("\n{date} {car}\n");
    for line in lines {
        let _ = writeln!(text, "  {line}");
    }
    text
}

pub fn event(compiled: &Compiled, name: &str) -> EventId {
    match compiled.book.names.find(name) {
        Some(Thing::Event(id)) => id,
        other => panic!("{name}: {other:?}"),
    }
}

/// The list before an event as on a day, with the parts that need nothing, of spares enough at 90 %.
pub fn list(text: &str, before: &str, today: &str) -> DueView {
    sure(text, before, today, 0.9)
}

pub fn sure(text: &str, before: &str, today: &str, confidence: f64) -> DueView {
    let compiled = compile_text(text);
    let ask = Ask { event: Some(event(&compiled, before)), today: today.parse().unwrap(), confidence };
    view(&compiled, ask, true)
}

pub fn row<'a>(list: &'a DueView, part: &str) -> &'a DueRow {
    list.rows.iter().find(|row| row.part == part).unwrap_or_else(|| panic!("{part}: {:#?}", list.rows))
}

pub fn action(list: &DueView, part: &str) -> Action {
    row(list, part).action
}

pub fn near(got: f64, wanted: f64, tolerance: f64) {
    assert!((got - wanted).abs() <= tolerance, "{got}, expected {wanted} ± {tolerance}");
}
