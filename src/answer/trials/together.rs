//! A run of a contrast that was tried at several events, as plain data.
//!
//! Must not know how an effect is found, nor rendering.

use super::sentence;
use crate::Compiled;
use crate::answer::{LedgerLine, entry_line};
use crate::trials::combined::CombinedRun;
use serde::Serialize;

/// A run of a contrast that was tried at several events.
#[derive(Debug, Clone, Serialize)]
pub struct TogetherRun {
    /// The event; null outside of one.
    pub event: Option<String>,
    /// Its label.
    pub session: String,
    /// Its setting's letter, as the first trial has them.
    pub letter: String,
    /// The day.
    pub date: String,
    /// Its place in the running order of the day, from 1.
    pub order: u32,
    /// In the unit.
    pub value: f64,
    /// Its line.
    pub line: Option<LedgerLine>,
}

/// A run of a contrast that was tried at several events, as it is shown.
#[must_use]
pub fn of_several(compiled: &Compiled, run: &CombinedRun) -> TogetherRun {
    let session = compiled.history.sessions.get(run.session);
    let event = session.event.and_then(|event| compiled.book.events.get(event));
    TogetherRun {
        event: event.map(|event| event.named.typed.to_string()),
        session: compiled.files.text(session.label).to_owned(),
        letter: sentence::letter(run.row.level),
        date: session.date.to_string(),
        order: run.row.order,
        value: run.value,
        line: entry_line(compiled, session.entry),
    }
}
