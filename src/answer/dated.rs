//! Items that are good until a day, as plain data.
//!
//! Must not know rendering.

use super::{LedgerLine, entry_line, line, place};
use crate::Compiled;
use crate::history::dated::{Basis, Dated};
use crate::history::parts::Where;
use crate::words::dated::{Ends, GoodFor};
use serde::Serialize;

/// How an item stands on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DatedStanding {
    /// Good that day.
    Good,
    /// Its last good day is over.
    Passed,
    /// Its last good day is one of the event's, and not the last.
    EndsDuring,
    /// An impact waits for somebody to look at it.
    LookAtIt,
    /// The book does not say from when its days count.
    NotKnown,
}

/// One item.
#[derive(Debug, Clone, Serialize)]
pub struct DatedView {
    /// The part.
    pub part: String,
    /// Its kind.
    pub kind: String,
    /// Where on the car; null for the car as a whole or an assembly.
    pub place: Option<String>,
    /// Its serial, as typed; may be empty.
    pub serial: String,
    /// The last day it is good.
    pub last_good_day: Option<String>,
    /// The rule it is by, as typed: `5 years from made`; null where the label or a paper states the day.
    pub by_rule: Option<String>,
    /// The date it counts from, as typed, or what the label states.
    pub since: Option<String>,
    /// Where that date stands.
    pub line: Option<LedgerLine>,
    /// Rules that cannot be counted, as typed.
    pub uncounted: Vec<String>,
    /// The impact that nobody has looked at it since.
    pub impact: Option<LedgerLine>,
    /// A line with a mistake since it was put there may have taken it off.
    pub doubtful: bool,
    /// How it stands on the day.
    pub standing: DatedStanding,
    /// Days from that day (of an event its first) to its last good one; below zero once it is over.
    pub days_left: Option<i32>,
}

/// One item on a day, or for an event.
#[must_use]
pub fn view(compiled: &Compiled, one: &Dated, asked: GoodFor) -> DatedView {
    let (book, cx) = (&compiled.book, compiled.context());
    let (GoodFor::Day(day) | GoodFor::Event([day, _])) = asked;
    let (by_rule, since, at) = match one.basis {
        Some(Basis::Counted { valid, from, at }) => {
            (Some(cx.text(valid.typed).to_owned()), Some(from.to_string()), Some(at))
        }
        Some(Basis::Label { until, at }) => (None, Some(until.to_string()), Some(at)),
        None => (None, None, None),
    };
    DatedView {
        part: cx.part(one.part).to_owned(),
        kind: cx.kind_of(one.part).to_owned(),
        place: match one.at {
            Where::Car(_, at) => place(compiled, at),
            _ => None,
        },
        serial: book.parts.get(one.part).map_or_else(String::new, |part| part.serial.clone()),
        last_good_day: one.last_good_day.map(|day| day.to_string()),
        by_rule,
        since,
        line: at.map(|at| line(compiled, at)),
        uncounted: one.uncounted.iter().map(|valid| cx.text(valid.typed).to_owned()).collect(),
        doubtful: one.may_be_off,
        impact: one.impact.and_then(|hit| entry_line(compiled, hit)),
        standing: match one.last_good_day {
            _ if one.impact.is_some() => DatedStanding::LookAtIt,
            None => DatedStanding::NotKnown,
            Some(last) => match asked.ends(last) {
                Some(Ends::Over | Ends::BeforeEvent) => DatedStanding::Passed,
                Some(Ends::DuringEvent) => DatedStanding::EndsDuring,
                None => DatedStanding::Good,
            },
        },
        days_left: one.last_good_day.map(|last| (last - day).get_days()),
    }
}
