//! A life as a row of the kind's page: whose, where it served, from when to when, how long and by which lines, how it ended.
//!
//! Must not know other lives.

use crate::answer::lives::LifeRow;
use crate::book::model::PartId;
use crate::lives::Life;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::link::Link;
use crate::report::section::ran;
use crate::report::sources;
use crate::report::words;
use serde::Serialize;

/// One life.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownLife {
    /// What it was.
    pub life: LifeRow,
    /// Its id on the page.
    pub anchor: String,
    /// The part's own page, where it is written.
    pub page: Option<Link>,
    /// "14 Mar 2026"; empty where it never went on.
    pub from: String,
    /// The same of its end; empty while it may run.
    pub to: String,
    /// The line that ended it, else that of the part.
    pub src: String,
    /// The lines its length is counted from.
    pub ran: String,
}

/// The id of a life on its kind's page.
pub(super) fn anchor(at: usize) -> String {
    format!("life-{}", at + 1)
}

pub(super) fn row(desk: &Desk<'_>, at: usize, (row, life): (LifeRow, &Life)) -> ShownLife {
    let date = |date: Option<jiff::civil::Date>| {
        date.map_or_else(String::new, |date| format!("{} {}", words::short(date), date.year()))
    };
    ShownLife {
        anchor: anchor(at),
        page: desk.table.link(Key::Part(life.part)),
        from: date(life.first),
        to: date(life.ended),
        src: row.line.to_string(),
        ran: counted(desk, life.part, life, !row.before_text.is_empty()),
        life: row,
    }
}

/// The lines a life's length is counted from: its sessions, and the declaration where it had run before.
fn counted(desk: &Desk<'_>, part: PartId, life: &Life, before: bool) -> String {
    let tell = desk.tell;
    let sessions = ran::of_part(tell, part, life.from, life.until);
    let declared = tell.cx.book.parts.get(part).filter(|_| before);
    let lines =
        sessions.iter().filter_map(|session| tell.entry(session.entry)).map(crate::book::entry::Entry::span);
    sources::lines(tell.cx.files, declared.map(|part| part.named.declared).into_iter().chain(lines))
}
