//! The season in order of happening: events and the work between them, day by day, line by line.
//!
//! Must not know what a line did to the setup.

use super::entry::{self, TimelineLine};
use super::problems::Problems;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, EventId};
use crate::history::order::Rank;
use crate::report::section::link::anchor;
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use serde::Serialize;

/// An event, or the time between two.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Chapter {
    /// Its id on the page.
    pub anchor: String,
    /// "quern-1 — Quern Park, April", or "In the shop".
    pub title: String,
    /// Its dates.
    pub dates: String,
    /// "2 days, 8 sessions, 45 lines".
    pub about: String,
    /// Whether it is an event.
    pub event: bool,
    /// Its days.
    pub days: Vec<Day>,
    #[serde(skip)]
    first: Option<Date>,
    #[serde(skip)]
    last: Option<Date>,
}

/// One block of one day.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Day {
    /// "18 April 2026".
    pub date: String,
    /// The words on the block's head, who wrote it, and when it was written if late.
    pub head: String,
    /// Its lines.
    pub lines: Vec<TimelineLine>,
    /// The head's own line.
    pub src: String,
}

/// The chapters between two ranks.
pub(in crate::report) fn chapters(
    tell: &Teller<'_>,
    car: CarId,
    from: Rank,
    until: Rank,
    problems: &Problems,
) -> Vec<Chapter> {
    let cx = &tell.cx;
    let mut chapters: Vec<Chapter> = Vec::new();
    let mut event_now: Option<Option<EventId>> = None;
    let mut head_now = None;
    let mut notes: Vec<EntryId> = Vec::new();
    let mut seen = std::collections::BTreeSet::new();
    let ranks = cx.history.order.entries.within(from..until);
    for index in ranks.iter().copied() {
        let Some(entry) = tell.entry(index).filter(|entry| !entry.withheld) else { continue };
        let Some(head) = cx.book.head(entry) else { continue };
        let named = cx.book.extra(entry).and_then(|extra| extra.parts.as_ref()).and_then(|facts| facts.car);
        if head.car != Some(car) && named != Some(car) {
            continue;
        }
        // Past midnight the same block goes on under its next day.
        let date = tell.cx.date(index).unwrap_or(head.date);
        if event_now != Some(head.event) || head_now != Some((entry.head, date)) {
            flush(tell, &mut chapters, &mut notes);
        }
        if event_now != Some(head.event) {
            event_now = Some(head.event);
            head_now = None;
            let id = match head.event {
                // An event whose lines others interrupt has a second chapter, and that its own id.
                Some(event) if !seen.insert(event) => format!("{}-{}", anchor(event), chapters.len()),
                Some(event) => anchor(event),
                None => format!("shop-{}", chapters.len() + 1),
            };
            chapters.push(chapter(tell, id, head.event));
        }
        let Some(chapter) = chapters.last_mut() else { continue };
        if head_now != Some((entry.head, date)) {
            head_now = Some((entry.head, date));
            chapter.first = Some(chapter.first.map_or(date, |first| first.min(date)));
            chapter.last = Some(chapter.last.map_or(date, |last| last.max(date)));
            chapter.days.push(Day {
                date: words::date(date),
                head: head_words(tell, head, car),
                lines: Vec::new(),
                src: tell.src(head.span),
            });
        }
        if entry.verb == Verb::Note && !entry.broken {
            let joins =
                notes.last().and_then(|last| tell.entry(*last).map(|note| (*last, note))).is_some_and(
                    |(last, note)| note.parent == entry.parent && last.plus(1) == index && entry.clock.0 < 0,
                );
            if !joins {
                flush(tell, &mut chapters, &mut notes);
            }
            notes.push(index);
            continue;
        }
        flush(tell, &mut chapters, &mut notes);
        let line = entry::line(tell, index, entry, problems);
        if let Some(day) = chapters.last_mut().and_then(|chapter| chapter.days.last_mut()) {
            day.lines.push(line);
        }
    }
    flush(tell, &mut chapters, &mut notes);
    for chapter in &mut chapters {
        if let (Some(first), Some(last)) = (chapter.first, chapter.last) {
            chapter.dates = words::dates(first, last);
        }
        chapter.about = about(chapter);
    }
    chapters
}

/// How much a chapter has to tell.
fn about(chapter: &Chapter) -> String {
    let lines = || chapter.days.iter().flat_map(|day| &day.lines);
    // A day may be told in several blocks.
    let mut days: Vec<&str> = chapter.days.iter().map(|day| day.date.as_str()).collect();
    days.sort_unstable();
    days.dedup();
    let mut said = vec![words::count(days.len(), "day", "days")];
    let runs = lines().filter(|line| line.run.is_some()).count();
    if runs > 0 {
        said.push(words::count(runs, "session", "sessions"));
    }
    said.push(words::count(lines().count(), "line", "lines"));
    said.join(", ")
}

/// An empty chapter.
fn chapter(tell: &Teller<'_>, anchor: String, event: Option<EventId>) -> Chapter {
    let title = match event.map(|event| (tell.event(event), tell.event_title(event))) {
        None => "Between events".to_owned(),
        Some((name, title)) if name == title => name.to_owned(),
        Some((name, title)) => format!("{name}: {title}"),
    };
    let (dates, about, days) = (String::new(), String::new(), Vec::new());
    Chapter { anchor, title, dates, about, event: event.is_some(), days, first: None, last: None }
}

/// Puts the notes gathered so far at their place.
fn flush(tell: &Teller<'_>, chapters: &mut [Chapter], notes: &mut Vec<EntryId>) {
    let Some(first) = notes.first().copied() else { return };
    let Some(entry) = tell.entry(first) else { return };
    let mut line = entry::line(tell, first, entry, &Problems::default());
    line.text = String::new();
    line.note = Some(super::note::note(tell, notes));
    notes.clear();
    if let Some(day) = chapters.last_mut().and_then(|chapter| chapter.days.last_mut()) {
        day.lines.push(line);
    }
}

fn head_words(tell: &Teller<'_>, head: &crate::book::entry::Head, car: CarId) -> String {
    let text = tell.cx.text(head.span);
    let mut words: Vec<String> = Vec::new();
    if let Some((_, rest)) = text.split_once(['"', '\u{201C}', '\u{201E}']) {
        let title = rest.split(['"', '\u{201D}']).next().unwrap_or_default().trim();
        if !title.is_empty() {
            words.push(title.to_owned());
        }
    }
    if head.car != Some(car) {
        words.push(match head.car {
            Some(other) => format!("from the page of {}", tell.cx.car(other)),
            None => "shop work".to_owned(),
        });
    }
    if let Some(person) = head.person.and_then(|person| tell.cx.book.people.get(person)) {
        words.push(format!("by {}", person.named.title));
    }
    if let Some(written) = head.written {
        words.push(format!("written {}", words::date(written)));
    }
    words.join("; ")
}
