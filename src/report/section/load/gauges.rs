//! Gauges: which were used at events, and which may still be trusted on the last day of one.
//!
//! Must not know what they read.

use crate::book::names::Thing;
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use serde::Serialize;

/// A gauge.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct GaugeLine {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// "31 March 2027"; empty where it has no last day.
    pub until: String,
    /// Whether that day comes before the event is over.
    pub over: bool,
    /// Where it is declared.
    pub src: String,
}

/// The gauges used at an event before, those out of date first; and the names of the others. Where none was, all of them go.
pub(super) fn gauges(tell: &Teller<'_>, last: Date) -> (Vec<GaugeLine>, Vec<String>) {
    let used = tell.gauges_at_events();
    let none = !used.contains(&true);
    let unread = |gauge| tell.cx.book.unread.has(Some(Thing::Gauge(gauge)), "valid-until");
    let (mut take, mut home) = (Vec::new(), Vec::new());
    for (at, gauge) in tell.cx.book.gauges.iter_enumerated() {
        if !none && !used.get(at.index()).copied().unwrap_or(false) {
            home.push(gauge.named.typed.to_string());
            continue;
        }
        take.push(GaugeLine {
            name: gauge.named.typed.to_string(),
            title: gauge.named.words().to_owned(),
            until: match gauge.valid_until {
                _ if unread(at) => "a day that could not be read".to_owned(),
                until => until.map_or_else(String::new, words::date),
            },
            over: gauge.valid_until.is_some_and(|until| until < last),
            src: tell.src(gauge.named.declared),
        });
    }
    take.sort_by_key(|gauge| !gauge.over);
    (take, home)
}
