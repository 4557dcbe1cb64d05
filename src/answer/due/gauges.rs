//! A gauge that is out of date for the event, in words.

use crate::Compiled;
use crate::answer::{LedgerLine, dates, line};
use crate::book::model::GaugeId;
use crate::book::names::Thing;
use serde::Serialize;

/// A gauge that may not be trusted at the event.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct GaugeView {
    /// Its name.
    pub gauge: String,
    /// Its words; may be empty.
    pub title: String,
    /// Its last good day.
    pub good_to: String,
    /// In words.
    pub text: String,
    /// Where it is declared.
    pub line: LedgerLine,
}

pub(super) fn view(compiled: &Compiled, id: GaugeId) -> GaugeView {
    let gauge = &compiled.book.gauges[id];
    let named = &gauge.named;
    GaugeView {
        gauge: named.typed.to_string(),
        title: named.words().to_owned(),
        good_to: gauge.valid_until.map_or_else(String::new, |day| day.to_string()),
        text: if compiled.book.unread.has(Some(Thing::Gauge(id)), "valid-until") {
            "until when it is good could not be read".to_owned()
        } else {
            gauge.valid_until.map_or_else(String::new, |day| format!("out of date: {}", dates::date(day)))
        },
        line: line(compiled, named.declared),
    }
}
