//! What follows from the changes between two events: figures had at both whose value differs beyond rounding.
//!
//! Must not know how a figure is worked out.

use super::chain::digits;
use super::event::value;
use super::sheet::Sheet;
use crate::figures::trace::Step;
use crate::report::section::value::ShownValue;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::units::number;
use serde::Serialize;

/// Derived changes of one area.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DerivedArea {
    /// The area.
    pub name: String,
    /// Its changes.
    pub changes: Vec<Derived>,
}

/// One figure at one place.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Derived {
    /// Its name in words.
    pub name: String,
    /// Where.
    pub place: String,
    /// Then.
    pub then: ShownValue,
    /// Now.
    pub now: ShownValue,
    /// What it changed by, with its sign.
    pub change: String,
    /// What it is.
    pub brief: String,
    /// Whether the change is less than two standard uncertainties of both.
    pub unsure: bool,
    /// The lines it now comes from.
    pub src: String,
}

/// Compares two sheets of one car.
pub(in crate::report) fn derived(tell: &Teller<'_>, then: &Sheet, now: &Sheet) -> Vec<DerivedArea> {
    let mut areas: Vec<DerivedArea> = Vec::new();
    for row in &now.rows {
        for (place, step) in &row.sites {
            let (Some(is), Some(was)) = (step, then.find(&row.figure.name, *place)) else { continue };
            if same(was, is) {
                continue;
            }
            let change = Derived {
                name: row.figure.name.replace('-', " "),
                place: tell.cx.place(*place),
                then: value(was),
                now: value(is),
                change: change(was, is),
                brief: row.figure.brief.to_string(),
                unsure: unsure(was, is),
                src: sources::lines(tell.cx.files, row.spans.iter().copied()),
            };
            match areas.iter_mut().find(|area| *area.name == *row.figure.area) {
                Some(area) => area.changes.push(change),
                None => areas.push(DerivedArea { name: row.figure.area.to_string(), changes: vec![change] }),
            }
        }
    }
    areas
}

/// What was only read is among the readings; what rounds to the same is the same.
fn same(was: &Step, is: &Step) -> bool {
    let typed = was.formula.is_none() && is.formula.is_none();
    typed || was.unit == is.unit && digits(was).0 == digits(is).0
}

fn change(was: &Step, is: &Step) -> String {
    if was.unit != is.unit {
        return String::new();
    }
    let after = |step: &Step| digits(step).0.split_once('.').map_or(0, |(_, after)| after.len() as u8);
    let text = number::format(is.value - was.value, after(was).min(after(is)));
    let sign = if text.starts_with('-') { "" } else { "+" };
    let space = if is.unit.is_empty() || is.unit == "%" { "" } else { " " };
    // A difference of two shares is in points, not in per cent of either.
    let unit = if is.unit == "%" { " points" } else { is.unit.as_str() };
    format!("{sign}{text}{space}{unit}")
}

fn unsure(was: &Step, is: &Step) -> bool {
    let square = |u: Option<f64>| u.map_or(0.0, |u| u * u);
    let u = libm::sqrt(square(was.u) + square(is.u));
    u > 0.0 && (is.value - was.value).abs() < 2.0 * u
}
